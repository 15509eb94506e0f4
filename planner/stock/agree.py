"""What rooms agree on, so that stock for all of them together is least: first cuts of runs, stocks of border tees.

In: rooms as each was planned by itself, and the wish for all. Out: for each room what it is planned anew with, None
where it stays as it is. Rule: bars for all rooms together count, not those of a room; where all together save none,
every room stays as it is. Joints of one room's runs have no neighbours in another.

Runs are agreed on one item at a time: the splices of cover strips stand clear of those of the carriers above them, so
that these must be settled before.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planner.ceiling.members.border_tees import stocks_of
from planner.ceiling.model import Agreed, BorderTees, Ceiling, FirstCuts
from planner.pairs.lots import shared_together
from planner.records import dataclass
from planner.room.brief import StockWish
from planner.runs.lots import begun_together, together
from planner.stock.model import Stock


@dataclass(frozen=True, slots=True)
class Settled:
    """A room as it stands, and what was agreed for it so far."""

    ceiling: Ceiling
    alone: Stock  #: what it takes, planned by itself
    agreed: Agreed | None = None


def turns(rooms: Sequence[Settled]) -> int:
    """How often the rooms come together: once for each item that runs are cut from."""
    return max((len(room.ceiling.first_cuts) for room in rooms), default=0)


def agree(rooms: Sequence[Settled], turn: int, wish: StockWish) -> list[Agreed | None]:
    """Let the rooms of each system agree on the runs of one item; on border tees with the first."""
    agreed = [room.agreed or Agreed() for room in rooms]
    for group in _by_system(rooms):
        for at, cuts in _first_cuts(rooms, group, turn, wish):
            agreed[at] = replace(agreed[at], first_cuts=(*agreed[at].first_cuts, cuts))
        for at, tees in _border_tees(rooms, group, wish) if turn == 0 else ():
            agreed[at] = replace(agreed[at], border_tees=tees)
    return [now if now != (room.agreed or Agreed()) else None for now, room in zip(agreed, rooms, strict=True)]


def worse(before: Sequence[Settled], after: Sequence[Settled], wish: StockWish) -> bool:
    """Whether of some item more bars are taken for the runs of all rooms than before: strips begun anew may do that."""
    pairs = zip(_lengths(before, wish), _lengths(after, wish), strict=True)
    return any(now > then for then, now in pairs)


def _lengths(rooms: Sequence[Settled], wish: StockWish) -> Iterator[int]:
    """Bars that the runs of the rooms of each system take, item by item."""
    for group in _by_system(rooms):
        for items in zip(*(rooms[at].ceiling.first_cuts for at in group), strict=True):
            begun = [cuts.begun for cuts in items]
            yield together(begun, [""] * len(begun), 0.0, tight=wish.long_offcuts).bought


def _by_system(rooms: Sequence[Settled]) -> list[list[int]]:
    """Numbers of the rooms that have one system, where there are several."""
    groups: list[list[int]] = []
    for at, room in enumerate(rooms):
        alike = next((group for group in groups if rooms[group[0]].ceiling.system == room.ceiling.system), None)
        if alike is None:
            groups.append([at])
        else:
            alike.append(at)
    return [group for group in groups if len(group) > 1]


def _first_cuts(
    rooms: Sequence[Settled], group: Sequence[int], turn: int, wish: StockWish
) -> Iterator[tuple[int, FirstCuts]]:
    """How the rooms' runs of one item are begun, where all rooms save bars by it."""
    own = [rooms[at].ceiling.first_cuts[turn] for at in group if turn < len(rooms[at].ceiling.first_cuts)]
    if not own:
        return
    alone = (cut.bought for at in group for cut in rooms[at].alone.cutting if cut.item == own[0].item)
    begun = [cuts.begun for cuts in own]
    both = begun_together(begun, sum(alone), wish.budget_s, tight=wish.long_offcuts, apart=wish.staggered_splices)
    for at, cuts, now in zip(group, own, both, strict=True):
        if now.chosen != cuts.begun.chosen:
            yield at, FirstCuts(cuts.item, now, for_all=True)


def _border_tees(rooms: Sequence[Settled], group: Sequence[int], wish: StockWish) -> Iterator[tuple[int, BorderTees]]:
    """Which cross tees the rooms' border tees come from, where all rooms take less by it."""
    own = [(at, tees) for at in group if (tees := rooms[at].ceiling.border_tees) is not None]
    if len(own) < 2:
        return
    stocks, priced = stocks_of(rooms[group[0]].ceiling.system.cross_tees, wish)
    both = shared_together([tees.shared for _, tees in own], stocks, wish.budget_s)
    for (at, tees), now in zip(own, both, strict=True):
        if now.counts != tees.shared.counts:
            yield at, BorderTees(tees.items, priced, now, for_all=True)
