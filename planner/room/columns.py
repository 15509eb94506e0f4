"""Columns, pipes and chases: where they stand, and whether they can stand there.

In: the column keys of a room file and the walk of the room. Out: `Column`s in the room frame, and faults. Rule: a
column lies inside the room (it may touch walls), clear of other columns, and the columns leave one room.
"""

import math
from collections.abc import Sequence

from shapely import LineString, Polygon, STRtree, union_all

from planner.geometry import TOLERANCE_MM, Point, Ring, box_of, signed_area
from planner.room.naming import names_of, unused
from planner.room.outline import Column
from planner.room.outlines import placed
from planner.room.rings import ring_faults
from planner.room.schema import ColumnKeys
from planner.room.walk import Walk
from planner.wording import Fault
from planner.yaml_text import Path

#: How far the chords of a round column may stand off from the circle.
SAGITTA_MM = 0.1
#: Scraps of ceiling smaller than this (four square inches) between columns and walls do not make a second room.
SCRAP_MM2 = 2500.0

_COLUMNS: Path = ("room", "columns")


def stand_columns(
    keys: Sequence[ColumnKeys], numbers: Sequence[int], walk: Walk
) -> tuple[tuple[Column, ...], list[Fault]]:
    """Place the columns; `numbers` says which entry of the file each is."""
    names, faults = names_of([column.name for column in keys], "C", [(*_COLUMNS, n) for n in numbers])
    drawn = _drawn(walk, set(names))
    columns: dict[int, Column] = dict(zip(range(-len(drawn), 0), drawn, strict=True))
    for name, number, key in zip(names, numbers, keys, strict=True):
        path = (*_COLUMNS, number)
        outline = _outline(key, walk)
        found = ring_faults(outline, [str(k + 1) for k in range(len(outline))], (*path, "points")) if key.points else []
        found = found or _misplaced(name, outline, walk, (*path, "points" if key.points else "at"))
        faults += found
        if not found:
            columns[number] = Column(name, _left_turning(outline), _centre(key, outline, walk), key.diameter)
    faults += _overlaps(columns)
    if not faults:
        faults += _cut_in_two(columns, walk)
    return tuple(columns.values()), faults


def _drawn(walk: Walk, taken: set[str]) -> tuple[Column, ...]:
    """Take over the columns of the drawing that the outline came from."""
    names = unused("C", taken)
    columns = []
    for loop in walk.columns:
        ring = loop.ring(SAGITTA_MM, solid=True)
        centre, diameter = (loop.circle[0], 2 * loop.circle[1]) if loop.circle else (box_of(ring).centre, None)
        columns.append(Column(next(names), ring, centre, diameter))
    return tuple(columns)


def _outline(key: ColumnKeys, walk: Walk) -> Ring:
    """Lay the outline of a column into the room frame."""
    if key.points is not None:
        return tuple(placed(point, walk.frame) for point in key.points)
    x, y = placed(key.at or (0.0, 0.0), walk.frame)
    if key.diameter is not None:
        return round_outline((x, y), key.diameter)
    width, depth = key.size or (0.0, 0.0)
    return ((x, y), (x + width, y), (x + width, y + depth), (x, y + depth))


def round_outline(centre: Point, diameter: float) -> Ring:
    """Chords around a circle, never inside it and at no corner further off than `SAGITTA_MM`.

    The number of chords is a multiple of four, with a chord at each of the four extremes, so that the box of the
    outline is that of the circle.
    """
    radius = diameter / 2
    chords = 4 * math.ceil(math.pi / math.acos(radius / (radius + SAGITTA_MM)) / 4)
    corner = radius / math.cos(math.pi / chords)
    turns = (math.tau * (k + 0.5) / chords for k in range(chords))
    return tuple((centre[0] + corner * math.cos(turn), centre[1] + corner * math.sin(turn)) for turn in turns)


def _left_turning(ring: Ring) -> Ring:
    return ring if signed_area(ring) > 0 else tuple(reversed(ring))


def _centre(key: ColumnKeys, outline: Ring, walk: Walk) -> Point:
    return placed(key.at, walk.frame) if key.diameter is not None and key.at else box_of(outline).centre


def _misplaced(name: str, outline: Ring, walk: Walk, path: Path) -> list[Fault]:
    """Complain of a column outside the room, or through a wall."""
    column = Polygon(outline)
    if Polygon(walk.outline).buffer(TOLERANCE_MM, join_style="mitre").covers(column):
        return []
    inside = column.buffer(-TOLERANCE_MM, join_style="mitre")
    crossed = [w for w, line in zip(walk.walls, walk.chains, strict=True) if inside.intersects(LineString(line))]
    if not crossed:
        mend = "Check its place; it is measured from the reference corner, or as the points are."
        return [Fault(path, f"{name} stands outside the room.", mend)]
    mend = "Give the part of it that is inside the room, up to the wall."
    return [Fault(path, f"{name} goes through wall {' and wall '.join(crossed[:2])}.", mend)]


def _overlaps(columns: dict[int, Column]) -> list[Fault]:
    """Complain of the later of two columns that stand in one place."""
    if len(columns) < 2:
        return []
    numbers = list(columns)
    shapes = [Polygon(columns[n].outline).buffer(-TOLERANCE_MM, join_style="mitre") for n in numbers]
    pairs = sorted((a, b) for a, b in STRtree(shapes).query(shapes, predicate="intersects").T.tolist() if a < b)
    faults = []
    for a, b in pairs:
        one, other = columns[numbers[a]].name, columns[numbers[b]].name
        mend = "Check both places, or give the two as one outline with points."
        faults.append(Fault((*_COLUMNS, numbers[b]), f"{other} overlaps {one}.", mend))
    return faults


def _cut_in_two(columns: dict[int, Column], walk: Walk) -> list[Fault]:
    """Complain when the columns leave more than one room."""
    if not columns:
        return []
    taken = [Polygon(c.outline).buffer(TOLERANCE_MM, join_style="mitre") for c in columns.values()]
    left = Polygon(walk.outline).difference(union_all(taken))
    parts = [part for part in getattr(left, "geoms", [left]) if part.area > SCRAP_MM2]
    if len(parts) == 1:
        return []
    problem = "the columns cut the room in two." if parts else "the columns leave nothing of the room."
    return [Fault(_COLUMNS, problem, "Plan each part as a room of its own, in a file of its own.", at_key=True)]
