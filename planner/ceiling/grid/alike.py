"""Coordinates of walls brought to whole places of the grid search, with walls that lie alike on one line.

In: edges in units of the search, not yet whole. Out: even whole units, so that halves between two walls are whole too.
"""

import numpy as np

from planner.ceiling.grid.gaps import Floats, Ints

#: Walls whose distances from the lines differ by less than this are taken to lie alike; a gap under it is none.
ALIKE_MM = 0.05


def even(values: Floats) -> Ints:
    """Round to even numbers; halves, which come from thirty-seconds of an inch, always up, whatever the float noise."""
    return 2 * np.floor(values / 2 + 0.5 + 1e-6).astype(np.int64)


def aligned(edges: Ints, module: int, alike: int) -> Ints:
    """Move straight walls that lie alike within a module onto one line each, that of the longest wall among them.

    Else 0.02 mm of noise in a drawing would turn a room of whole modules into one with slivers.
    """
    straight = (np.abs(edges[:, 0] - edges[:, 2]) <= alike) & (edges[:, 1] != edges[:, 3])
    values, which = np.unique(edges[straight][:, [0, 2]], return_inverse=True)
    rises = np.repeat(np.abs(edges[straight, 1] - edges[straight, 3]), 2)
    lengths = np.bincount(which.reshape(-1), weights=rises, minlength=len(values))
    shifts = np.zeros(len(values) + 1, dtype=np.int64)
    for group in _groups(values % module, module, alike):
        on = values[group[np.argmax(lengths[group])]]
        shifts[group] = (on - values[group] + module // 2) % module - module // 2
    moved, places = edges.copy(), edges[:, [0, 2]]
    found = np.searchsorted(values, places)
    known = np.append(values, np.iinfo(np.int64).max)[found] == places
    moved[:, [0, 2]] += np.where(known, shifts[found], 0)
    return moved


def _groups(residues: Ints, module: int, alike: int) -> list[Ints]:
    """Indices of places on the circle that lie within `alike` of the first of them, two or more together."""
    if len(residues) < 2:
        return []
    order = np.argsort(residues, kind="stable")
    gaps = np.diff(residues[order], append=residues[order[0]] + module)
    order = np.roll(order, -int(np.argmax(gaps)) - 1)  # begin after the widest gap, so that no group is split
    turned = (residues[order] - residues[order[0]]) % module
    groups, start = [], 0
    for end in range(1, len(order) + 1):
        if end == len(order) or turned[end] - turned[start] > alike:
            groups.append(order[start:end])
            start = end
    return [group for group in groups if len(group) > 1]
