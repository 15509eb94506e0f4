"""Cutting pieces from stock lengths: the fewest bars there can be, each with its pieces, and the proof.

In: pieces with the members they are for, a stock length and how it is sawn, in millimetres. Out: a `Cutting`. Lengths
become whole tenths of a millimetre, cuts rounded down and the kerf up, so that "does it fit" is `<=`. A piece as long
as the stock is bought whole and not cut. One kerf goes between two pieces of a bar.

Which pieces may share a bar:
- cross tees: two at most, as each keeps one factory end (NAVEDTRA 14044 p. 5-17: no more than two border tees from one
  cross tee);
- main tees: one that begins a run and one that ends a run, as these keep opposite factory ends, and between them any
  that are cut at both ends;
- wall angle, tracks, strips: any pieces that fit.

Programs that only want pieces cut call `cut_bars`; several stock lengths with prices are for `planner.stock.stocks`.
"""

from collections.abc import Iterable
from dataclasses import replace

from planner.ceiling.model import End
from planner.records import dataclass
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.job import BarJob
from planner.stock.barwork.offcuts import gather_offcuts
from planner.stock.barwork.pairing import pair_any, pair_two, values_of_any, values_of_two
from planner.stock.barwork.wanted import Wanted
from planner.stock.certificate import BarCertificate
from planner.stock.covering.cover import Column
from planner.stock.model import Cutting
from planner.stock.saw import BUDGET_S, Saw, tenths

__all__ = ["BarAnswer", "Saw", "Wanted", "cut_angle", "cut_bars", "cut_mains", "least_bars", "pair_cuts"]

_ANY: dict[tuple[End, End], EndsNeeded] = {
    (one, other): "none" for one in ("cut", "factory") for other in ("cut", "factory")
}
_TEES: dict[tuple[End, End], EndsNeeded] = dict.fromkeys(_ANY, "either")
_MAINS: dict[tuple[End, End], EndsNeeded] = {
    ("cut", "cut"): "none",
    ("factory", "cut"): "left",
    ("cut", "factory"): "right",
    ("factory", "factory"): "both",
}


@dataclass(frozen=True, slots=True)
class BarAnswer:
    """Bars to buy, and what to cut from each."""

    bars: tuple[tuple[float, ...], ...]  #: lengths as they were asked for, the longest first
    bought: int
    lower_bound: int  #: no way of cutting needs fewer
    certificate: BarCertificate | None  #: None where the bound rests on having tried every pattern that could do better

    @property
    def proven(self) -> bool:
        return self.bought == self.lower_bound

    @property
    def gap(self) -> int:
        """How many bars a better way might save at most."""
        return self.bought - self.lower_bound


def cut_bars(
    stock_length_mm: float, lengths_mm: Iterable[float], kerf_mm: float = 0.0, budget_s: float = BUDGET_S
) -> BarAnswer:
    """Cut lengths from the fewest bars.

    CuttingError, a ValueError, for a length of nothing or longer than the stock, a stock of no length, a kerf below 0.
    """
    lengths = sorted(lengths_mm, reverse=True)
    wanted = [Wanted(str(number), length) for number, length in enumerate(lengths)]
    cutting = cut_angle("bar", wanted, stock_length_mm, Saw(kerf_mm, budget_s=budget_s))
    whole = [(length,) for length in lengths if tenths(length) == tenths(stock_length_mm)]
    bars = [
        tuple(lengths[int(piece.member)] for piece in bar.pieces)
        for bar in cutting.bars
        for _ in range(bar.count if bar.pieces else 0)
    ]
    proof = cutting.certificate if isinstance(cutting.certificate, BarCertificate) else None
    return BarAnswer((*whole, *bars), cutting.bought, cutting.lower_bound, proof)


def least_bars(total: float, stock: float) -> int:
    """Bars that a total length needs at least; both in millimetres.

    NAVEDTRA 14044 p. 5-16 counts wall angle so: perimeter over stock length, and one more for any fraction.
    """
    return -(-tenths(total) // tenths(stock))


def pair_cuts(item: str, wanted: Iterable[Wanted], stock: float, saw: Saw) -> Cutting:
    """Cut pieces of which at most two come from one bar; no way of pairing needs fewer bars."""
    job = BarJob(item, wanted, stock, saw, _TEES)
    lengths = job.lengths()
    if not lengths:
        return job.cutting([], None)
    pairs = pair_any(lengths, job.fits, tight=saw.long_offcuts)
    return job.cutting(job.plan_of(pairs), job.certificate_of(*values_of_any(lengths, job.fits)))


def cut_mains(item: str, wanted: Iterable[Wanted], stock: float, saw: Saw, pitch: float = 0.0) -> Cutting:
    """Cut main tees: from one bar at most one piece that begins a run and one that ends a run.

    Pieces cut at both ends may lie between these; as their slots must meet the cross tees, such a piece is given up to
    one slot `pitch` more room than it is long. The bound is for pieces without that.
    """
    job = BarJob(item, wanted, stock, saw, _MAINS)
    begins, ends = job.lengths("right"), job.lengths("left")
    pairs = pair_two(begins, ends, job.fits, tight=saw.long_offcuts)
    matched = job.plan_of(pairs, "right", "left")
    others = [at for at, kind in enumerate(job.kinds) if kind.need in ("none", "both")]
    middles = [(Column(0, ((at, 1),)), job.kinds[at].count) for at in others]
    if not middles:
        proof = job.certificate_of(*values_of_two(begins, ends, job.fits), "right", "left")
        return job.cutting(matched, proof)
    apart = job.solve([*matched, *middles])
    roomy = job.solve([*matched, *middles], padding=tenths(pitch)) if pitch else apart
    return job.cutting(roomy.plan, job.proof(apart), min(apart.bound, roomy.cost))


def cut_angle(item: str, wanted: Iterable[Wanted], stock: float, saw: Saw) -> Cutting:
    """Cut wall angle: any pieces that fit."""
    job = BarJob(item, wanted, stock, saw, _ANY)
    if not job.kinds:
        return job.cutting([], None)
    cover = job.solve()
    cutting = job.cutting(cover.plan, job.proof(cover), cover.bound)
    return replace(cutting, bars=gather_offcuts(cutting.bars, stock, saw)) if saw.long_offcuts else cutting
