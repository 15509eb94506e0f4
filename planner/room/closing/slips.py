"""The slips that a tape invites, and which of them explains a reading that the others do not believe.

In: a reading, what the other readings make of its line and how well, and the units of the tape. Out: the slips that
lead from a likely length to the reading, the best first. The list is common practice, no source: a mark misread by one
foot, inch, metre, ten centimetres or centimetre, the tape held at its 1 ft, 1 in or 10 cm mark instead of its end, two
figures swapped on paper, inches written for sixteenths.
"""

from collections.abc import Iterator

from planner.records import dataclass
from planner.room.outline import Units
from planner.sayings import linked, said

INCH = 25.4
FOOT = 304.8
SIXTEENTH = INCH / 16

#: A length is likely when it lies within this many standard deviations of what the others say.
_BELIEVED = 3.29


@dataclass(frozen=True, slots=True)
class Slip:
    """One way to have read or written a length wrongly."""

    length: float  #: what the line really was, mm
    words: str  #: what went wrong, to be read after "probably"


def likely_slips(taped: float, predicted: float, accuracy: float, units: Units) -> tuple[Slip, ...]:
    """Slips that turn a length near `predicted` (standard deviation `accuracy`) into `taped`; the nearest first."""
    near = [slip for slip in _merged(taped, units) if abs(slip.length - predicted) <= _BELIEVED * accuracy]
    return tuple(sorted(near, key=lambda slip: abs(slip.length - predicted)))


def _merged(taped: float, units: Units) -> list[Slip]:
    """Every slip that could lead to `taped`; those that come from the same length are told together."""
    words: dict[float, list[str]] = {}
    for slip in _slips(taped, units):
        length = round(slip.length, 4)
        if length > 0 and abs(length - taped) > SIXTEENTH / 2 and slip.words not in words.get(length, []):
            words.setdefault(length, []).append(slip.words)
    return [Slip(length, linked(told, "{some} or {last}")) for length, told in words.items()]


def _slips(taped: float, units: Units) -> Iterator[Slip]:
    if units in ("ft-in", "in"):
        yield from _off_by(taped, FOOT, said("a foot misread"))
        yield Slip(taped - FOOT, said("the tape held at its 1 ft mark instead of its end"))
        yield from _off_by(taped, INCH, said("an inch misread"))
        yield Slip(taped - INCH, said("the tape held at its 1 in mark instead of its end"))
        yield from _swapped_imperial(taped, units)
        if units == "ft-in":
            yield from _sixteenths(taped)
    else:
        yield from _off_by(taped, 1000.0, said("a metre misread"))
        yield from _off_by(taped, 100.0, said("ten centimetres misread"))
        yield Slip(taped - 100.0, said("the tape held at its 10 cm mark instead of its end"))
        yield from _off_by(taped, 10.0, said("a centimetre misread"))
        whole = int(taped + 0.5)
        for swapped in _swapped(whole):
            yield Slip(swapped + taped - whole, said("two figures swapped when it was written down"))


def _off_by(taped: float, step: float, words: str) -> Iterator[Slip]:
    yield Slip(taped - step, words)
    yield Slip(taped + step, words)


def _swapped(figure: int) -> Iterator[int]:
    """Every whole number that differs from `figure` by two neighbouring figures changing places."""
    text = str(figure)
    for k in range(len(text) - 1):
        yield int(text[:k] + text[k + 1] + text[k] + text[k + 2 :])


def _swapped_imperial(taped: float, units: Units) -> Iterator[Slip]:
    """Figures swapped in the feet or the inches, or feet and inches written in each other's place."""
    words = said("two figures swapped when it was written down")
    inches, rest = _whole_inches(taped)
    if units == "in":
        for swapped in _swapped(inches):
            yield Slip(swapped * INCH + rest, words)
        return
    feet, over = divmod(inches, 12)
    for swapped in _swapped(feet):
        yield Slip(taped + (swapped - feet) * FOOT, words)
    for swapped in _swapped(over):
        yield Slip(taped + (swapped - over) * INCH, words)
    if feet < 12:
        yield Slip(over * FOOT + feet * INCH + rest, said("feet and inches written in each other's place"))


def _sixteenths(taped: float) -> Iterator[Slip]:
    """Whole inches that were sixteenths, and sixteenths that were inches: 11' 4" for 11' 0-4/16" and back."""
    inches, rest = _whole_inches(taped)
    feet, over = divmod(inches, 12)
    sixteenths = round(rest / SIXTEENTH)
    if sixteenths == 0 and over > 0:
        yield Slip(feet * FOOT + over * SIXTEENTH, said("sixteenths written down as inches"))
    if over == 0 and 0 < sixteenths < 12:
        yield Slip(feet * FOOT + sixteenths * INCH, said("inches written down as sixteenths"))


def _whole_inches(taped: float) -> tuple[int, float]:
    """Inches as a whole number and the rest in mm, safe from what is lost between inches and millimetres."""
    sixteenths = taped / SIXTEENTH
    inches = int((sixteenths + 0.01) // 16)
    return inches, taped - inches * INCH
