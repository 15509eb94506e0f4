"""From the clipboard to numbers: corners counted from the first, readings as lines between them, and a rough shape.

In: a `Clipboard` that has nothing wrong with it. Out: a `Network` for the adjustment and corners to start it from. The
rule: a corner is square, or juts in square, or has the angle that is given.
"""

import math
from dataclasses import replace

import numpy as np

from planner.room.closing.adjustment import Angles, Floats, Ints, Network, settle
from planner.room.closing.checks import reading_accuracy
from planner.room.closing.shape import corner_triples, start_shape
from planner.room.survey import Clipboard, Line

#: Corners taken as square are trusted to 5 mm in a metre, angles given to one degree. Judgements, no source.
SQUARE_RAD = 0.005
GIVEN_RAD = math.radians(1.0)

#: For the rough shape all corners are held this softly, and the tape at first loosely, so that nothing folds or flips.
_SOFT_RAD = math.radians(2.0)
_LOOSE_MM = 30.0


def room_on_the_left(clipboard: Clipboard) -> Clipboard:
    """The same clipboard walked counter-clockwise; the first wall stays the first, from its other end."""
    if clipboard.walk == "counter-clockwise":
        return clipboard
    first, second, *rest = clipboard.corners
    return replace(clipboard, corners=(second, first, *reversed(rest)), walk="counter-clockwise", turned=True)


def angle_as_told(board: Clipboard, corner: str) -> float:
    """The inside angle of a corner as the clipboard has it, degrees."""
    return board.angles.get(corner, 270.0 if corner in board.outside_corners else 90.0)


def network_of(board: Clipboard) -> Network:
    """The readings between numbered corners, every corner held as told."""
    number = {name: k for k, name in enumerate(board.corners)}
    angles = Angles(
        corners=corner_triples(len(board.corners)),
        radians=np.radians([angle_as_told(board, name) for name in board.corners]),
        accuracy=np.array([GIVEN_RAD if name in board.angles else SQUARE_RAD for name in board.corners]),
    )
    return Network(
        lines=np.array([[number[name] for name in reading.between] for reading in board.readings], dtype=np.intp),
        taped=np.array([reading.taped for reading in board.readings]),
        accuracy=np.array([reading_accuracy(board, reading) for reading in board.readings]),
        angles=angles,
    )


def walls_of(board: Clipboard) -> tuple[Line, ...]:
    """The walls in the order of the corners, each by its corners as the walk has them."""
    names = board.corners
    ends = ((name, names[(k + 1) % len(names)]) for k, name in enumerate(names))
    return tuple((end, start) if board.turned else (start, end) for start, end in ends)


def lines_named(board: Clipboard, lines: Ints) -> tuple[Line, ...]:
    """Numbered lines (k, 2) by the names of their corners, walls as the walk has them."""
    walls = {frozenset(wall): wall for wall in walls_of(board)}
    named = ((board.corners[a], board.corners[b]) for a, b in lines)
    return tuple(walls.get(frozenset(line), line) for line in named)


def rough_shape(board: Clipboard, network: Network) -> Floats:
    """A shape near the true one: a closed walk, then all readings with every corner softly held."""
    held, count = network.angles, len(board.corners)
    spare = (held.radians.sum() - (count - 2) * math.pi) / count
    soft = replace(held, radians=held.radians - spare, accuracy=np.full(count, _SOFT_RAD))
    loose = replace(network, accuracy=np.hypot(network.accuracy, _LOOSE_MM), angles=soft)
    walked = start_shape(held.radians, _wall_lengths(board))
    return settle(network.holding(soft), settle(loose, walked)[0])[0]


def _wall_lengths(board: Clipboard) -> Floats:
    """The mean of what was taped of each wall, nan where nothing was."""
    taped = [[one.taped for one in board.readings if set(one.between) == set(wall)] for wall in walls_of(board)]
    return np.array([sum(lengths) / len(lengths) if lengths else math.nan for lengths in taped])
