"""What is left of a bar by the numbers as they are printed, so that whoever adds them up comes to the bar.

In: the lengths of a bar as computed, millimetres. Out: lengths as printed, millimetres. Rule: pieces are printed down
to a mark of the tape (`planner.lengths.piece_length`), a bar to the nearest one, a cut as the saw takes it: in whole
tenths of a millimetre, or to the nearest mark in inches. What is left over is what remains of these.
"""

import math
from collections.abc import Iterable

from planner.ceiling.marks import tape_mark
from planner.lengths import NOISE_MM, piece_length
from planner.stock.saw import kerf_tenths


def kerf_printed(kerf: float, imperial: bool) -> float:
    """What the saw takes of a cut; never nothing where it takes something."""
    if not kerf:
        return 0.0
    mark = tape_mark(imperial)
    return max(1, round(kerf / mark)) * mark if imperial else kerf_tenths(kerf) / 10


def left_printed(stock: float, pieces: Iterable[float], off: Iterable[float], kerf: float, imperial: bool) -> float:
    """What remains of a bar of `stock`: less its pieces, what is sawn `off` before them, and a cut for each piece."""
    mark = tape_mark(imperial)
    sawn = list(pieces)
    taken = sum(_down(length, mark) for length in (*sawn, *off)) * mark
    left = round(stock / mark) * mark - taken - len(sawn) * kerf_printed(kerf, imperial)
    return max(round(left, 6), 0.0)


def _down(length: float, mark: float) -> int:
    told, _ = piece_length(length, whole=False)  # which is rounded down
    return math.floor((told + NOISE_MM) / mark)
