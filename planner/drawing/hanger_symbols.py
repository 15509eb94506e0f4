"""Hangers as symbols: one block for each kind, the same size on paper at every scale.

In: hangers, a scale. Out: symbols with their data, and the blocks they are inserts of. The signs are our own (no
standard sign was found): the legend says what each means.
"""

from collections.abc import Callable, Iterable, Iterator

from shapely.geometry import LineString, Polygon

from planner.ceiling.holding.overhead import HALF_JOIST_MM, block_ends
from planner.ceiling.model import Hanger
from planner.drawing import words
from planner.drawing.dimensions import written
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Block, Circle, Line, Outline, Shape, Symbol
from planner.geometry import Point
from planner.lengths import Rounding
from planner.room.outline import Room

#: Half the size of a sign on paper, millimetres.
HALF = 0.9
#: The widest of them that lies on a run, in such halves; half of the sign of a brace, millimetres.
WIDEST = 1.3
BRACE_HALF = 1.9 * HALF
#: Half of that of a service's wire: so wide that the sign of another wire at the same place is seen within it.
SERVICE_HALF = 2.2 * HALF
#: Half of the dot where a wire that leans is tied; smaller than the sign of a wire that goes straight up.
TIE_DOT = 0.4


def hanger_block(kind: str, scale: float) -> Block:
    """The block of one kind at 1:`scale`; around (0, 0)."""
    name = f"HANGER-{kind.upper().replace(' ', '-')}-{scale:g}".replace(".", "-")
    return Block(name, _SIGNS[kind](HALF * scale))


def hanger_symbols(hangers: Iterable[Hanger], scale: float, units: str) -> tuple[Symbol, ...]:
    """An insert for each hanger, with its id, kind, what it holds, and the length of its wire."""
    return tuple(_symbol(hanger, scale, units) for hanger in hangers)


def leaning_lines(hangers: Iterable[Hanger]) -> Iterator[Line]:
    """From where a wire that leans is fixed to where it is tied."""
    for hanger in hangers:
        if hanger.top is not None:
            yield Line(Role.HANGER, hanger.top, hanger.at, words.say("legend.leaning"))


def tie_dots(hangers: Iterable[Hanger], scale: float) -> Iterator[Circle]:
    """A dot where a wire that leans is tied, for its sign stands where it is fixed."""
    for hanger in hangers:
        if hanger.top is not None:
            yield Circle(Role.HANGER, hanger.at, TIE_DOT * scale, fill=True, title=words.say("legend.leaning"))


def blocking_outlines(room: Room, hangers: Iterable[Hanger]) -> Iterator[Outline]:
    """Blocking between two joists, over the first of the wires that share it, as wide as a joist usually is."""
    over = {hanger.block: hanger.at for hanger in reversed(tuple(hangers)) if hanger.block}
    inside = Polygon(room.outline)
    joists = room.joists
    if joists is None:
        return
    for number in sorted(over):
        line = LineString(block_ends(joists, over[number]))
        part = line.buffer(HALF_JOIST_MM, cap_style="flat").intersection(inside)  # up to the wall, at a wall
        if isinstance(part, Polygon) and not part.is_empty:
            ring = tuple((x, y) for x, y in part.exterior.coords[:-1])
            yield Outline(Role.FURRING, ring, title=words.say("legend.blocking"))


def brace_block(scale: float) -> Block:
    """The sign of a lateral brace: four splayed wires and a strut."""
    r = BRACE_HALF * scale
    wires = (Line(Role.HANGER, (-r, -r), (r, r)), Line(Role.HANGER, (-r, r), (r, -r)))
    square = Outline(Role.HANGER, ((-r, -r), (r, -r), (r, r), (-r, r)))
    return Block(f"BRACE-{scale:g}".replace(".", "-"), (square, *wires))


def brace_symbols(braces: Iterable[Point], scale: float) -> tuple[Symbol, ...]:
    """An insert for each point of lateral bracing."""
    return tuple(Symbol(Role.HANGER, brace_block(scale).name, at, title=words.say("legend.brace")) for at in braces)


def _symbol(hanger: Hanger, scale: float, units: str) -> Symbol:
    kind = words.say(f"hanger names.{hanger.kind}")
    length = "" if hanger.length is None else written(hanger.length, units, Rounding.UP)
    given = (
        ("MARK", hanger.id),
        ("KIND", kind),
        ("HOLDS", hanger.member),
        ("LENGTH", length),
    )
    title = words.say("hangers.title", kind=kind[:1].upper() + kind[1:], id=hanger.id, member=hanger.member)
    title = f"{title}, {length}" if length else title
    attributes = tuple((key, clean(value)) for key, value in given)
    block = hanger_block(hanger.kind, scale).name
    return Symbol(Role.HANGER, block, hanger.overhead, 0.0, attributes, clean(title))


def _dot(r: float) -> tuple[Shape, ...]:
    return (Circle(Role.HANGER, (0.0, 0.0), 0.7 * r, fill=True),)


def _ringed_dot(r: float) -> tuple[Shape, ...]:
    return (Circle(Role.HANGER, (0.0, 0.0), 0.6 * r, fill=True), Circle(Role.HANGER, (0.0, 0.0), 1.3 * r))


def _triangle(r: float) -> tuple[Shape, ...]:
    return (Outline(Role.HANGER, ((-r, -0.8 * r), (r, -0.8 * r), (0.0, r)), fill=True),)


def _open_triangle(r: float) -> tuple[Shape, ...]:
    return (Outline(Role.HANGER, ((-r, -0.8 * r), (r, -0.8 * r), (0.0, r))),)


def _diamond(r: float) -> tuple[Shape, ...]:
    w = r * SERVICE_HALF / HALF
    return (Outline(Role.HANGER, ((-w, 0.0), (0.0, -w), (w, 0.0), (0.0, w))),)


def _cross(r: float) -> tuple[Shape, ...]:
    return (Line(Role.HANGER, (-r, -r), (r, r)), Line(Role.HANGER, (-r, r), (r, -r)))


_SIGNS: dict[str, Callable[[float], tuple[Shape, ...]]] = {
    "wire": _dot,
    "splice wire": _ringed_dot,
    "wall wire": _triangle,
    "end wire": _open_triangle,
    "service wire": _diamond,
    "screw": _cross,
}

#: Every kind, in the order in which legends and lists tell of them.
HANGER_KINDS = tuple(_SIGNS)
