"""The order: how many of each item, with spare, less what is on hand, in packs, with weight and cost.

In: net counts with each item's weight, and the wish. Out: `TakeOffLine`s, the extras of the wish last. What services
are made of (lights, grilles, detectors) and how they are wired is not supplied by the ceiling and is not in the order.
"""

import math
from collections.abc import Sequence
from difflib import get_close_matches

from planner.errors import PlannerError
from planner.records import dataclass
from planner.room.brief import StockWish
from planner.stock.model import TakeOffLine, cents

PANEL = "panel"

#: Float noise in net * spare that must not order one piece more.
NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class Item:
    """An item of the order and how many the ceiling needs."""

    name: str
    net: int
    kg_each: float | None = None
    unit: str = "piece"
    as_given: bool = False  #: counted by the user, who wants no share of it as spare
    size: tuple[float, ...] = ()  #: of one as it is sold: its length, or its sides; millimetres
    size_said: str = ""  #: the same in words; empty where the name has it
    sort: str = ""  #: which of those that are sold by this name


def take_off(items: Sequence[Item], wish: StockWish) -> tuple[TakeOffLine, ...]:
    """Turn counts into an order; items that are not needed are left out.

    PlannerError when the wish names an item that there is not.
    """
    _check_extras(items, wish)
    items = [*items, *(Item(extra.item, extra.count, extra.weight_kg, as_given=True) for extra in wish.extras)]
    _check_names([item.name for item in items], wish)
    packs, prices = _pack_sizes(wish), dict(wish.prices)
    on_hand, for_owner = dict(wish.on_hand), dict(wish.for_owner)
    return tuple(
        _line(
            item,
            spare=_spare(item, wish),
            for_owner=for_owner.get(item.name, 0),
            on_hand=on_hand.get(item.name, 0),
            pack=packs.get(item.name),
            price=prices.get(item.name),
        )
        for item in items
        if item.net or for_owner.get(item.name)
    )


def _spare(item: Item, wish: StockWish) -> int:
    """Spare by count where one is given, else by share, rounded up."""
    by_share = 0 if item.as_given else math.ceil(item.net * wish.spare - NOISE)
    return dict(wish.spare_pieces).get(item.name, by_share)


def _line(
    item: Item, *, spare: int, for_owner: int, on_hand: int, pack: int | None, price: float | None
) -> TakeOffLine:
    """One line; where an item comes in packs, whole packs are paid for and carried. `price` is for one piece."""
    order = max(item.net + spare + for_owner - on_hand, 0)
    packs = None if pack is None else -(-order // pack)
    bought = order if pack is None or packs is None else packs * pack
    return TakeOffLine(
        item=item.name,
        unit=item.unit,
        net=item.net,
        spare=spare,
        order=order,
        packs=packs,
        pack_size=pack,
        weight_kg=None if item.kg_each is None else bought * item.kg_each,
        cost=None if price is None else cents(bought * price),
        on_hand=on_hand,
        for_owner=for_owner,
        extra=item.as_given,
        size=item.size,
        size_said=item.size_said,
        sort=item.sort,
    )


def _pack_sizes(wish: StockWish) -> dict[str, int]:
    packs = dict(wish.packs)
    if wish.panels_per_carton is not None:
        if packs.get(PANEL, wish.panels_per_carton) != wish.panels_per_carton:
            problem = f"{packs[PANEL]} panels in a pack, but panels_per_carton: {wish.panels_per_carton}."
            raise PlannerError(problem, where="stock › packs › panel", mend="Keep one of the two.")
        packs[PANEL] = wish.panels_per_carton
    return packs


def _check_extras(items: Sequence[Item], wish: StockWish) -> None:
    """Refuse an extra by the name of what the ceiling takes anyway: it would have two counts and two prices."""
    for number, extra in enumerate(wish.extras, 1):
        if extra.item in [item.name for item in items]:
            raise PlannerError(
                f"{extra.item} is on the list already; the planner counts it.",
                where=f"stock › extras › {number}",
                mend="For more of it write spare_pieces or leave_with_owner, or give the extra another name.",
            )


def _check_names(known: Sequence[str], wish: StockWish) -> None:
    """Refuse names that are no items, all at once."""
    named = {
        "prices": [name for name, _ in wish.prices],
        "packs": [name for name, _ in wish.packs],
        "on_hand": [name for name, _ in wish.on_hand],
        "spare_pieces": [name for name, _ in wish.spare_pieces],
        "leave_with_owner": [name for name, _ in wish.for_owner],
    }
    unknown = [(key, name) for key, names in named.items() for name in names if name not in known]
    if not unknown:
        return
    near = dict.fromkeys(get_close_matches(name, known, 1, cutoff=0.0)[0] for _, name in unknown)
    raise PlannerError(
        f"this ceiling takes no {' and no '.join(name for _, name in unknown)}.",
        where=", ".join(f"stock › {key} › {name}" for key, name in unknown),
        mend=f"Did you mean {', '.join(near)}? There are: {', '.join(known)}.",
    )
