"""Stock of several ceilings, cut and ordered together.

In: each room's ceiling, the stock it takes by itself, and the wish for all. Out: a `Pool`. Rule: what is of one system
is cut as one; where the search found nothing better in its time, the rooms' own ways of cutting stand, so that the
pooled count is never above their sum. A room's share is in proportion to what it takes by itself.
Runs stay begun as each room has them, which may be agreed (`planner.stock.agree`); the bound is over every way to begin
the runs of all rooms.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from planner.ceiling.model import Ceiling, FirstCuts
from planner.lengths import format_length
from planner.records import dataclass
from planner.room.brief import GridWish, StockWish
from planner.runs.lots import together
from planner.stock.bill import bill_of
from planner.stock.buy import bar_item, cut_members, panel_item, panel_rules, panel_weight, sold_by_length
from planner.stock.fasteners import fasteners
from planner.stock.model import Bar, Bill, CutPanel, Cutting, PanelCutting, Stock, TakeOffLine
from planner.stock.panels import cut_pieces, panel_sides, panels_wanted
from planner.stock.saw import Saw
from planner.stock.takeoff import PANEL, Item, take_off


@dataclass(frozen=True, slots=True)
class RoomStock:
    """What one room brings to the pool."""

    room: str  #: goes before the ids of its pieces; no two alike
    ceiling: Ceiling
    grid: GridWish
    stock: Stock  #: what its ceiling takes, sawn by the same rules
    alone: Stock | None = None  #: what it would take, planned by itself; None: the same


@dataclass(frozen=True, slots=True)
class Share:
    """One room's part of one item."""

    room: str
    item: str
    unit: str
    alone: int  #: net, if the room were supplied by itself
    part: float  #: of the pooled item, 0 to 1


@dataclass(frozen=True, slots=True)
class Saving:
    """What cutting together saves of one item, net."""

    item: str
    unit: str
    alone: int  #: all rooms, each supplied by itself
    pooled: int

    @property
    def saved(self) -> int:
        return self.alone - self.pooled


@dataclass(frozen=True, slots=True)
class Pool:
    """What to buy for all rooms, and how to cut it."""

    cutting: tuple[Cutting, ...]
    panels: tuple[PanelCutting, ...]
    takeoff: tuple[TakeOffLine, ...]
    shares: tuple[Share, ...]
    savings: tuple[Saving, ...]
    bill: Bill


@dataclass(frozen=True, slots=True)
class _Need:
    """An item as it is in the pooled order, and what each room takes by itself."""

    item: Item
    alone: tuple[tuple[str, int], ...]


def pool_stock(rooms: Sequence[RoomStock], wish: StockWish) -> Pool:
    """Cut and order for all rooms together; PlannerError when the wish names an item that there is not."""
    saw = Saw(wish.saw_kerf, wish.reuse_from, wish.long_offcuts, wish.budget_s)
    panel_groups = _alike(rooms, _panel_key)
    cut = [_pool_panels(group, len(panel_groups) > 1, saw) for group in panel_groups]
    needs = [need for need, _ in cut]
    systems = _alike(rooms, lambda room: room.ceiling.system)
    cuttings: list[Cutting] = []
    for group in systems:
        suffix = own_suffix(group[0].ceiling.system.name) if len(systems) > 1 else ""
        pooled = _pool_bars(group, wish)
        needs += _bar_needs(group, pooled, suffix)
        cuttings += [replace(cutting, item=cutting.item + suffix) for cutting in pooled.values()]
    needs += _fastener_needs(rooms)
    lines = take_off([need.item for need in needs], wish)
    return Pool(
        cutting=tuple(cuttings),
        panels=tuple(panels for _, panels in cut if panels is not None),
        takeoff=lines,
        shares=tuple(_shares(needs)),
        savings=tuple(
            Saving(need.item.name, need.item.unit, sum(net for _, net in need.alone), need.item.net)
            for need in needs
            if need.item.net
        ),
        bill=bill_of(lines, [room.ceiling for room in rooms], wish),
    )


def own_suffix(system: str) -> str:
    """What follows the names of items where rooms have more than one kind of grid."""
    return f" ({system})"


def _alike(rooms: Sequence[RoomStock], key: Callable[[RoomStock], object]) -> list[list[RoomStock]]:
    """Rooms with equal keys together, in the order in which each key is first met."""
    groups: list[tuple[object, list[RoomStock]]] = []
    for room in rooms:
        mine = key(room)
        found = next((group for known, group in groups if known == mine), None)
        if found is None:
            groups.append((mine, [room]))
        else:
            found.append(room)
    return [group for _, group in groups]


def _panel_key(room: RoomStock) -> object:
    """Panels of one size, edge and weight are one item."""
    return (panel_sides(room.ceiling), panel_rules(room.grid), panel_weight(room.ceiling, room.grid))


def _pool_panels(group: Sequence[RoomStock], several: bool, saw: Saw) -> tuple[_Need, PanelCutting | None]:
    """Cut the panels of rooms that use the same ones."""
    wanted = [
        replace(piece, panel=f"{room.room} {piece.panel}") for room in group for piece in panels_wanted(room.ceiling)
    ]
    first = group[0]
    size = panel_sides(first.ceiling)
    cut = cut_pieces(wanted, size, panel_rules(first.grid), saw) if wanted else None
    own = [(room, room.stock.panels) for room in group if room.stock.panels is not None]
    own_count = sum(panels.bought for _, panels in own)
    if cut is not None and cut.bought > own_count:
        cut = replace(cut, panels=tuple(_own_panels(own)), bought=own_count)
    whole = sum(room.ceiling.full_panels + sum(p.full_size for p in room.ceiling.panels) for room in group)
    name = f"{PANEL} {_sized(first)}" if several else PANEL
    item = panel_item(whole + (cut.bought if cut else 0), first.ceiling, first.grid, name)
    return _Need(item, _alone(group, PANEL)), cut


def _sized(room: RoomStock) -> str:
    """What tells one sort of panel from another."""
    units = "in" if room.ceiling.system.imperial else "mm"
    sides = " x ".join(format_length(side, units) for side in room.ceiling.layout.module)
    rules = panel_rules(room.grid)
    words = [sides, *(["revealed"] if rules.revealed else []), *([] if rules.turns else ["patterned"])]
    weight = room.grid.panel_kg_m2
    return " ".join([*words, *([] if weight is None else [f"{weight:.3g} kg/m2"])])


def _own_panels(own: Sequence[tuple[RoomStock, PanelCutting]]) -> Iterator[CutPanel]:
    for room, cutting in own:
        for panel in cutting.panels:
            pieces = tuple(replace(piece, panel=f"{room.room} {piece.panel}") for piece in panel.pieces)
            yield replace(panel, pieces=pieces)


def _pool_bars(group: Sequence[RoomStock], wish: StockWish) -> dict[str, Cutting]:
    """Cut every item of rooms with one system; the rooms' own cutting where that takes fewer."""
    members = [replace(member, id=f"{room.room} {member.id}") for room in group for member in room.ceiling.members]
    pooled = cut_members(members, group[0].ceiling.system, wish, _first_cuts(group, wish))
    for item, cutting in pooled.items():
        own = [(room, each) for room in group for each in room.stock.cutting if each.item == item]
        count = sum(each.bought for _, each in own)
        if cutting.bought > count:
            pooled[item] = replace(cutting, bars=tuple(_own_bars(own)), bought=count)
    return pooled


def _first_cuts(group: Sequence[RoomStock], wish: StockWish) -> Iterator[FirstCuts]:
    """The runs of all rooms, begun as each room has them."""
    for item in dict.fromkeys(cuts.item for room in group for cuts in room.ceiling.first_cuts):
        own = [(room.room, cuts.begun) for room in group for cuts in room.ceiling.first_cuts if cuts.item == item]
        names, begun = [name for name, _ in own], [each for _, each in own]
        yield FirstCuts(item, together(begun, names, wish.budget_s, tight=wish.long_offcuts))


def _own_bars(own: Sequence[tuple[RoomStock, Cutting]]) -> Iterator[Bar]:
    for room, cutting in own:
        for bar in cutting.bars:
            pieces = tuple(
                replace(piece, member=f"{room.room} {piece.member}" if piece.member else "") for piece in bar.pieces
            )
            yield replace(bar, pieces=pieces)


def _bar_needs(group: Sequence[RoomStock], pooled: dict[str, Cutting], suffix: str) -> Iterator[_Need]:
    for part in sold_by_length(group[0].ceiling.system):
        bought = pooled[part.item].bought if part.item in pooled else 0
        yield _Need(bar_item(part, bought, group[0].ceiling.system, suffix), _alone(group, part.item))


def _fastener_needs(rooms: Sequence[RoomStock]) -> Iterator[_Need]:
    """Fasteners are not cut: the rooms' counts are added up, each unit by itself."""
    total: dict[tuple[str, str], Item] = {}
    for room in rooms:
        for item in fasteners(room.ceiling):
            found = total.get((item.name, item.unit))
            total[item.name, item.unit] = replace(item, net=found.net + item.net) if found else item
    for (name, unit), item in total.items():
        yield _Need(item, _alone(rooms, name, unit))


def _alone(group: Sequence[RoomStock], item: str, unit: str | None = None) -> tuple[tuple[str, int], ...]:
    """What each room takes of an item by itself; in any unit, if none is named."""
    lines = ((room.room, line) for room in group for line in (room.alone or room.stock).takeoff if not line.extra)
    return tuple((name, line.net) for name, line in lines if line.item == item and unit in (None, line.unit))


def _shares(needs: Sequence[_Need]) -> Iterator[Share]:
    for need in needs:
        total = sum(net for _, net in need.alone)
        for room, net in need.alone:
            if net:
                yield Share(room, need.item.name, need.item.unit, net, net / total)
