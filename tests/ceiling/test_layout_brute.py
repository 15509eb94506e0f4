"""The place of the grid against brute force: origins swept every 5 mm, walls judged with plain shapely.

Nothing here shares code or definitions with the search but the `Room` that goes in and the origin that comes out. The
order of wishes: of walls that lean by no more than half a module and 6 mm the least length under a quarter, then under
half a module, both less 6 mm; of those that lean by more, but by no more than three quarters and 6 mm, none under a
quarter, if that can be; of all that lean by more the least of both lengths together, to half a module; the fewest posts
that lines strike; beside columns the least under a quarter, to a quarter module, and few lines along their faces; then
the widest cuts of the first kind of walls, the most equal borders, and the widest cuts of all else. To clear posts and
faces no cut under half a module gets narrower, and to clear faces the narrowest none by more than 50 mm. Where a line
crosses a wall at most 7.475 mm into the room from the wall's outermost point, and ends at both ends of it, all of the
wall that is further out than the line counts as uncut.

Wall that is cut short is measured by clipping walls with the strips of floor that lie behind grid lines, and with what
other walls sweep out when they are pushed towards it; cuts are measured along rays cast from close points on the walls.
The rooms are seeded: rectilinear ones on a lattice of 50 mm, sampled every 25 mm, so that each sample speaks for a
stretch with one gap and one cut, and slanted ones with corners on whole millimetres.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
import pytest
import shapely
from shapely.geometry import Polygon, box

from planner.ceiling.grid.cells import count_cells
from planner.ceiling.layout import lay_out
from planner.ceiling.model import Layout
from planner.ceiling.system import MainTee, System, Tee
from planner.geometry import Ring
from planner.room.brief import GridWish
from planner.room.outline import Column, Room

M = 600.0
SYSTEM = System(
    "metric", "", False, "hung", ((M, M),), 5.0, 24.0, 22.0, MainTee("main", 3600.0), (), Tee("angle", 3000.0), ()
)
ORIGINS = np.arange(0.0, M, 5.0)

SHORT = 6.0  #: a cut short by no more than this is not short
BENT_DEG = 15.0  #: walls that bend by less from one to the next are one
LEDGE = 22.0 - 5.0 - 25.4 * 3 / 8  #: ledge less undersize less what a panel must lie on it: so much it hides

#: Sums of wall may be worse by this: sums within 0.01 mm count as equal, at two wishes one after the other, and where
#: the gap before one of some ten slanted walls passes a limit the search rounds to 1/160 mm.
SLACK_MM = 0.1


def room_of(polygon: Polygon) -> Room:
    outline = ring_of(polygon.exterior)
    columns = tuple(Column(f"C{k}", ring_of(r), (0.0, 0.0)) for k, r in enumerate(polygon.interiors))
    return Room("brute", "mm", outline, tuple(f"P{k}" for k in range(len(outline))), columns)


def ring_of(ring: shapely.LinearRing) -> Ring:
    points = [(float(x), float(y)) for x, y in ring.coords[:-1]]
    return tuple(points if shapely.is_ccw(ring) else points[::-1])


def rectilinear(seed: int) -> Polygon:
    """Join a few boxes that overlap, less a few columns, on a 50 mm lattice; bays, corridors and niches come about."""
    rng = np.random.default_rng(seed)
    shape = box(0, 0, 50 * int(rng.integers(20, 90)), 50 * int(rng.integers(20, 90)))
    for _ in range(int(rng.integers(0, 4))):
        x, y = (50 * int(rng.integers(0, 60)) for _ in range(2))
        more = box(x, y, x + 50 * int(rng.integers(5, 50)), y + 50 * int(rng.integers(5, 50)))
        joined = shape.union(more)
        if shape.intersection(more).area > 0 and not joined.interiors:
            shape = joined
    return with_columns(shapely.normalize(shape.simplify(0)), rng)


def slanted(seed: int) -> Polygon:
    """Put corners round a middle at uneven distances, in whole millimetres, and a column or two."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(4, 10))
    angles = (np.arange(count) + rng.uniform(0.1, 0.9, count)) * 2 * np.pi / count
    radii = rng.uniform(1200, 3500, count)
    return with_columns(Polygon(np.rint(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1))), rng)


def with_columns(shape: Polygon, rng: np.random.Generator) -> Polygon:
    left, low, right, high = shape.bounds
    for _ in range(int(rng.integers(0, 3))):
        x, y = 50 * int(rng.integers(left // 50, right // 50)), 50 * int(rng.integers(low // 50, high // 50))
        column = box(x, y, x + 50 * int(rng.integers(1, 10)), y + 50 * int(rng.integers(1, 10)))
        if shape.contains(column.buffer(10)):
            shape = shape.difference(column)
    return shapely.orient_polygons(shape)


@dataclass
class Samples:
    """Points close together on the walls that count along one axis."""

    at: np.ndarray  # coordinate along the axis
    into: np.ndarray  # +1 or -1
    gap: np.ndarray
    wall: np.ndarray
    group: np.ndarray  # wall, or wall and what it faces where that is less than a module away
    out: np.ndarray  # outermost coordinate of the wall
    hidden: np.ndarray  # how far from there a line may be for the ledge to hide what lies beyond it

    def cuts(self, origins: np.ndarray) -> np.ndarray:
        reach = np.mod(self.into * (origins[:, None] - self.at), M)
        line = np.mod(self.into * (origins[:, None] - self.out), M)
        closed = (line > 1e-6) & (line <= self.hidden + 1e-6) & (self.into * (self.at - self.out) < line)
        reach = np.where((reach < 0.05) | (reach > M - 1e-6) | closed, M, reach)
        return np.minimum(reach, self.gap)

    def taken(self, walls: set[int]) -> "Samples":
        keep = np.isin(self.wall, list(walls))
        return Samples(*(getattr(self, field.name)[keep] for field in fields(self)))

    def narrowest(self, origins: np.ndarray) -> np.ndarray:
        """Sorted narrowest cuts of all groups; in a group no cut is wider than its narrowest gap."""
        cuts, rows = self.cuts(origins), []
        for group in np.unique(self.group):
            here = self.group == group
            rows.append(np.minimum(cuts[:, here].min(axis=1), self.gap[here].min()))
        return np.sort(np.stack(rows, axis=1), axis=1) if rows else np.zeros((len(origins), 0))


def steep_walls(polygon: Polygon) -> tuple[np.ndarray, np.ndarray]:
    """All edges (start, end), and the numbers of those steeper to x."""
    edges = np.concatenate([edges_of(ring) for ring in (polygon.exterior, *polygon.interiors)])
    run = edges[:, 1] - edges[:, 0]
    return edges, np.flatnonzero(np.abs(run[:, 1]) >= np.abs(run[:, 0]))


@dataclass
class Kinds:
    """Numbers of the edges that count along x."""

    straight: set[int]  # they lean, together with what goes on from them, by half a module at most
    leaning: set[int]  # by three quarters at most
    slanted: set[int]  # by more than half, those too
    columns: set[int]


def kinds_of(polygon: Polygon) -> Kinds:
    edges, steep = steep_walls(polygon)
    count, found = len(polygon.exterior.coords) - 1, Kinds(set(), set(), set(), set(steep.tolist()))
    for k in [k for k in steep.tolist() if k < count]:
        found.columns.discard(k)
        xs = edges[[k, *going_on(edges[:count], steep, k, 1), *going_on(edges[:count], steep, k, -1)], :, 0]
        (found.straight if np.ptp(xs) <= M / 2 + SHORT else found.slanted).add(k)
        if M / 2 + SHORT < np.ptp(xs) <= M * 3 / 4 + SHORT:
            found.leaning.add(k)
    return found


def hiding(polygon: Polygon) -> tuple[np.ndarray, np.ndarray]:
    """For each edge the outermost x of its wall, and how far from there the ledge hides all beyond a line; 0 = nothing.

    Nothing is hidden past an end of the wall that lies in that band, if the next wall goes on in it or further out.
    """
    edges, steep = steep_walls(polygon)
    out, hidden, count = np.zeros(len(edges)), np.zeros(len(edges)), len(polygon.exterior.coords) - 1
    for k in [k for k in steep.tolist() if k < count]:
        walls = edges[:count]
        after, before = going_on(walls, steep, k, 1), going_on(walls, steep, k, -1)
        xs = walls[[k, *after, *before], :, 0]
        into = 1.0 if edges[k, 1, 1] < edges[k, 0, 1] else -1.0
        out[k] = into * (into * xs).min()
        deep = min(float(np.ptp(xs)), LEDGE) if np.ptp(xs) + LEDGE < M else 0.0
        last, first = [k, *after][-1], [k, *before][-1]
        ends = ((walls[last, 1], walls[(last + 1) % count, 1]), (walls[first, 0], walls[first - 1, 0]))
        shut = all(max(into * (x - out[k]) for x in (corner[0], next_one[0])) >= deep for corner, next_one in ends)
        hidden[k] = deep if shut else 0.0
    return out, hidden


def going_on(edges: np.ndarray, steep: np.ndarray, k: int, step: int) -> list[int]:
    """The edges after (or before) an edge that bend from it by little each and count along x too."""
    found: list[int] = []
    while len(found) < len(edges):
        following = (k + step) % len(edges)
        (ax, ay), (bx, by) = edges[k, 1] - edges[k, 0], edges[following, 1] - edges[following, 0]
        bend = abs(math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by)))
        if following not in steep or bend >= BENT_DEG:
            break
        found.append(following)
        k = following
    return found


def short_wall(polygon: Polygon, which: set[int], origins: np.ndarray, limit: float) -> np.ndarray:
    """Length of some walls whose cut along x is under `limit`, for each origin.

    A line on the wall, to 0.05 mm, gives no cut. Of leaning walls that share is nothing, so the strips lose it.
    """
    edges, _ = steep_walls(polygon)
    out, hidden = hiding(polygon)
    _, low, _, high = polygon.bounds
    total = np.zeros(len(origins))
    for k in sorted(which):
        wall, into = shapely.LineString(edges[k]), 1.0 if edges[k, 1, 1] < edges[k, 0, 1] else -1.0
        others = np.delete(edges, k, axis=0)
        pushed = others - np.array([into * limit, 0.0])
        swept = shapely.polygons(np.stack([others[:, 0], others[:, 1], pushed[:, 1], pushed[:, 0]], axis=1))
        tight = shapely.union_all(shapely.buffer(swept[shapely.area(swept) > 0], 0))
        near = 0.05 if edges[k, 0, 0] == edges[k, 1, 0] else 0.0
        ends = np.sort([-into * near, -into * (limit - 1e-6)])
        lines = np.arange(edges[k, :, 0].min() // M - 1, edges[k, :, 0].max() // M + 2) * M
        starts = origins[:, None] + lines
        strips = shapely.multipolygons(shapely.box(starts + ends[0], low - 1, starts + ends[1], high + 1).tolist())
        free = wall.difference(tight)  # a wall less a part of itself would not be clean, a wall less a floor is
        left = [open_part(free, into, out[k], hidden[k], origin) for origin in origins]
        total += shapely.length(shapely.intersection(left, strips)) + wall.length - free.length
    return total


def open_part(wall: shapely.LineString, into: float, out: float, hidden: float, origin: float) -> shapely.Geometry:
    """What is left of a wall once the ledge hides all beyond the line."""
    line = into * (origin - out) % M
    if not 1e-6 < line <= hidden + 1e-6:
        return wall
    return wall.difference(box(*sorted_box(out - into, out + into * line)))


def sorted_box(one: float, other: float) -> tuple[float, float, float, float]:
    return min(one, other), -1e6, max(one, other), 1e6


def samples_of(polygon: Polygon, step: float) -> Samples:
    edges, steep = steep_walls(polygon)
    points, wall = [], []
    for k in steep:
        start, run = edges[k, 0], edges[k, 1] - edges[k, 0]
        count = int(np.ceil(float(np.hypot(*run)) / step - 1e-9))
        points.append(start + (np.arange(count)[:, None] + 0.5) / count * run)
        wall.append(np.full(count, k))
    return with_rays(polygon, edges, np.concatenate(points), np.concatenate(wall))


def edges_of(ring: shapely.LinearRing) -> np.ndarray:
    points = np.asarray(ring.coords)
    return np.stack([points[:-1], points[1:]], axis=1)


def with_rays(polygon: Polygon, edges: np.ndarray, at: np.ndarray, walls: np.ndarray) -> Samples:
    """Cast a ray across the room through every sample and keep the chord that begins or ends there."""
    left, _, right, _ = polygon.bounds
    rays = shapely.linestrings([[(left - 1, y), (right + 1, y)] for y in at[:, 1]])
    chords, sample = shapely.get_parts(shapely.intersection(rays, polygon), return_index=True)
    bounds = shapely.bounds(chords)
    starts = np.abs(bounds[:, 0] - at[sample, 0]) < 1e-6
    ends = np.abs(bounds[:, 2] - at[sample, 0]) < 1e-6
    assert (starts ^ ends).sum() == len(at)
    gap, into, far = np.zeros(len(at)), np.zeros(len(at)), np.zeros((len(at), 2))
    for which, sign, other in ((starts, 1.0, 2), (ends, -1.0, 0)):
        gap[sample[which]] = bounds[which, 2] - bounds[which, 0]
        into[sample[which]] = sign
        far[sample[which]] = np.stack([bounds[which, other], at[sample[which], 1]], axis=1)
    faced = np.argmin(shapely.distance(shapely.points(far)[:, None], shapely.linestrings(edges)), axis=1)
    group = np.where(gap < M, walls * len(edges) + faced, -1 - walls)
    out, hidden = hiding(polygon)
    return Samples(at[:, 0], into, gap, walls, group, out[walls], hidden[walls])


def assert_unbeaten(polygon: Polygon, step: float, cut_slack: float) -> None:
    room = room_of(polygon)
    layout = lay_out(room, GridWish("metric", align=level(room)), SYSTEM)
    assert layout.proven
    assert layout.frame.angle_deg == 0.0
    for axis in (0, 1):
        # along y a room is judged like its mirror image along x; shells stay counter-clockwise, columns clockwise
        seen = polygon if axis == 0 else flipped(polygon)
        kinds, found = kinds_of(seen), np.array([layout.frame.origin[axis]])
        tied = not_shorter(seen, kinds, found)
        tied &= struck(seen, ORIGINS)[1] <= struck(seen, found)[1][0]
        assert_no_wider(seen, samples_of(seen, step), kinds, found[0], ORIGINS[tied], cut_slack)


def not_shorter(polygon: Polygon, kinds: Kinds, found: np.ndarray) -> np.ndarray:
    """Which swept origins cut no more wall short than the one found; none may cut less."""
    tied = np.ones(len(ORIGINS), dtype=bool)
    quarter, half = M / 4 - SHORT, M / 2 - SHORT
    for which, limits, bearing in (
        (kinds.straight, (quarter,), 0.0),
        (kinds.straight, (half,), 0.0),
        (kinds.slanted, (quarter, half), M / 2),
        (set(), (), 0.0),  # next come posts
        (kinds.columns, (quarter,), M / 4),
    ):
        if not limits:
            tied &= struck(polygon, ORIGINS)[0] <= struck(polygon, found)[0][0]
            continue
        swept = sum(short_wall(polygon, which, ORIGINS, limit) for limit in limits)
        best = sum(float(short_wall(polygon, which, found, limit)[0]) for limit in limits)
        assert best <= swept[tied].min(initial=np.inf) + bearing + SLACK_MM
        tied &= swept <= best + 1e-6
        if limits == (half,):  # next come leaning walls
            leaning, ours = (short_wall(polygon, kinds.leaning, at, quarter) for at in (ORIGINS, found))
            assert ours[0] <= SLACK_MM or leaning[tied].min(initial=np.inf) > 1e-6
            tied &= leaning <= ours[0] + 1e-6
    return tied


def struck(polygon: Polygon, origins: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """How many posts lines strike, by half a flange of 24; and how many they leave no 25 more, or faces they run along.

    Posts are columns up to 150 mm either way. Along a face is from 7 mm behind it to ledge, half a flange and 1 before.
    """
    posts, near = np.zeros(len(origins), dtype=int), np.zeros(len(origins), dtype=int)
    for left, low, right, high in (shapely.bounds(ring) for ring in polygon.interiors):
        if max(right - left, high - low) <= 150:
            posts += between(origins, left - 12, right + 12)
            near += between(origins, left - 37, right + 37)
        else:
            near += between(origins, left - 22 - 12 - 1, left + 7) + between(origins, right - 7, right + 22 + 12 + 1)
    return posts, near


def between(origins: np.ndarray, low: float, high: float) -> np.ndarray:
    """Whether a line stands inside a span."""
    past = np.mod(origins - low, M)
    return (past > 1e-6) & (past < high - low - 1e-6)


def assert_no_wider(
    polygon: Polygon, samples: Samples, kinds: Kinds, found: float, tied: np.ndarray, slack: float
) -> None:
    """No tied origin cuts walls wider; nor, with the same cuts, is more even, nor cuts all else wider."""
    straight, rest = samples.taken(kinds.straight), samples.taken(kinds.slanted | kinds.columns)
    best, best_rest = (some.narrowest(np.array([found]))[0] for some in (straight, rest))
    low, _, high, _ = polygon.bounds
    for origin, cuts, others in zip(tied, straight.narrowest(tied), rest.narrowest(tied), strict=True):
        assert not beats(cuts, best, slack), (origin, cuts, best)
        if slack > 1e-6 or np.abs(cuts - best).max(initial=0) > 1e-6:
            continue
        even, best_even = (abs(np.subtract(*outermost(polygon, low, high, at))) for at in (origin, found))
        assert even >= best_even - 1e-6
        assert even > best_even + 1e-6 or not beats(others, best_rest, slack), (origin, others, best_rest)


def outermost(polygon: Polygon, low: float, high: float, at: float) -> tuple[float, float]:
    """Cuts at the outermost points on either side; a whole module where the ledge hides them."""
    out, hidden = hiding(polygon)
    _, steep = steep_walls(polygon)
    cuts = []
    for end, cut in ((low, (at - low) % M), (high, (high - at) % M)):
        here = [hidden[k] for k in steep if k < len(polygon.exterior.coords) - 1 and out[k] == end]
        cuts.append(M if cut <= min(here, default=0.0) + 1e-6 else cut)
    return cuts[0], cuts[1]


def flipped(polygon: Polygon) -> Polygon:
    return shapely.orient_polygons(shapely.transform(polygon, lambda points: points[:, ::-1]))


def level(room: Room) -> float:
    """Angle against the base wall at which the grid lies along the room frame's own axes."""
    (x0, y0), (x1, y1) = room.outline[:2]
    return -math.degrees(math.atan2(y1 - y0, x1 - x0))


def beats(cuts: np.ndarray, best: np.ndarray, slack: float) -> bool:
    """Whether sorted cuts are wider at the first one that differs, by more than sampling can be off."""
    for cut, known in zip(cuts, best, strict=True):
        if cut < known - 1e-6:
            return False
        if cut > known + slack:
            return True
    return False


@pytest.mark.parametrize("batch", range(10))
def test_no_swept_place_beats_the_one_found_in_rectilinear_rooms(batch: int) -> None:
    for seed in range(batch * 20, batch * 20 + 20):
        assert_unbeaten(rectilinear(seed), step=25.0, cut_slack=1e-6)


@pytest.mark.parametrize("batch", range(10))
def test_no_swept_place_beats_the_one_found_in_slanted_rooms(batch: int) -> None:
    """A wall leans by at most 1 in 1 along its axis, so a sample misses its narrowest cut by at most a step."""
    for seed in range(batch * 10, batch * 10 + 10):
        assert_unbeaten(slanted(1000 + seed), step=6.0, cut_slack=6.0)


@pytest.mark.parametrize("make", [rectilinear, slanted])
@pytest.mark.parametrize("batch", range(4))
def test_panels_are_the_room_clipped_to_every_module(make: Callable[[int], Polygon], batch: int) -> None:
    """Whole modules and cut panels against plain shapely on all modules of the room's box.

    Crumbs under 1 mm2 and strips under 0.05 mm are nobody's panel, so areas may differ by a crumb for each module.
    Nor is what lies over the ledge of the walls, or leaves nothing to cut. A module is whole where a panel laid in the
    middle of it clears the walls.
    """
    for seed in range(5000 + batch * 10, 5010 + batch * 10):
        polygon = make(seed)
        room = room_of(polygon)
        layout = lay_out(room, GridWish("metric", align=level(room)), SYSTEM)
        parts = plainly_clipped(polygon, layout)
        pieces = [piece for piece in parts if piece.area >= 1 and 2 * piece.area >= 0.05 * piece.length]
        crumbs = len(parts) - len(pieces)
        panels = {panel.id: Polygon(panel.outline, panel.holes) for panel in layout.cut_panels}
        assert len(panels) == len(layout.cut_panels)
        whole = [piece for piece in pieces if clears_a_panel(piece, layout)]
        assert layout.full_panels == len(whole)
        closed = [Polygon(part.outline, part.holes) for part in layout.closed]
        over = polygon.boundary.buffer(SYSTEM.ledge)
        for part in closed:
            left = part.buffer(-SYSTEM.panel_undersize / 2, join_style="mitre")
            assert over.covers(part) or left.is_empty or min(np.subtract(left.bounds[2:], left.bounds[:2])) < 1.0
        assert len(panels) + len(closed) == len(pieces) - len(whole)
        assert not any(over.buffer(-0.01).covers(panel) for panel in panels.values())
        assert 0 <= count_cells(room, layout.frame, layout.module) - len(cells_of(layout)) <= crumbs
        area = sum(piece.area for piece in (*panels.values(), *closed, *whole))
        assert area == pytest.approx(polygon.area, abs=len(pieces) + 1.0)
        together = shapely.union_all(list(panels.values()))
        assert together.area == pytest.approx(sum(panel.area for panel in panels.values()), abs=1.0)
        assert shapely.difference(together, polygon).area < 1.0
        assert all(panel.exterior.is_ccw for panel in panels.values())


def clears_a_panel(piece: Polygon, layout: Layout) -> bool:
    x0, y0 = layout.frame.origin
    u, v = (math.floor((at - zero) / M) * M for at, zero in ((piece.centroid.x, x0), (piece.centroid.y, y0)))
    gap = SYSTEM.panel_undersize / 2
    panel = shapely.box(x0 + u + gap, y0 + v + gap, x0 + u + M - gap, y0 + v + M - gap)
    return bool(piece.buffer(0.05, join_style="mitre").covers(panel))


def plainly_clipped(polygon: Polygon, layout: Layout) -> list[Polygon]:
    left, low, right, high = polygon.bounds
    x0, y0 = layout.frame.origin
    columns = np.arange(np.floor((left - x0) / M), np.ceil((right - x0) / M))
    rows = np.arange(np.floor((low - y0) / M), np.ceil((high - y0) / M))
    u, v = (corner.reshape(-1) * M for corner in np.meshgrid(columns, rows))
    cells = shapely.box(x0 + u, y0 + v, x0 + u + M, y0 + v + M)
    return [part for part in shapely.get_parts(shapely.intersection(polygon, cells)) if part.area > 0]


def cells_of(layout: Layout) -> set[tuple[int, int]]:
    full = {(column, run.row) for run in layout.full_runs for column in range(run.first, run.last + 1)}
    return full | {panel.cell for panel in (*layout.cut_panels, *layout.closed)}
