"""Rules for earthquakes, where the room file gives a seismic design category.

In: a `Built`. Out: findings. Sources: ASTM E580 (scope and s. 1.5 read, the rest as summarised second hand), ASCE 7
s. 13.5.6, building departments' handouts (Daly City CA, Everett WA, Anchorage AK). Categories A and B ask for nothing
beyond ASTM C636. The standard is for hung ceilings; of one fixed straight to the joists these rules say nothing. Wires,
anchors and posts are in the order; clips, rings and what ties tee ends together are not: they are of the listed system
that is bought.
"""

from collections.abc import Iterable, Iterator

from planner.ceiling.holding.bracing import (
    BRACED_OVER_MM2,
    BY_CROSS_TEE_MM,
    FOOT,
    LIMITS,
    far_from_cross_tees,
    no_joist_above,
)
from planner.ceiling.holding.overhead import names_said
from planner.ceiling.members.free_ends import STRICT, perimeter_of
from planner.ceiling.model import Service
from planner.ceiling.rules.built import INCH, Built
from planner.ceiling.system import System
from planner.findings import Finding, placed
from planner.geometry import TOLERANCE_MM, Point
from planner.room.outline import Room
from planner.room.site import SeismicCategory
from planner.sayings import joined, linked, said, term

E580 = "ASTM E580, second hand"

#: Least ledge of the wall angle: ASTM E580, second hand.
LEDGE_C_MM = 7 / 8 * INCH
LEDGE_D_MM = 2 * INCH
WIDER_MM = 2 * INCH  #: a hole in a panel than the rigid pipe in it: ASTM E580, second hand
LEAST_OVERLAP_MM = 3 / 8 * INCH  #: of a tee on its ledge: ASTM E580, second hand
JOINT_OVER_MM2 = 2500 * FOOT**2  #: ASTM E580, second hand
SMALL_ROOM_MM2 = 144 * FOOT**2  #: ASCE 7 s. 13.5.6 exception, from memory


def overlap_on_ledge(ledge: float, gap: float) -> float:
    """How far a tee end lies on its ledge when it is cut short of the wall by a gap."""
    return ledge - gap


def seismic_perimeter(built: Built) -> Iterator[Finding]:
    """How tees end at walls: in category C 3/8 in free of all, in D to F fixed at two and 3/4 in free elsewhere.

    ASTM E580 ss. 4 and 5, second hand; rooms up to 144 ft2 with braced walls are exempt (ASCE 7 s. 13.5.6, memory).
    """
    ends = perimeter_of(built.room, built.system)
    if ends is None:
        return
    if ends.fixed:
        text = said(
            "Seismic category {category}: tee ends are fixed at {walls}; anywhere else they stop {gap} short of the "
            "wall. All lengths are cut so.",
            category=built.room.site.seismic,
            walls=linked(ends.fixed),
            gap=built.said(ends.gap),
        )
    else:
        text = said(
            "Seismic category C: every tee end stops {gap} short of the wall and is fixed to none. All lengths are "
            "cut so.",
            gap=built.said(ends.gap),
        )
    wires = sum(hanger.kind == "wall wire" for hanger in built.hangers)
    held = said(" {wires} more wires hold the tee ends at the walls.", wires=wires) if wires else ""
    exempt = (
        said(" Rooms up to {area} with braced walls are exempt.", area=_area_said(built, SMALL_ROOM_MM2))
        if built.room.area <= SMALL_ROOM_MM2
        else ""
    )
    remedy = said("Tie the ends against spreading.{exempt} The local building office decides.", exempt=exempt)
    yield Finding("note", "seismic perimeter", E580, text + held, None, remedy)


def seismic_ledge(built: Built) -> Iterator[Finding]:
    """The ledge is at least 7/8 in (category C) or 2 in (D to F), and a tee overlaps it by 3/8 in.

    ASTM E580, second hand. A panel is as large as without an earthquake, and still lies on its ledge when the grid has
    taken it away from the wall by the gap; the whole of its undersize is taken to lie at the wall.
    """
    category, ledge, ends = _category(built), built.system.ledge, perimeter_of(built.room, built.system)
    if ends is None:
        return
    least = LEDGE_C_MM if category == "C" else LEDGE_D_MM
    overlap, panel = overlap_on_ledge(ledge, ends.gap), overlap_on_ledge(ledge - built.system.panel_undersize, ends.gap)
    wide = ledge >= least - TOLERANCE_MM and overlap >= LEAST_OVERLAP_MM - TOLERANCE_MM
    if wide and panel > TOLERANCE_MM:
        return
    text = said(
        "The wall angle's ledge is {ledge}; category {category} asks for {least}. A tee end that is free lies on it by "
        "{overlap}, a panel that moves with the grid by {panel}.",
        ledge=built.said(ledge),
        category=category,
        least=built.said(least),
        overlap=built.said(max(overlap, 0.0)),
        panel=built.said(max(panel, 0.0)),
    )
    remedy = said("Take a wider wall angle, or clips that are listed for a narrow one.")
    yield Finding("warn", "seismic ledge", E580, text, None, remedy)


def seismic_duty(built: Built) -> Iterator[Finding]:
    """Main tees are of intermediate or heavy duty in category C, heavy in D to F; ASTM E580, handout Anchorage AK."""
    category, duty = _category(built), built.system.hanging.duty
    enough = {"C": ("intermediate", "heavy"), "D": ("heavy",), "E": ("heavy",), "F": ("heavy",)}.get(category or "")
    if enough is not None and duty not in enough:
        text = said(
            "The main tees are of {duty} duty; category {category} asks for {enough}.",
            duty=term(duty),
            category=category,
            enough=term(enough[0]),
        )
        yield Finding(
            "warn", "seismic duty", E580, text, None, said("Take main tees of {enough} duty.", enough=term(enough[0]))
        )


def seismic_rings(built: Built) -> Iterator[Finding]:
    """Sprinkler heads on rigid pipes pass with 1 in free all round, categories D to F; ASTM E580, second hand."""
    heads = ringed(built.room, built.system, built.services)
    if heads:
        text = said(
            "{count} sprinkler heads: holes {wider} wider than the pipes, with rings, unless both are braced alike.",
            count=len(heads),
            wider=built.said(WIDER_MM),
        )
        remedy = said("Cut them larger than drawn where the pipe is rigid; flexible drops need none.")
        yield placed(Finding("note", "seismic rings", E580, text, None, remedy), (head.at for head in heads))


def ringed(room: Room, system: System, services: Iterable[Service]) -> list[Service]:
    """Sprinkler heads whose holes are told by their pipes: none but where `seismic_rings` asks for wider ones."""
    if system.fixing != "hung" or room.site.seismic not in STRICT:
        return []
    return [service for service in services if service.kind == "sprinkler"]


def lateral_bracing(built: Built) -> Iterator[Finding]:
    """Over 1000 ft2 the ceiling is braced, categories D to F; ASTM E580 s. 1.5, points by a handout (Daly City CA)."""
    if _category(built) not in STRICT or built.room.area <= BRACED_OVER_MM2 * (1 + 1e-9):
        return
    spots = built.braces
    text = said(
        "{area} of ceiling are braced, at {count} points: {points}.",
        area=_area_said(built, built.room.area),
        count=len(spots),
        points=_points_said(built, spots),
    )
    remedy = said(
        "At each: four splayed 12 gauge wires, 90 degrees apart, at most 45 degrees from level, and a "
        "post; at most {apart} apart and {first} from walls. An engineer confirms.",
        apart=built.said(LIMITS.apart),
        first=built.said(LIMITS.first),
    )
    beside, far = _braces_wanting(built)
    text, remedy = text + beside[0] + far[0], remedy + beside[1] + far[1]
    source = "ASTM E580 s. 1.5; building department handout (Daly City CA)"
    yield Finding("warn", "lateral bracing", source, text, None, remedy)  # the plan of the framing shows the points


def _braces_wanting(built: Built) -> tuple[tuple[str, str], tuple[str, str]]:
    """Braces that stand under no joist, and those that stand away from cross tees: what is so, and what to do."""
    none = ("", "")
    beside = len(no_joist_above(built.room, built.braces))
    far = len(far_from_cross_tees(built.layout, built.members, built.braces))
    near = built.said(BY_CROSS_TEE_MM)
    return (
        (
            said(" Under no joist, for no crossing of a main and a joist keeps the distances: {count}.", count=beside),
            said(" Set blocking between the joists above those."),
        )
        if beside
        else none,
        (
            said(" Under a joist, but further than {near} from a cross tee: {count}.", near=near, count=far),
            said(" Ask the engineer whether those do, or set blocking above a cross tee."),
        )
        if far
        else none,
    )


def _points_said(built: Built, spots: tuple[Point, ...]) -> str:
    """Points in words; those of a full grid by their lines."""
    columns, rows = (sorted({round(spot[axis], 1) for spot in spots}) for axis in (0, 1))
    base = built.room.base
    if len(columns) * len(rows) == len(spots):
        along, away = (names_said(map(built.said, lines), 8) for lines in (columns, rows))
        return said("{along} along {base}, each {away} from it", along=along, base=base, away=away)
    first = joined((joined((built.said(x), built.said(y)), ", ") for x, y in spots[:8]), "; ")
    more = said("; {rest} more", rest=len(spots) - 8) if len(spots) > 8 else ""
    return said("along {base} and from it {first}{more}", base=base, first=first, more=more)


def separation_joint(built: Built) -> Iterator[Finding]:
    """Over 2500 ft2 a seismic joint or a full-height partition divides the ceiling, D to F; ASTM E580, second hand."""
    if _category(built) in STRICT and built.room.area > JOINT_OVER_MM2 * (1 + 1e-9):
        text = said(
            "{area} of ceiling in one piece; over {most} it is divided.",
            area=_area_said(built, built.room.area),
            most=_area_said(built, JOINT_OVER_MM2),
        )
        remedy = said("Plan a separation joint, or a partition up to the structure, so that no part is larger.")
        yield Finding("warn", "separation joint", E580, text, None, remedy)


def _area_said(built: Built, mm2: float) -> str:
    """Square feet, or square metres in a metric room."""
    if built.room.imperial:
        return said("{area} sq ft", area=f"{mm2 / FOOT**2:.0f}")
    return said("{area} m²", area=f"{mm2 / 1e6:.1f}")


def _category(built: Built) -> SeismicCategory | None:
    """The seismic design category, where it asks anything of this ceiling."""
    return built.room.site.seismic if built.system.fixing == "hung" else None
