"""What wires and furring need beside themselves is bought, drawn, explained and told."""

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from planner.ceiling.direct import END_CLEAR_MM, SCREWS_APART_MM
from planner.ceiling.order import order_of_work
from planner.drawing.hanger_symbols import blocking_outlines, hanger_symbols, leaning_lines
from planner.explain import Job, explain
from planner.geometry import box_of, distance
from planner.planning import Plan, plan
from planner.record import record_of
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


@cache
def planned(name: str) -> Plan:
    return plan(read_room(FIXTURES / f"{name}.yaml"))


def ordered(name: str) -> dict[str, int]:
    return {line.item: line.net for line in planned(name).stock.takeoff}


@pytest.mark.parametrize("name", ["attic-office", "gallery-bowed"])
def test_blocking_is_bought(name: str) -> None:
    """Joists across A-B at first + k x spacing: a wire further aside of all of them than a sixth of its drop needs
    blocking, a slack one of a service where it is further than its drop; those within 100 of each other between the
    same two joists share it.
    """
    made = planned(name)
    joists, drop = made.room.joists, (made.room.underside or 0.0) - (made.room.ceiling_height or 0.0)
    assert joists is not None and joists.direction == "across"
    far = set()
    for hanger in made.ceiling.hangers:
        bay, off = divmod(hanger.at[0] - joists.first, joists.spacing)
        most = drop if hanger.kind == "service wire" else drop / 6
        if min(off, joists.spacing - off) > most + 1e-6:
            far.add((bay, round(hanger.at[1], 3)))
    assert not [a for a in far for b in far if a < b and a[0] == b[0] and abs(a[1] - b[1]) <= 100.0]
    pieces = len(far)
    assert pieces
    assert ordered(name)["blocking between joists"] == pieces
    assert len(list(blocking_outlines(planned(name).room, planned(name).ceiling.hangers))) == pieces


@pytest.mark.parametrize("name", ["shop-l-taped", "kiln-room", "studio-l", "clinic", "workshop-t"])
def test_wires_of_services_find_a_joist(name: str) -> None:
    """Half of 16 in, 24 in, 400 or 625 from joist to joist is less than the drop of 9 in, 12 in, 350 or 400."""
    wires = [hanger for hanger in planned(name).ceiling.hangers if hanger.kind == "service wire"]
    assert wires and any(wire.top is not None for wire in wires)
    assert not any(hanger.block for hanger in planned(name).ceiling.hangers)
    assert "blocking between joists" not in ordered(name)


def test_where_joists_are_not_known_none_is() -> None:
    assert "blocking between joists" not in ordered("corridor")


def test_blocking_is_drawn_from_joist_to_joist() -> None:
    """Joists 450 apart, a block as wide as a joist, 38; that of M4 ends at the wall, 7400 from D-A, where the joist
    before it is at 225 + 15 x 450 = 6975.
    """
    made = planned("gallery-bowed")
    boxes = [box_of(block.points) for block in blocking_outlines(made.room, made.ceiling.hangers)]
    assert sorted(box.width for box in boxes) == pytest.approx([425.0, 450.0, 450.0])
    assert [box.height for box in boxes] == pytest.approx([38.0] * 3)


def test_a_wire_that_leans_is_drawn_at_its_joist_with_a_line_to_its_tie() -> None:
    made = planned("clinic")
    leaning = [hanger for hanger in made.ceiling.hangers if hanger.top is not None]
    assert leaning
    assert [(line.start, line.end) for line in leaning_lines(made.ceiling.hangers)] == [
        (hanger.top, hanger.at) for hanger in leaning
    ]
    at = {symbol.at for symbol in hanger_symbols(leaning, 50.0, "mm")}
    assert at == {hanger.top for hanger in leaning}


def test_the_record_has_both_ends_of_a_wire() -> None:
    """The gallery has blocking for the splice wire of M4 and the wires of T9 and T10 at the pipe."""
    gallery, kiln = (record_of(planned(name))["hangers"] for name in ("gallery-bowed", "kiln-room"))
    assert sorted(each["member"] for each in gallery if each["blocking"] is not None) == ["M4", "T10", "T9"]
    assert not any(each["blocking"] is not None for each in kiln)
    assert any(each["at_mm"] != each["hung_at_mm"] for each in kiln)


def test_explain_knows_blocking() -> None:
    brief = read_room(FIXTURES / "gallery-bowed.yaml")
    (answer,) = explain(Job(brief, planned("gallery-bowed")), "blocking between joists")
    assert "No joist is near enough for 3 wires" in answer.steps[0].text
    assert answer.steps[0].rule == "a wire leans 1 in 6 at most"


LOW = """
units: mm
room: {rectangle: [4800, 3600]}
structure: {joists: {spacing: 600, first: 300, direction: across}, underside: 2600}
ceiling_height: 2400
grid: {system: lay-in-metric, module: [600, 600]}
services:
  - {name: L1, kind: troffer, size: [600, 600], at: [1500, 1500], weight: 10 kg}
"""


def test_a_low_ceiling_needs_blocking_for_a_light(tmp_path: Path) -> None:
    """Modules of 600 from the walls; L1 from 1200 to 1800, in the middle of which a joist is: 300 from its corners and
    223.8 from the last place along a side that a wire may be tied at, more than the drop of 200 (45 degrees). The
    corners are 600 apart, so each wire has its own.
    """
    (tmp_path / "low.yaml").write_text(LOW, encoding="utf-8")
    brief = read_room(tmp_path / "low.yaml")
    made = plan(brief)
    assert [line.net for line in made.stock.takeoff if line.item == "blocking between joists"] == [2]
    job = Job(brief, made)
    (answer,) = explain(job, "blocking between joists")
    assert "No joist is near enough for 2 wires" in answer.steps[0].text
    assert answer.steps[0].rule == "a wire of a service may be slack: 45 degrees at most"
    assert "Everett WA" in answer.steps[0].source
    (first, *_) = [step for step in order_of_work(made.room, made.ceiling) if "wires to the structure" in step]
    assert first.startswith("First set blocking between the joists where the framing plan shows it (2)")


def test_explain_says_how_far_a_slack_wire_may_lean() -> None:
    """The kiln room's drop is 9 in: a wire of a service may lean 9 in, one of a main 1 1/2 in."""
    made = planned("kiln-room")
    job = Job(read_room(FIXTURES / "kiln-room.yaml"), made)
    for kind, most, rule in (
        ("service wire", '9"', "a wire of a service may be slack: 45 degrees at most"),
        ("splice wire", '1 1/2"', "a wire leans 1 in 6 at most"),
    ):
        wire = next(wire for wire in made.ceiling.hangers if wire.kind == kind and wire.top is not None)
        (answer,) = explain(job, wire.id)
        (step,) = [step for step in answer.steps if step.text.startswith("It leans")]
        assert step.text.endswith(f"; {most} is allowed.") and step.rule == rule


def test_nails_of_the_furring_are_bought() -> None:
    """Two at each joist that a strip crosses; the order has them.

    Joists at 210 + 400 k: 9 up to 3480, 6 up to 2370. Strips 1 to 6 cross 9, 8 to 11 cross 6, and 7, which runs from
    2185 (over the joist at 2210) to 3480, crosses 4: 54 + 24 + 4 = 82 joists.
    """
    assert ordered("den-wrong-way")["furring nail"] == 2 * 82
    assert "furring nail" not in ordered("workshop-low")


def test_no_two_screws_of_a_carrier_stand_side_by_side() -> None:
    """Two strips 21 mm apart at a corner take one screw; where two pieces meet at a joist each piece has its own."""
    made = planned("den-wrong-way").ceiling
    for carrier in (member for member in made.members if member.kind == "carrier"):
        at = sorted(distance(carrier.start, screw.at) for screw in made.hangers if screw.member == carrier.id)
        gaps = [after - before for before, after in pairwise(at)]
        assert all(gap >= SCREWS_APART_MM - 1e-6 or gap == pytest.approx(2 * END_CLEAR_MM) for gap in gaps)


def test_pairs_of_screws_are_spoken_of_where_there_are_some() -> None:
    """The workshop's 6 carriers cross 13 joists: 78 screws, and no two pieces meet at a joist."""
    made = planned("workshop-low")
    (step,) = [step for step in order_of_work(made.room, made.ceiling) if step.startswith("Put a screw")]
    assert step == "Put a screw through the carriers at every joist they cross: 78 in all."
