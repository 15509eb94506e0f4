"""The numbers of a piece as tables, and how to use a template, for the key page.

In: a piece's offsets. Out: stacks. Lengths are in the job's unit, inches without feet, rounded as `offsets` says.
"""

from collections.abc import Iterator

from planner.drawing import words
from planner.drawing.dimensions import written
from planner.drawing.labels import Heights
from planner.drawing.tables import Stack, notes, table
from planner.drawing.templates.offsets import Bow, Offsets, Round
from planner.drawing.templates.piece import Piece
from planner.lengths import Rounding

#: Between the points on a bow that are told.
STATION_MM, STATION_INCH = 100.0, 4 * 25.4


def station_for(units: str) -> float:
    """How far apart points on a bow are told, in a job of these units."""
    return STATION_INCH if units in ("ft-in", "in") else STATION_MM


def number_stacks(piece: Piece, offsets: Offsets, width: float, heights: Heights, units: str) -> Iterator[Stack]:
    """Corners, bows and what is cut out."""
    say = Said(units)
    rows = [
        (str(each.number), say(each.along, each.rounding[0]), say(each.away, each.rounding[1]))
        for each in offsets.corners
    ]
    basis = words.say("templates.from start" if offsets.factory else "templates.from box")
    rounded = words.say("templates.how rounding")
    yield table(
        words.say("templates.corners"),
        "lll",
        words.row("templates.corner heads"),
        rows,
        width,
        heights,
        (basis, rounded),
    )
    for bow in offsets.bows:
        yield _bow(bow, say, width, heights)
    if offsets.rounds:
        yield _rounds(offsets.rounds, say, width, heights)
    if piece.holes:
        yield notes(words.say("sheets.notes"), [words.say("templates.round columns")], width, heights)


def how_to(face_up: bool, several: bool, width: float, heights: Heights) -> Stack:
    """How to print, join, lay and cut, with a word of care."""
    told = ["how check", *(["how tape"] if several else []), f"how lay {'face' if face_up else 'back'}", "how waste"]
    return notes(
        words.say("templates.how to"), [words.say(f"templates.{key}") for key in (*told, "care")], width, heights
    )


class Said:
    """Lengths as a tape reads them."""

    def __init__(self, units: str) -> None:
        self._unit = "in" if units == "ft-in" else units

    def __call__(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        if mm < -0.05:
            return words.say("templates.outside", length=written(-mm, self._unit, rounding))
        return written(max(mm, 0.0), self._unit, rounding)


def _bow(bow: Bow, say: Said, width: float, heights: Heights) -> Stack:
    way = "hollow" if bow.hollow else "bulging"
    around = Rounding.UP if bow.hollow else Rounding.DOWN  # so that the piece never grows
    if bow.centre is not None:
        told = words.say(
            "templates.circle centre", radius=say(bow.radius, around), along=say(bow.centre[0]), away=say(bow.centre[1])
        )
        return notes(words.say("templates.bow", first=bow.first, last=bow.last), [told], width, heights)
    lies = "upright" if bow.upright else "level"
    rows = [(say(station), say(offset, bow.rounding)) for station, offset in bow.stations]
    return table(
        words.say("templates.bow", first=bow.first, last=bow.last),
        "ll",
        words.row(f"templates.bow heads {lies}"),
        rows,
        width,
        heights,
        (words.say(f"templates.radius {way}", radius=say(bow.radius, around)),),
    )


def _rounds(rounds: tuple[Round, ...], say: Said, width: float, heights: Heights) -> Stack:
    rows = []
    for each in rounds:
        size = f"Ø {say(each.size[0], each.rounding)}" if each.shape == "round" else " × ".join(map(say, each.size))
        rows.append((each.name, size, say(each.along), say(each.away)))
    centres = words.say("templates.circle centres")
    return table(
        words.say("templates.circles"), "llll", words.row("templates.circle heads"), rows, width, heights, (centres,)
    )
