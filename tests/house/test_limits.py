"""How large a job may be: one more than a limit is refused in words that say how to raise it, as many as it are not."""

import json
import shutil
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from click.testing import CliRunner

from planner.cli import main
from planner.documents import parse_document, read_document
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.templates.order import ordered
from planner.drawing.templates.sheets import TemplateWish, template_set
from planner.drawing.wish import SheetWish
from planner.errors import InputError, PlannerError
from planner.limits import LIMITS, USUAL, Limits, read_limits
from planner.planning import plan
from planner.room.building import building_from
from planner.room.reader import brief_from, read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
ISO = load_style("iso-13567")
HALL = "units: mm\nroom:\n  rectangle: [9000, 6000]\n"


def points(count: int) -> str:
    """A saw: one straight wall, and teeth along the other."""
    teeth = ", ".join(f"[{9000 - k * 10}, {6000 + k % 2 * 50}]" for k in range(count - 2))
    return f"units: mm\nroom:\n  points: [[0, 0], [9000, 0], {teeth}]\n"


def columns(count: int) -> str:
    listed = "".join(f"  - {{at: [{500 + 200 * k}, 3000], size: [100, 100]}}\n" for k in range(count))
    return f"{HALL}  columns:\n{listed}"


def column_points(count: int) -> str:
    teeth = ", ".join(f"[{2000 - k * 10}, {1500 + k % 2 * 50}]" for k in range(count - 2))
    return f"{HALL}  columns: [{{points: [[1000, 1000], [2000, 1000], {teeth}]}}]\n"


def services(count: int) -> str:
    """One by itself, the others in an array of one row."""
    array = f"{{kind: sprinkler, array: {{columns: {count - 1}, rows: 1}}}}"
    return f"{HALL}services: [{{kind: sprinkler, near: [300, 300]}}, {array}]\n"


def readings(count: int) -> str:
    """A square of 4 m, its first wall read again and again."""
    first = ", ".join(["4000"] * (count - 4))
    tape = f"{{A-B: [{first}], B-C: 4000, C-D: 4000, D-A: 4000, A-C: 5657}}"
    return f"units: mm\nroom:\n  corners: [A, B, C, D]\n  tape: {tape}\n"


def bowed(count: int) -> str:
    """Chords of bows are corners too: a bow of 100 mm over 9 m needs about 50 (0.1 mm off the arc at most)."""
    return f"{HALL}  bowed_walls: {{A-B: {count}}}\n"


COUNTED = [
    ("corners", points, "corners", "points"),
    ("corners", column_points, "points", "columns"),
    ("columns", columns, "columns", "columns"),
    ("services", services, "services", "services"),
    ("readings", readings, "readings", "tape"),
]


@pytest.mark.parametrize(
    ("name", "text", "what", "place"), COUNTED, ids=lambda value: getattr(value, "__name__", str(value))
)
def test_one_more_than_the_limit_is_refused_and_as_many_are_read(name: str, text, what: str, place: str) -> None:
    limits = Limits(**{name: 12})
    assert brief_from(parse_document(text(12), "room.yaml", limits=limits)).limits == limits
    with pytest.raises(InputError) as caught:
        brief_from(parse_document(text(13), "room.yaml", limits=limits))
    (complaint,) = caught.value.complaints
    assert complaint.place.endswith(place) and complaint.line
    assert f"13 {what}, and 12 are the most." in complaint.problem
    assert f"planner --limits {name}=13 " in complaint.mend
    assert brief_from(parse_document(text(13), "room.yaml", limits=Limits(**{name: 13})))


@pytest.mark.parametrize(
    ("name", "text", "what", "place"), COUNTED, ids=lambda value: getattr(value, "__name__", str(value))
)
def test_the_usual_limits_hold_without_a_word(name: str, text, what: str, place: str) -> None:
    most = getattr(USUAL, name)
    with pytest.raises(InputError, match=f"{most + 1:,} {what}, and {most:,} are the most"):
        brief_from(parse_document(text(most + 1), "room.yaml"))


def test_an_array_beyond_counting_is_not_written_out() -> None:
    text = f"{HALL}services: [{{kind: sprinkler, array: {{columns: {10**9}, rows: {10**9}}}}}]\n"
    with pytest.raises(InputError, match="are never taken; plan it in parts"):
        brief_from(parse_document(text, "room.yaml"))


def test_chords_of_bowed_walls_are_corners_too() -> None:
    outline = brief_from(parse_document(bowed(100), "room.yaml")).room.outline
    with pytest.raises(InputError, match="bows written out, and 20 are the most"):
        brief_from(parse_document(bowed(100), "room.yaml", limits=Limits(corners=20)))
    exact = Limits(corners=len(outline))
    assert brief_from(parse_document(bowed(100), "room.yaml", limits=exact)).room.outline == outline


def test_bytes_values_and_depth_of_a_file(tmp_path: Path) -> None:
    """Values of `a: [1, 2, 3]`: two numbers and the third, the list, and the whole: 5. It is two levels deep."""
    text = "a: [1, 2, 3]\n"
    path = tmp_path / "room.yaml"
    path.write_text(text)
    just = Limits(bytes=len(text), values=5, depth=2)
    assert read_document(path, limits=just).data == {"a": [1, 2, 3]}
    for name, said in (
        ("bytes", "is larger than 12 bytes"),
        ("values", "more than 4 values"),
        ("depth", "more than 1 deep"),
    ):
        less = Limits(**{"bytes": len(text), "values": 5, "depth": 2, name: getattr(just, name) - 1})
        with pytest.raises(InputError, match=said) as caught:
            read_document(path, limits=less)
        assert f"--limits {name}=" in str(caught.value)


def test_aliases_count_as_what_they_stand_for() -> None:
    """Six levels of ten: a million values from a text of a few lines."""
    names = "abcdef"
    lines = [f"{names[0]}: &{names[0]} [{', '.join('0' * 10)}]"]
    lines += [f"{here}: &{here} [{', '.join([f'*{above}'] * 10)}]" for above, here in pairwise(names)]
    with pytest.raises(InputError, match="unfolds to more than 50,000 values"):
        parse_document("\n".join(lines), "bomb.yaml")


def test_the_deepest_that_can_be_asked_for_is_still_read() -> None:
    """The utmost depth must not reach the end of Python's own stack."""
    utmost = next(limit.utmost for limit in LIMITS if limit.name == "depth")
    text = "a: " + "[" * (utmost - 1) + "]" * (utmost - 1)
    assert parse_document(text, "deep.yaml", limits=Limits(depth=utmost)).data["a"] is not None


def test_modules(tmp_path: Path) -> None:
    """9 m x 6 m in modules of 600 mm are 15 x 10 = 150."""
    text = f"{HALL}grid: {{system: lay-in-metric, module: [600, 600]}}\n"
    assert plan(brief_from(parse_document(text, "room.yaml", limits=Limits(modules=150)))).ceiling.layout.full_panels
    with pytest.raises(PlannerError, match="about 150 modules, and 149 are the most") as caught:
        plan(brief_from(parse_document(text, "room.yaml", limits=Limits(modules=149))))
    assert "room.yaml:2:" in str(caught.value) and "--limits modules=150" in str(caught.value)


def test_a_room_in_the_wrong_unit_is_refused_before_it_is_laid_out() -> None:
    """900 m x 900 m at 600 mm would be 2.25 million modules."""
    text = "units: m\nroom: {rectangle: [900, 900]}\n"
    with pytest.raises(PlannerError, match=r"about 2,250,000 modules, and 1,000,000 are the most"):
        plan(brief_from(parse_document(text, "room.yaml")))


def test_sheets_of_a_set() -> None:
    made = plan(read_room(FIXTURES / "kiln-room.yaml"))
    sheets = draw(made, ISO, SheetWish())
    assert draw(made, ISO, SheetWish(most_pages=len(sheets))) == sheets
    with pytest.raises(PlannerError, match=f"that would be {len(sheets)} sheets") as caught:
        draw(made, ISO, SheetWish(most_pages=len(sheets) - 1))
    assert f"--limits pages={len(sheets)} " in str(caught.value)


def test_pages_of_templates() -> None:
    made = plan(read_room(FIXTURES / "gallery-bowed.yaml"))
    found = ordered(made, ISO, SheetWish(), TemplateWish())
    pages = sum(len(each.sheets) for each in found)
    assert ordered(made, ISO, SheetWish(most_pages=pages), TemplateWish()) == found
    with pytest.raises(PlannerError, match="pages, and"):
        ordered(made, ISO, SheetWish(most_pages=pages - 1), TemplateWish())


def test_the_set_takes_only_as_many_templates_as_there_are_pages_for() -> None:
    made = plan(read_room(FIXTURES / "gallery-bowed.yaml"))
    whole = template_set(made, ISO, SheetWish(), TemplateWish(), 40)
    fewer = template_set(made, ISO, SheetWish(most_pages=len(whole) // 2), TemplateWish(), 40)
    assert 1 < len(fewer) <= len(whole) // 2 + 1  # the index comes first


def test_rooms_of_a_building(tmp_path: Path) -> None:
    for k in range(3):
        (tmp_path / f"{k}.yaml").write_text(HALL)
    building = tmp_path / "building.yaml"
    building.write_text("rooms: [0.yaml, 1.yaml, 2.yaml]\n")
    assert len(building_from(read_document(building, limits=Limits(rooms=3))).briefs) == 3
    with pytest.raises(InputError, match="the building has 3 rooms, and 2 are the most"):
        building_from(read_document(building, limits=Limits(rooms=2)))


def test_the_rooms_of_a_building_are_under_its_limits(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text(services(13))
    building = tmp_path / "building.yaml"
    building.write_text("rooms: [a.yaml]\n")
    with pytest.raises(InputError, match="13 services, and 12 are the most"):
        building_from(read_document(building, limits=Limits(services=12)))


def test_somebody_elses_drawing(tmp_path: Path) -> None:
    drawing = ezdxf.new(units=4)
    drawing.modelspace().add_lwpolyline([(0, 0), (4000, 0), (4000, 3000), (0, 3000)], close=True)
    for k in range(5):
        drawing.modelspace().add_line((100, 100 * k), (200, 100 * k))
    drawing.saveas(tmp_path / "floor.dxf")
    room = tmp_path / "room.yaml"
    room.write_text("units: mm\nroom: {dxf: {file: floor.dxf}}\n")
    size = (tmp_path / "floor.dxf").stat().st_size
    assert read_room(room, Limits(strokes=6, drawing=size)).room.outline
    for less, said in ((Limits(strokes=5), "more than 5 lines"), (Limits(drawing=size - 1), "the most that is read")):
        with pytest.raises(InputError, match=said):
            read_room(room, less)


def test_a_record_that_is_compared(tmp_path: Path) -> None:
    made = CliRunner().invoke(main, ["plan", str(FIXTURES / "kiln-room.yaml"), "--out", str(tmp_path / "out")])
    assert made.exit_code == 0, made.output
    record = str(tmp_path / "out" / "plan.json")
    size = Path(record).stat().st_size
    assert CliRunner().invoke(main, ["--limits", f"record={size}", "compare", record, record]).exit_code == 0
    refused = CliRunner().invoke(main, ["--limits", f"record={size - 1}", "compare", record, record])
    assert refused.exit_code == 2 and "it is larger than" in refused.output


# --- at the desk ------------------------------------------------------------------------------------------------------


def test_somebody_at_the_desk_may_raise_a_limit_and_a_file_may_not(tmp_path: Path) -> None:
    room = tmp_path / "room.yaml"
    room.write_text(columns(20))
    assert CliRunner().invoke(main, ["check", str(room)]).exit_code == 0
    refused = CliRunner().invoke(main, ["--limits", "columns=19", "check", str(room)])
    assert refused.exit_code == 2 and "20 columns, and 19 are the most" in refused.output
    room.write_text(columns(20) + "limits: {columns: 100}\n")
    unknown = CliRunner().invoke(main, ["check", str(room)])
    assert unknown.exit_code == 2 and 'unknown key "limits"' in unknown.output


def test_every_command_that_plans_minds_the_limits(tmp_path: Path) -> None:
    room = tmp_path / "kiln.yaml"
    shutil.copy(FIXTURES / "kiln-room.yaml", room)
    for command in ("plan", "check", "options", "takeoff", "explain", "template", "compare"):
        arguments = [str(room)] * (2 if command == "compare" else 1)
        result = CliRunner().invoke(main, ["--limits", "services=2", command, *arguments])
        assert result.exit_code == 2 and "services, and 2 are the most" in result.output, command


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("sheets=3", 'there is no limit "sheets"'),
        ("service=3", "Did you mean services?"),
        ("services", '"" is no limit of services'),
        ("services=0", "from 1 to 50000"),
        ("services=-1", "is no limit"),
        ("services=1e3", "is no limit"),
        ("services=٣", "is no limit"),
        ("services=50001", "from 1 to 50000"),
        ("services=" + "9" * 5000, "is no limit"),
    ],
)
def test_limits_that_are_none(text: str, said: str) -> None:
    with pytest.raises(PlannerError) as caught:
        read_limits(text)
    assert said in str(caught.value) and caught.value.where == "--limits"


def test_limits_that_are_some() -> None:
    assert read_limits("") == USUAL
    assert read_limits(" services = 5 , pages=7,") == Limits(services=5, pages=7)


def test_the_table_names_every_limit() -> None:
    shown = CliRunner().invoke(main, ["schema", "--limits"]).output
    for limit in LIMITS:
        assert f"{limit.usual:,}" in shown and f"{limit.utmost:,}" in shown and limit.counts in shown
        assert limit.usual <= limit.utmost
    assert "planner --limits" in shown


def test_limits_are_no_part_of_a_record() -> None:
    """A plan is the same, whatever might have been."""
    room = str(FIXTURES / "kiln-room.yaml")
    one, other = (CliRunner().invoke(main, ["--limits", limits, "check", room, "--json"]) for limits in ("", "rooms=5"))
    assert json.loads(one.output) == json.loads(other.output)
