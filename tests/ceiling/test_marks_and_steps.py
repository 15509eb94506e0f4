"""Marks along a bowed wall by the arc's own formula; lights in the order of work."""

import math

import pytest
from ceiling.framing_rooms import rectangle

from planner.ceiling.build import build_ceiling
from planner.ceiling.order import order_of_work
from planner.documents import parse_document
from planner.room.brief import Brief, GridWish, ServiceWish
from planner.room.outline import Joists
from planner.room.reader import brief_from


@pytest.mark.parametrize("rise", [400.0, -300.0])
def test_marks_on_a_bowed_wall_are_taped_along_its_arc(rise: float) -> None:
    """Wall B-C over a chord of 4000 from (6000, 0) to (6000, 4000), bowed by h: r = 4000²/8h + h/2. A main at y meets
    it r (asin((y - 2000)/r) + asin(2000/r)) from B, along the arc, be it bowed out or in.
    """
    text = f"units: mm\nroom: {{rectangle: [6000, 4000], bowed_walls: {{B-C: {rise:g}}}}}\ngrid: {{mains: along}}\n"
    ceiling = build_ceiling(brief_from(parse_document(text, "room.yaml")))
    assert ceiling.setout is not None
    (wall,) = [one for one in ceiling.setout.walls if one.wall == "B-C"]
    mains = sorted(member.start[1] for member in ceiling.members if member.kind == "main tee")
    radius = 4000.0**2 / (8 * abs(rise)) + abs(rise) / 2
    arc = [radius * (math.asin((y - 2000) / radius) + math.asin(2000 / radius)) for y in mains]
    marks = [mark.at for mark in wall.marks if str(mark.what).startswith("main ")]
    assert len(mains) >= 3
    assert marks == pytest.approx(arc, abs=1.0)
    assert max(abs(a - y) for a, y in zip(marks, mains, strict=True)) > 5  # no tape held across the chord reads so


def steps(system: str, *services: ServiceWish) -> list[str]:
    room = rectangle(3650.0, 2450.0, joists=Joists(400.0, 100.0, "across"))
    return list(order_of_work(room, build_ceiling(Brief(room, GridWish(system), services))))


def place(row: list[str], words: str) -> int:
    (at,) = [k for k, step in enumerate(row) if words in step]
    return at


@pytest.mark.parametrize(("system", "panels"), [("lay-in-metric", "full panels"), ("direct-metric", "no room to tilt")])
def test_lights_are_set_before_the_panels_lie(system: str, panels: str) -> None:
    """A light that takes a whole module is set while its neighbours are still open."""
    row = steps(system, ServiceWish("L1", "troffer", size=(600.0, 600.0), near=(1800.0, 1200.0)))
    assert place(row, "Set L1 in place") < place(row, panels)
    assert not any("in place" in step for step in steps(system))
