"""A taped room: readings of walls and diagonals become corners, with a word on how far they can be trusted.

In: a `Clipboard`. Out: a `Survey` in the room frame of the clipboard's first wall, or a `PlannerError` that says what
to tape or mend. The rule: least squares over all readings, from the nominal shape (walls that meet square unless told
otherwise); the fewest corners are taken as square where the tape alone leaves the shape open; a reading that the others
prove wrong is left out and named.
"""

import math
from dataclasses import replace

import numpy as np

from planner.errors import PlannerError
from planner.room.closing.adjustment import Adjustment, Angles, Floats, Ints, Network, adjust
from planner.room.closing.assumptions import corners_to_assume, free_motions, lines_instead, lines_to_tape
from planner.room.closing.blunders import LIMIT, Clues, find_blunder
from planner.room.closing.checks import problems_of
from planner.room.closing.findings import listed, survey_findings
from planner.room.closing.network import lines_named, network_of, room_on_the_left, rough_shape, walls_of
from planner.room.closing.results import Closed, survey_of
from planner.room.closing.shape import crossing_walls, folded_corners, sight_lines
from planner.room.survey import Assumption, Clipboard, Survey, line_name

#: Inside angles as told may miss one full turn by this much before a corner must be named wrongly.
_TURN_DEG = 10.0


def close_survey(clipboard: Clipboard) -> Survey:
    """Find the room's true shape from what was taped.

    PlannerError: unknown corners, lines that cannot close, too few readings (it names what to tape next), corners that
    do not turn once round, a shape that crosses itself. A misfit is no error but a finding of severity "stop".
    """
    for problem in problems_of(clipboard):
        raise problem
    board = room_on_the_left(clipboard)
    all_held = network_of(board)
    rough = rough_shape(board, all_held)
    sights = sight_lines(rough)
    closed = _close(board, all_held, rough, sights)
    clues = Clues(rough, np.vstack((all_held.lines, sights)), all_held.angles, board.units)
    verdict = find_blunder(closed.network, closed.adjustment, clues)
    final = verdict.located.adjustment if verdict.located else closed.adjustment
    _refuse_unclosed(closed, final)
    _refuse_no_room(board, final.shape, all_held.angles.radians)
    survey = survey_of(board, closed, verdict)
    return replace(survey, findings=survey_findings(survey, board))


def _close(board: Clipboard, network: Network, rough: Floats, sights: Ints) -> Closed:
    """Adjust with the fewest corners held that fix the shape; PlannerError where no corners do."""
    free = free_motions(rough, network.lines)
    chosen = corners_to_assume(rough, free, network.angles)
    if len(chosen) < free.shape[1]:
        raise _too_few(board, lines_to_tape(rough, sights, free, network.angles, chosen))
    if len(chosen):
        _refuse_bad_turn(board, network.angles)
    instead = lines_instead(rough, sights, free, network.angles, chosen)
    assumptions = tuple(
        Assumption(
            corner=board.corners[k],
            angle=math.degrees(network.angles.radians[k]),
            tape=None if line is None else lines_named(board, line[None, :])[0],
        )
        for k, line in zip(chosen, instead, strict=True)
    )
    held = network.holding(network.angles.only(chosen))
    return Closed(held, adjust(held, rough), assumptions)


def _too_few(board: Clipboard, lines: Ints) -> PlannerError:
    names = [line_name(line) for line in lines_named(board, lines)]
    return PlannerError(
        "too little was taped to find the shape, even with square corners.",
        where="tape",
        mend=f"Tape {listed(names)} next." if names else "Tape every wall and at least one diagonal.",
    )


def _refuse_bad_turn(board: Clipboard, angles: Angles) -> None:
    """PlannerError when the corners as told cannot go once round, and the tape does not know better."""
    told = math.degrees(float(angles.radians.sum()))
    needed = (len(board.corners) - 2) * 180.0
    if abs(told - needed) <= _TURN_DEG:
        return
    missing = round((needed - told) / 180.0)
    square = abs(needed - told - 180.0 * missing) < 1.0
    if square and missing > 0:
        mend = f"Name {missing} more under outside_corners: those that jut into the room."
    elif square and -missing <= len(board.outside_corners):
        mend = f"Name {-missing} fewer under outside_corners: only those that jut into the room."
    else:
        mend = "Give the inside angle of each corner that is not near square under angles."
    raise PlannerError(
        f"the inside angles of a room with {len(board.corners)} corners add up to {needed:g} degrees; as told they "
        f"make {told:g}.",
        where="corners",
        mend=mend,
    )


def _refuse_unclosed(closed: Closed, final: Adjustment) -> None:
    """PlannerError when the lengths, with the corners that were assumed, belong to no shape at all."""
    if final.settled and (final.freedom > 0 or final.misfit <= LIMIT**2):
        return
    needless = [line_name(assumption.tape) for assumption in closed.assumptions if assumption.tape]
    square = " and corners that are as told" if closed.assumptions else ""
    raise PlannerError(
        f"no room has walls and diagonals like these{square}.",
        where="tape",
        mend=f"Tape {listed(needless)} too, and every wall again." if needless else "Tape every line again.",
    )


def _refuse_no_room(board: Clipboard, shape: Floats, inside: Floats) -> None:
    """PlannerError when what came out is no room; `inside` is how the corners were told to be, radians."""
    if crossed := crossing_walls(shape):
        one, other = (line_name(walls_of(board)[k]) for k in crossed)
        raise PlannerError(
            f"by the tape, walls {one} and {other} cross.",
            where="tape",
            mend=f"Tape {one}, {other} and their neighbours again; see that outside_corners names what juts in.",
        )
    if folded := folded_corners(shape, inside):
        corner = board.corners[folded[0]]
        told = "is not said" if inside[folded[0]] < math.pi else "is said"
        raise PlannerError(
            f"corner {corner} {told} to jut into the room, but the tape has it otherwise.",
            where="tape",
            mend=f"See whether {corner} belongs in outside_corners; if it is right there, tape its lines again.",
        )
