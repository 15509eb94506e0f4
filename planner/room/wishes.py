"""What is wanted in the room: the grid, the services and how material is bought.

In: keys of a room file, and the room with its columns. Out: `GridWish`, `ServiceWish`es, `StockWish`, with faults.
Rule: a service stands inside the room and in no column; an array is spread evenly over the room's box, half a step from
the walls, and what would fall outside the room or into a column is left out and told in a finding.
"""

from collections.abc import Iterator, Sequence
from pathlib import PurePath
from typing import Literal

from shapely import Polygon, contains_xy, prepare

from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring
from planner.lengths import format_length, spoken_length
from planner.naming import names_told
from planner.room.brief import ExtraWish, GridWish, LabourWish, ServiceWish, StockWish
from planner.room.grid_keys import GridKeys, UncutBorders
from planner.room.naming import names_of, unused
from planner.room.outline import Room
from planner.room.outlines import placed
from planner.room.schema import ArrayKeys, ServiceKeys
from planner.room.service_kinds import KINDS
from planner.room.stock_keys import StockKeys
from planner.room.walk import Walk
from planner.sayings import joined, said, term
from planner.wording import Fault
from planner.yaml_text import Path

Side = Literal["left", "right", "front", "back"]
#: A module smaller than this was read in the wrong unit.
SMALLEST_MODULE_MM = 50.0

#: Of the places of an array where nothing can stand so many are told one by one.
MOST_LOST = 6

SIDES: tuple[Side, ...] = ("left", "right", "front", "back")


class Floor:
    """Where a service can be: inside the outline, in no column."""

    def __init__(self, room: Room) -> None:
        self._room = room
        self._outline = Polygon(room.outline).buffer(TOLERANCE_MM, join_style="mitre")
        self._columns = [(c.name, Polygon(c.outline).buffer(-TOLERANCE_MM)) for c in room.columns]
        prepare(self._outline)

    def obstacle(self, point: Point) -> str:
        """Say what keeps a service from standing at a point of the room frame; nothing when it can."""
        if not contains_xy(self._outline, *point):
            return "is outside the room"
        return next((f"is in column {name}" for name, column in self._columns if contains_xy(column, *point)), "")

    def spread(self, array: ArrayKeys) -> list[Point]:
        """Spread services over the room's box, row by row from the base wall; not all places need be in the room."""
        box = self._room.box
        xs = [box.left + box.width * (k + 0.5) / array.columns for k in range(array.columns)]
        ys = [box.bottom + box.height * (k + 0.5) / array.rows for k in range(array.rows)]
        return [(x, y) for y in ys for x in xs]


def wish_services(
    keys: Sequence[ServiceKeys], numbers: Sequence[int], room: Room, frame: Frame
) -> tuple[tuple[ServiceWish, ...], list[Fault], tuple[Finding, ...]]:
    """Name and place the services; `numbers` are their entries in the file, `frame` says where the room lies in it.

    The findings tell of the places of arrays where nothing can stand.
    """
    single = [key.name if key.array is None else None for key in keys]
    _, faults = names_of(single, "", [("services", n) for n in numbers])
    taken = {name for name in single if name is not None}
    floor, wishes, findings = Floor(room), list[ServiceWish](), list[Finding]()
    for key, number in zip(keys, numbers, strict=True):
        path: Path = ("services", number)
        if key.array is not None:
            spread = floor.spread(key.array)
            held = [(point, obstacle) for point in spread if (obstacle := floor.obstacle(point))]
            taken_up = {point for point, _ in held}
            points = [point for point in spread if point not in taken_up]
            if not points:
                faults.append(Fault((*path, "array"), "none of the array is inside the room.", "Use at or near."))
            fresh = unused(key.name or KINDS[key.kind].prefix, taken)
            made = [_wish(key, next(fresh), path, near=point) for point in points]
            wishes += made
            if made:
                findings += _lost(key, len(spread), [wish.name for wish in made], held, room)
            continue
        name = key.name or next(unused(KINDS[key.kind].prefix, taken))
        point = placed(key.at or key.near or (0.0, 0.0), frame)
        if obstacle := floor.obstacle(point):
            place = (*path, "at" if key.at else "near")
            mend = _reach(room, frame) if "outside" in obstacle else "Check both places."
            faults.append(Fault(place, f"{name} {obstacle}.", mend))
        wishes.append(_wish(key, name, path, at=point) if key.at else _wish(key, name, path, near=point))
    return tuple(wishes), faults, tuple(findings)


def _lost(
    key: ServiceKeys, spread: int, names: Sequence[str], lost: Sequence[tuple[Point, str]], room: Room
) -> Iterator[Finding]:
    """The places of an array where nothing can stand, and so nothing is built (common practice, no source)."""
    if not lost:
        return
    outside = sum("outside" in obstacle for _, obstacle in lost)
    text = said(
        "Array of {all} ({kind}): {planned} planned ({names}), {lost} left out ({where}): {places}.",
        all=spread,
        kind=term(KINDS[key.kind].label.lower()),
        planned=len(names),
        names=names_told(names),
        lost=len(lost),
        where=_lies(outside, len(lost)),
        places=_places_said(room, [point for point, _ in lost]),
    )
    remedy = said(
        "An array is spread over the rectangle round the whole room: give what is still needed by near:, one by one, "
        "or choose other columns and rows."
    )
    yield Finding("warn", "array beyond the room", "common practice, no source", text, lost[0][0], remedy)


def _lies(outside: int, lost: int) -> str:
    if outside == lost:
        return said("outside the room")
    return said("outside the room or in columns") if outside else said("in columns")


def _places_said(room: Room, points: Sequence[Point]) -> str:
    """Places as a tape finds them from the reference corner; the first few only."""
    pairs = (joined((spoken_length(at, room.units) for at in point), ", ") for point in points[:MOST_LOST])
    rest = len(points) - MOST_LOST
    more = said("; {rest} more", rest=rest) if rest > 0 else ""
    return said("along {base} and from it {first}{more}", base=room.base, first=joined(pairs, "; "), more=more)


def _wish(key: ServiceKeys, name: str, path: Path, at: Point | None = None, near: Point | None = None) -> ServiceWish:
    return ServiceWish(name, key.kind, key.size, key.diameter, at, near, key.weight, path)


def _reach(room: Room, frame: Frame) -> str:
    """Say how far the room reaches, where the file measures in the room frame."""
    if frame != Frame():
        return "Its centre is given in the coordinates of the points."
    box = room.box
    along, away = format_length(box.right, room.units), format_length(box.top, room.units)
    return f"The room reaches {along} along the base wall and {away} away from it; check the centre."


def wish_grid(keys: GridKeys, walk: Walk, imperial: bool, file: str) -> tuple[GridWish, list[Fault]]:
    """Read the grid as asked for; a system's own file is looked for beside the room file."""
    faults = []
    align = keys.align
    if isinstance(align, str):
        align = walk.wall(align)
        if align is None:
            faults.append(Fault(("grid", "align"), f'there is no wall "{keys.align}".', walk.known_walls()))
    for k, size in enumerate(keys.module or ()):
        if size < SMALLEST_MODULE_MM:
            problem = f"a module of {format_length(size)} is too small."
            faults.append(Fault(("grid", "module", k), problem, 'Check the unit; a module is 24" or 600 mm, say.'))
    sides = keys.borders
    centre = placed(sides.centre_on, walk.frame) if sides.centre_on else None
    if centre is not None and not _inside(walk.outline, centre):
        mend = "Give the point that panels are centred on, in the coordinates of services."
        faults.append(Fault(("grid", "borders", "centre_on"), "this point is outside the room.", mend))
    return GridWish(
        system=_system(keys.system, imperial, file),
        module=keys.module,
        mains=keys.mains,
        align=align,
        borders=tuple((side, border) for side in SIDES if (border := getattr(sides, side)) is not None),
        centre_on=centre,
        uncut=isinstance(sides, UncutBorders),
        prefer=keys.prefer,
        panel_kg_m2=keys.panel_weight,
        hanger_spacing=keys.hanger_spacing,
        panel_edge=keys.panel_edge,
        panel_turns=keys.panel_turns,
    ), faults


def _inside(outline: Ring, point: Point) -> bool:
    return bool(contains_xy(Polygon(outline).buffer(TOLERANCE_MM, join_style="mitre"), *point))


def _system(name: str | None, imperial: bool, file: str) -> str:
    if name is None:
        return "lay-in-imperial" if imperial else "lay-in-metric"
    own_file = name.endswith((".yaml", ".yml")) or "/" in name
    return str(PurePath(file).parent / name) if own_file else name


def wish_stock(keys: StockKeys) -> StockWish:
    """Read how material is bought; prices and packs of extras stand with the others."""
    extras = keys.extras
    labour = keys.labour
    return StockWish(
        panels_per_carton=keys.panels_per_carton,
        spare=keys.spare,
        saw_kerf=keys.saw_kerf,
        prices=(*keys.prices.items(), *((each.item, each.price) for each in extras if each.price is not None)),
        packs=(*keys.packs.items(), *((each.item, each.pack) for each in extras if each.pack is not None)),
        on_hand=tuple(keys.on_hand.items()),
        currency=keys.currency,
        spare_pieces=tuple(keys.spare_pieces.items()),
        reuse_from=keys.reuse_from,
        long_offcuts=keys.long_offcuts,
        splice_from=keys.splice_from,
        staggered_splices=keys.staggered_splices,
        border_tees_from_longer=keys.border_tees_from_longer,
        budget_s=keys.budget,
        for_owner=tuple(keys.leave_with_owner.items()),
        extras=tuple(ExtraWish(each.item, each.count, each.weight) for each in extras),
        labour=LabourWish() if labour is None else LabourWish(tuple(labour.each.items()), labour.hour),
        tax=keys.tax,
        tax_on=keys.tax_on,
    )
