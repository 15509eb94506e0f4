"""The order of work says the room's own numbers, in the order of the trade."""

import re
from pathlib import Path

import pytest
from ceiling.framing_rooms import rectangle

from planner.ceiling.build import build_ceiling
from planner.ceiling.order import order_of_work
from planner.findings import Finding
from planner.room.brief import Brief, GridWish
from planner.room.outline import Joists
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


def steps_of(name: str) -> tuple[str, ...]:
    brief = read_room(FIXTURES / f"{name}.yaml")
    return order_of_work(brief.room, build_ceiling(brief))


def places(steps: tuple[str, ...], *words: str) -> list[int]:
    return [next(k for k, step in enumerate(steps) if word in step) for word in words]


def test_a_hung_ceiling_goes_up_in_the_order_of_the_manual() -> None:
    """NAVEDTRA 14044 p. 5-17: wall angle, wires, mains, cross tees, panels; full ones first, border ones last."""
    steps = steps_of("kiln-room")
    order = places(
        steps, "Fix the wall angle", "wires to the structure", "Hang the main tees", "Hook in", "full panels"
    )
    assert order == sorted(order) and len(set(order)) == 5
    assert places(steps, "border panels")[0] > order[-1]


def test_the_numbers_are_those_of_the_room() -> None:
    """13 ft 7 in x 10 ft 4 in at 8 ft: first pieces 138.5 in = 11'-6 1/2", module's diagonal 24 x 1.4142 = 33.94 in."""
    text = "\n".join(steps_of("kiln-room"))
    for number in ("8'-0\" above", "M1: 11'-6 1/2\" + 2'-0 1/2\"; M2: 2'-0 1/2\" + 11'-6 1/2\"", "2'-9 15/16\""):
        assert number in text


def test_a_direct_ceiling_has_no_wires_and_caps_after_the_panels() -> None:
    steps = steps_of("workshop-low")
    assert not any("wire" in step for step in steps)
    order = places(steps, "Find the joists", "Screw the track", "chalk line", "Put up the carriers", "no room to tilt")
    assert order == sorted(order)
    assert places(steps, "Snap the cover strips")[0] > order[-1]
    assert not any("furring" in step for step in steps)


def test_furring_goes_up_before_the_track() -> None:
    order = places(steps_of("den-wrong-way"), "rows of furring", "Screw the track")
    assert order == sorted(order)


@pytest.mark.parametrize("system", ["lay-in-metric", "direct-metric"])
def test_a_small_bare_room_has_an_order_too(system: str) -> None:
    """Nothing is cut in 2.4 x 1.8 m: no border panel is spoken of."""
    room = rectangle(2400, 1800, joists=Joists(400, 100, "across"))
    ceiling = build_ceiling(Brief(room, GridWish(system)))
    steps = order_of_work(room, ceiling)
    assert all(steps)
    assert not any("border panels" in step for step in steps)


def test_rows_of_panels_are_one_step_and_numbered_from_the_front() -> None:
    """Kiln room, 124 in deep with borders of 14: 14 + 4 x 24 + 14, six rows, each with its borders left and right."""
    steps = steps_of("kiln-room")
    (rows,) = [step for step in steps if "In rows from the front" in step]
    assert "border panels" in rows
    assert [f"row {number}: " in rows for number in range(1, 9)] == [True] * 6 + [False] * 2
    assert not any(step.startswith("Row") for step in steps)


def test_panels_are_cut_face_up_and_the_sheet_that_shows_backs_is_named() -> None:
    (step,) = [step for step in steps_of("kiln-room") if "border panels" in step]
    assert "cut face up" in step and "the panel sheet shows backs, where left and right change" in step


def test_runs_are_told_from_the_end_from_which_the_lists_tell_them() -> None:
    """The foyer's mains run at 135 degrees and begin at their right ends: from the left M2 is 917 + 3600 + 307."""
    text = "\n".join(steps_of("foyer-diagonal"))
    assert "Pieces from the left, or from the front: M1: 2424 mm; M2: 917 mm + whole + 307 mm;" in text


def test_whole_short_tees_do_not_go_up_before_the_long_ones_that_bear_them() -> None:
    """A corridor with one main: 102 long tees, all cut, bear 100 whole short ones; 4 short ones are cut: 102 + 4."""
    (step,) = (step for step in steps_of("corridor") if "Hook in" in step)
    assert step == (
        "Hook in the cross tees, the long ones before the short ones between them: 100 whole, and 106 at the walls, "
        "each cut to its own measure, its cut end on the wall angle."
    )


def test_tees_of_one_length_have_no_long_ones_before_the_short_ones() -> None:
    (step,) = (step for step in steps_of("workshop-t") if "Hook in" in step)
    assert step.startswith("Hook in the cross tees: 45 whole, and 30 at the walls")


def test_one_main_is_one_and_many_are_told_as_the_lists_tell_them() -> None:
    assert any(step.startswith("Hang main tee M1 from its first mark on") for step in steps_of("corridor"))
    assert any(step.startswith("Hang the main tees in order, M1 to M5, each") for step in steps_of("clinic"))


def test_only_what_has_a_cable_is_wired() -> None:
    """The kiln room has two lights besides its supply of air; the corridor's S1 and S2 are both for air."""
    assert (
        "Set L1, L2, S1 in place on separate wires, before the panels; a licensed person does the wiring."
        in steps_of("kiln-room")
    )
    assert "Set S1, S2 in place on separate wires, before the panels." in steps_of("corridor")


def test_holes_are_cut_before_their_panels_go_up() -> None:
    """The kiln room's downlights D1 and D2 sit in panels d1 and d2: drilled after the lay-in lights, before panels."""
    steps = steps_of("kiln-room")
    (at,) = [k for k, step in enumerate(steps) if "on the bench, face up, before they go in" in step]
    assert re.search(r"D1 in d1\b.*D2 in d2\b", steps[at])
    assert "a licensed person does the wiring." in steps[at]
    assert "on separate wires" in steps[at - 1] and steps[at + 1].startswith("Lay the 13 full panels")


@pytest.mark.parametrize(
    ("name", "holes"),
    [
        ("seismic-lab", 'its hole: H1 to H12 in d1 to d12 (pipe + 2"). Below'),
        ("corridor", "its hole: D1 to D12 in d1 to d12 (0.15 m). Below"),
        ("clinic", "H1 to H6 in f1 to f6 (50 mm), P1 in g1 (210 mm), P2 in g2 (210 mm), D1 in e1 (150 mm), D2 in"),
    ],
)
def test_all_holes_are_told_those_in_a_row_together(name: str, holes: str) -> None:
    """Heads and panels both count on by one from H1 in d1, and each hole is as large."""
    (step,) = [step for step in steps_of(name) if "on the bench" in step]
    assert holes in step and "more" not in step


def test_what_a_grid_on_the_joists_has_goes_onto_the_joists(tmp_path: Path) -> None:
    """No wire hangs in such a grid."""
    path = tmp_path / "room.yaml"
    text = (FIXTURES / "workshop-low.yaml").read_text(encoding="utf-8")
    light = "  - {name: L9, kind: troffer, size: [24\", 24\"], near: [9', 5']}\n"
    path.write_text(text.replace("services:\n", f"services:\n{light}"))
    made = read_room(path)
    steps = order_of_work(made.room, build_ceiling(made))
    assert any("Set L9 in place before the panels, fixed to the joists, not to the grid; a" in step for step in steps)
    assert not any("separate wires" in step for step in steps)


def test_without_holes_there_is_no_such_step() -> None:
    assert not any("on the bench" in step for step in steps_of("studio-l"))


def stop(remedy: str, severity: str = "stop") -> Finding:
    return Finding(severity, "a rule", "common practice, no source", "Something does not fit.", None, remedy)  # type: ignore[arg-type]


def first_step(*findings: Finding) -> str:
    brief = read_room(FIXTURES / "kiln-room.yaml")
    return order_of_work(brief.room, build_ceiling(brief), findings)[0]


def test_where_something_says_stop_the_first_step_is_to_mend_that() -> None:
    """The same remedy twice is told once; what only warns is not told; more than three stand with the findings."""
    head, tail = "Do not order, cut or hang anything yet. ", " When that is done, plan anew."
    warned = stop("Look at it.", "warn")
    assert first_step(stop("Tape C-D again."), warned, stop("Tape C-D again.")) == f"{head}Tape C-D again.{tail}"
    assert first_step(stop("Tape C-D."), stop("Move L1.")) == f"{head}Tape C-D. Move L1.{tail}"
    whole = f"{head}Mend what the findings marked STOP are about.{tail}"
    assert first_step(*(stop(f"Move L{k}.") for k in range(4))) == whole
    assert first_step(stop("")) == whole
    assert first_step(warned).startswith("Strike a level line")
