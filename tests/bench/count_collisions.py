"""Count what lies on what, on every sheet of every demo room; run it, it asserts nothing.

Columns: texts on texts; texts on circles that are not their own (corners, findings); texts crossed by lines of
dimensions, strings and set-out marks; by walls; by mains; by other tees and joists; by lines of symbols; by lines on
the paper (frame, rules, title block); texts that leave the frame; texts below which tees and joists are left out (they
count as crossed by walls, dimensions and symbols alone; below letters of corners and dimensions extension lines too).
Lines are as broad as their pens.
`count_collisions.py ROOM.yaml ... [--style NAME|every] [--paper NAME] [--scale N] [--sheets KEY] [--list] [--sum]`
counts other rooms and papers, says which texts they are, or prints the sum alone.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from planner.drawing.labels import Heights, rings_overlap, text_boxes
from planner.drawing.roles import Role
from planner.drawing.shapes import Circle, Dimension, Line, Outline, Shape, Sheet, Symbol, Window
from planner.drawing.sheets import SheetWish, draw
from planner.drawing.stylebook import Style, load_style, style_names
from planner.geometry import Box, Frame, Point, Ring, box_of, distance, edges
from planner.planning import plan
from planner.render.dimensioning import draw_dimension
from planner.room.reader import read_room

#: Letters may touch a line by so little, paper millimetres.
_TOUCH = 0.1
_KINDS = {
    Role.DIMENSION: "dims",
    Role.SET_OUT: "dims",
    Role.STRING_LINE: "dims",
    Role.FINDING: "dims",
    Role.WALL: "walls",
    Role.COLUMN: "walls",
    Role.MAIN_TEE: "mains",
    Role.CARRIER: "mains",
    Role.CROSS_TEE: "tees",
    Role.WALL_ANGLE: "tees",
    Role.COVER_STRIP: "tees",
    Role.FURRING: "tees",
    Role.JOIST: "joists",
    Role.CUT_PANEL: "",
    Role.CUT_SHADE: "",
}
COLUMNS = (
    "texts",
    "text-text",
    "circles",
    "dims",
    "walls",
    "mains",
    "tees",
    "joists",
    "symbols",
    "paper",
    "out",
    "masks",
)


Met = tuple[str, str]  #: what lies on a text, and the text


def counts(sheet: Sheet, style: Style) -> Counter[str]:
    """Collisions of one sheet by kind."""
    boxes = text_boxes(sheet, style)
    return Counter({"texts": len(boxes)}) + Counter(kind for kind, _ in met(sheet, style))


def met(sheet: Sheet, style: Style) -> Iterator[Met]:
    """What lies on which text of a sheet."""
    boxes = [(box, box_of(box.ring)) for box in text_boxes(sheet, style)]
    for k, (a, of_a) in enumerate(boxes):
        for b, of_b in boxes[:k]:
            if of_a.overlaps(of_b) and rings_overlap(a.ring, b.ring):
                yield "text-text", f"{a.text} | {b.text}"
        if a.role != Role.ZONE and not sheet.paper.frame.holds(of_a):
            yield "out", a.text
    lines = [(kind, a, b, pen) for kind, a, b, pen in _lines(sheet, style) if kind]
    circles = list(_circles(sheet))
    for box, around in boxes:
        small = _shrunk(box.ring)
        kinds = {k for k, a, b, pen in lines if _near(around, a, b, pen) and rings_overlap(small, _broad(a, b, pen))}
        if getattr(box, "masked", False):
            kinds -= {"mains", "tees", "joists", *(("dims",) if box.role in (Role.CORNER_MARK, Role.DIMENSION) else ())}
            kinds.add("masks")
        if any(_on_circle(small, at, radius) for at, radius in circles):
            kinds.add("circles")
        yield from ((kind, box.text) for kind in sorted(kinds))


def _broad(a: Point, b: Point, pen: float) -> Ring:
    """A stroke as broad as its pen."""
    long = distance(a, b) or 1.0
    x, y = (b[1] - a[1]) / long * pen / 2, (a[0] - b[0]) / long * pen / 2
    return ((a[0] - x, a[1] - y), (b[0] - x, b[1] - y), (b[0] + x, b[1] + y), (a[0] + x, a[1] + y))


def _on_circle(ring: Ring, at: Point, radius: float) -> bool:
    """Whether letters that do not stand in a circle reach into it."""
    x, y = sum(p[0] for p in ring) / 4, sum(p[1] for p in ring) / 4
    if distance((x, y), at) < 0.7 * radius:
        return False
    octagon = [Frame(at, 22.5 + 45.0 * k).outward((radius, 0.0)) for k in range(8)]
    return rings_overlap(ring, tuple(octagon))


def _circles(sheet: Sheet) -> Iterator[tuple[Point, float]]:
    """Those around letters: of corners and of findings."""
    for window in sheet.windows:
        for shape in getattr(window, "part", None) or window.drawing.shapes:
            if isinstance(shape, Circle) and not shape.fill and shape.role in (Role.CORNER_MARK, Role.FINDING):
                yield window.to_paper(shape.centre), shape.radius / window.drawing.scale


def _near(box: Box, a: Point, b: Point, pen: float) -> bool:
    return not (
        max(a[0], b[0]) < box.left - pen
        or min(a[0], b[0]) > box.right + pen
        or max(a[1], b[1]) < box.bottom - pen
        or min(a[1], b[1]) > box.top + pen
    )


def _shrunk(ring: Ring) -> Ring:
    """A box a little smaller."""
    x, y = sum(p[0] for p in ring) / 4, sum(p[1] for p in ring) / 4
    long = max(abs(ring[2][0] - ring[0][0]), abs(ring[2][1] - ring[0][1]), 1.0)
    keep = 1.0 - 2 * _TOUCH / long
    return tuple((x + (px - x) * keep, y + (py - y) * keep) for px, py in ring)


def _lines(sheet: Sheet, style: Style) -> Iterator[tuple[str, Point, Point, float]]:
    for shape in sheet.shapes:
        for role, a, b in _strokes(shape, style, 1.0):
            yield ("paper" if _KINDS.get(role, "paper") == "paper" else ""), a, b, style.layer(role).pen
    for window in sheet.windows:
        blocks = {block.name: block.shapes for block in window.drawing.blocks}
        for shape in getattr(window, "part", None) or window.drawing.shapes:
            inner = _of_symbol(shape, blocks[shape.block]) if isinstance(shape, Symbol) else [shape]
            for part in inner:
                for role, a, b in _strokes(part, style, window.drawing.scale):
                    kind = "symbols" if isinstance(shape, Symbol) else _KINDS.get(role, "symbols")
                    clipped = _clipped(window, window.to_paper(a), window.to_paper(b))
                    if clipped:
                        yield kind, *clipped, style.layer(role).pen


def _clipped(window: Window, a: Point, b: Point) -> tuple[Point, Point] | None:
    """The part of a line that a window shows (after Liang and Barsky)."""
    box, first, last = window.box, 0.0, 1.0
    for start, step, low, high in (
        (a[0], b[0] - a[0], box.left, box.right),
        (a[1], b[1] - a[1], box.bottom, box.top),
    ):
        if step == 0.0:
            if not low <= start <= high:
                return None
            continue
        enter, leave = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, enter), min(last, leave)
    if first > last:
        return None
    ends = [(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for share in (first, last)]
    return ends[0], ends[1]


def _of_symbol(symbol: Symbol, shapes: tuple[Shape, ...]) -> Iterator[Shape]:
    place = Frame(symbol.at, symbol.angle_deg)
    for shape in shapes:
        if isinstance(shape, Line):
            yield replace(shape, start=place.outward(shape.start), end=place.outward(shape.end))
        elif isinstance(shape, Outline) and not shape.fill:
            yield replace(shape, points=tuple(map(place.outward, shape.points)))


def _strokes(shape: Shape, style: Style, scale: float) -> Iterator[tuple[Role, Point, Point]]:
    match shape:
        case Line(role=role, start=a, end=b):
            yield role, a, b
        case Outline(role=role, points=ring, fill=False, bulges=bulges):
            for k, (a, b) in enumerate(edges(ring)):
                if not (bulges and bulges[k]):
                    yield role, a, b
        case Dimension(role=role):
            for a, b in draw_dimension(shape, Heights.of(style)[role], scale).segments:
                yield role, a, b


def main(arguments: list[str]) -> None:
    """Print the table."""
    options = {arguments[k]: arguments[k + 1] for k in range(len(arguments) - 1) if arguments[k].startswith("--")}
    given = [Path(a) for a in arguments if a.endswith(".yaml")]
    rooms = given or sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))
    scale = float(options["--scale"]) if "--scale" in options else None
    only = (options["--sheets"],) if "--sheets" in options else ()
    wish = SheetWish(paper=options.get("--paper"), scale=scale, sheets=only)
    print(f"{'':34}" + "".join(f"{name:>10}" for name in COLUMNS))
    total: Counter[str] = Counter()
    for path in rooms:
        made = plan(read_room(str(path)))
        wanted = options.get("--style", "us-ncs" if made.room.imperial else "iso-13567")
        for name in style_names() if wanted == "every" else (wanted,):
            style = load_style(name)
            for sheet in draw(made, style, wish):
                found = counts(sheet, style)
                total += found
                if "--sum" not in arguments:
                    print(f"{path.stem[:16]:17}{sheet.key[-16:]:17}" + _row(found))
                if "--list" in arguments:
                    for kind, text in met(sheet, style):
                        print(f"    {name} {path.stem} {sheet.key}: {kind}: {text}")
    print(f"{'all':34}" + _row(total))


def _row(found: Counter[str]) -> str:
    return "".join(f"{found[name]:>10}" for name in COLUMNS)


if __name__ == "__main__":
    main(sys.argv[1:])
