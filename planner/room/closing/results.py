"""What a closed survey says, by the names on the clipboard.

In: the clipboard, its network, the adjustment with every reading, the verdict on blunders and the assumptions. Out: a
`Survey` that has no findings yet. The rule: the corners come from the readings that are believed; a reading that was
left out keeps the figures that convicted it.
"""

import math

import numpy as np

from planner.geometry import Point, distance
from planner.records import dataclass
from planner.room.closing.adjustment import CHECKED, Adjustment, Floats, Network, inside_angles
from planner.room.closing.blunders import Verdict, Without
from planner.room.closing.network import angle_as_told, lines_named, walls_of
from planner.room.closing.shape import corner_triples
from planner.room.closing.slips import Slip, likely_slips
from planner.room.survey import (
    Assumption,
    Clipboard,
    ClosedReading,
    CornerAccuracy,
    FoundWall,
    Line,
    Survey,
    Suspect,
    TapeAgain,
)
from planner.sayings import said


@dataclass(frozen=True, eq=False, slots=True)
class Closed:
    """All readings brought into one shape."""

    network: Network  #: with the corners that are held
    adjustment: Adjustment
    assumptions: tuple[Assumption, ...]  #: one for each corner held


def survey_of(board: Clipboard, closed: Closed, verdict: Verdict) -> Survey:
    """Put names to the numbers."""
    network, first = closed.network, closed.adjustment
    final = verdict.located.adjustment if verdict.located else first
    corners = {name: (float(x), float(y)) for name, (x, y) in zip(board.corners, final.shape, strict=True)}
    angles = np.degrees(inside_angles(final.shape, corner_triples(len(corners))))
    return Survey(
        corners=corners,
        readings=_readings(board, network, first, verdict.located),
        redundancy=first.freedom,
        misfit=math.sqrt(final.misfit / final.freedom) if final.freedom > 0 else None,
        agrees=not verdict.beyond,
        accuracy=_accuracy(board, final, verdict),
        angles={name: float(angle) for name, angle in zip(board.corners, angles, strict=True)},
        out_of_square=_out_of_square(board, corners, angles),
        diagonal_difference=_diagonal_difference(tuple(corners.values())),
        assumptions=closed.assumptions,
        found=_found_walls(board, final),
        findings=(),
        suspect=_suspect(board, network, verdict.located),
        doubtful=_doubtful(board, verdict),
        tape_again=_tape_again(board, network, verdict),
    )


def _readings(
    board: Clipboard, network: Network, first: Adjustment, located: Without | None
) -> tuple[ClosedReading, ...]:
    """Each reading as the believed ones have it."""
    final = located.adjustment if located else first
    believed = np.arange(len(board.readings))
    redundancy, standardised = first.redundancy.copy(), first.standardised.copy()
    if located:
        believed = np.delete(believed, located.reading)
        redundancy[believed], standardised[believed] = final.redundancy, final.standardised
    return tuple(
        ClosedReading(
            between=reading.between,
            taped=reading.taped,
            adjusted=final.length(network.lines[k]),
            accuracy=float(network.accuracy[k]),
            redundancy=float(redundancy[k]),
            standardised=float(standardised[k]) if redundancy[k] > CHECKED else None,
            left_out=located is not None and k == located.reading,
        )
        for k, reading in enumerate(board.readings)
    )


def _accuracy(board: Clipboard, final: Adjustment, verdict: Verdict) -> dict[str, CornerAccuracy]:
    """Corners as good as the tape makes them; worse by the misfit where the readings disagree and none is named."""
    disagree = verdict.beyond and verdict.located is None
    worse = max(1.0, final.misfit / final.freedom) if disagree else 1.0
    spread = np.sqrt(np.maximum(worse * np.diag(final.covariance), 0.0)).reshape(-1, 2)
    return {name: CornerAccuracy(float(x), float(y)) for name, (x, y) in zip(board.corners, spread, strict=True)}


def _out_of_square(board: Clipboard, corners: dict[str, Point], angles: Floats) -> dict[str, float]:
    """How far the end of the shorter wall at each corner stands off the line it should follow."""
    at = tuple(corners.values())
    wall = [distance(at[k], at[(k + 1) % len(at)]) for k in range(len(at))]
    return {
        name: min(wall[k - 1], wall[k]) * math.sin(math.radians(angles[k] - angle_as_told(board, name)))
        for k, name in enumerate(corners)
    }


def _diagonal_difference(at: tuple[Point, ...]) -> float | None:
    return distance(at[0], at[2]) - distance(at[1], at[3]) if len(at) == 4 else None


def _found_walls(board: Clipboard, final: Adjustment) -> tuple[FoundWall, ...]:
    taped = {frozenset(reading.between) for reading in board.readings}
    untaped = [k for k, wall in enumerate(walls_of(board)) if frozenset(wall) not in taped]
    ends = [np.array((k, (k + 1) % len(board.corners)), dtype=np.intp) for k in untaped]
    return tuple(
        FoundWall(walls_of(board)[k], final.length(line), final.length_accuracy(line))
        for k, line in zip(untaped, ends, strict=True)
    )


def _suspect(board: Clipboard, network: Network, located: Without | None) -> Suspect | None:
    """The reading that was left out, and the usual slip that explains it best."""
    if located is None:
        return None
    slips = _slips(board, network, located)
    reading = board.readings[located.reading]
    return Suspect(
        between=reading.between,
        taped=reading.taped,
        proposed=slips[0].length if slips else located.predicted,
        explanation=slips[0].words if slips else said("no usual slip of the tape explains it"),
        usual=bool(slips),
        predicted=located.predicted,
        accuracy=located.accuracy,
    )


def _slips(board: Clipboard, network: Network, without: Without) -> tuple[Slip, ...]:
    spread = math.hypot(without.accuracy, float(network.accuracy[without.reading]))
    return likely_slips(board.readings[without.reading].taped, without.predicted, spread, board.units)


def _doubtful(board: Clipboard, verdict: Verdict) -> tuple[Line, ...]:
    """The lines of the suspects, each once, as they stand on the clipboard."""
    lines: dict[frozenset[str], Line] = {}
    for k in sorted(suspect.reading for suspect in verdict.suspects):
        lines.setdefault(frozenset(board.readings[k].between), board.readings[k].between)
    return tuple(lines.values())


def _tape_again(board: Clipboard, network: Network, verdict: Verdict) -> TapeAgain | None:
    """The line that tells most; with what it will read if it was the wrong one."""
    if verdict.again is None:
        return None
    (line,) = lines_named(board, verdict.again[None, :])
    for suspect in verdict.suspects:
        reading = board.readings[suspect.reading]
        if set(reading.between) == set(line):
            slips = _slips(board, network, suspect)
            expected = slips[0].length if slips else suspect.predicted
            return TapeAgain(reading.between, reading.taped, expected, slips[0].words if slips else "")
    return TapeAgain(line, None, None, "")
