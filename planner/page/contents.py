"""What fills the page: the sheets with their tabs, the pane with its lists, and the data that the program works with.

In: what is shown, or None while there is no plan. Out: markup and plain data.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from planner.ceiling.model import Layout
from planner.drawing import words
from planner.drawing.dimensions import cut_said, spoken
from planner.drawing.roles import Role
from planner.drawing.shapes import Shape, Sheet, Symbol
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.gathering import gathered
from planner.page.lists import capitalised, facts_list, findings_list, parts_lists, stock_lists, work_list
from planner.page.markup import Html, element
from planner.page.parts import Part, border_said, hangers_told, whole_panel
from planner.page.reasons import WHOLE, Reasons, reasons_of, told_of
from planner.page.together import Building, together_lists
from planner.planning import Plan
from planner.records import dataclass
from planner.render.svg import svg_element
from planner.room.brief import Brief

#: The lists of the pane.
_LISTS = ("details", "findings", "work", "parts", "stock", "together", "layers")
#: What the program says by itself, with the fields that it fills in.
_TOLD = (
    *("let go", "show", "why", "marked", "show all", "light", "dark", "line", "in line", "last good", "no plan"),
    *("one thing", "things", "planning", "not planned", "planned", "stopped"),
)
_FIELDS = {name: f"{{{name}}}" for name in ("n", "sheet", "seconds")}


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands beside a plan, as far as it is at hand."""

    brief: Brief | None = None  #: what was asked for: reasons are told from it
    building: Building | None = None  #: that the room is of


@dataclass(frozen=True, slots=True)
class Shown:
    """A plan that is drawn."""

    plan: Plan
    sheets: tuple[Sheet, ...]
    style: Style
    wish: SheetWish  #: that the sheets were drawn by
    beside: Beside = Beside()


def drawings(shown: Shown | None) -> Html:
    """The sheets, one above the other, and a tab for each."""
    sheets = shown.sheets if shown else ()
    tabs = [
        _tab("sheet", sheet.key, words.say("page.sheet tab", n=number, title=sheet.title))
        for number, sheet in enumerate(sheets, 1)
    ]
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
    named = {"role": "group", "aria_label": words.say("page.drawing"), "aria_describedby": "keys"}
    stage = element("div", *figures, id="stage", tabindex="0", **named)
    return element(
        "section",
        element("div", *tabs, id="sheets", role="tablist", aria_label=words.say("page.sheets"), class_="tabs"),
        element("div", stage, _zoom(), element("p", id="hint", aria_hidden="true", hidden=True), class_="desk"),
        class_="drawings",
        aria_label=words.say("page.drawings"),
    )


def pane(shown: Shown | None, parts: Sequence[Part] = ()) -> Html:
    """The lists; `parts` are those of the plan."""
    contents = {"details": _details(shown.plan if shown else None), "layers": element("div", id="switches")}
    contents |= _lists(shown, parts) if shown else {}
    keys = [key for key in _LISTS if key in contents or key != "together"]
    count = len(gathered(shown.plan.findings)) if shown else 0
    tabs = [_tab("list", key, _list_name(key, count)) for key in keys]
    panels = [
        element(
            "div",
            element("h2", words.say(f"page.heading {key}")),
            contents.get(key),
            class_="list",
            id=f"list-{key}",
            role="tabpanel",
            tabindex="0",
            aria_labelledby=f"tab-list-{key}",
        )
        for key in keys
    ]
    return element(
        "section",
        element("div", *tabs, id="lists", role="tablist", aria_label=words.say("page.lists"), class_="tabs"),
        element("div", *panels, id="panels"),
        class_="pane",
        aria_label=words.say("page.lists"),
    )


def _list_name(key: str, count: int) -> str:
    """What the tab of a list says; `count` is the number of findings."""
    name = words.say(f"page.list {key}")
    return words.say("page.findings counted", name=name, n=count) if key == "findings" and count else name


def said_by_screen_readers() -> Html:
    """How the drawing is used, and a place where changes are told."""
    told = element("p", id="spoken", aria_live="polite")
    return element("div", element("p", words.say("page.keys"), id="keys"), told, class_="unseen")


def data_of(shown: Shown | None, parts: Sequence[Part] = ()) -> dict[str, Any]:
    """What the page's program works with; `parts` are those of the plan."""
    told = {name: words.say(f"page.told {name}", **_FIELDS) for name in _TOLD}
    nothing: list[Any] = []
    if shown is None:
        return {"words": told, "sheets": nothing, "parts": nothing, "findings": nothing, "layers": nothing}
    plan, layout = shown.plan, shown.plan.ceiling.layout
    reasons = reasons_of(shown.beside.brief, plan)
    return {
        "words": told,
        "sheets": [_sheet(sheet) for sheet in shown.sheets],
        "parts": [part.record() | _reason(reasons, part.key) for part in parts],
        "findings": [finding.places for finding in gathered(plan.findings)],
        "layers": _layers(shown.sheets, shown.style),
        "room": {"outline": plan.room.outline, "holes": [column.outline for column in plan.room.columns]},
        "grid": {"origin": layout.frame.origin, "angle": layout.frame.angle_deg, "module": layout.module},
        "whole": whole_panel(plan) | _reason(reasons, WHOLE),
        "reasons": reasons.record(),
    }


def _reason(reasons: Reasons, key: str) -> dict[str, int]:
    return {"reason": reasons.of[key]} if key in reasons.of else {}


def _lists(shown: Shown, parts: Sequence[Part]) -> dict[str, Html]:
    plan, building = shown.plan, shown.beside.building
    found = {
        "findings": findings_list(plan),
        "work": work_list(plan),
        "parts": parts_lists(plan, parts),
        "stock": stock_lists(plan),
    }
    return found | ({"together": together_lists(building, plan)} if building else {})


def _details(plan: Plan | None) -> Html:
    """A place for what is chosen, and what stands there while nothing is."""
    empty = element("p", words.say("page.no plan"), class_="lead", id="resting")
    return element("div", element("div", id="chosen", hidden=True), empty if plan is None else _resting(plan))


def _resting(plan: Plan) -> Html:
    layout, units = plan.ceiling.layout, plan.room.units
    facts = [
        (words.say("page.whole panels"), str(plan.ceiling.full_panels)),
        (words.say("page.cut panels"), str(len(plan.ceiling.panels))),
        *_narrowest(layout, units),
        *((words.say("page.border of", wall=border.wall), border_said(border, units)) for border in layout.borders),
    ]
    return element(
        "div",
        element("p", words.say("page.tap"), class_="lead"),
        facts_list((term, said) for term, said in facts if said),
        element("p", words.translated(layout.rule), class_="why"),
        *(element("p", said) for said in _left_out(plan)),
        id="resting",
    )


def _narrowest(layout: Layout, units: str) -> Iterator[tuple[str, str]]:
    """The narrowest opening, wall to grid line, and the narrowest panel that is sawn, which is smaller."""
    if layout.smallest_cut is not None:
        yield words.say("page.narrowest opening"), spoken(layout.smallest_cut, units)
    if layout.narrowest_panel is not None:
        yield words.say("page.narrowest panel"), cut_said((layout.narrowest_panel,), units)


def _left_out(plan: Plan) -> Iterator[str]:
    """What the page of a vast ceiling does not tell."""
    if not hangers_told(plan):
        yield words.say("page.left to drawing", n=len(plan.ceiling.hangers))
    if not told_of(plan):
        yield words.say("page.reasons elsewhere")


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
        ("closer", "+"),
        ("further", "−"),
        ("whole", words.say("page.zoom sign whole")),
        ("room", words.say("page.zoom sign room")),
    )
    names = {key: words.say(f"page.zoom {key}") for key, _ in buttons}
    return element(
        "div",
        *(
            element("button", sign, type="button", id=f"zoom-{key}", aria_label=names[key], title=names[key])
            for key, sign in buttons
        ),
        class_="zoom",
        role="toolbar",
        aria_label=words.say("page.zoom"),
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
    carried = {
        layer.name: [role for role, entry in style.roles if role in roles and entry.layer == layer.name]
        for layer in style.layers
        if layer.plots
    }
    return [
        {"name": layer.name, "colour": layer.colour, "roles": mine, "label": _roles_said(mine)}
        for layer in style.layers
        if (mine := carried.get(layer.name))
    ]


def _roles_said(roles: Iterable[Role]) -> str:
    return capitalised(", ".join(words.say(f"page.role {role}") for role in roles))


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
