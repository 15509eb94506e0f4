"""Cutting from several stock lengths, each with its price and perhaps a limited number: the least cost, and the proof.

In: stocks, pieces with the factory ends they keep, and the saw. Out: a `StockAnswer`. What is on hand is a stock that
costs nothing, of which there are only so many; off-cuts of an earlier job are such stocks too. Costs are compared in
thousandths, whole.
"""

import math
from collections.abc import Iterable, Sequence

from planner.errors import CuttingError
from planner.records import dataclass
from planner.stock.barwork.bench import BarBench
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.covering.cover import Certificate, Column, Task, certify
from planner.stock.covering.solve import solve
from planner.stock.saw import Saw, kerf_tenths, tenths

#: Costs are whole multiples of this part of a unit of money.
COST_STEPS = 1000


@dataclass(frozen=True, slots=True)
class StockLength:
    """A length that can be had."""

    length: float  #: millimetres
    cost: float = 1.0  #: of one
    count: int | None = None  #: how many there are; None where any number can be bought


@dataclass(frozen=True, slots=True)
class PieceWanted:
    """Alike pieces wanted."""

    length: float  #: millimetres
    count: int = 1
    ends: EndsNeeded = "none"  #: factory ends that it keeps


@dataclass(frozen=True, slots=True)
class StockBar:
    """A bar of one of the stocks, and the lengths cut from it."""

    stock: int  #: which of the stocks
    lengths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class StockAnswer:
    """Bars to take, and what they cost."""

    bars: tuple[StockBar, ...]
    cost: float
    lower_bound: float  #: no way of cutting costs less

    @property
    def proven(self) -> bool:
        return self.cost == self.lower_bound

    @property
    def gap(self) -> float:
        """What a better way might save at most."""
        return self.cost - self.lower_bound


def cut_from(stocks: Sequence[StockLength], wanted: Iterable[PieceWanted], saw: Saw) -> StockAnswer:
    """Cut pieces from several stock lengths at the least cost.

    CuttingError for a piece longer than every stock that can be bought in any number, for a cost below 0, or for a
    stock that can be bought without end and costs nothing.
    """
    pieces = sorted((piece for piece in wanted if piece.count), key=lambda piece: (-piece.length, piece.ends))
    _check(stocks, pieces, saw)
    if not pieces:
        return StockAnswer((), 0.0, 0.0)
    kerf = kerf_tenths(saw.kerf)
    reuse = tenths(saw.reuse_from) + kerf if saw.reuse_from else 0
    sizes = [tenths(piece.length) + kerf for piece in pieces]
    bench = BarBench([tenths(s.length) + kerf for s in stocks], sizes, [piece.ends for piece in pieces], reuse)
    costs = tuple(round(stock.cost * COST_STEPS) for stock in stocks)
    task = Task(tuple(piece.count for piece in pieces), costs, tuple(stock.count for stock in stocks), bench)
    cover = solve(task, _by_length(task, stocks, sizes, kerf), saw.budget_s)
    return StockAnswer(tuple(_bars(pieces, cover.plan)), cover.cost / COST_STEPS, cover.bound / COST_STEPS)


def _check(stocks: Sequence[StockLength], pieces: Sequence[PieceWanted], saw: Saw) -> None:
    for stock in stocks:
        if not (math.isfinite(stock.length) and tenths(stock.length) > 0 and 0 <= stock.cost < math.inf):
            raise CuttingError(f"a stock of {stock.length:g} mm at {stock.cost:g} is none.")
        if stock.count is None and round(stock.cost * COST_STEPS) == 0:
            raise CuttingError(f"a stock of {stock.length:g} mm costs nothing.", mend="Say how many there are.")
    if not 0 <= saw.kerf < math.inf:
        raise CuttingError(f"a kerf of {saw.kerf:g} mm is none.")
    longest = max((tenths(stock.length) for stock in stocks if stock.count is None), default=0)
    for piece in pieces:
        if not (math.isfinite(piece.length) and tenths(piece.length) > 0 and piece.count > 0):
            raise CuttingError(f"{piece.count} pieces of {piece.length:g} mm are none.")
        if tenths(piece.length) > longest:
            raise CuttingError(
                f"a piece of {piece.length:g} mm is longer than any stock that can be bought ({longest / 10:g} mm).",
                mend="Add a longer stock, or splice the piece and ask for its parts.",
            )


def _by_length(task: Task, stocks: Sequence[StockLength], sizes: Sequence[int], kerf: int) -> Certificate:
    """A bound by length: no bar yields more than it is long."""
    return certify(task, sizes, [tenths(stock.length) + kerf for stock in stocks])


def _bars(pieces: Sequence[PieceWanted], plan: Iterable[tuple[Column, int]]) -> Iterable[StockBar]:
    """Bars with the lengths asked for; what a pattern yields beyond is left out."""
    left = [piece.count for piece in pieces]
    for column, times in plan:
        for _ in range(times):
            lengths: list[float] = []
            for kind, count in column.counts:
                taken = min(count, left[kind])
                left[kind] -= taken
                lengths += [pieces[kind].length] * taken
            if lengths:
                yield StockBar(column.stock, tuple(lengths))
