"""What lies in a polygon: points, and small convex rings such as boxes of letters."""

from planner.drawing.labels import rings_overlap
from planner.geometry import Point, Ring, edges


def lies_in(inner: Ring, outer: Ring) -> bool:
    """True when a small convex ring lies in a polygon: its corners do, and no side of the polygon crosses it."""
    return all(inside(point, outer) for point in inner) and not any(rings_overlap(inner, edge) for edge in edges(outer))


def inside(point: Point, ring: Ring) -> bool:
    """Even-odd rule."""
    x, y = point
    hit = False
    for (ax, ay), (bx, by) in edges(ring):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            hit = not hit
    return hit
