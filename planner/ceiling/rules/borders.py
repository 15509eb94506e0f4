"""Rules about the panels at the walls, and about what every panel rests on.

In: a `Built`. Out: findings.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import shapely

from planner.arcs import arc_middle
from planner.ceiling.grid.axis import SLACK_MM
from planner.ceiling.holding.overhead import names_said
from planner.ceiling.members.hidden import LEAST_BEARING_MM
from planner.ceiling.members.pipes import pipes
from planner.ceiling.model import Border
from planner.ceiling.rules.built import PRACTICE, Built
from planner.ceiling.rules.tees_beside import on_ledges
from planner.ceiling.system import System
from planner.findings import Finding, Severity, placed
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, distance
from planner.lengths import spoken_cut
from planner.records import dataclass
from planner.room.brief import GridWish
from planner.room.outline import Wall
from planner.sayings import joined, linked, said

#: A wall further than this out of line with the grid is a slanted one: its panels run out to nothing anyway.
SLANTED_DEG = 5.0

#: A narrower piece of panel is hard to cut and to lay (common practice, no source).
LEAST_CUT_MM, LEAST_CUT_INCH = 50.0, 2 * 25.4

_ON_TEES, _ON_ANGLE = "{bearing} on the tees", "{bearing} on the wall angle"

_Side = tuple[Point, Point]
_AtWall = tuple[Wall, Border, float]  #: a wall, its border, the module across it


@dataclass(frozen=True, slots=True)
class _Gap:
    """Where two walls face each other across the room."""

    one: Wall
    other: Wall
    width: float  #: at its narrowest
    length: float  #: along the first wall
    middle: Point


def border_under_half(built: Built) -> Iterator[Finding]:
    """Panels at a wall are at least half a module wide.

    NAVEDTRA 14044 p. 7-23 (half-tile rule) and p. 5-16 (equal, and as large as possible); how-to articles and UK notes
    on EN 13964 ask for half a module too. Sources disagree: one project specification is content with 6 in, others do
    not ask for half. A border short of it by less than a tape can tell (`SLACK_MM`) passes, as in the search.
    """
    narrow = [pair for pair in _straight_borders(built) if pair[1].least < pair[2] / 2 - SLACK_MM - TOLERANCE_MM]
    if not narrow:
        return
    text = said("Border under half a module: {widths}.", widths=_widths_said(built, narrow))
    severity, remedy = _narrow_remedy(built)
    told = Finding(severity, "border under half a module", "NAVEDTRA 14044 pp. 5-16, 7-23", text, None, remedy)
    yield placed(told, (_middle(wall) for wall, _, _ in narrow))


def _narrow_remedy(built: Built) -> tuple[Severity, str]:
    """How grave a border under half a module is, and what to do about it."""
    if _placed_by_hand(built.wish):
        return "warn", said("Leave out borders: and centre_on: and the widest borders are found.")
    if built.wish.prefer == "fewest_panels":
        return "warn", said("Leave out prefer: fewest_panels for the widest borders.")
    if not built.layout.proven:
        return "warn", said("Try borders: of your own.")
    remedy = said(
        "By the order of wishes no other place of the grid is better; borders: in the room file overrules that."
    )
    return "note", joined((remedy, built.layout.bargain)) if built.layout.bargain else remedy


def sliver_at_wall(built: Built) -> Iterator[Finding]:
    """Panels at a wall under a quarter of a module look like a mistake and hardly rest on the wall angle.

    Common practice, no source; the quarter is what the layout avoids first. A border short of it by less than a tape
    can tell (`SLACK_MM`) passes, as in the search. A wall that is furred out by its border ends on a line of the grid.
    """
    narrow = _slivers(built)
    if narrow:
        text = said("Sliver under a quarter of a module: {widths}.", widths=_widths_said(built, narrow))
        remedy = (
            said("Leave out borders: and centre_on: and slivers are avoided where they can be.")
            if _placed_by_hand(built.wish)
            else said("Fur each out by so much, and whole panels end there; or choose another module.")
        )
        told = Finding("warn", "sliver at a wall", "common practice, no source", text, None, remedy)
        yield placed(told, (_middle(wall) for wall, _, _ in narrow))


def narrower_than_a_module(built: Built) -> Iterator[Finding]:
    """A room or niche narrower than one module has one cut panel across, whatever the grid does.

    Common practice, no source.
    """
    for gap in _facing(built):
        module = _module_across(built, gap.one)
        if module is not None and gap.width < module - TOLERANCE_MM and gap.length >= module / 4:
            text = said(
                "Between {one} and {other} the room is {width} wide, less than a module of {module}: one cut "
                "panel across.",
                one=gap.one.name,
                other=gap.other.name,
                width=built.said(gap.width),
                module=built.said(module),
            )
            yield Finding("note", "narrower than a module", "common practice, no source", text, gap.middle)


def bearing_on_tee(system: System) -> float:
    """How far a panel that lies in the middle of its module rests on the tee at each side."""
    return (system.tee_face - system.panel_undersize) / 2


def closed_by_ledge(built: Built) -> Iterator[Finding]:
    """Parts of the floor over a ledge of the wall angle alone: no panel is cut for them.

    Common practice, no source: nobody sees from below whether something lies there.
    """
    told = _told_with_tees(built) if built.layout.closed else shapely.Point()
    closed = [
        part for part in built.layout.closed if not shapely.dwithin(told, shapely.Polygon(part.outline), TOLERANCE_MM)
    ]
    if closed:
        named = [(_place(built, part.outline), _inside(part.outline)) for part in closed]
        spots = dict(reversed(named))
        places = names_said(dict.fromkeys(place for place, _ in named))
        text = said("The ledge of the wall angle alone closes the ceiling at {places}: no panel is cut.", places=places)
        remedy = said("Nothing to do: the lists leave these places out, and nobody sees them from below.")
        yield placed(Finding("note", "closed by the wall angle", PRACTICE, text, None, remedy), spots.values())


def _told_with_tees(built: Built) -> shapely.Geometry:
    """Where a tee lies on a ledge or meets a pipe, which is told by itself."""
    around = [shapely.Polygon(pipe.outline) for pipe in pipes(built.room)]
    return shapely.union_all([*around, *(on.stretch for on in on_ledges(built))])


def small_panels(built: Built) -> Iterator[Finding]:
    """Cut panels under two inches wide (`LEAST_CUT_MM`) are hard to cut, and find little to lie on.

    Common practice, no source. A wall along the grid whose whole border is a sliver is told by itself.
    """
    told = _walls_with_slivers(built)
    least = LEAST_CUT_INCH if built.room.imperial else LEAST_CUT_MM
    small = [
        panel
        for panel in built.layout.cut_panels
        if min(panel.cut_to) < least - TOLERANCE_MM
        and not any(shapely.Polygon(panel.outline).distance(line) <= TOLERANCE_MM for line in told)
    ]
    if small:
        sizes = names_said(f"{panel.id} {spoken_cut(panel.cut_to, built.room.units)}" for panel in small)
        text = said("Under {least} wide, hard to cut and to lay: {sizes}.", least=built.said(least), sizes=sizes)
        remedy = said(
            "Move the grid a little with borders: or align:, or fur the place out so that nothing is cut there."
        )
        finding = Finding("note", "sliver of a panel", PRACTICE, text, None, remedy)
        yield placed(finding, (_inside(panel.outline) for panel in small))


def panel_bearing(built: Built) -> Iterator[Finding]:
    """A panel rests on the tees at its sides, and a cut one on the ledge of the wall angle; see `LEAST_BEARING_MM`.

    No source for the least; from memory. On the ledge the whole undersize is taken to lie at the wall.
    """
    system = built.system
    on = {_ON_TEES: bearing_on_tee(system), _ON_ANGLE: system.ledge - system.panel_undersize}
    short = [
        said(template, bearing=built.said(max(0.0, rest)))
        for template, rest in on.items()
        if rest < LEAST_BEARING_MM - TOLERANCE_MM
    ]
    if short:
        text = said(
            "Panels rest {bearings} at each side; {least_bearing} is usual.",
            bearings=linked(short),
            least_bearing=built.said(LEAST_BEARING_MM),
        )
        remedy = said("Cut border panels closely, and check every panel once it lies.")
        yield Finding("note", "bearing of the panels", "from memory; no published least was found", text, None, remedy)


def _slivers(built: Built) -> list[_AtWall]:
    return [pair for pair in _straight_borders(built) if pair[1].least < pair[2] / 4 - SLACK_MM - TOLERANCE_MM]


def _walls_with_slivers(built: Built) -> list[shapely.LineString]:
    return [shapely.LineString(wall.points) for wall, _, _ in _slivers(built)]


def _inside(outline: Ring) -> Point:
    """A point of a small part of the floor."""
    at = shapely.Polygon(outline).representative_point()
    return (at.x, at.y)


def _place(built: Built, outline: Ring) -> str:
    """Where a small part of the floor is: a corner of the room, else a wall, else a column."""
    part, room = shapely.Polygon(outline).buffer(TOLERANCE_MM), built.room
    places: dict[str, shapely.Geometry] = {name: shapely.Point(at) for name, at in room.corners.items()}
    places |= {wall.name: shapely.LineString(wall.points) for wall in room.walls}
    places |= {column.name: shapely.Polygon(column.outline) for column in room.columns}
    return next((name for name, shape in places.items() if part.intersects(shape)), next(iter(places)))


def _straight_borders(built: Built) -> list[_AtWall]:
    """The walls that lie along the grid, save those where the cut is all that the room is wide."""
    gaps = list(_facing(built))
    found = []
    for wall, border in zip(built.room.walls, built.layout.borders, strict=True):
        module = _module_across(built, wall)
        across = min((gap.width for gap in gaps if wall in (gap.one, gap.other)), default=math.inf)
        if module is not None and border.least < across - TOLERANCE_MM:
            found.append((wall, border, module))
    return found


def _module_across(built: Built, wall: Wall) -> float | None:
    """The module's side square to a wall; None when the wall does not lie along the grid.

    A wall that leans or bows by more than half a module does not, as in the search: grid lines cross it, so that its
    panels run out to nothing wherever the grid falls.
    """
    (x0, y0), (x1, y1) = wall.start, wall.end
    off = (math.degrees(math.atan2(y1 - y0, x1 - x0)) - built.layout.frame.angle_deg) % 90
    axis = 1 - round((math.degrees(math.atan2(y1 - y0, x1 - x0)) - built.layout.frame.angle_deg) / 90) % 2
    module, reach = built.layout.module[axis], [built.layout.frame.inward(point)[axis] for point in wall.points]
    leans = max(reach) - min(reach) > module / 2 + SLACK_MM
    return None if leans or min(off, 90 - off) > SLANTED_DEG else module


def _widths_said(built: Built, narrow: list[_AtWall]) -> str:
    return joined((joined((wall.name, built.said(border.least))) for wall, border, _ in narrow), ", ")


def _middle(wall: Wall) -> Point:
    return arc_middle(wall.start, wall.end, wall.bulge)


def _placed_by_hand(wish: GridWish) -> bool:
    return bool(wish.borders) or wish.centre_on is not None


def _facing(built: Built) -> Iterator[_Gap]:
    """Where two walls, at most `SLANTED_DEG` from parallel, face each other less than a module apart.

    Bowed walls are looked at chord by chord, and what two walls have between them is told once.
    """
    sides = [(wall, side) for wall in built.room.walls for side in pairwise(wall.points)]
    lines, outline = [shapely.LineString(side) for _, side in sides], shapely.Polygon(built.room.outline)
    pairs = shapely.STRtree(lines).query(lines, predicate="dwithin", distance=max(built.layout.module)).T.tolist()
    between: dict[tuple[str, str], _Gap] = {}
    for one, other in sorted((a, b) for a, b in pairs if a < b and sides[a][0] is not sides[b][0]):
        gap = _gap(*sides[one], *sides[other])
        if gap is not None and outline.contains(shapely.Point(gap.middle)):
            known = between.get((gap.one.name, gap.other.name))
            between[gap.one.name, gap.other.name] = gap if known is None else _joined(known, gap)
    yield from between.values()


def _joined(a: _Gap, b: _Gap) -> _Gap:
    """Two stretches between the same walls as one."""
    return replace(a if a.width <= b.width else b, length=a.length + b.length)


def _gap(one: Wall, side: _Side, other: Wall, across: _Side) -> _Gap | None:
    """What lies between straight parts of two walls that face each other; None when they do not."""
    (start, end), long = side, distance(*side)
    along = Frame(start, math.degrees(math.atan2(end[1] - start[1], end[0] - start[0])))
    (x0, y0), (x1, y1) = along.inward(across[1]), along.inward(across[0])
    first, last = max(0.0, x0), min(long, x1)
    if first >= last or min(y0, y1) <= 0 or abs(y1 - y0) > math.tan(math.radians(SLANTED_DEG)) * (x1 - x0):
        return None
    widths = [y0 + (y1 - y0) * (x - x0) / (x1 - x0) for x in (first, last)]
    return _Gap(one, other, min(widths), last - first, along.outward(((first + last) / 2, sum(widths) / 4)))
