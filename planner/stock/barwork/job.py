"""One stock item to be cut: kinds of pieces in whole tenths, and the way from a plan to a `Cutting` with its proof.

In: pieces wanted, the stock length and the saw. Out: through the methods, a `Cutting`. Pieces as long as the stock are
bought whole and take no part in the rest.
"""

import math
from collections.abc import Iterable, Sequence

from planner.ceiling.model import End
from planner.errors import CuttingError
from planner.stock.barwork.bench import BarBench, quick_certificate
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.pairing import Pairs, columns_of
from planner.stock.barwork.wanted import Kind, Wanted, bars_of, kinds_of
from planner.stock.certificate import BarCertificate, ValuedPiece
from planner.stock.covering.cover import Column, Cover, Task
from planner.stock.covering.solve import solve
from planner.stock.model import Bar, Cutting
from planner.stock.saw import Saw, kerf_tenths, tenths

Plan = Sequence[tuple[Column, int]]


class BarJob:
    """The pieces of one item; CuttingError when they cannot be cut from it."""

    def __init__(
        self, item: str, wanted: Iterable[Wanted], stock: float, saw: Saw, needs: dict[tuple[End, End], EndsNeeded]
    ) -> None:
        wanted = tuple(wanted)
        check_cuts(item, wanted, stock, saw)
        self._item, self._stock_mm, self._saw = item, stock, saw
        self._stock, self._kerf, self._reuse = tenths(stock), kerf_tenths(saw.kerf), tenths(saw.reuse_from)
        kinds = kinds_of(wanted, needs)
        self._whole = sum(kind.count for kind in kinds if kind.length == self._stock)
        self.kinds: tuple[Kind, ...] = tuple(kind for kind in kinds if kind.length < self._stock)

    def fits(self, longer: int, shorter: int) -> bool:
        """Whether two pieces come from one bar."""
        return longer + max(shorter, self._reuse) + self._kerf <= self._stock

    def lengths(self, *needs: EndsNeeded) -> list[int]:
        """Every single piece, the longest first, of the needs named (all, if none is)."""
        return [self.kinds[at].length for at in self._each(*needs)]

    def plan_of(self, pairs: Pairs, *needs: EndsNeeded) -> Plan:
        """Turn pairs of places in the `lengths` of each need, one list after the other, into a plan."""
        each = [at for need in needs for at in self._each(need)] if needs else self._each()
        return columns_of(each, pairs)

    def certificate_of(self, values: Sequence[int], most: int, *needs: EndsNeeded) -> BarCertificate:
        """Make a certificate of values in the order of `lengths`, alike pieces having the same value."""
        each = [at for need in needs for at in self._each(need)] if needs else self._each()
        return self._certificate(dict(zip(each, values, strict=True)), most)

    def solve(self, start: Plan = (), padding: int = 0) -> Cover:
        """Search the fewest bars, within the time; `padding` is room beside each piece that keeps no factory end."""
        room = self._stock + self._kerf
        sizes = [kind.length + self._kerf for kind in self.kinds]
        extra = [padding if kind.need == "none" else 0 for kind in self.kinds]
        padded = [min(size + more, room) for size, more in zip(sizes, extra, strict=True)]
        demand = tuple(kind.count for kind in self.kinds)
        reuse = self._reuse + self._kerf if self._reuse else 0
        bench = BarBench([room], padded, [kind.need for kind in self.kinds], reuse)
        return solve(
            Task(demand, (1,), (None,), bench), quick_certificate(sizes, demand, room), self._saw.budget_s, start
        )

    def proof(self, cover: Cover) -> BarCertificate | None:
        """Turn the values that a search ended with into a certificate."""
        if cover.certificate is None:
            return None
        return self._certificate(dict(enumerate(cover.certificate.values)), cover.certificate.most)

    def cutting(self, plan: Plan, proof: BarCertificate | None, lower_bound: int | None = None) -> Cutting:
        """Write names on the bars of a plan; the bound is the certificate's if none is given."""
        uncut = (Bar((), 0.0, self._whole),) if self._whole else ()
        bars = (*uncut, *bars_of(self.kinds, plan, self._stock_mm, self._saw.kerf))
        bought = sum(bar.count for bar in bars)
        bound = lower_bound + self._whole if lower_bound is not None else proof.bound if proof else self._whole
        return Cutting(self._item, self._stock_mm, self._saw.kerf, bars, bought, bound, proof)

    def _each(self, *needs: EndsNeeded) -> list[int]:
        """The kind of every single piece."""
        return [at for at, kind in enumerate(self.kinds) if not needs or kind.need in needs for _ in range(kind.count)]

    def _certificate(self, values: dict[int, int], most: int) -> BarCertificate:
        pieces = tuple(
            ValuedPiece(kind.length, kind.count, values.get(at, 0), kind.need) for at, kind in enumerate(self.kinds)
        )
        return BarCertificate(self._stock, self._kerf, pieces, most, self._reuse, self._whole)


def check_cuts(item: str, wanted: Iterable[Wanted], stock: float, saw: Saw) -> None:
    """Refuse what cannot be cut."""
    if not (math.isfinite(stock) and tenths(stock) > 0 and 0 <= saw.kerf < math.inf):
        raise CuttingError(f"{item}: cannot cut bars of {stock:g} mm with a kerf of {saw.kerf:g} mm.")
    for piece in wanted:
        if not (math.isfinite(piece.length) and tenths(piece.length) > 0):
            raise CuttingError(f"{item}: a piece of {piece.length:g} mm, for {piece.member}, is none.")
        if tenths(piece.length) > tenths(stock):
            raise CuttingError(
                f"{item}: a piece of {piece.length:g} mm, for {piece.member}, cannot come from {stock:g} mm.",
                mend="Take longer stock; where the piece may be spliced, ask for its parts.",
            )
