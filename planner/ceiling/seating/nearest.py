"""The nearest group of whole modules that suits and that no main tee crosses.

In: the ground, a group's size in modules, a wished centre and a question to ask of each group. Out: its first cell.
Rows are tried from the wish outwards, in each row the modules from the wish outwards, so that a big room costs no more
than a small one unless most of it is taken. Equal distances go to the lower row, then to the module further left.
"""

import heapq
from collections.abc import Callable, Iterator

from planner.ceiling.model import Cell
from planner.ceiling.seating.ground import Ground, Span
from planner.geometry import Point, distance

#: Decimals of a millimetre to which distances are told apart; less is float noise.
TELL_APART = 3
_FINER = 7  #: decimals of a module


def nearest(ground: Ground, span: Span, wish: Point, suits: Callable[[Cell], bool]) -> Cell | None:
    """First cell of the nearest group of `span` whole modules for which `suits(cell)` holds; None when there is none.

    `wish` is in the grid frame. Only whole panels between mains are offered; whether they are free is for `suits` to
    say.
    """
    width, depth = ground.layout.module
    aside, ahead = wish[0] / width - span[0] / 2, wish[1] / depth - span[1] / 2
    along = ground.mains.direction == "along"
    best: tuple[float, int, int] | None = None
    for row in _outward(_stretch_of_rows(ground, span), ahead):
        if best is not None and abs(row - ahead) * depth > best[0] + 10**-TELL_APART:
            break
        if along and ground.straddles_main((0, row), span):
            continue
        for column in _outward(_spans_in_row(ground, span, row), aside):
            offer = (round(distance(ground.box((column, row), span).centre, wish), TELL_APART), row, column)
            if best is not None and offer >= best:
                break
            if (along or not ground.straddles_main((column, row), span)) and suits((column, row)):
                best = offer
                break
    return None if best is None else (best[2], best[1])


def _stretch_of_rows(ground: Ground, span: Span) -> list[tuple[int, int]]:
    """First and last row that a group could start in."""
    return [(min(ground.rows), max(ground.rows) - span[1] + 1)] if ground.rows else []


def _spans_in_row(ground: Ground, span: Span, row: int) -> list[tuple[int, int]]:
    """First and last starting column of groups that lie wholly on runs in each of their rows."""
    shared = [(run.first, run.last) for run in ground.rows.get(row, ())]
    for other in range(row + 1, row + span[1]):
        shared = [
            (max(first, run.first), min(last, run.last))
            for first, last in shared
            for run in ground.rows.get(other, ())
            if max(first, run.first) <= min(last, run.last)
        ]
    return [(first, last - span[0] + 1) for first, last in shared if last - span[0] + 1 >= first]


def _outward(stretches: list[tuple[int, int]], wish: float) -> Iterator[int]:
    """Every whole number of the stretches, the nearest to `wish` first, the lower of two as near."""

    def downward(first: int, last: int) -> Iterator[tuple[float, int]]:
        return ((round(abs(k - wish), _FINER), k) for k in range(last, first - 1, -1))

    def upward(first: int, last: int) -> Iterator[tuple[float, int]]:
        return ((round(abs(k - wish), _FINER), k) for k in range(first, last + 1))

    ways = []
    for first, last in stretches:
        middle = min(max(round(wish), first), last + 1)
        ways += [downward(first, middle - 1), upward(middle, last)]
    return (k for _, k in heapq.merge(*ways))
