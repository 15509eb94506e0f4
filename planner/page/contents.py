"""What fills the page: the sheets with their tabs, the pane with its lists, and the data that the program works with.

In: what is shown, or None while there is no plan. Out: markup and plain data.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from planner.drawing.annotation import findings_in_order
from planner.drawing.dimensions import spoken
from planner.drawing.shapes import Shape, Sheet, Symbol
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.page.lists import facts_list, findings_list, parts_lists, stock_lists, work_list
from planner.page.markup import Html, element
from planner.page.parts import Part, whole_panel
from planner.planning import Plan
from planner.render.svg import svg_element

#: The lists of the pane: id and heading.
_LISTS = (
    ("details", "Details"),
    ("findings", "Findings"),
    ("work", "Work"),
    ("parts", "Parts"),
    ("stock", "Stock"),
    ("layers", "Layers"),
)


@dataclass(frozen=True, slots=True)
class Shown:
    """A plan that is drawn."""

    plan: Plan
    sheets: tuple[Sheet, ...]
    style: Style
    wish: SheetWish  #: that the sheets were drawn by


_KEYS = "Plus and minus zoom, arrow keys move, 0 shows the whole sheet, 1 the room. Escape lets go of what is chosen."


def drawings(shown: Shown | None) -> Html:
    """The sheets, one above the other, and a tab for each."""
    sheets = shown.sheets if shown else ()
    tabs = [_tab("sheet", sheet.key, f"{number} {sheet.title}") for number, sheet in enumerate(sheets, 1)]
    figures = [
        element(
            "div",
            Html(svg_element(sheet, shown.style)) if shown else None,
            class_="sheet",
            id=f"sheet-{sheet.key}",
            role="tabpanel",
            aria_labelledby=f"tab-sheet-{sheet.key}",
        )
        for sheet in sheets
    ]
    named = {"role": "group", "aria_label": "Drawing", "aria_describedby": "keys"}
    stage = element("div", *figures, id="stage", tabindex="0", **named)
    return element(
        "section",
        element("div", *tabs, id="sheets", role="tablist", aria_label="Sheets", class_="tabs"),
        element("div", stage, _zoom(), element("p", id="hint", aria_hidden="true", hidden=True), class_="desk"),
        class_="drawings",
        aria_label="Drawings",
    )


def pane(shown: Shown | None, parts: Sequence[Part] = ()) -> Html:
    """The lists; `parts` are those of the plan."""
    contents = {"details": _details(shown.plan if shown else None), "layers": element("div", id="switches")}
    contents |= _lists(shown.plan, parts) if shown else {}
    count = len(shown.plan.findings) if shown else 0
    tabs = [_tab("list", key, f"{name} {count}" if key == "findings" and count else name) for key, name in _LISTS]
    panels = [
        element(
            "div",
            element("h2", name),
            contents.get(key),
            class_="list",
            id=f"list-{key}",
            role="tabpanel",
            tabindex="0",
            aria_labelledby=f"tab-list-{key}",
        )
        for key, name in _LISTS
    ]
    return element(
        "section",
        element("div", *tabs, id="lists", role="tablist", aria_label="Lists", class_="tabs"),
        element("div", *panels, id="panels"),
        class_="pane",
        aria_label="Lists",
    )


def said_by_screen_readers() -> Html:
    """How the drawing is used, and a place where changes are told."""
    told = element("p", id="spoken", aria_live="polite")
    return element("div", element("p", _KEYS, id="keys"), told, class_="unseen")


def data_of(shown: Shown | None, parts: Sequence[Part] = ()) -> dict[str, Any]:
    """What the page's program works with; `parts` are those of the plan."""
    if shown is None:
        return {"sheets": [], "parts": [], "findings": [], "layers": []}
    plan, layout = shown.plan, shown.plan.ceiling.layout
    return {
        "sheets": [_sheet(sheet) for sheet in shown.sheets],
        "parts": [part.record() for part in parts],
        "findings": [finding.where for finding in findings_in_order(plan.findings)],
        "layers": _layers(shown.sheets, shown.style),
        "room": {"outline": plan.room.outline, "holes": [column.outline for column in plan.room.columns]},
        "grid": {"origin": layout.frame.origin, "angle": layout.frame.angle_deg, "module": layout.module},
        "whole": whole_panel(plan),
    }


def _lists(plan: Plan, parts: Sequence[Part]) -> dict[str, Html]:
    return {
        "findings": findings_list(plan),
        "work": work_list(plan),
        "parts": parts_lists(plan, parts),
        "stock": stock_lists(plan),
    }


def _details(plan: Plan | None) -> Html:
    """A place for what is chosen, and what stands there while nothing is."""
    resting = element("p", "There is no plan yet.", class_="lead", id="resting") if plan is None else _resting(plan)
    return element("div", element("div", id="chosen", hidden=True), resting)


def _resting(plan: Plan) -> Html:
    layout, units = plan.ceiling.layout, plan.room.units
    facts = [
        ("Whole panels", str(plan.ceiling.full_panels)),
        ("Cut or drilled", str(len(plan.ceiling.panels))),
        ("Narrowest cut", "" if layout.smallest_cut is None else spoken(layout.smallest_cut, units)),
        *((f"Border {border.wall}", _border(border.least, border.most, units)) for border in layout.borders),
    ]
    return element(
        "div",
        element("p", "Tap a panel, a tee or a light in the drawing.", class_="lead"),
        facts_list((term, said) for term, said in facts if said),
        element("p", layout.rule, class_="why"),
        id="resting",
    )


def _border(least: float, most: float, units: str) -> str:
    first, last = spoken(least, units), spoken(most, units)
    return first if first == last else f"{first} to {last}"


def _tab(group: str, key: str, name: str) -> Html:
    return element(
        "button",
        name,
        type="button",
        role="tab",
        id=f"tab-{group}-{key}",
        aria_controls=f"{group}-{key}",
        aria_selected="false",
    )


def _zoom() -> Html:
    """What one finger reaches: closer, further, the whole sheet, the room."""
    buttons = (
        ("closer", "+", "Closer"),
        ("further", "−", "Further"),
        ("whole", "Sheet", "Sheet, whole"),
        ("room", "Room", "Room, whole"),
    )
    return element(
        "div",
        *(
            element("button", sign, type="button", id=f"zoom-{key}", aria_label=name, title=name)
            for key, sign, name in buttons
        ),
        class_="zoom",
        role="toolbar",
        aria_label="Zoom",
    )


def _sheet(sheet: Sheet) -> dict[str, Any]:
    windows = [
        {
            "box": [w.box.left, sheet.paper.height - w.box.top, w.box.width, w.box.height],
            "centre": w.centre,
            "scale": w.drawing.scale,
        }
        for w in sheet.windows
    ]
    roles = sorted({shape.role for w in sheet.windows for shape in _all_shapes(w.shown, w.drawing.blocks)})
    return {
        "key": sheet.key,
        "title": sheet.title,
        "paper": [sheet.paper.width, sheet.paper.height],
        "windows": windows,
        "roles": roles,
    }


def _layers(sheets: Iterable[Sheet], style: Style) -> list[dict[str, Any]]:
    """Every layer that some sheet shows, in the style's order, with the roles that it carries."""
    roles = {
        shape.role
        for sheet in sheets
        for shapes in (sheet.shapes, *(_all_shapes(w.shown, w.drawing.blocks) for w in sheet.windows))
        for shape in shapes
    }
    return [
        {
            "name": layer.name,
            "colour": layer.colour,
            "roles": [role for role, entry in style.roles if role in roles and entry.layer == layer.name],
        }
        for layer in style.layers
        if layer.plots and any(style.layer(role) == layer for role in roles)
    ]


def _all_shapes(shapes: Iterable[Shape], blocks: Iterable[Any]) -> Iterable[Shape]:
    """Shapes and those of the blocks that are inserted among them."""
    inside = {block.name: block.shapes for block in blocks}
    seen: set[str] = set()
    for shape in shapes:
        if not isinstance(shape, Symbol):
            yield shape
        elif shape.block not in seen:
            seen.add(shape.block)
            yield from _all_shapes(inside[shape.block], blocks)
