"""Sizes of services that nobody gave are round ones of the trade in the units of the room."""

from pathlib import Path

import pytest

from planner.ceiling.build import build_ceiling
from planner.drawing.legend import assumed_size
from planner.room.reader import read_room
from planner.room.service_kinds import KINDS

ROOM = """\
units: {units}
room: {{rectangle: [{size}]}}
services:
  - {{name: H1, kind: sprinkler, near: [{one}]}}
  - {{name: SD1, kind: smoke_detector, near: [{two}]}}
  - {{name: EX1, kind: exit_sign, near: [{three}]}}
"""


@pytest.mark.parametrize(
    ("units", "size", "places", "sizes"),
    [
        ("mm", "4200, 3000", ("900, 900", "2100, 900", "3300, 900"), ((50, 50), (100, 100), (300, 60))),
        ("m", "4.2, 3", ("0.9, 0.9", "2.1, 0.9", "3.3, 0.9"), ((50, 50), (100, 100), (300, 60))),
        ("ft-in", "14', 10'", ("3', 3'", "7', 3'", "11', 3'"), ((50.8, 50.8), (101.6, 101.6), (304.8, 63.5))),
        ("in", "168, 120", ("36, 36", "84, 36", "132, 36"), ((50.8, 50.8), (101.6, 101.6), (304.8, 63.5))),
    ],
)
def test_they_suit_the_room(
    tmp_path: Path, units: str, size: str, places: tuple[str, str, str], sizes: tuple[tuple[float, float], ...]
) -> None:
    """2" is 50.8, 4" 101.6, 12" x 2 1/2" 304.8 x 63.5 mm."""
    path = tmp_path / "room.yaml"
    path.write_text(ROOM.format(units=units, size=size, one=places[0], two=places[1], three=places[2]))
    brief = read_room(path)
    services = build_ceiling(brief).services
    assert [service.size for service in services] == [pytest.approx(each) for each in sizes]
    assert all(assumed_size(service, brief.room.imperial) for service in services)
    assert not any(assumed_size(service, not brief.room.imperial) for service in services)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_a_kind_has_sizes_of_its_own_in_both_units_or_in_none(kind) -> None:  # type: ignore[no-untyped-def]
    metric, imperial = kind.own_size(imperial=False), kind.own_size(imperial=True)
    assert (metric is None) == (imperial is None)
    if metric is not None and imperial is not None:
        assert imperial == pytest.approx(metric, abs=5.0)
