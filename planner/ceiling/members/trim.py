"""Wall angle: along every wall and round every column, where the ceiling really meets it.

In: a room and the angle as sold. Out: members, one for each wall (W1, W2, ... in the room's order), one for each side
of a column and one right round a round column, named after the column; none round pipes (see `pipes`).
Lengths are as measured: corners are mitred or butted. (NAVEDTRA 14044 p. 5-17 overlaps or mitres them, other guides say
butt.) Where a chase stands against a wall or another column, neither is trimmed behind it. Along a bowed wall the angle
follows the arc and is as long as that.
"""

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

import shapely

from planner.arcs import Arc, arc_length, bulge_from_sweep
from planner.ceiling.members.pipes import pipes, touching
from planner.ceiling.members.runs import angle_run, in_parts
from planner.ceiling.model import Member
from planner.ceiling.system import Tee
from planner.geometry import TOLERANCE_MM, Point, distance, edges, midpoint
from planner.room.brief import StockWish
from planner.room.outline import Column, Room, Wall
from planner.runs.job import Bar
from planner.runs.splices import spliced
from planner.runs.tenths import kerf_tenths, tenths

Side = tuple[Point, Point]
Stretch = tuple[Point, Point, float]  #: from, to, bulge

#: The outlines of a bowed wall and of what stands against it are chords, each within 0.1 mm of the same arc.
_CHORDS_OFF_MM = 0.25
#: The id of trim along a wall: its number in the room's order, lettered where something interrupts it.
_OF_A_WALL = re.compile(r"W([0-9]+)(?:[a-z]|\.[0-9]+)?$")
#: A column that hides less of a bowed wall than this only touches it.
_TOUCHED_MM = 5.0


def trim(room: Room, angle: Tee) -> tuple[Member, ...]:
    """Every length of wall angle of a room."""
    walls = list(edges(room.outline))
    rings = [walls, *(list(edges(column.outline)) for column in room.columns)]
    touched = touching(room)
    hidden_by = [[side for other in others for side in rings[other]] for others in touched]
    bows = [shapely.LineString(wall.points) for wall in room.walls if wall.arc is not None]
    against = [room.columns[k - 1] for k in touched[0]]
    members: list[Member] = []
    for k, wall in enumerate(room.walls, 1):
        members += _sides(f"W{k}", _bare_wall(wall, hidden_by[0], against), angle)
    bare = pipes(room)
    for column, hiding in zip(room.columns, hidden_by[1:], strict=True):
        members += () if column in bare else _round_column(column, hiding, bows, angle)
    return tuple(members)


def trim_along(name: str, room: Room) -> Wall | Column | None:
    """What the trim of an id runs along, as `trim` named it; None where the id is no such."""
    column = _column_of(name, room)
    if column is not None:
        return column
    found = _OF_A_WALL.match(name)
    number = int(found[1]) if found else 0
    return room.walls[number - 1] if 0 < number <= len(room.walls) else None


def trim_place(name: str, room: Room) -> str:
    """The name of the wall or column along which the trim of an id runs; empty where the id is no such."""
    along = trim_along(name, room)
    return "" if along is None else along.name


def follows_arc(member: Member, room: Room) -> bool:
    """Whether trim runs along a bowed wall or right round a round column, so that no straight length fits."""
    column = _column_of(member.id, room)
    return bool(member.bulge) or (column is not None and column.diameter is not None)


def bent_places(members: Iterable[Member], room: Room) -> tuple[str, ...]:
    """The walls and columns with trim that follows an arc, each once, in the order of the trim."""
    bent = (member for member in members if member.kind in ("wall angle", "track") and follows_arc(member, room))
    return tuple(dict.fromkeys(trim_place(member.id, room) for member in bent))


def _column_of(name: str, room: Room) -> Column | None:
    own = re.compile(r"W(.+?)(?:-[0-9]+(?:[a-z]|\.[0-9]+)?)?")
    found = own.fullmatch(name)
    names = {f"W{column.name}": column for column in room.columns}
    return names.get(name) or (names.get(f"W{found[1]}") if found else None)


def spliced_trim(members: Iterable[Member], angle: Tee, wish: StockWish) -> tuple[Member, ...]:
    """The members with their trim in parts, where the wish allows it to be spliced anywhere to save bars."""
    members = tuple(members)
    if wish.splice_from is None:
        return members
    trims = [member for member in members if member.kind in ("wall angle", "track")]
    bar = Bar(tenths(angle.length), kerf=kerf_tenths(wish.saw_kerf), reuse=tenths(wish.reuse_from))
    lengths = [member.length for member in trims]
    rows = spliced([tenths(length) for length in lengths], bar, tenths(wish.splice_from))
    pieces = {
        trims[k].id: in_parts([part / 10 for part in row], lengths[k], angle) for k, row in enumerate(rows) if row
    }
    return tuple(replace(member, pieces=pieces.get(member.id, member.pieces)) for member in members)


def _round_column(column: Column, hiding: list[Side], bows: list[shapely.LineString], angle: Tee) -> Iterator[Member]:
    """The trim of one column: a side at a time, or right round when it is round."""
    if column.diameter is not None:
        at = column.outline[0]
        yield Member(f"W{column.name}", "wall angle", at, at, angle_run(math.pi * column.diameter, angle))
        return
    for k, side in enumerate(edges(column.outline), 1):
        if _on_bow(side, bows):
            continue
        yield from _sides(f"W{column.name}-{k}", [(a, b, 0.0) for a, b in _bare(side, hiding)], angle)


def _on_bow(side: Side, bows: list[shapely.LineString]) -> bool:
    """True for a side, or a chord of one, that lies on a bowed wall."""
    spots = [shapely.Point(p) for p in (*side, midpoint(*side))]
    return any(all(bow.distance(spot) <= _CHORDS_OFF_MM for spot in spots) for bow in bows)


def _sides(name: str, stretches: list[Stretch], angle: Tee) -> Iterator[Member]:
    """Members along the stretches of one wall; lettered where something interrupts it."""
    for k, (start, end, bulge) in enumerate(stretches):
        letter = chr(ord("a") + k) if 1 < len(stretches) <= 26 else f".{k + 1}" if len(stretches) > 26 else ""
        pieces = angle_run(arc_length(start, end, bulge), angle)
        yield Member(name + letter, "wall angle", start, end, pieces, bulge)


def _bare_wall(wall: Wall, others: list[Side], columns: list[Column]) -> list[Stretch]:
    """What is left of a wall, straight or bowed, where no column stands against it."""
    arc = wall.arc
    if arc is None:
        return [(a, b, 0.0) for a, b in _bare((wall.start, wall.end), others)]
    if not columns:
        return [(wall.start, wall.end, wall.bulge)]
    line = shapely.LineString(wall.points)
    behind = shapely.union_all([shapely.Polygon(column.outline).buffer(_CHORDS_OFF_MM) for column in columns])
    parts = [part for part in shapely.get_parts(line.difference(behind)) if part.length > TOLERANCE_MM]
    free = [sorted(line.project(shapely.Point(part.coords[end])) for end in (0, -1)) for part in parts]
    stretches: list[tuple[float, float]] = []
    for low, high in sorted(free):
        if stretches and low - stretches[-1][1] < _TOUCHED_MM:  # only touched there
            low = stretches.pop()[0]
        stretches.append((low, high))
    return [_bowed(arc, _at(line, low), _at(line, high)) for low, high in stretches]


def _at(line: shapely.LineString, along: float) -> Point:
    point = line.interpolate(along)
    return (point.x, point.y)


def _bowed(arc: Arc, start: Point, end: Point) -> Stretch:
    """The part of an arc from near one point to near another."""
    a, b = (math.degrees(math.atan2(y - arc.centre[1], x - arc.centre[0])) for x, y in (start, end))
    sweep = (b - a) % 360.0 if arc.sweep_deg > 0 else -((a - b) % 360.0)
    ends = (_on(arc, start), _on(arc, end))
    return (*ends, bulge_from_sweep(sweep))


def _on(arc: Arc, near: Point) -> Point:
    """The point of a circle that is nearest."""
    (x, y), away = arc.centre, distance(arc.centre, near)
    return (x + (near[0] - x) * arc.radius / away, y + (near[1] - y) * arc.radius / away)


def _bare(side: Side, others: Iterable[Side]) -> list[Side]:
    """What is left of a side where none of the others lies on it."""
    start, length = side[0], distance(*side)
    if length <= TOLERANCE_MM:
        return []
    along = ((side[1][0] - start[0]) / length, (side[1][1] - start[1]) / length)
    covered = sorted(span for other in others if (span := _span_on(start, along, other)) is not None)
    stretches, free = [], 0.0
    for low, high in [*covered, (length, length)]:
        low = min(low, length)
        if low - free > TOLERANCE_MM:
            ends = (free, low)
            stretches.append(tuple((start[0] + t * along[0], start[1] + t * along[1]) for t in ends))
        free = max(free, high)
    return [(a, b) for a, b in stretches]


def _span_on(start: Point, along: Point, other: Side) -> tuple[float, float] | None:
    """From where to where another side lies on the line through `start`; None when it does not."""
    spots = [(x - start[0], y - start[1]) for x, y in other]
    if any(abs(along[0] * y - along[1] * x) > TOLERANCE_MM for x, y in spots):
        return None
    low, high = sorted(along[0] * x + along[1] * y for x, y in spots)
    return (low, high)
