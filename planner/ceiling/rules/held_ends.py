"""Which tees the walls that tee ends are fixed to do not hold, and whether walls to fix tees to are named for nothing.

In: a `Built`. Out: findings. Rule: ASTM E580 s. 5, second hand: in categories D to F tee ends are fixed at two walls
that meet, so that every tee is held at one end. In a room with an inner corner some tees meet neither of the two. A
further wall holds them; it is named where no other tee would then be fixed at both ends (common practice, no source).
Columns hold nothing and are no end: the grid goes on beside them.
"""

from collections.abc import Iterator, Sequence

import shapely

from planner.ceiling.members.free_ends import perimeter_of
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.seismic import E580
from planner.findings import Finding, placed
from planner.geometry import Point, midpoint
from planner.naming import names_told
from planner.records import dataclass
from planner.room.outline import Room
from planner.sayings import linked, said

#: A tee end is at a wall that is nearer than this, be it hidden on a ledge.
_AT_WALL_MM = 25.0


@dataclass(frozen=True, slots=True)
class _Tee:
    """A tee that ends at one wall at least."""

    name: str
    at: Point  #: its middle
    free: tuple[str, ...]  #: walls that it stops short of
    fixed: int  #: how many of its ends are fixed to walls
    loose: bool  #: both its ends are free of walls


def held_at_neither_end(built: Built) -> Iterator[Finding]:
    """Tees between two walls that both are free, with the walls that would hold them (ASTM E580 s. 5, second hand)."""
    ends = perimeter_of(built.room, built.system)
    if ends is None or not ends.fixed:
        return
    tees = _tees(built, ends.fixed)
    loose = [tee for tee in tees if tee.loose]
    added = _walls_more(built.room, tees)
    held = [tee for tee in loose if set(tee.free) & set(added)]
    walls = [wall.name for wall in built.room.walls if wall.name in (*ends.fixed, *added)]
    if held:
        remedy = said(
            "Add {added} to fixed_walls, which then reads [{walls}]; the local building office decides.",
            added=linked(added),
            walls=", ".join(walls),
        )
        yield _finding(held, ends.fixed, remedy)
    if rest := [tee for tee in loose if tee not in held]:
        remedy = said(
            "No further wall holds them without fixing other tees at both ends: ask the local building office, or an "
            "engineer."
        )
        yield _finding(rest, ends.fixed, remedy)


def fixed_walls_for_nothing(built: Built) -> Iterator[Finding]:
    """Walls to fix tee ends to are named where tee ends are fixed at none (ASTM E580 s. 5, second hand)."""
    ends, named = perimeter_of(built.room, built.system), built.room.site.fixed_walls
    if named and (ends is None or not ends.fixed):
        text = said(
            "fixed_walls names {walls} for nothing: tee ends are fixed at walls only in hung ceilings of seismic "
            "categories D to F.",
            walls=linked(named),
        )
        remedy = said("Correct the category, or leave fixed_walls out.")
        yield Finding("note", "walls to fix tees to", E580, text, None, remedy)


def _finding(tees: Sequence[_Tee], fixed: Sequence[str], remedy: str) -> Finding:
    text = said(
        "Held at neither end, as {fixed} are the walls that tee ends are fixed at: {tees}.",
        fixed=linked(fixed),
        tees=names_told([tee.name for tee in tees], in_order=True),
    )
    return placed(Finding("warn", "tees held at no end", E580, text, None, remedy), (tee.at for tee in tees))


def _tees(built: Built, fixed: Sequence[str]) -> list[_Tee]:
    """Every tee with the walls that it ends at; one that ends at a column is not among them."""
    members = [member for member in built.members if member.kind in ("main tee", "cross tee")]
    points = [point for member in members for point in member.wall_to_wall]
    at = _walls_at(built.room, points)
    tees = []
    for k, member in enumerate(members):
        sides = list(zip(at[2 * k : 2 * k + 2], member.gaps, strict=True))
        fast = sum(wall in fixed for wall, _ in sides)  # a little short of it too, on its ledge
        open_ends = [wall for wall, gap in sides if gap and wall not in fixed]
        free = tuple(wall for wall in open_ends if wall)
        if len(free) == len(open_ends):
            tees.append(_Tee(member.id, midpoint(*member.wall_to_wall), free, fast, len(free) == 2))
    return tees


def _walls_at(room: Room, points: Sequence[Point]) -> list[str]:
    """The wall that each point is at; empty for none, and for a column."""
    lines = [shapely.LineString(wall.points) for wall in room.walls]
    lines += [shapely.LinearRing(column.outline) for column in room.columns]
    names = [wall.name for wall in room.walls] + [""] * len(room.columns)
    found = [""] * len(points)
    near, side = shapely.STRtree(lines).query_nearest(shapely.points(points), _AT_WALL_MM, all_matches=False)
    for k, line in zip(near.tolist(), side.tolist(), strict=True):
        found[k] = names[line]
    return found


def _walls_more(room: Room, tees: Sequence[_Tee]) -> tuple[str, ...]:
    """The fewest walls, nearly, that hold loose tees and fix no tee at both ends: always that which holds most."""
    loose = [set(tee.free) for tee in tees if tee.loose]
    taken = {wall for tee in tees if tee.fixed for wall in tee.free}
    added: list[str] = []
    while loose:
        count = {wall.name: sum(wall.name in free for free in loose) for wall in room.walls if wall.name not in taken}
        best = max(count, key=lambda name: count[name], default="")
        if not best or not count[best]:
            break
        added.append(best)
        taken |= {best, *(wall for free in loose if best in free for wall in free)}
        loose = [free for free in loose if best not in free]
    return tuple(wall.name for wall in room.walls if wall.name in added)
