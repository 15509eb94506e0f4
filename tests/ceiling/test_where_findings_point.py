"""A finding leads to the spot that it is about, to each of several, and to none where there is none."""

from functools import cache
from pathlib import Path

import pytest
from ceiling.framing_rooms import grid
from ceiling.hand_layouts import METRIC, rectangle

from planner.ceiling.hanging import hang
from planner.ceiling.model import Service
from planner.findings import MOST_SPOTS, Finding, placed
from planner.gathering import gathered
from planner.planning import Plan, plan
from planner.room.outline import Joists
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"


@cache
def planned(name: str) -> Plan:
    return plan(read_room(FIXTURES / f"{name}.yaml"))


def found(name: str, rule: str) -> Finding:
    (finding,) = [each for each in planned(name).findings if each.rule == rule]
    return finding


def a_finding() -> Finding:
    return Finding("note", "rule", "source", "text")


def test_spots_are_told_once_each_and_of_very_many_none() -> None:
    several = placed(a_finding(), [(1.0, 2.0), (3.0, 4.0), (1.0, 2.0)])
    assert (several.where, several.also) == ((1.0, 2.0), ((3.0, 4.0),))
    assert gathered([several])[0].places == ((1.0, 2.0), (3.0, 4.0))
    many = placed(a_finding(), [(float(k), 0.0) for k in range(MOST_SPOTS + 1)])
    assert many == a_finding() == placed(a_finding(), [])
    assert len(gathered([placed(a_finding(), [(float(k), 0.0) for k in range(MOST_SPOTS)])])[0].places) == MOST_SPOTS


def test_a_pipe_is_shown_itself() -> None:
    """The attic's pipe C3 stands at 15 ft along A-B and 9'-2" from it: not where the tee that meets it begins."""
    (pipe,) = [column for column in planned("attic-office").room.columns if column.name == "C3"]
    assert found("attic-office", "tee meets a pipe").where == pipe.centre


def test_a_tee_on_a_face_is_shown_at_the_face() -> None:
    """The attic's C1 has a face that T3 and T4 end at: the spot is on C1, not on the walls that they come from."""
    finding = found("attic-office", "tee on a face")
    (column,) = [column for column in planned("attic-office").room.columns if column.name == "C1"]
    xs, ys = zip(*column.outline, strict=True)
    assert finding.where is not None
    assert min(ys) <= finding.where[1] <= max(ys)
    assert min(abs(finding.where[0] - x) for x in xs) < 6.0


def test_a_main_along_a_wall_that_leans_by_less_than_a_tape_can_tell_is_told() -> None:
    """The shop's wall C-D leans 2 mm along the grid; M3 lies on its line and ends at corner D."""
    finding = found("shop-l-taped", "tee on a face")
    assert "M3 at C-D" in finding.message
    assert finding.where == pytest.approx(planned("shop-l-taped").room.corners["D"], abs=6.0)


def test_what_is_about_walls_and_heads_leads_to_the_middle_of_each_wall_and_to_the_head() -> None:
    """No head within 7'-6" of four walls of the workshop, and H3 too far from the next: five spots."""
    finding = found("workshop-t", "sprinkler distances")
    made = planned("workshop-t")
    middles = {
        name: ((wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2)
        for name, wall in ((wall.name, wall) for wall in made.room.walls)
    }
    head = next(service.at for service in made.ceiling.services if service.name == "H3")
    spots = [finding.where, *finding.also]
    assert spots == [*(middles[name] for name in ("B-C", "C-D", "G-H", "H-A")), head]


def test_a_service_that_was_moved_is_shown_where_it_stands() -> None:
    head = next(service.at for service in planned("workshop-t").ceiling.services if service.name == "H3")
    assert found("workshop-t", "service moved").where == head


def test_what_the_plan_shows_at_many_places_leads_to_none() -> None:
    assert found("seismic-lab", "lateral bracing").where is None


def test_blocking_for_wires_is_shown_where_there_is_one_of_them() -> None:
    """A light from 1200 to 1800 along A-B, joists at 900, 1500, 2100: 300 from its corners, and 223.8 from where it may
    be tied along its sides, while a drop of 200 allows 200 (45 degrees). Of 4 kg (under 10 lb) it has one wire, of 10
    kg two, which the framing plan shows.
    """
    joists = Joists(600.0, 300.0, "across")
    place = rectangle(6000.0, 3000.0, joists=joists, underside=2600.0, ceiling_height=2400.0)
    layout = grid((0.0, 0.0), (600.0, 600.0))
    for kg, shown in ((4.0, True), (10.0, False)):
        light = Service("L1", "troffer", (1500.0, 900.0), (600.0, 600.0), False, (), (), 0.0, kg)
        hung = hang(place, layout, METRIC, [], [light])
        (finding,) = hung.findings
        assert finding.rule == "hangers need blocking"
        assert finding.where == (hung.hangers[0].at if shown else None)
