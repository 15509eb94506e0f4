"""Rules about services and each other, where a published standard has a distance.

In: a `Built`. Out: findings. That a service meets no tee, wall or other service is seen to where it is placed.
"""

from collections.abc import Iterator, Sequence

import shapely

from planner.arcs import arc_middle
from planner.ceiling.holding.overhead import names_said
from planner.ceiling.model import Service
from planner.ceiling.rules.built import INCH, Built
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Frame, Point, distance
from planner.sayings import joined, said

#: NFPA 72 A.17.7.4 (annex, read second hand): a detector stands this far from supply and return air.
DETECTOR_FROM_AIR_MM = 36 * INCH

#: NFPA 13, light hazard, as quoted in trade articles: heads from walls and from each other.
HEAD_FROM_WALL_MM = 4 * INCH
WALL_FROM_HEAD_MM = 90 * INCH
HEADS_CLOSEST_MM = 72 * INCH
HEADS_FURTHEST_MM = 180 * INCH


def detector_near_air(built: Built) -> Iterator[Finding]:
    """A smoke detector stands out of the air stream, at least 36 in from supply and return air.

    NFPA 72 A.17.7.4 (annex, read second hand). Measured from the edge of the grille to the middle of the detector.
    """
    air = [service for service in built.services if service.kind in ("supply_diffuser", "return_grille")]
    angle = built.layout.frame.angle_deg
    near = [
        (gap, detector, grille)
        for detector in built.services
        if detector.kind == "smoke_detector"
        for grille in air
        if (gap := _from_edge(grille, detector.at, angle)) < DETECTOR_FROM_AIR_MM - TOLERANCE_MM
    ]
    if near:
        gap = min(found[0] for found in near)
        pairs = names_said(said("{one} from {other}", one=one.name, other=other.name) for _, one, other in near)
        text = said(
            "{pairs}: {gap}, less than {detector_from_air} from moving air.",
            pairs=pairs,
            gap=built.said(gap),
            detector_from_air=built.said(DETECTOR_FROM_AIR_MM),
        )
        remedy = said("Move the detector away from the grille; its maker and the fire code decide.")
        told = Finding("warn", "detector near air", "NFPA 72 A.17.7.4, second hand", text, None, remedy)
        yield placed(told, (detector.at for _, detector, _ in near))


def _from_edge(service: Service, point: Point, angle_deg: float) -> float:
    """From the edge of a service to a point outside it; 0 inside."""
    x, y = Frame(service.at, angle_deg).inward(point)
    width, depth = service.size
    if service.round:
        return max(0.0, distance(service.at, point) - width / 2)
    return distance((max(abs(x) - width / 2, 0.0), max(abs(y) - depth / 2, 0.0)), (0.0, 0.0))


def sprinkler_distances(built: Built) -> Iterator[Finding]:
    """Sprinkler heads at least 4 in from walls and 6 ft from each other; at most 7.5 ft from a wall, 15 ft apart.

    NFPA 13, light hazard, as quoted in trade articles. A reminder in one finding: licensed people lay out heads.
    """
    heads = [service for service in built.services if service.kind == "sprinkler"]
    if not heads:
        return
    close = _close_to_walls(built, heads)
    troubles = [*close, *_walls_without(built, heads), *_among(built, heads)]
    if troubles:
        text = said("Sprinkler heads: {troubles}.", troubles=joined((words for words, _ in troubles), "; "))
        spots = (spot for _, spots in troubles for spot in spots)
        remedy = said("A reminder for light hazard only: whoever designs the sprinklers decides where heads go.")
        source = "NFPA 13, second hand"
        yield placed(Finding("warn" if close else "note", "sprinkler distances", source, text, None, remedy), spots)


_Trouble = tuple[str, list[Point]]  #: what is wrong, and where


def _close_to_walls(built: Built, heads: Sequence[Service]) -> list[_Trouble]:
    rings = [built.room.outline, *(column.outline for column in built.room.columns)]
    walls = shapely.MultiLineString([shapely.LinearRing(ring).coords for ring in rings])
    close = [head for head in heads if walls.distance(shapely.Point(head.at)) < HEAD_FROM_WALL_MM - TOLERANCE_MM]
    told = said(
        "{names} under {head_from_wall} from a wall",
        names=names_said(head.name for head in close),
        head_from_wall=built.said(HEAD_FROM_WALL_MM),
    )
    return [(told, _places(close))] if close else []


def _walls_without(built: Built, heads: Sequence[Service]) -> list[_Trouble]:
    """Walls with no head near enough."""
    spots = shapely.MultiPoint([head.at for head in heads])
    bare = [
        wall
        for wall in built.room.walls
        if spots.distance(shapely.LineString(wall.points)) > WALL_FROM_HEAD_MM + TOLERANCE_MM
    ]
    told = said(
        "none within {wall_from_head} of {names}",
        wall_from_head=built.said(WALL_FROM_HEAD_MM),
        names=names_said(wall.name for wall in bare),
    )
    return [(told, [arc_middle(wall.start, wall.end, wall.bulge) for wall in bare])] if bare else []


def _among(built: Built, heads: Sequence[Service]) -> list[_Trouble]:
    """Heads too near the next one, and heads too far from it."""
    if len(heads) < 2:
        return []
    spots = [shapely.Point(head.at) for head in heads]
    tree = shapely.STRtree(spots)
    near = tree.query_nearest(spots, exclusive=True, return_distance=True, all_matches=False)
    gaps = dict(zip(near[0][0].tolist(), near[1].tolist(), strict=True))
    close = [heads[k] for k, gap in gaps.items() if gap < HEADS_CLOSEST_MM - TOLERANCE_MM]
    far = [heads[k] for k, gap in gaps.items() if gap > HEADS_FURTHEST_MM + TOLERANCE_MM]
    return [
        *(
            (
                said(
                    "{names} under {heads_closest} apart",
                    names=_names(close),
                    heads_closest=built.said(HEADS_CLOSEST_MM),
                ),
                _places(close),
            )
            for _ in close[:1]
        ),
        *(
            (
                said(
                    "{names} over {heads_furthest} from the next",
                    names=_names(far),
                    heads_furthest=built.said(HEADS_FURTHEST_MM),
                ),
                _places(far),
            )
            for _ in far[:1]
        ),
    ]


def _places(services: Sequence[Service]) -> list[Point]:
    return [service.at for service in services]


def _names(services: Sequence[Service]) -> str:
    return names_said(service.name for service in services)
