"""Layouts made by hand for tests: a grid laid where the test says, cut with plain shapely, cell by cell."""

from collections import defaultdict

from shapely import Polygon, box

from planner.ceiling.marks import class_letters
from planner.ceiling.model import Border, Layout, Panel, Run
from planner.ceiling.system import load_system
from planner.geometry import Frame, Point, distance
from planner.room.outline import Column, Room

INCH = 25.4
FOOT = 12 * INCH

IMPERIAL = load_system("lay-in-imperial")
METRIC = load_system("lay-in-metric")
TWO_BY_TWO = (24 * INCH, 24 * INCH)
TWO_BY_FOUR = (24 * INCH, 48 * INCH)


def room_of(*corners: Point, units="mm", columns=(), **more) -> Room:
    names = tuple("ABCDEFGHJKMN"[: len(corners)])
    return Room("test", units, corners, names, tuple(columns), **more)


def rectangle(width: float, depth: float, **more) -> Room:
    return room_of((0, 0), (width, 0), (width, depth), (0, depth), **more)


def square_column(name: str, x: float, y: float, side: float) -> Column:
    outline = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Column(name, outline, (x + side / 2, y + side / 2))


def lay_by_hand(
    room: Room, module: tuple[float, float], origin: Point, angle: float = 0.0, less: float = 5.0
) -> Layout:
    """The grid through `origin`; panels of equal size share a class."""
    frame = Frame(origin, angle)
    floor = Polygon([frame.inward(p) for p in room.outline])
    for column in room.columns:
        floor = floor.difference(Polygon([frame.inward(p) for p in column.outline]))
    left, bottom, right, top = floor.bounds
    full, cut = [], []
    for j in range(int(bottom // module[1]), int(top // module[1]) + 1):
        for i in range(int(left // module[0]), int(right // module[0]) + 1):
            cell = box(i * module[0], j * module[1], (i + 1) * module[0], (j + 1) * module[1])
            part = floor.intersection(cell)
            if part.area > cell.area - 1:
                full.append(Run(j, i, i))
            elif part.area > 1:
                cut += [((i, j), piece) for piece in getattr(part, "geoms", [part]) if piece.area > 1]
    return Layout(
        frame, module, _borders(room, frame, module), None, _joined(full), _panels(frame, cut, less), True, "by hand"
    )


def _joined(cells: list[Run]) -> tuple[Run, ...]:
    runs: list[Run] = []
    for cell in cells:
        if runs and runs[-1].row == cell.row and runs[-1].last == cell.first - 1:
            runs[-1] = Run(cell.row, runs[-1].first, cell.last)
        else:
            runs.append(cell)
    return tuple(runs)


def _panels(frame: Frame, cut, less: float) -> tuple[Panel, ...]:
    counts: dict[tuple[float, float], int] = defaultdict(int)
    letters: dict[tuple[float, float], str] = {}
    panels = []
    for cell, piece in cut:
        left, bottom, right, top = piece.bounds
        opening = (round(right - left, 1), round(top - bottom, 1))
        letter = letters.setdefault(opening, class_letters(len(letters)))
        counts[opening] += 1
        outline = tuple(frame.outward(p) for p in piece.exterior.coords[:-1][:: 1 if piece.exterior.is_ccw else -1])
        holes = tuple(tuple(frame.outward(p) for p in ring.coords[:-1]) for ring in piece.interiors)
        cut_to = (opening[0] - less, opening[1] - less)
        panels.append(Panel(f"{letter}{counts[opening]}", cell, outline, holes, opening, cut_to, 0.0, False))
    return tuple(panels)


def _borders(room: Room, frame: Frame, module: tuple[float, float]) -> tuple[Border, ...]:
    """For walls along the grid: from the wall to the first line inside; the whole module where a line lies on it."""
    borders = []
    for wall in room.walls:
        (u0, v0), (u1, v1) = frame.inward(wall.start), frame.inward(wall.end)
        along = abs(u1 - u0) > abs(v1 - v0)
        place, side = (v0, module[1]) if along else (u0, module[0])
        inward_up = (u1 > u0) if along else (v1 < v0)
        width = (-place if inward_up else place) % side
        borders.append(Border(wall.name, width or side, width or side))
    return tuple(borders)


def turned_outline(frame: Frame, width: float, depth: float) -> tuple[Point, ...]:
    return tuple(frame.outward(p) for p in ((0, 0), (width, 0), (width, depth), (0, depth)))


def apart(a: Point, b: Point) -> float:
    return distance(a, b)
