"""A brief goes in and a whole ceiling comes out."""

from pathlib import Path

import pytest
from ceiling.hand_layouts import FOOT, INCH, rectangle

from planner.ceiling.build import build_ceiling
from planner.errors import PlannerError
from planner.room.brief import Brief, GridWish, ServiceWish
from planner.room.reader import read_room

FIXTURES = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))


def navy_room(*services, **grid):
    """NAVEDTRA 14044 p. 5-16: 13 ft 7 in x 10 ft 4 in."""
    room = rectangle(163 * INCH, 124 * INCH, units="ft-in", underside=9 * FOOT, ceiling_height=8 * FOOT)
    return Brief(room, GridWish("lay-in-imperial", **grid), services)


def test_the_navy_room():
    """42 modules, 7 x 6 (the room counts as 14 ft x 12 ft); 5 x 4 of them whole; borders 21.5 and 14 in."""
    ceiling = build_ceiling(navy_room())
    assert ceiling.full_panels == 20 and len(ceiling.panels) == 22
    assert [border.least / INCH for border in ceiling.layout.borders] == pytest.approx([14, 21.5, 14, 21.5])
    assert {finding.severity for finding in ceiling.findings} == {"note"}  # no joists, no weights are given
    assert {member.kind for member in ceiling.members} == {"main tee", "cross tee", "wall angle"}


def test_services_change_panels_and_frame():
    """A 24 x 24 light in the middle panel takes one of 20; a downlight drills another."""
    plain = build_ceiling(navy_room())
    light = ServiceWish("L1", "troffer", size=(24 * INCH, 24 * INCH), near=(60 * INCH, 50 * INCH))
    spot = ServiceWish("D1", "downlight", diameter=6 * INCH, near=(100 * INCH, 50 * INCH))
    lit = build_ceiling(navy_room(light, spot))
    assert lit.full_panels == 18 and len(lit.panels) == 23
    assert lit.members == plain.members  # one module takes no tee out

    oblong = ServiceWish("L1", "troffer", size=(24 * INCH, 48 * INCH), near=(60 * INCH, 62 * INCH))
    assert build_ceiling(navy_room(oblong)).members != plain.members


def test_fixed_holes_draw_the_grid_where_it_is_free_to_go():
    """In a room of whole modules only the full grid has no cut; a sprinkler does not move it, and is told."""
    room = rectangle(10 * FOOT, 8 * FOOT)
    sprinkler = ServiceWish("H1", "sprinkler", at=(2 * FOOT, 3 * FOOT))
    ceiling = build_ceiling(Brief(room, GridWish("lay-in-imperial"), (sprinkler,)))
    assert ceiling.full_panels == 20
    assert ceiling.findings[0].rule == "service meets a tee"


def test_the_gravest_finding_comes_first():
    low = rectangle(163 * INCH, 124 * INCH, underside=2100.0, ceiling_height=2050.0)
    wishes = (
        ServiceWish("L1", "troffer", size=(24 * INCH, 48 * INCH), near=(60 * INCH, 38 * INCH)),
        ServiceWish("D1", "downlight", diameter=700.0, near=(1000, 1000)),
    )
    ceiling = build_ceiling(Brief(low, GridWish("lay-in-imperial"), wishes))
    severities = [finding.severity for finding in ceiling.findings]
    assert severities == sorted(severities, key=["stop", "warn", "note"].index)
    assert set(severities) == {"stop", "warn", "note"}


def test_an_unknown_system_is_refused():
    with pytest.raises(PlannerError, match='no grid system "lay-in-cubits"'):
        build_ceiling(Brief(rectangle(3000, 2400), GridWish("lay-in-cubits")))


def test_the_same_brief_gives_the_same_ceiling():
    brief = navy_room(ServiceWish("D1", "downlight", diameter=6 * INCH, near=(100 * INCH, 50 * INCH)))
    assert build_ceiling(brief) == build_ceiling(brief)


def test_there_are_demo_rooms():
    assert len(FIXTURES) >= 5


@pytest.mark.parametrize("path", FIXTURES, ids=lambda path: path.stem)
def test_every_demo_room_can_be_built(path):
    """Panels add up, every service has a place, and only what is fixed in a bad place stops."""
    brief = read_room(path)
    ceiling = build_ceiling(brief)
    drilled = [panel for panel in ceiling.panels if panel.cutouts]
    in_panels = {name for panel in drilled for name in (hole.service for hole in panel.cutouts)}
    filled = sum(
        len(s.cells)
        for s in ceiling.services
        if s.kind in ("troffer", "supply_diffuser", "return_grille", "access_panel") and s.name not in in_panels
    )
    layout = ceiling.layout
    assert ceiling.full_panels + len(ceiling.panels) + filled == layout.full_panels + len(layout.cut_panels)
    assert len({panel.id for panel in ceiling.panels}) == len(ceiling.panels)
    assert [service.name for service in ceiling.services] == [wish.name for wish in brief.services]
    fixed = {wish.name for wish in brief.services if wish.at}
    assert {f.message.split(" ")[0] for f in ceiling.findings if f.severity == "stop"} <= fixed
