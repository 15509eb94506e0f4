"""What each kind of service looks like: one block for each kind and size, at true size around its centre.

In: a service in its place. Out: a `Block` of shapes on the role of its kind. Conventions as far as public sources agree
(supply: square with both diagonals; return: one diagonal; downlight: circle with a cross; detector: circle with an S,
all from memory); because they do not agree everywhere, the legend always says. No letters are drawn in a block: letters
have a height on paper, blocks have a size in the room.

Devices that would be too small to see are drawn larger: see `SMALLEST`.
"""

import math
from collections.abc import Callable

from planner.ceiling.model import Service
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Block, Circle, Line, Outline, Shape
from planner.geometry import Ring
from planner.records import dataclass
from planner.room.service_kinds import KINDS

#: No symbol is smaller than this on paper, millimetres.
SMALLEST = 2.6

_ROLES = {
    "troffer": Role.LIGHT,
    "downlight": Role.LIGHT,
    "supply_diffuser": Role.SUPPLY_AIR,
    "return_grille": Role.RETURN_AIR,
    "sprinkler": Role.SPRINKLER,
    "smoke_detector": Role.DETECTOR,
    "speaker": Role.SPEAKER,
    "exit_sign": Role.EXIT_SIGN,
    "access_panel": Role.ACCESS,
}


@dataclass(frozen=True, slots=True)
class Look:
    """A block, and how much room it takes around its insertion point."""

    block: Block
    role: Role
    half: tuple[float, float]  #: half its width and depth as drawn, millimetres of the room
    enlarged: bool  #: True when it is drawn larger than it is


def role_of(kind: str) -> Role:
    """The role that a kind of service is drawn on; ValueError when it has no symbol."""
    if kind not in _ROLES:
        raise ValueError(f"no symbol for {kind!r}; give it one beside its row in KINDS ({', '.join(KINDS)})")
    return _ROLES[kind]


def look_of(service: Service, scale: float) -> Look:
    """How a service is drawn at 1:`scale`."""
    role = role_of(service.kind)
    least = SMALLEST * scale
    width, depth = service.size
    factor = max(1.0, least / max(width, depth)) if max(width, depth) > 0 else 0.0
    w, d = (width * factor, depth * factor) if factor else (least, least)
    if service.kind == "exit_sign" and not service.round:
        w, d = (max(w, 0.5 * d), max(d, 0.5 * w))  # a sign is thin seen from below: a line would be lost
    form = "R" if service.round else "X"
    name = f"{service.kind.replace('_', '-').upper()}-{round(w)}{form}{round(d)}"
    inside = math.sqrt(0.5) if service.round and service.kind in ("supply_diffuser", "return_grille") else 1.0
    shapes = (_edge(role, w, d, service.round), *_INSIDES[service.kind](role, inside * w / 2, inside * d / 2))
    if service.kind == "access_panel" and not service.round:
        shapes = _dashed(role, w, d)
    return Look(Block(name, shapes), role, (w / 2, d / 2), factor != 1.0)


def _edge(role: Role, width: float, depth: float, is_round: bool) -> Shape:
    if is_round:
        return Circle(role, (0.0, 0.0), width / 2)
    return Outline(role, _rectangle(width / 2, depth / 2))


def _rectangle(x: float, y: float) -> Ring:
    return ((-x, -y), (x, -y), (x, y), (-x, y))


def _centre_line(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    """A light: a line along its middle, the way its tubes lie."""
    if x >= y:
        return (Line(role, (-0.85 * x, 0.0), (0.85 * x, 0.0)),)
    return (Line(role, (0.0, -0.85 * y), (0.0, 0.85 * y)),)


def _upright_cross(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    return (Line(role, (-x, 0.0), (x, 0.0)), Line(role, (0.0, -y), (0.0, y)))


def _both_diagonals(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    return (Line(role, (-x, -y), (x, y)), Line(role, (-x, y), (x, -y)))


def _one_diagonal(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    return (Line(role, (-x, -y), (x, y)),)


def _dot(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    return (Circle(role, (0.0, 0.0), 0.38 * min(x, y), fill=True),)


def _letter_s(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    """An S of two arcs, so that it grows and turns with its block."""
    r = 0.28 * min(x, y)
    return (Arc(role, (0.0, r), r, 30.0, 270.0), Arc(role, (0.0, -r), r, 210.0, 90.0))


def _cone(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    """A loudspeaker: its magnet and its cone."""
    r = 0.62 * min(x, y)
    cone = ((-0.35 * r, -0.35 * r), (0.75 * r, -r), (0.75 * r, r), (-0.35 * r, 0.35 * r))
    return (Outline(role, _moved_left(cone, 0.25 * r)),)


def _half_filled(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    """An exit sign: its lit half filled."""
    return (Outline(role, ((-x, -y), (x, y), (-x, y)), fill=True),)


def _nothing(role: Role, x: float, y: float) -> tuple[Shape, ...]:
    return ()


def _moved_left(ring: Ring, by: float) -> Ring:
    return tuple((x - by, y) for x, y in ring)


def _dashed(role: Role, width: float, depth: float) -> tuple[Shape, ...]:
    """A dashed rectangle whose dashes meet at the corners, whatever the line type of the layer."""
    ring = _rectangle(width / 2, depth / 2)
    shapes: list[Shape] = []
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        for k in range(0, 9, 2):
            a, b = k / 9, (k + 1) / 9
            start = (ax + (bx - ax) * a, ay + (by - ay) * a)
            shapes.append(Line(role, start, (ax + (bx - ax) * b, ay + (by - ay) * b)))
    return tuple(shapes)


_INSIDES: dict[str, Callable[[Role, float, float], tuple[Shape, ...]]] = {
    "troffer": _centre_line,
    "downlight": _upright_cross,
    "supply_diffuser": _both_diagonals,
    "return_grille": _one_diagonal,
    "sprinkler": _dot,
    "smoke_detector": _letter_s,
    "speaker": _cone,
    "exit_sign": _half_filled,
    "access_panel": _nothing,
}
