"""What a room file tells of the building and of weights: read, and refused with a mend."""

from pathlib import Path

import pytest

from planner.errors import InputError
from planner.room.reader import read_room
from planner.room.site import Site

INCH = 25.4


def read(folder: Path, *lines: str):
    path = folder / "room.yaml"
    path.write_text("\n".join(["units: in", "room: {rectangle: [120, 96]}", *lines]) + "\n", encoding="utf-8")
    return read_room(path)


def complaint(folder: Path, *lines: str) -> str:
    with pytest.raises(InputError) as refused:
        read(folder, *lines)
    return str(refused.value)


def test_nothing_told_is_the_usual(tmp_path: Path) -> None:
    """12 in of wire for the ties."""
    brief = read(tmp_path)
    assert brief.room.site == Site(None, None, False, None, 12 * INCH)
    assert brief.grid.panel_kg_m2 is None and brief.grid.hanger_spacing is None


def test_everything_told(tmp_path: Path) -> None:
    brief = read(
        tmp_path,
        "structure: {seismic: D, built: 1972, fire_rated: true, wire_allowance: 6}",
        "use: bath",
        "grid: {panel_weight: 5 kg/m2, hanger_spacing: 42}",
    )
    assert brief.room.site == Site("D", 1972, True, "bath", pytest.approx(6 * INCH))
    assert brief.grid.panel_kg_m2 == 5
    assert brief.grid.hanger_spacing == pytest.approx(42 * INCH)


def test_walls_that_tees_are_fixed_to_may_be_named_from_either_end(tmp_path: Path) -> None:
    brief = read(tmp_path, "structure: {seismic: D, fixed_walls: [D-C, b-c]}")
    assert brief.room.site.fixed_walls == ("B-C", "C-D")


@pytest.mark.parametrize(
    ("written", "kg_m2"),
    [("1.0 psf", 4.88243), ("1psf", 4.88243), ("0.9 psf", 4.394187), ("4.5 kg/m2", 4.5), ("4.5 kg/m²", 4.5)],
)
def test_weights_of_an_area(tmp_path: Path, written: str, kg_m2: float) -> None:
    """1 psf = 0.45359237 kg / 0.3048^2 m2 = 4.88243 kg/m2."""
    assert read(tmp_path, f"grid: {{panel_weight: {written}}}").grid.panel_kg_m2 == pytest.approx(kg_m2, rel=1e-6)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("structure: {seismic: G}", ["structure › seismic", "A", "F"]),
        ("structure: {seismic: d}", ["structure › seismic", '"d" is not one of: A, B, C, D, E, F.']),
        ("structure: {built: 19722}", ["structure › built", "2999"]),
        ("structure: {built: old}", ["structure › built", "a whole number"]),
        ("structure: {fire_rated: maybe}", ["structure › fire_rated", "true or false"]),
        ("structure: {wire_allowance: 1}", ["structure › wire_allowance", "25.4 mm of wire is too little", "5-17"]),
        ("structure: {fixed_walls: [A-B]}", ["structure › fixed_walls", "2"]),
        ("structure: {fixed_walls: [A-B, X-Y]}", ["structure › fixed_walls › 2", 'no wall "X-Y"', "A-B, B-C"]),
        ("structure: {fixed_walls: [A-B, C-D]}", ["structure › fixed_walls", "no two of these walls meet"]),
        ("use: kitchen", ["use", "habitable"]),
        ("grid: {panel_weight: 5}", ["grid › panel_weight", "1.0 psf or 5 kg/m2"]),
        ("grid: {panel_weight: 0 psf}", ["grid › panel_weight", "not a weight for an area"]),
        ("grid: {panel_weight: 5 kg}", ["grid › panel_weight", '"5 kg" is not a weight for an area']),
        ("grid: {hanger_spacing: 0}", ["grid › hanger_spacing", "not more than nothing"]),
    ],
)
def test_what_cannot_be_is_refused_with_a_mend(tmp_path: Path, line: str, words: list[str]) -> None:
    text = complaint(tmp_path, line)
    assert all(word in text for word in words), text
    assert "room.yaml:3:" in text
