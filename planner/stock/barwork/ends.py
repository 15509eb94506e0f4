"""Factory ends: which pieces of a bar may keep one.

A stock length has a left and a right factory end. Pieces differ in what they need of these: nothing, the left one, the
right one, either one, or both. `TRANSITIONS` says how a bar's used ends grow when a piece is put on it.
"""

from typing import Literal

EndsNeeded = Literal["none", "left", "right", "either", "both"]

#: Used ends of a bar: 0 none, 1 the left one, 2 the right one, 3 both.
STATES = range(4)

#: For each need: from which state of a bar to which, in the order they are tried.
TRANSITIONS: dict[EndsNeeded, tuple[tuple[int, int], ...]] = {
    "none": ((0, 0), (1, 1), (2, 2), (3, 3)),
    "left": ((0, 1), (2, 3)),
    "right": ((0, 2), (1, 3)),
    "either": ((0, 1), (1, 3), (2, 3), (0, 2)),
    "both": ((0, 3),),
}

#: How many pieces of a kind one bar may hold; None where ends do not limit it.
MOST_ON_A_BAR: dict[EndsNeeded, int | None] = {"none": None, "left": 1, "right": 1, "either": 2, "both": 1}
