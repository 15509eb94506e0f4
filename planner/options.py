"""The sensible layouts of one room side by side, so that a person can weigh what the planner would take.

In: a `Brief`. Out: `Option`s, the planner's own first: other places of the grid (balanced, fewest modules, centred on a
line or on a panel, started full at a wall), the main tees the other way, the system's other modules both ways round,
and whole panels left uncut where the wall angle's ledge hides what is missing. Layouts that come out alike are planned
once and carry all their names. "Centred" means on the middle of the room's extent along the grid. A
layout with a border that would lie wholly on the ledge is none, unless the planner's own has one as narrow.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product
from typing import Literal

from planner.ceiling.layout import lay_out
from planner.ceiling.ledge import hidden_parts, reach_of, stands_straight
from planner.ceiling.mains import choose_mains
from planner.ceiling.model import Layout
from planner.ceiling.rules.borders import SLANTED_DEG
from planner.ceiling.services import centred_points
from planner.ceiling.system import System, load_system
from planner.documents import pointing_into
from planner.geometry import TOLERANCE_MM, Box, Point, box_of
from planner.planning import Plan, plan
from planner.records import dataclass
from planner.room.brief import Brief, GridWish
from planner.room.outline import Room
from planner.sayings import linked, said, term
from planner.stock.takeoff import PANEL

Side = Literal["left", "right", "front", "back"]
Borders = tuple[tuple[Side, float | Literal["full"]], ...]  #: as a `GridWish` has them

#: Seconds to search for a better way of cutting, for each item of a layout that is only compared.
QUICK_S = 0.5

#: Lines of two layouts closer than this are the same lines; less missing from whole panels than this is nothing.
_ALIKE_MM = 0.1

_UNCUT = said("uncut, the ledge hides the rest")


@dataclass(frozen=True, slots=True)
class Option:
    """One layout and what it comes to."""

    names: tuple[str, ...]  #: what it is called; several where they come to the same
    plan: Plan
    taken: bool = False  #: this is what the planner does with the brief as it stands
    hidden: tuple[float, float] = (0.0, 0.0)  #: what the ledges hide at each end of the two grid axes, millimetres

    @property
    def module(self) -> tuple[float, float]:
        return self.plan.ceiling.layout.module

    @property
    def uncut(self) -> bool:
        """Whether whole panels stop short of walls and the ledge hides it."""
        return any(self.hidden)

    @property
    def half_module_rule(self) -> bool:
        """Whether no wall along the grid has a border under half a module, as the finding of that name takes it.

        NAVEDTRA 14044 pp. 5-16, 7-23.
        """
        return all(finding.rule != "border under half a module" for finding in self.plan.findings)

    @property
    def smallest_border(self) -> float | None:
        """Narrowest border at any wall along the grid; None where no wall lies along it."""
        return _smallest_border(self.plan.room, self.plan.ceiling.layout)

    @property
    def cut_panels(self) -> int:
        """Panels that are cut at their edges; those only drilled are not counted."""
        return sum(not panel.full_size for panel in self.plan.ceiling.panels)

    @property
    def panels(self) -> int:
        """Panels to buy, spare not counted."""
        return sum(line.net for line in self.plan.stock.takeoff if line.item == PANEL)

    @property
    def lengths(self) -> int:
        """Tees, wall angle and all else that is sold by the length, spare not counted."""
        return sum(cutting.bought for cutting in self.plan.stock.cutting)

    @property
    def unsure(self) -> int:
        """How many panels fewer a better way of cutting might take, at most; 0 = proven."""
        return self.plan.stock.panels.gap if self.plan.stock.panels else 0

    @property
    def panel_waste(self) -> float:
        """Share of the panels bought that is thrown away; what is no rectangle counts as the box around it."""
        cutting = self.plan.stock.panels
        if cutting is None or not self.panels:
            return 0.0
        used = sum(p.cut_to[0] * p.cut_to[1] for p in self.plan.ceiling.panels if not p.full_size)
        whole = cutting.size[0] * cutting.size[1]
        return (cutting.bought * whole - used) / (self.panels * whole)

    @property
    def length_waste(self) -> float:
        """Share of the lengths bought that is left over as off-cuts."""
        cuttings = self.plan.stock.cutting
        bought = sum(c.bought * c.stock_length for c in cuttings)
        return sum(bar.offcut * bar.count for c in cuttings for bar in c.bars) / bought if bought else 0.0

    @property
    def cost(self) -> float | None:
        """Of all items that have a price, spare and whole packs included; None where none has one.

        None too with panels of another size than the planner's own, where panels have a price: it is not theirs.
        """
        costs = [line.cost for line in self.plan.stock.takeoff if line.cost is not None]
        return round(sum(costs), 2) if costs else None

    @property
    def unpriced(self) -> tuple[str, ...]:
        return tuple(line.item for line in self.plan.stock.takeoff if line.cost is None)


@dataclass(frozen=True, slots=True)
class _Idea:
    """A wish to try, and its name."""

    name: str
    wish: GridWish


@dataclass(frozen=True, slots=True)
class _Drawn:
    """An idea with the grid it gives, before anything is framed or bought."""

    names: tuple[str, ...]
    wish: GridWish
    layout: Layout
    mains: str


def options_for(brief: Brief) -> tuple[Option, ...]:
    """Plan every sensible layout, the planner's own first; PlannerError when the brief itself cannot be planned."""
    own = plan(brief)
    with pointing_into(brief.document):
        system = load_system(brief.grid.system)
    first, *others = _apart(_drawn(brief, system, idea) for idea in _ideas(brief, system, own))
    least = _smallest_border(brief.room, first.layout)
    planned = [
        Option(
            each.names, plan(_compared(brief, each.wish, own)), hidden=reach_of(brief.room, each.wish, system).hidden
        )
        for each in others
        if _lies(_smallest_border(brief.room, each.layout), least, system)
    ]
    hidden = reach_of(brief.room, brief.grid, system).hidden
    return (Option(first.names, own, taken=True, hidden=hidden), *planned, *_uncut(brief, system, own))


def _ideas(brief: Brief, system: System, own: Plan) -> Iterator[_Idea]:
    """All there is to try, the brief's own wish first."""
    wish = brief.grid
    plain = replace(wish, borders=(), centre_on=None, prefer="widest_borders", uncut=False)
    yield _Idea(_own_name(wish), wish)
    yield _Idea(said("balanced"), plain)
    yield _Idea(said("fewest modules"), replace(plain, prefer="fewest_panels"))
    yield from _centred(own, plain)
    yield from _full(plain)
    yield from (_Idea(said("mains the other way"), each) for each in _turned_mains(system, own, wish))
    yield from _other_modules(system, own, plain)


def _own_name(wish: GridWish) -> str:
    if wish.uncut:
        return _UNCUT
    if wish.borders or wish.centre_on is not None:
        return said("as asked for")
    return said("balanced") if wish.prefer == "widest_borders" else said("fewest modules")


def _centred(own: Plan, plain: GridWish) -> Iterator[_Idea]:
    """A line or a panel in the middle of the room, for each axis."""
    layout = own.ceiling.layout
    (x, y), (a, b) = _extent(own.room, layout).centre, layout.module
    for along, away in product(("panel", "line"), repeat=2):
        point = (x + (a / 2 if along == "line" else 0.0), y + (b / 2 if away == "line" else 0.0))
        lying, standing = term(along), term(away)
        name = (
            said("centred on a {line}", line=lying)
            if along == away
            else said("centred: {along} along, {away} away", along=lying, away=standing)
        )
        yield _Idea(name, replace(plain, centre_on=layout.frame.outward(point)))


def _full(plain: GridWish) -> Iterator[_Idea]:
    """Whole panels at one wall or at two that meet."""
    sides: tuple[Side, ...] = ("left", "right", "front", "back")
    both = ((across, away) for across in sides[:2] for away in sides[2:])
    for some in (*((side,) for side in sides), *both):
        yield _Idea(said("full {sides}", sides=linked(map(term, some))), replace(plain, borders=_whole(some)))


def _whole(sides: Iterable[Side]) -> Borders:
    """The wish for whole panels along some walls."""
    return tuple((side, "full") for side in sides)


def _turned_mains(system: System, own: Plan, wish: GridWish) -> Iterator[GridWish]:
    """The wish with main tees the other way, where the cross tees can span that."""
    module = own.ceiling.layout.module
    if own.ceiling.mains == "across" and system.main_step(*module) is not None:
        yield replace(wish, mains="along")
    if own.ceiling.mains == "along" and system.main_step(*module[::-1]) is not None:
        yield replace(wish, mains="across")


def _other_modules(system: System, own: Plan, plain: GridWish) -> Iterator[_Idea]:
    """Every other module, both ways round, with main tees each way that the cross tees can span."""
    ways = dict.fromkeys(way for module in system.modules for way in (module, module[::-1]))
    for way in ways:
        if math.dist(way, own.ceiling.layout.module) > TOLERANCE_MM:
            if system.main_step(*way) is not None:
                yield _Idea(said("balanced"), replace(plain, module=way, mains="along"))
            if system.main_step(*way[::-1]) is not None:
                yield _Idea(said("balanced"), replace(plain, module=way, mains="across"))


def _drawn(brief: Brief, system: System, idea: _Idea) -> _Drawn:
    reach = reach_of(brief.room, idea.wish, system)
    layout = lay_out(reach.room, reach.wish or idea.wish, system, centred_points(brief.services))
    return _Drawn((idea.name,), idea.wish, layout, choose_mains(reach.room, layout, system, idea.wish).direction)


def _apart(ideas: Iterable[_Drawn]) -> list[_Drawn]:
    """Put layouts that come out alike together under all their names."""
    found: list[_Drawn] = []
    for idea in ideas:
        twin = next((k for k, known in enumerate(found) if _alike(known, idea)), None)
        if twin is None:
            found.append(idea)
        else:
            names = dict.fromkeys((*found[twin].names, *idea.names))
            found[twin] = replace(found[twin], names=tuple(names))
    return found


def _alike(one: _Drawn, other: _Drawn) -> bool:
    """Whether all lines of two grids lie on each other and the mains run the same way; the system is the same."""
    a, b = one.layout, other.layout
    if one.mains != other.mains or one.wish.uncut != other.wish.uncut or math.dist(a.module, b.module) > TOLERANCE_MM:
        return False
    off = zip(a.frame.inward(b.frame.origin), a.module, strict=True)
    return all(abs(math.remainder(shift, side)) <= _ALIKE_MM for shift, side in off)


def _lies(border: float | None, own: float | None, system: System) -> bool:
    """Whether a layout's smallest border reaches beyond the ledge, or is at least as wide as the planner's own."""
    return border is None or own is None or border > min(own - _ALIKE_MM, system.ledge)


def _compared(brief: Brief, wish: GridWish, own: Plan) -> Brief:
    """The brief with another wish for the grid, to be planned quickly; prices are for panels of the own size alone."""
    stock = replace(brief.stock, budget_s=min(brief.stock.budget_s, QUICK_S))
    if wish.module is not None and sorted(wish.module) != sorted(own.ceiling.layout.module):
        of_panels = [[(item, n) for item, n in some if item != PANEL] for some in (stock.packs, stock.on_hand)]
        prices = () if PANEL in dict(stock.prices) else stock.prices
        packs, on_hand = map(tuple, of_panels)
        stock = replace(stock, prices=prices, packs=packs, on_hand=on_hand, panels_per_carton=None)
    return replace(brief, grid=wish, stock=stock)


def _smallest_border(room: Room, layout: Layout) -> float | None:
    walls = zip(room.walls, layout.borders, strict=True)
    return min((border.least for wall, border in walls if _along(layout, wall.start, wall.end)), default=None)


def _extent(room: Room, layout: Layout) -> Box:
    return box_of(map(layout.frame.inward, room.outline))


def _along(layout: Layout, start: Point, end: Point) -> bool:
    """Whether a wall lies along the grid, as the rules about borders take it."""
    (x0, y0), (x1, y1) = layout.frame.inward(start), layout.frame.inward(end)
    off = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 90.0
    return min(off, 90.0 - off) <= SLANTED_DEG


def _uncut(brief: Brief, system: System, own: Plan) -> Iterator[Option]:
    """Whole panels that stop short of two opposite walls by less than the ledge hides (`planner.ceiling.ledge`).

    What the other axis leaves open is balanced.
    """
    layout = own.ceiling.layout
    if not stands_straight(brief.room, layout.frame):
        return
    for way in dict.fromkeys((layout.module, *(w for m in system.modules for w in (m, m[::-1])))):
        hidden = hidden_parts(_extent(brief.room, layout), way, system)
        if any(hidden) and not (brief.grid.uncut and way == layout.module):
            mains = brief.grid.mains if way == layout.module else "auto"
            wish = replace(brief.grid, module=way, mains=mains, borders=(), centre_on=None, uncut=True)
            yield Option((_UNCUT,), plan(_compared(brief, wish, own)), hidden=hidden)
