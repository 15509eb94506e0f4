"""One panel has one size: every place that prints it prints the same, in every demo room and in rooms of odd sizes."""

import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.ceiling.model import Panel
from planner.ceiling.order import order_of_work
from planner.drawing.cutaways import size_said
from planner.drawing.cutting_panels import panel_stacks
from planner.drawing.cutting_shapes import panel_patterns
from planner.drawing.labels import Heights
from planner.drawing.panel_marks import panel_class
from planner.drawing.plan_lines import plan_lines
from planner.drawing.schedules import panel_schedule
from planner.drawing.shapes import Outline, Text
from planner.drawing.stylebook import load_style
from planner.drawing.templates.sheets import TemplateWish, template_sheets
from planner.drawing.wish import SheetWish
from planner.explain.model import Job
from planner.explain.panels import explain_panel
from planner.lengths import Rounding, format_inches, format_mm
from planner.page.parts import parts_of
from planner.planning import Plan, plan
from planner.record import record_of
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
STYLE = load_style("iso-13567")
HEIGHTS = Heights.of(STYLE)

#: Sixteenths that are no tenths of a millimetre, 23 3/4" is 603.25 mm; grids in other units than the job.
ODD = {
    "den": "{system: lay-in-imperial, module: [2', 2']}|ft-in|{rectangle: [14' 7-3/8\", 11' 7-9/16\"]}",
    "metric grid in inches": "{system: lay-in-metric}|ft-in|{rectangle: [14' 7-3/8\", 11' 7-9/16\"]}",
    "inch grid in metres": "{system: lay-in-imperial, module: [2', 2']}|m|{rectangle: [4.4451, 3.5377]}",
    "out of square": "{system: lay-in-metric}|mm|{points: [[0, 0], [4210, 0], [4253, 3305], [11, 3318]]}",
}

_NUMBER = r"(?:\d+ )?\d+/\d+|\d+"
_SIZE = re.compile(rf"(?<![\w/])({_NUMBER})\"? [x×] ({_NUMBER})")


@pytest.fixture(scope="module", params=[*sorted(path.stem for path in FIXTURES.glob("*.yaml")), *ODD])
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Job:
    if request.param not in ODD:
        brief = read_room(FIXTURES / f"{request.param}.yaml")
        return Job(brief, plan(brief))
    grid, units, shape = ODD[request.param].split("|")
    room = tmp_path_factory.mktemp("odd") / "room.yaml"
    room.write_text(f"job: odd\nunits: {units}\nroom: {shape}\ngrid: {grid}\n")
    brief = read_room(room)
    return Job(brief, plan(brief))


@pytest.fixture(scope="module")
def made(job: Job) -> Plan:
    return job.plan


def told(text: str) -> tuple[str, str]:
    """The two numbers of a size, without signs and units."""
    found = _SIZE.search(text)
    assert found, text
    return (found[1].strip(), found[2].strip())


def told_all(text: str) -> set[tuple[str, str]]:
    return {(a.strip(), b.strip()) for a, b in _SIZE.findall(text)}


def on_the_tape(made: Plan, sides: tuple[float, float]) -> tuple[str, str]:
    """The size as the tape of the job has it."""
    write = format_inches if made.room.imperial else format_mm
    along, away = (write(side, Rounding.DOWN).rstrip('"') for side in sides)
    return (along, away)


def cut(made: Plan) -> Iterator[Panel]:
    return (panel for panel in made.ceiling.panels if not panel.full_size)


def test_the_size_in_the_record_is_a_mark_on_the_tape(made: Plan) -> None:
    """Nothing is left to round: sixteenths of an inch or millimetres, but for sides that are as bought."""
    mark = 25.4 / 16 if made.room.imperial else 1.0
    bought = tuple(side - made.ceiling.system.panel_undersize for side in made.ceiling.layout.module)
    for record, panel in zip(record_of(made)["panels"], made.ceiling.panels, strict=True):
        assert record["cut_to_mm"] == pytest.approx(panel.cut_to, abs=1e-4)
        for side, whole in zip(panel.cut_to, bought, strict=True):
            assert side == pytest.approx(whole, abs=1e-6) or side / mark == pytest.approx(round(side / mark), abs=1e-6)


def test_schedule_plan_page_and_explanation_print_one_size(job: Job) -> None:
    made = job.plan
    titles = {
        shape.title.split(",")[0].split()[-1]: told(shape.title)
        for shape in plan_lines(made.room, made.ceiling)
        if isinstance(shape, Outline) and shape.title.startswith("Panel ") and "cut to" in shape.title
    }
    headlines = {part.name: part.headline for part in parts_of(made) if part.group == "panel"}
    schedule = dict(scheduled(made))
    for panel in cut(made):
        size = on_the_tape(made, panel.cut_to)
        assert titles[panel.id] == size
        assert told(headlines[panel.id]) == size
        assert told(schedule[panel_class(panel)]) == size
        assert told(explain_panel(job, panel).answer) == size


def scheduled(made: Plan) -> Iterator[tuple[str, str]]:
    """Class and size, row by row."""
    stack = panel_schedule(made, 300.0, None, HEIGHTS)
    for row in stack.rows if stack else ():
        texts = [shape.text for shape in row.shapes if isinstance(shape, Text)]
        if len(texts) > 1:
            yield texts[0], texts[1]


def test_the_cutting_sheet_prints_those_sizes_and_no_others(made: Plan) -> None:
    """Also of a piece that lies turned on the panel; that of the panel as bought, and the legs of what is cut out."""
    sizes = {on_the_tape(made, panel.cut_to) for panel in cut(made)}
    offs = [off for pattern in panel_patterns(made) for slot in pattern.slots for off in slot.off]
    sizes |= {told(size_said(off, made.room.units)) for off in offs if off.kind != "round hole"}
    for stack in panel_stacks(made, 380.0, 250.0, HEIGHTS):
        for row in stack.rows:
            for shape in row.shapes:
                if isinstance(shape, Text):
                    assert told_all(shape.text) <= sizes, shape.text
        heading = " ".join(shape.text for shape in stack.heading.shapes if isinstance(shape, Text))
        bought = tuple(side - made.ceiling.system.panel_undersize for side in made.ceiling.layout.module)
        assert told(heading) == on_the_tape(made, (bought[0], bought[1]))


def test_pieces_on_bought_panels_have_the_size_of_their_panel(made: Plan) -> None:
    sizes = {panel.id: panel.cut_to for panel in cut(made)}
    for each in made.stock.panels.panels if made.stock.panels else ():
        for piece in each.pieces:
            assert (piece.size[::-1] if piece.turned else piece.size) == sizes.pop(piece.panel)
    assert not sizes


def test_templates_print_that_size_for_every_panel_they_serve(made: Plan) -> None:
    """Of the first few classes that need one: every size on a key page is that of the panel."""
    need = list(dict.fromkeys(panel_class(panel) for panel in cut(made) if panel.shape != "plain"))[:3]
    if not need:
        return
    panels = {panel.id: panel for panel in made.ceiling.panels}
    for each in template_sheets(made, STYLE, SheetWish(), TemplateWish(panels=tuple(need))):
        (size,) = {on_the_tape(made, panels[name].cut_to) for name in each.template.panels}
        key = [shape.text for shape in each.sheets[0].shapes if isinstance(shape, Text)]
        assert told(next(text for text in key if "over all" in text)) == size


def test_the_order_of_work_prints_that_size(made: Plan) -> None:
    panels = {panel.id: panel for panel in made.ceiling.panels}
    found = [
        said
        for step in order_of_work(made.room, made.ceiling)
        for said in re.findall(r"(?:Begin with|with panel) (\w+) ?[^,]*, cut to ([^:.,]*)", step)
    ]
    assert len(found) == any(cut(made))
    for name, size in found:
        assert told(size) == on_the_tape(made, panels[name].cut_to)


def test_panels_that_read_alike_are_one_class(made: Plan) -> None:
    """Of rectangles no two classes have one size; of a class all read alike, whatever their shape."""
    classes = defaultdict(set)
    for panel in cut(made):
        classes[panel_class(panel)].add((panel.cut_to, panel.shape, bool(panel.cutouts)))
    assert all(len(kinds) == 1 for kinds in classes.values())
    plain = [kind for kinds in classes.values() for kind in kinds if kind[1:] == ("plain", False)]
    assert len(plain) == len(set(plain))
