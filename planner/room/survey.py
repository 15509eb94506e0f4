"""The nouns of a taped survey: what stands on the clipboard, and what comes out when the survey is closed.

In: a `Clipboard`, as one person with a tape fills it in. Out (of `planner.room.tape.close_survey`): a `Survey`.
Millimetres and degrees throughout; points are in the room frame of the clipboard: its first corner is the origin, its
first wall runs along +x, the room lies on the +y side.
"""

import math
from collections.abc import Mapping
from dataclasses import field
from typing import Literal

from planner.findings import Finding
from planner.geometry import Point
from planner.records import dataclass
from planner.room.outline import Units

Line = tuple[str, str]  #: two corners; A-B and B-A are the same line

#: A reading differs from the truth by its own slip of the eye (1 mm) and by what grows with length: sag, pull, slope
#: (0.12 mm a metre). A judgement; the class II limit for tapes, 0.3 + 0.2 L mm, is from memory.
EYE_MM = 1.0
GROWTH_PER_M = 0.12


def tape_accuracy(length: float) -> float:
    """The standard deviation in millimetres of one reading of `length` millimetres."""
    return math.hypot(EYE_MM, GROWTH_PER_M * length / 1000.0)


def line_name(line: Line) -> str:
    """A line as it is written on the clipboard, e.g. "A-C"."""
    return f"{line[0]}-{line[1]}"


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of one line; a line that was taped twice has two of them."""

    between: Line
    taped: float

    @property
    def name(self) -> str:
        return line_name(self.between)


@dataclass(frozen=True, slots=True)
class Clipboard:
    """What was measured, before anything is made of it."""

    corners: tuple[str, ...]  #: in the order of the walk, the base wall first
    readings: tuple[Reading, ...]
    outside_corners: tuple[str, ...] = ()  #: those that jut into the room (270 degrees inside)
    angles: Mapping[str, float] = field(default_factory=dict)  #: inside angle of corners that are not near square
    accuracy: float | None = None  #: standard deviation of a reading; None: `tape_accuracy` of its length
    walk: Literal["counter-clockwise", "clockwise"] = "counter-clockwise"  #: the first has the room on the left
    units: Units = "mm"  #: of the tape: decides which slips are likely and how messages write lengths
    turned: bool = False  #: the corners stand in the opposite order to that of the walk; lines keep the walk's names

    @property
    def imperial(self) -> bool:
        return self.units in ("ft-in", "in")


@dataclass(frozen=True, slots=True)
class ClosedReading:
    """A reading and how it agrees with all the others."""

    between: Line
    taped: float
    adjusted: float  #: length of the line in the closed survey
    accuracy: float  #: standard deviation of the reading before anything was computed
    redundancy: float  #: share of an error in it that shows: 0 = nothing checks it, 1 = the others know it better
    standardised: float | None  #: residual over its own standard deviation; None where nothing checks the reading
    left_out: bool = False  #: found wrong: the corners are computed without it

    @property
    def name(self) -> str:
        return line_name(self.between)

    @property
    def residual(self) -> float:
        """What must be added to the reading to agree with the closed survey."""
        return self.adjusted - self.taped

    @property
    def least_error_seen(self) -> float:
        """The smallest error that would be noticed four times in five; infinite where nothing checks the reading.

        4.13 s / sqrt(r): level 0.001 two-sided (3.29) and power 80 % (0.84), the usual pair of data snooping.
        """
        return 4.13 * self.accuracy / math.sqrt(self.redundancy) if self.redundancy > 1e-9 else math.inf


@dataclass(frozen=True, slots=True)
class CornerAccuracy:
    """Standard deviations of a corner against the base wall: first corner fixed, direction of the first wall fixed."""

    along: float
    away: float

    @property
    def radius(self) -> float:
        """One number for both axes: the root mean square distance from the true place."""
        return math.hypot(self.along, self.away)


@dataclass(frozen=True, slots=True)
class Assumption:
    """A corner that was taken to be as it should be, because no reading says how it is."""

    corner: str
    angle: float  #: the inside angle taken
    tape: Line | None  #: the line whose length would make the assumption needless; None: no line in the room does


@dataclass(frozen=True, slots=True)
class FoundWall:
    """A wall that was not taped and follows from the rest."""

    between: Line
    length: float
    accuracy: float  #: standard deviation


@dataclass(frozen=True, slots=True)
class Suspect:
    """The one reading that does not agree with the others, and what it probably was."""

    between: Line
    taped: float
    proposed: float  #: the length it should have been
    explanation: str  #: the slip that explains it, or that none of the usual ones does
    usual: bool  #: True when a usual slip of the tape leads from `proposed` to `taped`
    predicted: float  #: what the other readings make of the line
    accuracy: float  #: standard deviation of `predicted`


@dataclass(frozen=True, slots=True)
class TapeAgain:
    """The line to tape once more where the readings disagree and cannot tell which of them is wrong."""

    between: Line
    taped: float | None  #: as read before; None for a line that was not taped yet
    expected: float | None  #: what it will read if it was the wrong one; None for a line that was not taped yet
    explanation: str  #: the slip that would explain it; empty when none of the usual ones does


@dataclass(frozen=True, slots=True)
class Survey:
    """A closed survey."""

    corners: dict[str, Point]  #: counter-clockwise, the base wall first
    readings: tuple[ClosedReading, ...]  #: in the order of the clipboard
    redundancy: int  #: readings beyond what fixes the shape
    misfit: float | None  #: residuals against stated accuracy, 1 = as expected; None when nothing is over-measured
    agrees: bool  #: all readings agree within what the tape allows
    accuracy: dict[str, CornerAccuracy]
    angles: dict[str, float]  #: inside angles as found
    out_of_square: dict[str, float]  #: mm over the shorter wall; positive = wider than square (or than was given)
    diagonal_difference: float | None  #: first diagonal less second; quadrilaterals only
    assumptions: tuple[Assumption, ...]
    found: tuple[FoundWall, ...]
    findings: tuple[Finding, ...]
    suspect: Suspect | None
    doubtful: tuple[Line, ...] = ()  #: when one reading is wrong but it cannot be told which: it is among these
    tape_again: TapeAgain | None = None  #: ... and the line that would tell most about it
