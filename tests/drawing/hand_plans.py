"""Plans made by hand, without the planner: any outline, any grid, cut by shapely. Helpers of the drawing tests.

The ceilings are honest in their geometry (cells cut by the room, borders, lines of tees clipped), so that a sheet of
them can be measured; they are not the best layout, and nothing is bought.
"""

import math

from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Polygon, box

from planner.ceiling.marks import class_letters
from planner.ceiling.model import Border, Ceiling, CutOut, Layout, Member, Panel, Run, Service
from planner.ceiling.system import MainTee, System, Tee
from planner.findings import Finding
from planner.geometry import Frame, Point, Ring
from planner.planning import Plan
from planner.room.outline import Column, Room, Wall
from planner.stock.model import Stock

LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ"


def system(imperial: bool = False) -> System:
    unit = 25.4 if imperial else 25.0
    return System(
        name="hand",
        title="Lay-in grid, 24 mm tees" if not imperial else 'Lay-in grid, 15/16" tees',
        imperial=imperial,
        fixing="hung",
        modules=((24 * unit, 24 * unit),),
        panel_undersize=5.0,
        tee_face=24.0,
        ledge=22.0,
        main=MainTee("main tee", 3600.0, None, 1200.0, 150.0, 75.0),
        cross_tees=(Tee("cross tee", 600.0),),
        wall_angle=Tee("wall angle", 3000.0),
        sources=(),
    )


def room(outline: Ring, units: str = "mm", columns: tuple[Column, ...] = (), **more: object) -> Room:
    names = tuple(
        LETTERS[k % len(LETTERS)] + (str(k // len(LETTERS)) if k >= len(LETTERS) else "") for k in range(len(outline))
    )
    given = {"name": "Hand-made room", "corner_names": names, **more}
    return Room(units=units, outline=outline, columns=columns, **given)  # type: ignore[arg-type]


def rectangle(width: float, depth: float) -> Ring:
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def square_column(name: str, x: float, y: float, side: float) -> Column:
    ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
    return Column(name, ring, (x + side / 2, y + side / 2))


def round_column(name: str, x: float, y: float, diameter: float) -> Column:
    turns = [2 * math.pi * k / 48 for k in range(48)]
    ring = tuple((x + diameter / 2 * math.cos(t), y + diameter / 2 * math.sin(t)) for t in turns)
    return Column(name, ring, (x, y), diameter)


def half_module_origin(width: float, module: float) -> float:
    """The first grid line of the trade's rule: equal borders of half a module or more."""
    whole = math.floor(width / module)
    rest = width - whole * module
    return rest if rest < 1e-9 else (rest + module) / 2 if whole else width / 2


def service(name: str, kind: str, at: Point, size: tuple[float, float], is_round: bool = False) -> Service:
    return Service(name, kind, at, size, is_round, ((0, 0),), (), 0.0)


def hand_plan(
    made: Room,
    module: tuple[float, float] = (600.0, 600.0),
    origin: Point | None = None,
    angle: float = 0.0,
    services: tuple[Service, ...] = (),
    findings: tuple[Finding, ...] = (),
    mains: str = "along",
) -> Plan:
    """A plan of a room with its grid at `origin`, turned by `angle`."""
    if origin is None:
        box_ = made.box
        origin = (
            box_.left + half_module_origin(box_.width, module[0]),
            box_.bottom + half_module_origin(box_.height, module[1]),
        )
    frame = Frame(origin, angle)
    shape = Polygon(made.outline, [column.outline for column in made.columns])
    panels, full = _cells(shape, frame, module, services)
    borders = tuple(_border(wall, frame, module) for wall in made.walls)
    layout = Layout(
        frame,
        module,
        borders,
        min((b.least for b in borders), default=None),
        (Run(0, 0, max(0, full - 1)),),
        tuple(panels),
        True,
        "Borders are equal and at least half a module wide on all four sides.",
    )
    members = (*_tees(shape, frame, module), *_angles(made))
    ceiling = Ceiling(
        system(made.imperial),
        layout,
        services,
        tuple(panels),
        full,
        members,
        mains,
        findings,  # type: ignore[arg-type]
        height=made.ceiling_height,
    )
    return Plan(made, ceiling, Stock((), ()), findings)


def _local(shape: Polygon, frame: Frame) -> Polygon:
    moved = translate(shape, -frame.origin[0], -frame.origin[1])
    return rotate(moved, -frame.angle_deg, origin=(0, 0))


def _cells(
    shape: Polygon, frame: Frame, module: tuple[float, float], services: tuple[Service, ...]
) -> tuple[list[Panel], int]:
    local = _local(shape, frame)
    left, bottom, right, top = local.bounds
    w, d = module
    full = 0
    panels: list[Panel] = []
    classes: dict[tuple[float, ...], list[int]] = {}
    for i in range(math.floor(left / w), math.ceil(right / w)):
        for j in range(math.floor(bottom / d), math.ceil(top / d)):
            cell = box(i * w, j * d, (i + 1) * w, (j + 1) * d)
            part = cell.intersection(local)
            if part.area < 1.0:
                continue
            if part.area > cell.area - 1.0:
                full += 1
                continue
            for piece in getattr(part, "geoms", (part,)):
                if piece.geom_type == "Polygon" and piece.area > 1.0:
                    panels.append(_panel((i, j), piece, frame, classes))
    return panels, full


def _panel(cell: tuple[int, int], piece: Polygon, frame: Frame, classes: dict[tuple[float, ...], list[int]]) -> Panel:
    x0, y0, x1, y1 = piece.bounds
    opening = (x1 - x0, y1 - y0)
    key = (round(opening[0]), round(opening[1]), round(piece.area / 1000))
    members = classes.setdefault(key, [len(classes), 0])
    members[1] += 1
    taper = 0.0 if abs(piece.area - opening[0] * opening[1]) < 1.0 else min(opening) / 3
    return Panel(
        id=f"{class_letters(members[0])}{members[1]}",
        cell=cell,
        outline=tuple(map(frame.outward, piece.exterior.coords[:-1])),
        holes=tuple(tuple(map(frame.outward, hole.coords[:-1])) for hole in piece.interiors),
        opening=opening,
        cut_to=(max(1.0, opening[0] - 5), max(1.0, opening[1] - 5)),
        taper=taper,
        full_size=False,
    )


def _border(wall: Wall, frame: Frame, module: tuple[float, float]) -> Border:
    """The distance to the first grid line inside, for walls along the grid; a plain pair of numbers for others."""
    a, b = frame.inward(wall.start), frame.inward(wall.end)
    if abs(a[0] - b[0]) < 1e-6:
        rest = (-a[0] if b[1] < a[1] else a[0]) % module[0]
        return Border(wall.name, rest, rest)
    if abs(a[1] - b[1]) < 1e-6:
        rest = (-a[1] if b[0] > a[0] else a[1]) % module[1]
        return Border(wall.name, rest, rest)
    return Border(wall.name, 0.0, max(module))


def _tees(shape: Polygon, frame: Frame, module: tuple[float, float]) -> list[Member]:
    local = _local(shape, frame)
    left, bottom, right, top = local.bounds
    found: list[Member] = []
    lines = [
        (
            f"M{j}" if j % 2 == 0 else f"X{j}",
            "main tee" if j % 2 == 0 else "cross tee",
            ((left, j * module[1]), (right, j * module[1])),
        )
        for j in range(math.ceil(bottom / module[1]), math.floor(top / module[1]) + 1)
    ]
    lines += [
        (f"C{i}", "cross tee", ((i * module[0], bottom), (i * module[0], top)))
        for i in range(math.ceil(left / module[0]), math.floor(right / module[0]) + 1)
    ]
    for name, kind, line in lines:
        part = LineString(line).intersection(local)
        for piece in getattr(part, "geoms", (part,)):
            if piece.geom_type == "LineString" and piece.length > 1.0:
                ends = [frame.outward(piece.coords[0]), frame.outward(piece.coords[-1])]
                found.append(Member(name, kind, ends[0], ends[1], ()))  # type: ignore[arg-type]
    return found


def _angles(made: Room) -> list[Member]:
    return [Member(f"W{k}", "wall angle", w.start, w.end, ()) for k, w in enumerate(made.walls, start=1)]


def cut_out(name: str, at: Point, diameter: float) -> CutOut:
    return CutOut(name, "round", at, (diameter, diameter))
