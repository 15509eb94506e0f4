"""What to buy for a ceiling, and how to cut it.

In: a ceiling and the wish. Out: `Stock`. First form: each cut or drilled panel is a panel of its own; bars
are cut by the plain counts of `planner.stock.bars`. Wall angle is taken off from the walls as measured: rounding the
room up first, as NAVEDTRA 14044 p. 5-16 does, may order a piece more.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable

from planner.ceiling.model import Ceiling, Member
from planner.ceiling.system import Tee
from planner.room.brief import StockWish
from planner.stock.bars import Wanted, cut_angle, cut_mains, pair_cuts
from planner.stock.model import Cutting, Stock
from planner.stock.takeoff import PANEL, Item, take_off

Method = Callable[[str, Iterable[Wanted], float, float], Cutting]


def buy_stock(ceiling: Ceiling, wish: StockWish) -> Stock:
    """Count what to buy and how to cut it; PlannerError when the wish names an item that there is not."""
    system = ceiling.system
    wanted = _wanted(ceiling.members)
    methods: list[tuple[Tee, Method]] = [
        (system.main, cut_mains),
        *((tee, pair_cuts) for tee in system.cross_tees),
        (system.wall_angle, cut_angle),
    ]
    cutting = {
        tee.item: cut(tee.item, wanted[tee.item], tee.length, wish.saw_kerf) for tee, cut in methods if wanted[tee.item]
    }
    bars = [Item(tee.item, cutting[tee.item].bought if tee.item in cutting else 0, _weight(tee)) for tee, _ in methods]
    panels = Item(PANEL, ceiling.full_panels + len(ceiling.panels))
    return Stock(tuple(cutting.values()), take_off([panels, *bars], wish))


def _wanted(members: Iterable[Member]) -> dict[str, list[Wanted]]:
    """The pieces of all members, by the item that they come from."""
    wanted: dict[str, list[Wanted]] = defaultdict(list)
    for member in members:
        for piece in member.pieces:
            wanted[piece.stock].append(Wanted(member.id, piece.length, piece.ends, piece.count))
    return wanted


def _weight(tee: Tee) -> float | None:
    """Kilograms of one stock length, where the system says."""
    return None if tee.kg_per_m is None else tee.kg_per_m * tee.length / 1000
