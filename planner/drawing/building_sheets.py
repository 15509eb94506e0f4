"""Sheets for a whole building: what to buy, each room's share and what buying together saves, and the pooled cutting.

In: the rooms' plans, their names, the pool. Out: sheets, numbered; none of what is not cut. The pool is drawn as the
stock of a room made for the purpose: it has the members and the cut panels of all, each id with its room before it, and
every panel lies in its own grid's directions, as panels of different rooms share a bought one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from planner.ceiling.model import CutOut, Panel
from planner.drawing import words
from planner.drawing.cutting_bars import bar_stacks
from planner.drawing.cutting_panels import panel_stacks
from planner.drawing.cutting_patterns import Lot, along, lots
from planner.drawing.cutting_sheets import KEY, NARROWEST, PANELS_KEY, tallest_panel
from planner.drawing.labels import Heights
from planner.drawing.list_sheets import ListSubject, list_sheets
from planner.drawing.lists import order_list
from planner.drawing.place import Place
from planner.drawing.schedules import SCHEDULES
from planner.drawing.shapes import Sheet
from planner.drawing.stop_band import stops
from planner.drawing.stylebook import Style
from planner.drawing.tables import Stack, compact_table, table
from planner.drawing.wish import SheetWish, refuse_too_many
from planner.geometry import Frame
from planner.pairs.lots import joined
from planner.planning import Plan
from planner.records import dataclass
from planner.stock.model import Cutting, Stock
from planner.stock.pool import Pool, own_suffix

ORDER_KEY = "order"
#: So many rooms stand side by side in a table.
_ABREAST = 4


@dataclass(frozen=True, slots=True)
class Rooms:
    """A building's rooms: plans, and the names that stand before their pieces' ids, in the same order."""

    building: str
    plans: tuple[Plan, ...]
    names: tuple[str, ...]
    counts: tuple[int, ...] = ()  #: how many sheets each room has of its own; () = not drawn


def building_sheets(rooms: Rooms, pool: Pool, style: Style, wish: SheetWish) -> tuple[Sheet, ...]:
    """The wished ones of the building's own sheets; PlannerError when the paper is not known, or for too many."""
    whole = as_one(rooms, Stock((), pool.takeoff, None, pool.bill))
    with words.speaking(whole.room, wish):
        stop = _stop_said(rooms)
        subjects = [
            replace(subject, stop=stop)
            for key, subject in _subjects(rooms, pool, whole, style, wish)
            if not wish.sheets or key in wish.sheets
        ]
        kept = [(subject, dict[Any, Any]()) for subject in subjects]
        count = sum(len(list_sheets(whole, style, wish, Place(kept=known), subject)) for subject, known in kept)
        refuse_too_many(count, wish)
        sheets: list[Sheet] = []
        for subject, known in kept:
            sheets += list_sheets(whole, style, wish, Place(len(sheets) + 1, count, kept=known), subject)
    return tuple(sheets)


def _stop_said(rooms: Rooms) -> str:
    """In which rooms a finding says stop."""
    named = [plan.room.name for plan in rooms.plans if stops(plan.findings)]
    return words.say("stop.rooms", rooms=", ".join(named)) if named else ""


def _subjects(
    rooms: Rooms, pool: Pool, whole: Plan, style: Style, wish: SheetWish
) -> Iterator[tuple[str, ListSubject]]:
    """Each kind of sheet, with the key by which one asks for it."""
    heights = Heights.of(style)
    units, imperial = whole.room.units, whole.room.imperial
    found = [lot for group in _by_system(rooms, pool) for lot in group]
    panels = [replace(whole, stock=Stock((), (), cutting)) for cutting in pool.panels]
    tall = tallest_panel(style, wish, whole.room.project)

    def order(width: float) -> Sequence[Stack]:
        return tuple(_order(rooms, pool, whole, width, heights))

    def bars(width: float) -> Sequence[Stack]:
        return bar_stacks(found, units, imperial, width, heights)

    def cut_panels(width: float) -> Sequence[Stack]:
        return tuple(stack for each in panels for stack in panel_stacks(each, width, tall, heights))

    drawn = words.say("sheets.as drawn")
    yield SCHEDULES, ListSubject(ORDER_KEY, words.say("building.order"), "", order)
    yield KEY, ListSubject(KEY, words.say("sheets.cutting bars"), "", bars, NARROWEST, drawn)
    yield KEY, ListSubject(PANELS_KEY, words.say("sheets.cutting panels"), "", cut_panels, NARROWEST, drawn)


def _order(rooms: Rooms, pool: Pool, whole: Plan, width: float, heights: Heights) -> Iterator[Stack]:
    """What to buy, what that saves, how much of it goes to each room, and where the rooms' own sheets are."""
    bought = order_list(whole, width, heights)
    if bought is not None:
        yield bought
    saved = [(words.named(s.item), str(s.alone), str(s.pooled), str(s.saved)) for s in pool.savings if s.saved]
    heads = words.row("building.saving heads")
    nothing = () if saved else (words.say("building.saves nothing"),)
    yield table(words.say("building.savings"), "lrrr", heads if saved else (), saved, width, heights, nothing)
    for k in range(0, len(rooms.names), _ABREAST):
        yield _shares(rooms, pool, slice(k, k + _ABREAST), width, heights)
    yield _rooms(rooms, width, heights)


def _shares(rooms: Rooms, pool: Pool, some: slice, width: float, heights: Heights) -> Stack:
    """What each of some rooms takes of every item by itself, and its part of what all take so."""
    names = rooms.names[some]
    mine = {(share.item, share.room): share for share in pool.shares if share.room in names}
    rows = []
    for item in dict.fromkeys(item for item, _ in mine):
        own = (mine.get((item, name)) for name in names)
        rows.append((words.named(item), *(f"{share.alone} ({share.part:.0%})" if share else "" for share in own)))
    heads = (words.say("building.share item"), *(plan.room.name for plan in rooms.plans[some]))
    return table(words.say("building.shares"), "l" + "r" * len(names), heads, rows, width, heights)


def _rooms(rooms: Rooms, width: float, heights: Heights) -> Stack:
    """Every room with the file of its sheets, how many these are, and whether a finding stops it."""
    counts = rooms.counts or (0,) * len(rooms.plans)
    rows = [
        (
            plan.room.name,
            f"{folder}/sheets.pdf",
            str(count or ""),
            words.say("stop.status") if stops(plan.findings) else "",
        )
        for plan, folder, count in zip(rooms.plans, rooms.names, counts, strict=True)
    ]
    heads = words.row("building.room heads")
    return compact_table(words.say("building.rooms"), "llrl", heads, rows, width, heights)


def _by_system(rooms: Rooms, pool: Pool) -> Iterator[Sequence[Lot]]:
    """The bars of each kind of grid, as they would be cut for one room of that kind."""
    systems = list(dict.fromkeys(plan.ceiling.system.name for plan in rooms.plans))
    for system in systems:
        mine = [k for k, plan in enumerate(rooms.plans) if plan.ceiling.system.name == system]
        suffix = own_suffix(system) if len(systems) > 1 else ""
        cuttings = [
            replace(cutting, item=cutting.item.removesuffix(suffix))
            for cutting in pool.cutting
            if cutting.item.endswith(suffix)
        ]
        group = Rooms(rooms.building, tuple(rooms.plans[k] for k in mine), tuple(rooms.names[k] for k in mine))
        found = lots(as_one(group, Stock(tuple(cuttings), ())))
        yield [replace(_placed(lot, group), cutting=_named(lot.cutting, suffix)) for lot in found]


def _placed(lot: Lot, rooms: Rooms) -> Lot:
    """A lot with the walls of all rooms that its trim runs along."""
    places: list[tuple[str, str]] = []
    curved: list[str] = []
    for name, plan in zip(rooms.names, rooms.plans, strict=True):
        found, bent = along(lot.cutting.item, plan.ceiling.members, plan.room)
        places += [(f"{name} {own}", f"{plan.room.name} {place}") for own, place in found]
        curved += [f"{name} {own}" for own in bent]
    return replace(lot, places=tuple(places), curved=tuple(curved))


def _named(cutting: Cutting, suffix: str) -> Cutting:
    return replace(cutting, item=cutting.item + suffix)


def as_one(rooms: Rooms, stock: Stock) -> Plan:
    """A plan with the members and cut panels of all rooms, named as their pieces are in the pool."""
    first = rooms.plans[0]
    each = list(zip(rooms.names, rooms.plans, strict=True))
    members = [replace(member, id=f"{name} {member.id}") for name, plan in each for member in plan.ceiling.members]
    panels = [
        _laid_straight(replace(panel, id=f"{name} {panel.id}"), plan.ceiling.layout.frame)
        for name, plan in each
        for panel in plan.ceiling.panels
    ]
    layout = replace(first.ceiling.layout, frame=Frame())
    chosen = [tees for plan in rooms.plans if (tees := plan.ceiling.border_tees) is not None]
    tees = replace(chosen[0], shared=joined([each.shared for each in chosen])) if chosen else None
    ceiling = replace(first.ceiling, members=tuple(members), panels=tuple(panels), layout=layout, border_tees=tees)
    findings = tuple(finding for plan in rooms.plans for finding in plan.findings)
    room = replace(first.room, name=rooms.building)
    return replace(first, room=room, ceiling=ceiling, stock=stock, findings=findings)


def _laid_straight(panel: Panel, frame: Frame) -> Panel:
    """The panel in the directions of its own grid."""

    def hole(cut: CutOut) -> CutOut:
        return replace(cut, centre=frame.inward(cut.centre))

    return replace(
        panel,
        outline=tuple(map(frame.inward, panel.outline)),
        holes=tuple(tuple(map(frame.inward, ring)) for ring in panel.holes),
        cutouts=tuple(map(hole, panel.cutouts)),
    )
