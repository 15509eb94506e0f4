"""Where the wires of services are tied, and to what they go up.

In: services with the number of their wires, and the joists where these are known. Out: for each service its ties.

Rules: one wire at a corner, two at opposite ones, and all may be slack (a building department's handout, Everett WA),
within 3 in of the corners (handout, Daly City CA). Being slack, a wire goes to the nearest joist, up to 45 degrees
(`SLACK`); where none is so near, it is tied as far along a side as brings it nearest below one; else blocking between
the joists holds it. Of all corners those are taken that need least blocking, then those that keep clear of other wires
and services, so that each can be told from them, then those that lean least (common practice, no source).
"""

from collections.abc import Iterator, Sequence
from itertools import product

import shapely

from planner.ceiling.holding.overhead import SLACK, Up, to_joist, wire_up
from planner.geometry import Frame, Point, distance
from planner.records import dataclass
from planner.room.outline import Joists, Room

#: From the corner of a service to its wire: handout, Daly City CA.
FROM_CORNER_MM = 3 * 25.4
#: Two wires nearer to each other than this are hard to tell apart on a plan (common practice, no source).
APART_MM = 100.0

_STEPS = 16


@dataclass(frozen=True, slots=True)
class Held:
    """A service that hangs on wires of its own."""

    name: str
    at: Point
    size: tuple[float, float]  #: along the two grid axes
    round: bool
    wires: int  #: one or two


@dataclass(frozen=True, slots=True)
class Tie:
    """Where one wire is tied, and how it goes up."""

    at: Point
    up: Up
    moved: bool = False  #: not at the corner itself

    @property
    def aside(self) -> float:
        return 0.0 if self.up.top is None else distance(self.at, self.up.top)


def tied(
    room: Room, angle_deg: float, services: Sequence[Held], others: Sequence[Point] = ()
) -> Iterator[tuple[str, tuple[Tie, ...]]]:
    """The ties of each service; `others` are where other wires are fixed."""
    crowd = _Crowd(angle_deg, services, others)
    for number, service in enumerate(services):
        frame = Frame(service.at, angle_deg)
        ways = [tuple(_tie(room, frame, service, corner) for corner in corners) for corners in _corners(service)]
        best = min(ways, key=lambda ties: _worth(crowd, number, ties))
        crowd.add(best)
        yield service.name, best


def _worth(crowd: "_Crowd", number: int, ties: Sequence[Tie]) -> tuple[float, ...]:
    return (
        sum(tie.up.block for tie in ties),
        sum(crowd.meets(number, tie) for tie in ties),
        sum(tie.moved for tie in ties),
        round(sum(tie.aside for tie in ties)),
    )


def _corners(service: Held) -> Iterator[tuple[Point, ...]]:
    """The corners that wires may be tied at, as seen from the middle; of a round service ends of its diameters."""
    across, away = service.size[0] / 2, service.size[1] / 2
    if service.round:
        pairs = [((-across, 0.0), (across, 0.0)), ((0.0, -away), (0.0, away))]
    else:
        pairs = [((-across, -away), (across, away)), ((across, -away), (-across, away))]
    yield from pairs if service.wires == 2 else ((end,) for pair in pairs for end in pair)


def _tie(room: Room, frame: Frame, service: Held, corner: Point) -> Tie:
    at = frame.outward(corner)
    up = wire_up(room, at, SLACK)
    if room.joists is None or not up.block or service.round:
        return Tie(at, up)
    beside = min(_along_sides(service, corner), key=lambda spot: _off(room.joists, frame.outward(spot)))
    moved = frame.outward(beside)
    nearer = wire_up(room, moved, SLACK)
    return Tie(at, up) if nearer.block else Tie(moved, nearer, moved=True)


def _off(joists: Joists | None, spot: Point) -> float:
    return 0.0 if joists is None else round(to_joist(joists, spot), 3)


def _along_sides(service: Held, corner: Point) -> Iterator[Point]:
    """Points from a corner along both of its sides, as far as a wire may be from it."""
    for axis, step in product((0, 1), range(1, _STEPS + 1)):
        inward = min(FROM_CORNER_MM, service.size[axis] / 2) * step / _STEPS
        part = corner[axis] - inward if corner[axis] > 0 else corner[axis] + inward
        yield (part, corner[1]) if axis == 0 else (corner[0], part)


class _Crowd:
    """Where wires and services are already."""

    def __init__(self, angle_deg: float, services: Sequence[Held], others: Sequence[Point]) -> None:
        self._spots: dict[tuple[int, int], list[Point]] = {}
        for spot in others:
            self._put(spot)
        self._tree = shapely.STRtree([_outline(service, angle_deg) for service in services])

    def add(self, ties: Sequence[Tie]) -> None:
        for tie in ties:
            self._put(tie.up.top or tie.at)

    def meets(self, number: int, tie: Tie) -> bool:
        """Whether a tie is at another service, or fixed where another wire is."""
        spot = tie.up.top or tie.at
        x, y = _place(spot)
        near = (other for i, j in product((-1, 0, 1), repeat=2) for other in self._spots.get((x + i, y + j), ()))
        if any(distance(spot, other) < APART_MM for other in near):
            return True
        touched = self._tree.query(shapely.Point(tie.at), "dwithin", 1.0)
        return any(k != number for k in touched.tolist())

    def _put(self, spot: Point) -> None:
        self._spots.setdefault(_place(spot), []).append(spot)


def _place(spot: Point) -> tuple[int, int]:
    return (int(spot[0] // APART_MM), int(spot[1] // APART_MM))


def _outline(service: Held, angle_deg: float) -> shapely.Polygon:
    frame, across, away = Frame(service.at, angle_deg), service.size[0] / 2, service.size[1] / 2
    corners = ((-across, -away), (across, -away), (across, away), (-across, away))
    return shapely.Polygon([frame.outward(corner) for corner in corners])
