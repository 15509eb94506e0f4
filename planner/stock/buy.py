"""What to buy for a ceiling, and how to cut it.

In: a ceiling and the wishes. Out: `Stock`. Bars and cut panels are the fewest there can be, each with its proof; whole
panels and those that are only drilled are counted. Wall angle is taken off from the walls as measured: rounding the
room up first, as NAVEDTRA 14044 p. 5-16 does, may order a piece more.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from planner.ceiling.model import Ceiling, FirstCuts, Member
from planner.ceiling.system import System, Tee
from planner.errors import CuttingError, LengthError
from planner.lengths import parse_length, spoken_cut, spoken_length
from planner.room.brief import GridWish, StockWish
from planner.runs.choose import Begun
from planner.sayings import said
from planner.stock.bars import cut_angle, cut_mains, pair_cuts
from planner.stock.barwork.splices import over_splices
from planner.stock.barwork.wanted import Wanted
from planner.stock.bill import bill_of
from planner.stock.fasteners import fasteners
from planner.stock.model import Cutting, Stock
from planner.stock.panels import PanelRules, cut_panels, panel_sides
from planner.stock.runs import cut_runs
from planner.stock.saw import Saw, tenths
from planner.stock.takeoff import PANEL, Item, take_off

#: Numbers in the name of an item, with the unit behind them if there is one.
_NUMBERS = re.compile(r"[\d.]+(?: ?(?:ft|in|mm|cm|m)\b|['\"])?")


def buy_stock(ceiling: Ceiling, wish: StockWish, grid: GridWish | None = None) -> Stock:
    """Count what to buy and how to cut it; PlannerError when the wish names an item that there is not."""
    parts = sold_by_length(ceiling.system)
    cutting = cut_members(ceiling.members, ceiling.system, wish, ceiling.first_cuts)
    bars = [bar_item(part, cutting[part.item].bought if part.item in cutting else 0, ceiling.system) for part in parts]
    panels = cut_panels(ceiling, panel_rules(grid), _saw(wish))
    drilled = sum(panel.full_size for panel in ceiling.panels)
    net = ceiling.full_panels + drilled + (panels.bought if panels else 0)
    lines = take_off([panel_item(net, ceiling, grid), *bars, *fasteners(ceiling)], wish)
    return Stock(tuple(cutting.values()), lines, panels, bill_of(lines, [ceiling], wish))


def cut_members(
    members: Iterable[Member], system: System, wish: StockWish, first_cuts: Iterable[FirstCuts] = ()
) -> dict[str, Cutting]:
    """Cut the pieces of all members, of one ceiling or of several with one system, by item.

    `first_cuts` say how the runs of main tees among them were begun; without, these are cut as they are, and so are
    those of one room that were begun for several together.
    """
    saw, members = _saw(wish), tuple(members)
    wanted = _wanted(members)
    begun = {cuts.item: cuts.begun for cuts in first_cuts if not cuts.for_all}
    parts = sold_by_length(system)
    cutting = {part.item: _cut(part, wanted[part.item], system, saw, begun) for part in parts if wanted[part.item]}
    angle, strip = system.wall_angle.item, system.direct.cover_strip.item if system.direct else None
    if angle in cutting:
        spliced = over_splices(cutting[angle], wanted[angle])
        if wish.splice_from is not None or spliced.proven:
            cutting[angle] = spliced
        elif not saw.reuse_from and _whole_first(members, system.wall_angle):
            cutting[angle] = replace(cutting[angle], over="fewest splices")
    if strip in cutting and (spliced := over_splices(cutting[strip], wanted[strip])).proven:
        cutting[strip] = spliced
    return cutting


def _whole_first(members: Iterable[Member], part: Tee) -> bool:
    """Whether every length of a part is whole bars and a rest.

    Then nobody who splices as seldom can do with fewer bars. For of two parts of one length the longer can grow at the
    other's cost until it is a whole bar; what else came from its bar then comes from what the shorter one gave up.
    """
    rows = [member.pieces for member in members if any(piece.stock == part.item for piece in member.pieces)]
    return all(tenths(piece.length) == tenths(part.length) for row in rows for piece in row[:-1])


def panel_rules(grid: GridWish | None) -> PanelRules:
    """How the wished panels may be used."""
    return PanelRules() if grid is None else PanelRules(grid.panel_edge == "revealed", grid.panel_turns)


def sold_by_length(system: System) -> Sequence[Tee]:
    """Everything of a system that is sold by the length."""
    parts = getattr(system, "parts", None)
    return tuple(parts()) if parts else (system.main, *system.cross_tees, system.wall_angle)


def bar_item(part: Tee, net: int, system: System, suffix: str = "") -> Item:
    """A part that is sold by the length, with what one asks for at the counter beside its name."""
    face, ledge = spoken_length(system.tee_face, _units(system)), spoken_length(system.ledge, _units(system))
    sort = ""
    if part.item in (system.main.item, *(tee.item for tee in system.cross_tees)):
        sort = said("face {width}", width=face)
    elif part.item == system.wall_angle.item:
        sort = said("ledge {width}", width=ledge)
    size = "" if _says_length(part, system) else spoken_length(part.length, _units(system))
    return Item(part.item + suffix, net, weight_of(part), size=(part.length,), size_said=size, sort=sort)


def panel_item(net: int, ceiling: Ceiling, grid: GridWish | None, name: str = PANEL) -> Item:
    """The panels, by the size that they have and not that of their module."""
    sides = panel_sides(ceiling)
    size = spoken_cut(sides, _units(ceiling.system))
    return Item(name, net, panel_weight(ceiling, grid), size=sides, size_said=size)


def _units(system: System) -> str:
    return "ft-in" if system.imperial else "mm"


def _says_length(part: Tee, system: System) -> bool:
    """Whether the name has the length: cross tee 600, cross tee 4 ft."""
    for found in _NUMBERS.findall(part.item):
        try:
            length = parse_length(found.strip(), "in" if system.imperial else "mm")
        except LengthError:
            continue
        if abs(length - part.length) < 1.0:
            return True
    return False


def _saw(wish: StockWish) -> Saw:
    return Saw(wish.saw_kerf, wish.reuse_from, wish.long_offcuts, wish.budget_s)


def _wanted(members: Iterable[Member]) -> dict[str, list[Wanted]]:
    """The pieces of all members, by the item that they come from."""
    wanted: dict[str, list[Wanted]] = defaultdict(list)
    for member in members:
        for piece in member.pieces:
            wanted[piece.stock].append(Wanted(member.id, piece.length, piece.ends, piece.count))
    return wanted


def _cut(part: Tee, wanted: Iterable[Wanted], system: System, saw: Saw, begun: Mapping[str, Begun]) -> Cutting:
    """Cut one item by the rule for its ends: main tees, cross tees, and all that has no ends to keep.

    CuttingError for a piece that is longer than what is sold.
    """
    wanted = list(wanted)
    _check_lengths(part, wanted, spliced=part.item not in [tee.item for tee in system.cross_tees])
    if part.item == system.main.item:
        if part.item in begun:
            return cut_runs(part.item, begun[part.item], part.length, saw)
        return cut_mains(part.item, wanted, part.length, saw, system.main.slot_pitch)
    if part.item in [tee.item for tee in system.cross_tees]:
        return pair_cuts(part.item, wanted, part.length, saw)
    return cut_angle(part.item, wanted, part.length, saw)


def _check_lengths(part: Tee, wanted: Iterable[Wanted], *, spliced: bool) -> None:
    """Say which piece is too long, and whether it may be spliced."""
    for piece in wanted:
        if tenths(piece.length) > tenths(part.length):
            may = "It may be spliced: ask for it in parts." if spliced else "It may not be spliced: take a longer one."
            problem = f"{piece.member} needs a {part.item} of {piece.length:g} mm, which is sold in {part.length:g} mm."
            raise CuttingError(problem, mend=may)


def weight_of(part: Tee) -> float | None:
    """Kilograms of one stock length, where the system says."""
    return None if part.kg_per_m is None else part.kg_per_m * part.length / 1000


def panel_weight(ceiling: Ceiling, grid: GridWish | None) -> float | None:
    """Kilograms of one panel, where the wish says what they weigh."""
    if grid is None or grid.panel_kg_m2 is None:
        return None
    width, depth = panel_sides(ceiling)
    return grid.panel_kg_m2 * width * depth / 1e6
