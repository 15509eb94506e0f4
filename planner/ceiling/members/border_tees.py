"""Which cross tee each border tee is cut from: its own length, or a longer one where that takes less.

In: the members of a ceiling, its system, and how stock is bought. Out: the members with each piece of the stock it
comes from, and what `planner.pairs` has proven of it.

Rules: a border tee keeps one factory end, so that two at most come from one cross tee, of whatever length: NAVEDTRA
14044 p. 5-17. Whole tees between mains stay of their own length, and so do tees as long as the mains are apart, whose
middle slot shorter ones hook into; a slot more, or one that is sawn through, does no harm. What costs least is taken,
where all cross tees of the system have a price, else what takes the least length of tee; then the fewest tees; then
those of the own length. Prices of packs and what is on hand are not looked at.

That tees of two lengths may be mixed at a wall is the user's to say: most series have one hook and one slot for all
lengths, in some the short tees are lower than the long ones (from memory), and a fire-rated design names its parts.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planner.ceiling.members.runs import gathered
from planner.ceiling.model import BorderTees, Member, Piece
from planner.ceiling.system import System, Tee
from planner.geometry import TOLERANCE_MM
from planner.pairs.choose import Shared, share
from planner.pairs.job import Job, Kind, Stock
from planner.room.brief import StockWish
from planner.runs.tenths import kerf_tenths, tenths

#: Prices are whole multiples of this part of a unit of money.
COST_STEPS = 1000


def from_longer(
    members: Iterable[Member], system: System, wish: StockWish, agreed: BorderTees | None = None
) -> tuple[tuple[Member, ...], BorderTees | None]:
    """The members with their border tees from the stock that takes least; as they are where that is not wished.

    `agreed` is what was chosen for this room and others together.
    """
    members = tuple(members)
    if not wish.border_tees_from_longer:
        return members, None
    kinds = Counter(kind for member in members for piece in member.pieces for kind in _kind(piece, system))
    if not any(len(kind.stocks) > 1 for kind in kinds):
        return members, None
    if agreed is None:
        stocks, priced = stocks_of(system.cross_tees, wish)
        wanted = tuple(replace(kind, count=count) for kind, count in sorted(kinds.items(), key=_order))
        job = Job(stocks, wanted, kerf_tenths(wish.saw_kerf), tenths(wish.reuse_from))
        agreed = BorderTees(tuple(tee.item for tee in system.cross_tees), priced, share(job, wish.budget_s))
    turns = dict(_turns(agreed.shared))
    return tuple(replace(member, pieces=_dealt(member.pieces, system, turns)) for member in members), agreed


def stocks_of(tees: Sequence[Tee], wish: StockWish) -> tuple[tuple[Stock, ...], bool]:
    """Cross tees with what each costs: its price, where all have one; else its length. And whether it is the price."""
    prices = dict(wish.prices)
    costs = [round(prices.get(tee.item, 0.0) * COST_STEPS) for tee in tees]
    priced = all(costs)
    lengths = [tenths(tee.length) for tee in tees]
    return tuple(map(Stock, lengths, costs if priced else lengths)), priced


def _order(entry: tuple[Kind, int]) -> tuple[int, tuple[int, ...]]:
    return (-entry[0].length, entry[0].stocks)


def _kind(piece: Piece, system: System) -> Iterator[Kind]:
    """What a piece is to the saw, as often as it is wanted; nothing for a whole tee, and for what is no cross tee."""
    own = next((at for at, tee in enumerate(system.cross_tees) if tee.item == piece.stock), None)
    if own is None or tenths(piece.length) >= tenths(system.cross_tees[own].length):
        return
    short = system.cross_tees[own].length < system.main.spacing - TOLERANCE_MM
    border = "cut" in piece.ends and short
    kind = Kind(tenths(piece.length), 1, tuple(range(own, len(system.cross_tees) if border else own + 1)))
    yield from [kind] * piece.count


def _turns(shared: Shared) -> Iterator[tuple[Kind, list[int]]]:
    """For each kind the stocks that its pieces come from, one after the other; the last one first."""
    for kind, row in zip(shared.job.kinds, shared.counts, strict=True):
        stocks = [at for at, count in zip(kind.stocks, row, strict=True) for _ in range(count)]
        yield replace(kind, count=1), stocks[::-1]


def _dealt(pieces: Iterable[Piece], system: System, turns: dict[Kind, list[int]]) -> tuple[Piece, ...]:
    """The pieces of one member, each from the next stock of its kind; takes these from `turns`."""
    row: list[Piece] = []
    for piece in pieces:
        kinds = list(_kind(piece, system))
        row += [replace(piece, stock=system.cross_tees[turns[kind].pop()].item, count=1) for kind in kinds] or [piece]
    return gathered(row)
