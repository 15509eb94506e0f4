"""Which reading is wrong, if the readings themselves can tell.

In: a network, its adjustment and some `Clues`. Out: a `Verdict`. The rule: a standardised
residual beyond 3.29 (one in a thousand by chance), or all residuals together beyond the same odds, is a misfit (data
snooping after W. Baarda, from memory). A reading is named only when leaving it out makes the rest agree, and no other
reading does nearly as well; otherwise the readings that could be it are named together, with the line whose length,
taped again, would part most of them; of equals the one that a usual slip explains and that leaves the room squarest.
That orders what to tape first; it never convicts.
"""

import math

import numpy as np

from planner.records import dataclass
from planner.room.closing.adjustment import Adjustment, Angles, Floats, Ints, Network, adjust, inside_angles
from planner.room.closing.slips import likely_slips
from planner.room.outline import Units

#: Two-sided odds of 1 in 1000.
LIMIT = 3.29

#: With the blunder gone the rest must agree; one in 16,000 is forgiven, for among sixty readings chance has its turns.
_REST_LIMIT = 4.0

#: A reading that explains the misfit must beat every other by this drop in the sum of squared weighted residuals:
#: 2 ln 100, so that the likelihoods stand 100 to 1.
_MARGIN = 9.21

#: Readings with less redundancy than this cannot show an error of their own.
_JUDGED = 0.01

#: Readings left out in turn: the largest standardised residuals, down to this share of the largest. Leaving one out
#: lowers the misfit by about its square, so that smaller ones cannot come near.
_TRIED = 12
_TRIED_SHARE = 0.4

_SKEW_RAD = math.radians(1.0)  #: how far a corner may well be from what was told
_NO_SLIP = 3.0  #: a reading that no usual slip explains counts as one that lies this many deviations from such a slip


@dataclass(frozen=True, eq=False, slots=True)
class Clues:
    """What is known beside the readings; it orders suspects and proves nothing."""

    rough: Floats  #: a shape near the true one, whatever the blunder
    lines: Ints  #: (k, 2) lines that could be taped again
    told: Angles  #: every corner as it was told to be
    units: Units


@dataclass(frozen=True, eq=False, slots=True)
class Without:
    """The survey closed again without one reading."""

    reading: int
    adjustment: Adjustment
    predicted: float  #: its line, as the others have it
    accuracy: float  #: standard deviation of `predicted`


@dataclass(frozen=True, eq=False, slots=True)
class Verdict:
    """What the readings say about one another."""

    beyond: bool  #: they disagree by more than the tape allows
    located: Without | None = None  #: the one reading that is wrong
    suspects: tuple[
        Without, ...
    ] = ()  #: the wrong one is among these, the likeliest first; none: more than one is wrong
    again: Ints | None = None  #: the line to tape again to part the suspects; None: no one line does


def find_blunder(network: Network, adjustment: Adjustment, clues: Clues) -> Verdict:
    """Look for one wrong reading."""
    if agrees(adjustment):
        return Verdict(beyond=False)
    trials = _left_out_in_turn(network, adjustment, adjustment.shape)
    if not _explains(trials):  # a large blunder may have bent the shape past coming back
        trials = _left_out_in_turn(network, adjustment, clues.rough)
    if not _explains(trials):
        return Verdict(beyond=True)
    close = [t for t in trials if t.adjustment.misfit < trials[0].adjustment.misfit + _MARGIN]
    if len(close) == 1:
        return Verdict(beyond=True, located=close[0])
    return Verdict(beyond=True, suspects=tuple(close), again=_telling_line(network, close, clues))


def agrees(adjustment: Adjustment, limit: float = LIMIT) -> bool:
    """Whether the readings agree within what the tape allows; true when there is nothing to compare."""
    if adjustment.freedom <= 0:
        return True
    worst = float(np.abs(adjustment.standardised).max(initial=0.0))
    return worst <= limit and adjustment.misfit <= _most_misfit(adjustment.freedom)


def _most_misfit(freedom: int) -> float:
    """Give the sum of squares that chance exceeds once in 1000: chi-squared, cube-root rule of Wilson and Hilferty."""
    part = 2.0 / (9.0 * freedom)
    return float(freedom * (1.0 - part + 3.0902 * math.sqrt(part)) ** 3)


def _left_out_in_turn(network: Network, adjustment: Adjustment, start: Floats) -> list[Without]:
    """The survey without each reading that could be wrong, the one that makes the rest agree best first."""
    size = np.where(adjustment.redundancy > _JUDGED, np.abs(adjustment.standardised), 0.0)
    order = np.argsort(-size, kind="stable")[:_TRIED]
    tried = [int(k) for k in order if size[k] > _TRIED_SHARE * size.max()]
    return sorted((_leave_out(network, k, start) for k in tried), key=lambda trial: trial.adjustment.misfit)


def _explains(trials: list[Without]) -> bool:
    """Whether leaving out the best of them makes the rest agree."""
    return bool(trials) and agrees(trials[0].adjustment, _REST_LIMIT)


def _leave_out(network: Network, reading: int, start: Floats) -> Without:
    """Close the survey again without one reading."""
    found = adjust(network.without(reading), start)
    line = network.lines[reading]
    return Without(reading, found, found.length(line), found.length_accuracy(line))


def _telling_line(network: Network, suspects: list[Without], clues: Clues) -> Ints | None:
    """The line whose length, known once more, would part most pairs of suspects; of equals the likeliest to be wrong.

    Each suspect, taken as wrong, foretells every line by the shape that the others give. Where two forecasts lie apart
    by more than their spread, taping the line decides between the two.
    """
    likeliest = sorted(suspects, key=lambda suspect: _unlikely(network, suspect, clues))
    best, most = None, 0
    for line in np.vstack((network.lines[[suspect.reading for suspect in likeliest]], clues.lines)):
        forecasts = [(s.adjustment.length(line), s.adjustment.length_accuracy(line)) for s in suspects]
        parted = sum(
            abs(a - b) > LIMIT * math.hypot(spread_a, spread_b)
            for k, (a, spread_a) in enumerate(forecasts)
            for b, spread_b in forecasts[k + 1 :]
        )
        if parted > most:
            best, most = line, parted
    return best


def _unlikely(network: Network, suspect: Without, clues: Clues) -> float:
    """How strange it would be if this reading were the wrong one: squares of the slip's misfit and of every skew."""
    taped, own = float(network.taped[suspect.reading]), float(network.accuracy[suspect.reading])
    spread = math.hypot(suspect.accuracy, own)
    slips = likely_slips(taped, suspect.predicted, spread, clues.units)
    off = abs(slips[0].length - suspect.predicted) / spread if slips else _NO_SLIP
    skews = (inside_angles(suspect.adjustment.shape, clues.told.corners) - clues.told.radians) / _SKEW_RAD
    return off**2 + float(skews @ skews)
