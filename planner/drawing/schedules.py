"""What the sheet says in words and numbers beside the plan: quantities, panels, walls, findings, cautions.

In: a plan, the width of a column, how many rows a list may have. Out: stacks, ready to be set.
"""

import math
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from planner.ceiling.checks import cautions
from planner.ceiling.model import Panel
from planner.drawing import words
from planner.drawing.annotation import finding_said
from planner.drawing.cutaways import holes_said, one_cutaway
from planner.drawing.dimensions import cut_said, spoken, written_size
from planner.drawing.labels import Heights
from planner.drawing.lettering import clean, lacking
from planner.drawing.on_site import without_provenance
from planner.drawing.panel_marks import panel_class
from planner.drawing.place import ALONE, Place
from planner.drawing.plan_lines import panel_shape, panel_size
from planner.drawing.roles import Role
from planner.drawing.tables import Stack, compact_table, notes, signed_notes, table
from planner.drawing.wrapping import shortened
from planner.findings import Finding
from planner.gathering import gathered
from planner.geometry import TOLERANCE_MM, Frame
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Room
from planner.stock.panels import panel_sides

_SQUARE_FOOT = 304.8**2
_POUND_KG = 0.45359237
_T = TypeVar("_T")

#: Keys of the sheets that the others point to.
SCHEDULES = "schedules"
ORDER_OF_WORK = "order-of-work"

#: Less than this is what a tape does not show (from memory).
_OUT_OF_SQUARE_MM = 3.0
_SAID_CORNERS = 3
_MOST_REVISIONS = 6
_REVISION_LINES = 3
#: Findings longer than this stand in full on the sheet of findings only.
_LONGEST_FINDING = 170
#: By so little more it is not cut.
_OVER = 20
#: As many sentences, and as many clauses, as there are before a text ends.
_SENTENCES = re.compile(r".{30,}[.!?](?=\s)")
_CLAUSES = re.compile(r".{30,}[,;:]\s")


@dataclass(frozen=True, slots=True)
class Limits:
    """How long each list may be beside a plan; what is left out is said."""

    classes: int  #: of cut panels: more than that and the list stands on its own sheet only
    findings: int
    cautions: int
    note_lines: int


def quantities(plan: Plan, width: float, heights: Heights, place: Place = ALONE) -> Stack:
    """The main numbers of the ceiling, and where its lists are."""
    system = clean(words.named(plan.ceiling.system.title))
    see = place.see(SCHEDULES)
    lists = [words.say("quantities.lists", see=see)] if see else []
    return table(words.say("quantities.heading"), "lr", (), _facts(plan), width, heights, (system, *lists))


def _mains_run(plan: Plan) -> str:
    """Which way the mains run against the base wall, as the grid lies."""
    turned = plan.ceiling.layout.frame.angle_deg + (0.0 if plan.ceiling.mains == "along" else 90.0)
    degrees = round(turned % 180.0, 1) % 180.0
    if degrees in (0.0, 90.0):
        return words.say("quantities.mains along" if degrees == 0.0 else "quantities.mains square")
    return words.say("quantities.mains at", degrees=f"{degrees:g}")


def _facts(plan: Plan) -> list[tuple[str, str]]:
    room, ceiling = plan.room, plan.ceiling
    layout = ceiling.layout
    classes = len({panel_class(panel) for panel in ceiling.panels})
    rows = [
        (words.say("quantities.module"), written_size(layout.module, room.units)),
        (words.say("quantities.carriers" if ceiling.system.direct else "quantities.mains"), _mains_run(plan)),
        (words.say("quantities.area"), _area(room.area, room.imperial)),
        (words.say("quantities.perimeter"), spoken(room.perimeter, room.units)),
        (words.say("quantities.full panels"), str(ceiling.full_panels)),
        (
            words.say("quantities.cut panels"),
            words.say("quantities.in classes", n=len(ceiling.panels), count=classes),
        ),
    ]
    if layout.smallest_cut is not None:
        rows.append((words.say("quantities.narrowest opening"), spoken(layout.smallest_cut, room.units)))
    if layout.narrowest_panel is not None:
        rows.append((words.say("quantities.narrowest panel"), cut_said((layout.narrowest_panel,), room.units)))
    if ceiling.height is not None:
        rows.append((words.say("quantities.ceiling height"), spoken(ceiling.height, room.units)))
    return rows


def _area(mm2: float, imperial: bool) -> str:
    if imperial:
        return words.say("quantities.area imperial", area=f"{mm2 / _SQUARE_FOOT:.1f}")
    return words.say("quantities.area metric", area=f"{mm2 / 1e6:.2f}")


def written_weight(kg: float, imperial: bool) -> str:
    """A weight with its unit: pounds where lengths are in feet and inches."""
    return f"{round(kg / _POUND_KG, 1):g} lb" if imperial else f"{round(kg, 1):g} kg"


def panel_schedule(plan: Plan, width: float, limit: int | None, heights: Heights) -> Stack | None:
    """One row for each class of panels that are cut alike; None when nothing is cut, or there are more than `limit`."""
    classes: dict[str, list[Panel]] = {}
    for panel in plan.ceiling.panels:
        classes.setdefault(panel_class(panel), []).append(panel)
    if not classes or (limit is not None and len(classes) > limit):
        return None
    names = sorted(classes, key=lambda name: (len(name), name))
    rows = [_class_row(name, classes[name], plan) for name in names]
    shaped = any(panel.is_shaped for panel in plan.ceiling.panels)
    last = (words.say("panels.see templates"),) if shaped else ()
    return compact_table(words.say("panels.heading"), "lllr", words.row("panels.heads"), rows, width, heights, last)


def _class_row(name: str, panels: Sequence[Panel], plan: Plan) -> tuple[str, str, str, str]:
    panel, units = panels[0], plan.room.units
    if panel.full_size:
        return (name, words.say("panels.full"), holes_said(panel, plan), str(len(panels)))
    shape = one_cutaway(panel, plan) or panel_shape(panel, units) or _sides_cut(panel, plan)
    if panel.cutouts:
        hole = holes_said(panel, plan)
        shape = words.say("panels.size and shape", size=shape, shape=hole) if shape else hole
    return (name, panel_size(panel, units), shape, str(len(panels)))


def _sides_cut(panel: Panel, plan: Plan) -> str:
    """How many sides of a rectangle are sawn: one along each direction in which it is smaller than a bought panel."""
    bought = panel_sides(plan.ceiling)
    count = sum(size < whole - TOLERANCE_MM for size, whole in zip(panel.cut_to, bought, strict=True))
    return words.say("panels.sides cut", count=count) if count else ""


def layout_notes(plan: Plan, remarks: Iterable[str], width: float, heights: Heights) -> Stack:
    """Why the grid lies here, where it starts, how far the room is out of square, what the sheet leaves out."""
    rule = without_provenance(words.translated(plan.ceiling.layout.rule))
    sentences = (rule, start_sentence(plan), *out_of_square(plan), *_not_drawn(plan), *remarks)
    return notes(words.say("layout.heading"), sentences, width, heights)


def _not_drawn(plan: Plan) -> Iterator[str]:
    """A word on the user's own letters that the font lacks; nothing when it has all."""
    room = plan.room
    given = (
        *(room.name, *room.corner_names, *(value for _, value in room.project)),
        *(column.name for column in room.columns),
        *(service.name for service in plan.ceiling.services),
        *(line.item for line in plan.stock.takeoff),
    )
    if count := lacking(given):
        yield words.say("left out.letters", count=count)


def out_of_square(plan: Plan) -> tuple[str, ...]:
    """The corners of a taped room that were measured to be out of square, the worst first, `_SAID_CORNERS` at most."""
    survey, room = plan.survey, plan.room
    if survey is None:
        return ()
    assumed = {assumption.corner for assumption in survey.assumptions}
    off = {
        name: mm for name, mm in survey.out_of_square.items() if name not in assumed and abs(mm) >= _OUT_OF_SQUARE_MM
    }
    worst = sorted(off, key=lambda name: -abs(off[name]))[:_SAID_CORNERS]
    return tuple(
        words.say(
            "layout.out of square",
            corner=name,
            off=spoken(abs(off[name]), room.units),
            over=spoken(_shorter_wall(room, name), room.units),
            way=words.say("layout.open") if off[name] > 0 else words.say("layout.closed"),
        )
        for name in worst
    )


def _shorter_wall(room: Room, corner: str) -> float:
    """The shorter of the two walls that meet at a corner."""
    k = room.corner_names.index(corner)
    return min(room.walls[k].length, room.walls[k - 1].length)


def start_sentence(plan: Plan) -> str:
    """Where the start point is, from the walls that meet at the reference corner."""
    units = plan.room.units
    base, last = plan.room.walls[0], plan.room.walls[-1]
    turn = math.degrees(math.atan2(base.end[1] - base.start[1], base.end[0] - base.start[0]))
    corner = Frame(base.start, turn)
    x, y = corner.inward(plan.ceiling.layout.frame.origin)
    if abs(corner.inward(last.start)[0]) < 1.0 and base.arc is None and last.arc is None:
        first, second = spoken(abs(y), units), spoken(abs(x), units)
        return words.say("layout.start", first=first, first_wall=base.name, second=second, second_wall=last.name)
    return words.say(
        "layout.start from one wall",
        away=spoken(abs(y), units),
        wall=base.name if base.arc is None else words.say("walls.chord of", wall=base.name),
        along=spoken(abs(x), units),
        way=words.say("layout.past") if x >= 0 else words.say("layout.short of"),
        corner=plan.room.corner_names[0],
    )


def finding_notes(
    plan: Plan,
    width: float,
    limit: int,
    heights: Heights,
    place: Place,
    wanted: Callable[[Finding], bool] = lambda finding: True,
) -> Stack | None:
    """The wanted findings with their numbers on the plan, long ones shortened; None when there are none."""
    see = place.see(ORDER_OF_WORK)
    rows = [
        (str(number), _brief(finding_said(finding), see))
        for number, finding in enumerate(gathered(plan.findings), start=1)
        if wanted(finding.findings[0])
    ]
    if not rows:
        return None
    shown = list(_first(rows, limit))
    if len(rows) > len(shown):
        said = words.say("findings.more", n=len(rows) - len(shown))
        shown.append(("", place.pointed(said, ORDER_OF_WORK) + "."))
    return signed_notes(words.say("findings.heading"), shown, width, heights)


def _brief(message: str, see: str) -> str:
    """A message of about `_LONGEST_FINDING` letters at most, and where to `see` the whole of it if anywhere.

    It ends with a sentence; where the first is too long, with a clause, and only where there is none with a word.
    """
    if len(message) <= _LONGEST_FINDING + _OVER:
        return message
    fitting = message[: _LONGEST_FINDING + 1]
    if sentences := _SENTENCES.match(fitting):
        return words.say("findings.more of it", text=sentences[0], see=see) if see else f"{sentences[0]} …"
    within = fitting.count("(") > fitting.count(")")
    clause = re.match(r".*\(", fitting) if within else _CLAUSES.match(fitting)
    text = (clause[0] if clause else fitting.rsplit(" ", 1)[0]).rstrip(" ,;:(")
    return words.say("findings.cut short", text=text, see=see) if see else f"{text}…"


def caution_notes(plan: Plan, width: float, limit: int, heights: Heights, place: Place) -> Stack | None:
    """The shortest of the cautions, and where all of them are; the planner checks none of it."""
    sentences = cautions(plan.room, plan.ceiling.system, plan.ceiling.height)
    shortest = sorted(sentences, key=len)[:limit]
    shown = [sentence for sentence in sentences if sentence in shortest]
    left = len(sentences) - len(shown)
    if left:
        shown.append(place.pointed(words.say("cautions.more", n=left), ORDER_OF_WORK) + ".")
    return notes(words.say("cautions.heading"), shown, width, heights, Role.CAUTION, "!") if shown else None


def revision_table(plan: Plan, width: float, heights: Heights) -> Stack | None:
    """The last issues of the drawings, the newest first: date, what changed, by whom; None when none was given."""
    newest = plan.room.revisions[::-1][:_MOST_REVISIONS]
    most = _REVISION_LINES * (width - 4 * heights[Role.NOTE])
    told = (", ".join(filter(None, (each.date, each.text, each.by))) for each in newest)
    shown = (shortened(clean(text), most, heights[Role.NOTE]) for text in told)
    rows = [
        (shortened(clean(each.rev), width / 4, heights[Role.NOTE]), text)
        for each, text in zip(newest, shown, strict=True)
    ]
    return signed_notes(words.say("revisions.heading"), rows, width, heights) if rows else None


def project_notes(plan: Plan, width: float, lines: int, heights: Heights) -> Stack | None:
    """The notes of the room file, in about so many lines at most; None when there are none."""
    given = " ".join(value for key, value in plan.room.project if key.strip().lower() == "notes").split()
    if not given:
        return None
    height = heights[Role.NOTE]
    text = shortened(clean(" ".join(given)), lines * (width - 2 * height), height)
    return notes(words.say("sheets.notes"), (text,), width, heights)


def _first(items: Sequence[_T], limit: int) -> Sequence[_T]:
    """The first items; all of them when only one more than the limit, since saying so takes a row too."""
    return items if len(items) <= limit + 1 else items[:limit]
