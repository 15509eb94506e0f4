"""What is cut out of a panel beside its two sides, where a tape and a square can mark it: notches, corners, holes.

In: the true shape of what is cut. Out: what is missing from the box around it, each with its size as two legs along
the sides; or None where something is missing that only a template tells. A tape reads no angle, so a corner is told by
its legs. A hole round a column that runs through is cut in two with it.
"""

from typing import Literal

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from planner.ceiling.model import CutOut, Panel
from planner.ceiling.rules.seismic import WIDER_MM, ringed
from planner.drawing import words
from planner.drawing.dimensions import written, written_pair
from planner.geometry import Point
from planner.lengths import Rounding
from planner.planning import Plan
from planner.records import dataclass
from planner.stock.sawn import sawn

#: What is missing by less is not told; see `planner.ceiling.grid.cut.LEAST_TOLD_MM`.
_LEAST_MM = 1.0
#: Of an area: so near to a rectangle, a triangle or a circle a shape is one.
_ALIKE = 0.01


@dataclass(frozen=True, slots=True)
class Cutaway:
    """Something missing from the box around a piece."""

    kind: Literal["notch", "corner", "hole", "round hole"]
    size: tuple[float, float]
    shape: BaseGeometry


def cutaways(piece: Polygon) -> tuple[Cutaway, ...] | None:
    """What is missing, from the lower left on; None where only a template tells."""
    missing = shapely.get_parts(piece.envelope.difference(piece))
    parts = [part for part in missing if isinstance(part, Polygon) and min(_sides(part)) >= _LEAST_MM]
    found = [_told(part, piece) for part in parts]
    known = [each for each in found if each is not None]
    return tuple(sorted(known, key=lambda each: each.shape.bounds)) if len(known) == len(found) else None


def _told(part: Polygon, piece: Polygon) -> Cutaway | None:
    size, box = _sides(part), part.envelope.area
    inside = any(Polygon(ring).buffer(_LEAST_MM).covers(part) for ring in piece.interiors)
    if abs(part.area - box) <= _ALIKE * box:
        return Cutaway("hole" if inside else "notch", size, part)
    if inside:
        round_ = abs(part.area / box - 0.785) <= _ALIKE and abs(size[0] - size[1]) <= _LEAST_MM
        return Cutaway("round hole", size, part) if round_ else None
    corner = abs(2 * part.area - box) <= _ALIKE * box and shapely.get_num_coordinates(part.simplify(_LEAST_MM / 2)) == 4
    return Cutaway("corner", size, part) if corner else None


def _sides(part: Polygon) -> tuple[float, float]:
    left, low, right, high = part.bounds
    return (right - left, high - low)


def halving(piece: BaseGeometry, hole: BaseGeometry) -> tuple[tuple[Point, Point], ...]:
    """Where a panel round a column is cut in two: through the hole, the shorter way to an edge and on to the other."""
    left, low, right, high = piece.bounds
    x, y = hole.centroid.x, hole.centroid.y
    along = min(x - left, right - x) <= min(y - low, high - y)
    whole = LineString([(left, y), (right, y)] if along else [(x, low), (x, high)])
    cut = shapely.get_parts(whole.difference(hole))
    return tuple(((p.coords[0][0], p.coords[0][1]), (p.coords[-1][0], p.coords[-1][1])) for p in cut)


def size_said(cutaway: Cutaway, units: str) -> str:
    """The legs, width by depth, up to a mark of the tape: what is cut out too small does not go round."""
    if cutaway.kind == "round hole":
        diameter = written(cutaway.size[0], "in" if units == "ft-in" else units, Rounding.UP)
        return words.say("panels.across", size=diameter)
    return written_pair(cutaway.size, units, Rounding.UP)


def cutaway_said(cutaway: Cutaway, units: str) -> str:
    """What it is, and its size."""
    kind = cutaway.kind.replace("round hole", "hole")
    return words.say(f"panels.{kind}", size=size_said(cutaway, units))


def holes_said(panel: Panel, plan: Plan) -> str:
    """What is drilled or cut for services, each size once; see `planner.ceiling.rules.seismic.ringed` for pipes."""
    heads = {head.name for head in ringed(plan.room, plan.ceiling.system, plan.ceiling.services)}
    sizes = (_hole_size(hole, plan.room.units, by_pipe=hole.service in heads) for hole in panel.cutouts)
    return ", ".join(words.say("panels.drilled", size=size) for size in dict.fromkeys(sizes))


def _hole_size(hole: CutOut, units: str, *, by_pipe: bool) -> str:
    inches = "in" if units == "ft-in" else units
    if by_pipe:
        return words.say("panels.by pipe", size=written(WIDER_MM, inches))
    if hole.shape == "round":
        return words.say("panels.across", size=written(hole.size[0], inches))
    return written_pair(hole.size, units)


def one_cutaway(panel: Panel, plan: Plan) -> str:
    """The one notch, corner or hole that is cut, with its size; nothing where there is more to the shape, or less."""
    if panel.shape not in ("notched", "shaped"):
        return ""
    (shape,) = sawn([panel], plan.ceiling.layout, plan.ceiling.system.panel_undersize)
    found = cutaways(shape)
    if not found or len(found) > 1:
        return ""
    half = max(abs(a - b) for a, b in zip(found[0].size, panel.cut_to, strict=True)) < 1.0
    return words.say("panels.triangle") if half else cutaway_said(found[0], plan.room.units)
