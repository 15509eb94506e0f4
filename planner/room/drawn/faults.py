"""What makes somebody else's drawing unusable as a room, said in its own coordinates so that it can be found there.

In come traced strokes and what is known of the drawing; out come complaints. Rules: a room is between half a metre and
150 m long unless the room file confirms the drawing's unit; an outline is closed and crosses neither itself nor
another. Common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence

import shapely
from shapely import LineString, MultiPoint, Polygon

from planner.errors import Complaint, InputError
from planner.geometry import Point, box_of, distance
from planner.limits import USUAL, Limits
from planner.records import dataclass
from planner.room.drawn.loops import Loop, Stroke
from planner.room.drawn.tracing import Traced

#: Units that a room file may name for a drawing, in millimetres.
UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
#: A room longer or shorter than this is more likely a room in the wrong unit (millimetres).
LONGEST_MM, SHORTEST_MM = 150_000.0, 500.0
#: Where a room of the right unit is looked for, to propose that unit (millimetres).
LIKELY_MM = (2_000.0, 60_000.0)
#: Two loops this close all round are the two faces of a wall (millimetres).
THICKEST_WALL_MM = 600.0
#: Rings are off their arcs by a tenth of a millimetre, so that two which only touch may overlap by two.
TOUCHING_MM = 0.2
#: Complaints of one kind are told one by one up to here, then only counted.
MOST_TOLD = 10
_PAIRED = 200  # loose ends among which the nearest are looked for, every one with every other


@dataclass(frozen=True, slots=True)
class Original:
    """The drawing that strokes come from."""

    file: str
    layer: str
    unit: str  #: its name, e.g. "in"
    unit_mm: float
    header_unit: str = ""  #: what the drawing itself says; "" when it says nothing
    told: bool = False  #: the unit was given beside the drawing, whatever the drawing says
    unread: str = ""  #: things on the layer that are neither lines nor arcs, e.g. "2 SPLINE, 1 ELLIPSE"
    limits: Limits = USUAL

    def at(self, point: Point) -> str:
        """A place as the drawing's author would look it up, and in millimetres."""
        theirs = f"({_short(point[0] / self.unit_mm)}, {_short(point[1] / self.unit_mm)}) {self.unit}"
        return theirs if self.unit == "mm" else f"{theirs} = ({point[0]:.1f}, {point[1]:.1f}) mm"

    def size(self, mm: float) -> str:
        """A length in the drawing's unit and in millimetres."""
        return f"{mm:.3g} mm" if self.unit == "mm" else f"{_short(mm / self.unit_mm)} {self.unit} ({mm:.3g} mm)"

    def complaint(self, problem: str, mend: str) -> Complaint:
        return Complaint(f"layer {self.layer}", problem, mend, file=self.file)


def check_size(traced: Traced, original: Original) -> None:
    """Raise InputError when the room, or what should have become one, cannot be in the right unit."""
    long = _implausible(traced)
    if long is None:
        return
    confirmed = original.told and original.unit == original.header_unit
    if confirmed and long > LONGEST_MM:
        return
    said = f"it was read with units: {original.unit}" if original.told else f"its DXF says {original.unit}"
    metres = f"{long / 1000:.3g} m"
    likely = [
        f"units: {unit} makes it {long / original.unit_mm * mm / 1000:.3g} m"
        for unit, mm in UNITS.items()
        if LIKELY_MM[0] <= long / original.unit_mm * mm <= LIKELY_MM[1]
    ]
    mend = "Give the unit it is drawn in: " + "; ".join(likely or UNITS) + "."
    if long > LONGEST_MM and original.header_unit and not original.told:
        mend += f" If it really is {metres} long, say so with units: {original.unit}."
    raise InputError((original.complaint(f"is this room {metres} long? {said}", mend),))


def _implausible(traced: Traced) -> float | None:
    """The length of the room if it cannot be one, else None.

    Where nothing is closed the largest thing is judged for being too long, everything for being too short.
    """
    if traced.loops:
        large = whole = traced.loops[0].ring()
    else:
        loose = [_points(strokes) for strokes in (*traced.chains, *(tangle.strokes for tangle in traced.tangles))]
        large = max(loose, key=_diagonal, default=())
        whole = tuple(p for points in loose for p in points)
    if large and (long := long_side(large)) > LONGEST_MM:
        return long
    if whole and (long := long_side(whole)) < SHORTEST_MM:
        return long
    return None


def long_side(points: Sequence[Point]) -> float:
    """The long side of the narrowest rectangle around points, however it is turned."""
    around = shapely.oriented_envelope(MultiPoint(points))
    if not isinstance(around, Polygon):
        return float(around.length)
    a, b, c = around.exterior.coords[:3]
    return max(distance(a, b), distance(b, c))  # type: ignore[arg-type]


def unclosed(traced: Traced, original: Original, gap_mm: float) -> tuple[tuple[Complaint, ...], tuple[Point, ...]]:
    """Complaints about strokes that do not close, and a point of each stray that can be left out.

    A stray is a stroke or chain smaller than the outline that is no unclosed column: it lies outside, or its ends are
    further apart than half its length.
    """
    room = traced.loops[0] if traced.loops else None
    zone = Polygon(room.ring()).buffer(1.0) if room else Polygon()
    shapely.prepare(zone)
    size = _diagonal(room.ring()) if room else 0.0

    def matters(strokes: tuple[Stroke, ...], nearly_closed: bool) -> bool:
        points = _points(strokes)
        return _diagonal(points) >= size or (nearly_closed and bool(zone.contains(LineString(points))))

    chains: list[tuple[Stroke, ...]] = []
    meetings: list[Point] = []
    strays: list[Point] = []
    for chain in traced.chains:
        if matters(chain, distance(chain[0].start, chain[-1].end) <= _length(chain) / 2):
            chains.append(chain)
        else:
            strays.append(chain[0].start)
    for tangle in traced.tangles:
        if matters(tangle.strokes, True):
            meetings += tangle.meetings
        else:
            strays.append(tangle.meetings[0])
    complaints = [*_open(chains, original, gap_mm), *_meeting(meetings, original)]
    if not room and not complaints:
        complaints = [original.complaint("there is no closed outline" + _but(original), _ALONE)]
    return tuple(complaints), tuple(strays)


_ALONE = "Put the outline and the columns alone on a layer of their own, as closed polylines or lines end to end."


def _open(chains: Sequence[tuple[Stroke, ...]], original: Original, gap_mm: float) -> list[Complaint]:
    """One complaint for each gap, the narrowest first."""
    gaps = _gaps([end for chain in chains for end in (chain[0].start, chain[-1].end)])
    mend = f"Close it in the drawing; gaps up to {gap_mm:g} mm are closed for you."
    complaints = [
        original.complaint(
            f"the outline is open: {original.at(a)} and {original.at(b)} are {original.size(distance(a, b))} apart"
            + _but(original),
            mend,
        )
        for a, b in gaps[:MOST_TOLD]
    ]
    if len(chains) > len(complaints):
        complaints.append(original.complaint(f"{len(chains)} lines or chains of lines are open in all", _ALONE))
    return complaints


def _gaps(ends: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Loose ends in pairs, the nearest first."""
    known = ends[:_PAIRED]
    pairs = sorted((distance(known[i], known[j]), i, j) for i in range(len(known)) for j in range(i))
    free, found = set(range(len(known))), []
    for _, i, j in pairs:
        if {i, j} <= free:
            free -= {i, j}
            found.append((known[j], known[i]))
    return found


def _meeting(meetings: Sequence[Point], original: Original) -> list[Complaint]:
    complaints = [
        original.complaint(f"three lines or more meet at {original.at(p)}, so the outline could go either way", _ALONE)
        for p in meetings[:MOST_TOLD]
    ]
    if len(meetings) > MOST_TOLD:
        complaints.append(original.complaint(f"lines meet so at {len(meetings)} places in all", _ALONE))
    return complaints


def _but(original: Original) -> str:
    """What else may be to blame."""
    return f" (the layer also holds {original.unread}, which cannot be read)" if original.unread else ""


def not_simple(loop: Loop, original: Original) -> Complaint | None:
    """A complaint about a loop that crosses or touches itself."""
    shape = Polygon(loop.ring())
    if shape.is_valid:
        return None
    numbers = re.findall(r"-?\d[\d.]*(?:e[+-]?\d+)?", shapely.is_valid_reason(shape))
    place = (float(numbers[0]), float(numbers[1])) if len(numbers) == 2 else loop.vertices[0]
    return original.complaint(
        f"a closed line crosses or touches itself at {original.at(place)}", "Draw it as one simple loop."
    )


def crossing(loop: Loop, other: Loop, original: Original) -> Complaint:
    """The complaint about two loops that overlap in part."""
    return original.complaint(
        f"two closed lines cross: the one that starts at {original.at(loop.vertices[0])} "
        f"and the one that starts at {original.at(other.vertices[0])}",
        "A column stands inside the outline and clear of other columns; draw the outline around one that does not.",
    )


def two_faces(room: Polygon, shape: Polygon, loop: Loop, original: Original) -> Complaint | None:
    """A complaint when outline and loop are the two faces of a wall all round."""
    if shape.area < room.area / 3:
        return None
    middle = room.buffer(-THICKEST_WALL_MM)
    if middle.is_empty or not shape.buffer(TOUCHING_MM).covers(middle):
        return None
    return original.complaint(
        f"the loop that starts at {original.at(loop.vertices[0])} follows the outline all round: "
        "these look like the two faces of a wall",
        "Put the inner face alone on a layer of its own; the ceiling reaches only that far.",
    )


def _points(strokes: Iterable[Stroke]) -> tuple[Point, ...]:
    return tuple(p for s in strokes for p in (s.start, s.end))


def _length(strokes: Iterable[Stroke]) -> float:
    return sum(stroke.length for stroke in strokes)


def _diagonal(points: Sequence[Point]) -> float:
    box = box_of(points)
    return distance((box.left, box.bottom), (box.right, box.top))


def _short(value: float) -> str:
    """A coordinate to a thousandth of the drawing's unit, without zeros that say nothing."""
    return f"{value:.3f}".rstrip("0").rstrip(".")
