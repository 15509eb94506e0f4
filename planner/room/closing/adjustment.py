"""Least squares: the shape that agrees best with more readings than it needs.

In: a `Network` of lines between numbered corners with their readings, and a rough shape. Out: an `Adjustment`.
The rule: Gauss-Newton on the coordinates, each step the shortest that does it (the network is free: nothing is held, so
that no corner is favoured), halved while it does not help. Residuals, redundancy numbers and standardised residuals
(data snooping after W. Baarda, from memory) do not depend on what is held; accuracies are given against the base wall.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planner.records import dataclass

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

_STEPS = 100
_SETTLED_MM = 1e-5
_NOISE_MM = 1e-3  #: a longer step of which no part helps has not come to rest
_HALVINGS = 30
_RANK = 1e-9  #: singular values below this share of the greatest are none
CHECKED = 1e-6  #: a redundancy number below this is none


@dataclass(frozen=True, eq=False, slots=True)
class Angles:
    """Inside angles that are held, each as if it had been measured."""

    corners: Ints  #: (k, 3): the corner before, the corner itself, the corner after, counter-clockwise
    radians: Floats  #: (k,)
    accuracy: Floats  #: (k,) standard deviations, radians

    def only(self, rows: Ints) -> "Angles":
        """The same angles, a few of them."""
        return Angles(self.corners[rows], self.radians[rows], self.accuracy[rows])


@dataclass(frozen=True, eq=False, slots=True)
class Network:
    """Readings between numbered corners, millimetres."""

    lines: Ints  #: (m, 2) corners of each reading; a repeated reading repeats its line
    taped: Floats  #: (m,)
    accuracy: Floats  #: (m,) standard deviations
    angles: Angles

    def without(self, reading: int) -> "Network":
        """The same network, one reading less."""
        keep = np.arange(len(self.taped)) != reading
        return replace(self, lines=self.lines[keep], taped=self.taped[keep], accuracy=self.accuracy[keep])

    def holding(self, angles: Angles) -> "Network":
        """The same readings with other angles held."""
        return replace(self, angles=angles)


@dataclass(frozen=True, eq=False, slots=True)
class Adjustment:
    """The shape found and how well the readings agree with it."""

    shape: Floats  #: (n, 2), first corner at the origin, first wall along +x
    residuals: Floats  #: (m,) adjusted less taped, mm
    redundancy: Floats  #: (m,) 0 to 1 each; their sum is `freedom`
    standardised: Floats  #: (m,) residual over its standard deviation; 0 where nothing checks the reading
    covariance: Floats  #: (2n, 2n) of the coordinates against the base wall, mm2
    misfit: float  #: sum of squared weighted residuals, angles held included
    freedom: int  #: readings and held angles beyond what fixes the shape
    settled: bool  #: False when the steps did not come to rest

    def length(self, line: Ints) -> float:
        """The length of a line between two corners, mm."""
        return float(np.hypot(*(self.shape[line[1]] - self.shape[line[0]])))

    def length_accuracy(self, line: Ints) -> float:
        """The standard deviation of a line between two corners, mm."""
        row = length_rows(self.shape, line[None, :])[0]
        return float(np.sqrt(max(row @ self.covariance @ row, 0.0)))


def adjust(network: Network, start: Floats) -> Adjustment:
    """Find the shape nearest to all readings, from a rough shape `start` (n, 2) in any position, and judge it.

    Where the readings leave the shape free, it stays as near to `start` as they allow.
    """
    shape, settled = settle(network, start)
    return _judge(network, in_room_frame(shape), settled)


def settle(network: Network, start: Floats) -> tuple[Floats, bool]:
    """Go from a rough shape to the nearest that agrees with the readings; False when the steps do not come to rest."""
    shape = np.array(start, dtype=np.float64)
    weighted = _misfits(network, shape)
    for _ in range(_STEPS):
        solved = np.linalg.lstsq(_rows(network, shape), -weighted, rcond=_RANK)[0]
        step = np.asarray(solved, dtype=np.float64).reshape(-1, 2)
        shape, weighted, moved = _descend(network, shape, weighted, step)
        if moved < _SETTLED_MM:
            return shape, float(np.abs(step).max()) < _NOISE_MM
    return shape, False


def _descend(network: Network, shape: Floats, weighted: Floats, step: Floats) -> tuple[Floats, Floats, float]:
    """Go the step, or the largest half, quarter ... of it that lessens the misfit; say how far any corner moved."""
    before = float(weighted @ weighted)
    for halved in range(_HALVINGS):
        part = step * 0.5**halved
        moved = float(np.abs(part).max())
        there = shape + part
        after = _misfits(network, there)
        if float(after @ after) <= before:
            return there, after, moved
        if moved < _SETTLED_MM:
            break
    return shape, weighted, 0.0


def _judge(network: Network, shape: Floats, settled: bool) -> Adjustment:
    """Redundancy, standardised residuals and covariance of a shape that has come to rest.

    The covariance rests on the accuracies of the readings, not on the residuals: with one or two readings to spare
    the residuals say next to nothing about the tape.
    """
    count = len(network.taped)
    weighted = _misfits(network, shape)
    held = np.setdiff1d(np.arange(shape.size), (0, 1, 3))  # all but x, y of the first corner and y of the second
    rows = _rows(network, shape)[:, held]
    inverse = np.linalg.pinv(rows, rcond=_RANK)
    redundancy = np.clip(1.0 - np.einsum("ij,ji->i", rows, inverse), 0.0, 1.0)
    covariance = np.zeros((shape.size, shape.size))
    covariance[np.ix_(held, held)] = inverse @ inverse.T
    checked = redundancy[:count] > CHECKED
    spread = np.sqrt(np.where(checked, redundancy[:count], 1.0))
    return Adjustment(
        shape=shape,
        residuals=weighted[:count] * network.accuracy,
        redundancy=redundancy[:count],
        standardised=np.where(checked, weighted[:count] / spread, 0.0),
        covariance=covariance,
        misfit=float(weighted @ weighted),
        freedom=round(float(redundancy.sum())),
        settled=settled,
    )


def in_room_frame(shape: Floats) -> Floats:
    """The same shape with its first corner at the origin and its first wall along +x."""
    moved = shape - shape[0]
    x, y = moved[1] / np.hypot(*moved[1])
    turned: Floats = moved @ np.array([[x, -y], [y, x]])
    turned[1, 1] = 0.0
    return turned


def inside_angles(shape: Floats, corners: Ints) -> Floats:
    """Inside angles in radians, 0 to 2 pi, at (before, at, after) triples of a counter-clockwise shape."""
    before, after = shape[corners[:, 0]] - shape[corners[:, 1]], shape[corners[:, 2]] - shape[corners[:, 1]]
    cross = after[:, 0] * before[:, 1] - after[:, 1] * before[:, 0]
    found: Floats = np.arctan2(cross, np.einsum("ij,ij->i", after, before)) % (2 * np.pi)
    return found


def length_rows(shape: Floats, lines: Ints) -> Floats:
    """How the length of each line changes with every coordinate: (m, 2n)."""
    along = shape[lines[:, 1]] - shape[lines[:, 0]]
    along = along / np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-9)[:, None]
    rows = np.zeros((len(lines), *shape.shape))
    each = np.arange(len(lines))
    rows[each, lines[:, 1]] = along
    rows[each, lines[:, 0]] = -along
    return rows.reshape(len(lines), shape.size)


def angle_rows(shape: Floats, corners: Ints) -> Floats:
    """How each inside angle (radians) changes with every coordinate: (k, 2n)."""
    rows = np.zeros((len(corners), *shape.shape))
    each = np.arange(len(corners))
    for other, sign in ((corners[:, 0], 1.0), (corners[:, 2], -1.0)):
        arm = shape[other] - shape[corners[:, 1]]
        square = np.maximum(np.einsum("ij,ij->i", arm, arm), 1e-9)[:, None]
        turn = sign * np.column_stack((-arm[:, 1], arm[:, 0])) / square
        rows[each, other] += turn
        rows[each, corners[:, 1]] -= turn
    return rows.reshape(len(corners), shape.size)


def _misfits(network: Network, shape: Floats) -> Floats:
    """Weighted residuals: readings, then held angles."""
    along = shape[network.lines[:, 1]] - shape[network.lines[:, 0]]
    lengths = (np.hypot(along[:, 0], along[:, 1]) - network.taped) / network.accuracy
    angles = network.angles
    turned = inside_angles(shape, angles.corners) - angles.radians
    turned = (turned + np.pi) % (2 * np.pi) - np.pi
    return np.concatenate((lengths, turned / angles.accuracy))


def _rows(network: Network, shape: Floats) -> Floats:
    """Derivatives of `_misfits`."""
    angles = network.angles
    return np.vstack(
        (
            length_rows(shape, network.lines) / network.accuracy[:, None],
            angle_rows(shape, angles.corners) / angles.accuracy[:, None],
        )
    )
