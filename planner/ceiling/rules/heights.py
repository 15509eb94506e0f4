"""Rules about heights: room above the grid to work in, room below it to live in.

In: a `Built`. Out: findings.
"""

from collections.abc import Iterator

from planner.ceiling.rules.built import INCH, Built
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM
from planner.sayings import said, term

#: Room above the grid to tilt a panel in. Sources disagree: 2 in (NAVEDTRA 14044 p. 5-17), 3 in and 2 in more for
#: lights, 3 to 6 in, 4 in and 2 in more for lights, 6 in (how-to articles).
LEAST_CLEARANCE_MM = 3 * INCH
EASY_CLEARANCE_MM = 4 * INCH
CLEARANCE_WITH_LIGHTS_MM = 6 * INCH

LEAST_HEIGHT_MM = 84 * INCH  #: International Residential Code R305.1, habitable rooms and halls: 7 ft
LEAST_HEIGHT_ELSEWHERE_MM = 80 * INCH  #: the same, baths, laundries and basements nobody lives in: 6 ft 8 in

#: Above this a scaffold needs guard rails or the like: 29 CFR 1926.451 (from memory), more than 10 ft.
HIGH_WORK_MM = 120 * INCH


def clearance_above(built: Built) -> Iterator[Finding]:
    """Above the grid there is room to tilt a panel in, more where lights lie in it; see `LEAST_CLEARANCE_MM`.

    On grids fixed straight to the joists a panel goes in before the cover strip, so none is needed.
    """
    room = built.room
    if room.underside is None or room.ceiling_height is None or built.system.fixing != "hung":
        return
    clearance = room.underside - room.ceiling_height
    source = "NAVEDTRA 14044 p. 5-17 has 2 in at least; how-to articles 3 to 6 in"
    with_lights = any(service.kind == "troffer" for service in built.services)
    wanted = CLEARANCE_WITH_LIGHTS_MM if with_lights else EASY_CLEARANCE_MM
    lights = said(" with lay-in lights") if with_lights else ""
    if clearance <= 0:
        text = said(
            "The ceiling at {ceiling_height} is not below the joists at {underside}.",
            ceiling_height=built.said(room.ceiling_height),
            underside=built.said(room.underside),
        )
        yield Finding(
            "stop", "clearance above the grid", source, text, None, said("Correct ceiling_height: or underside:.")
        )
    elif clearance < wanted - TOLERANCE_MM:
        least = clearance < LEAST_CLEARANCE_MM - TOLERANCE_MM
        text = said(
            "Only {clearance} above the grid; {wanted} lets a panel be tilted in{lights}.",
            clearance=built.said(clearance),
            wanted=built.said(wanted),
            lights=lights,
        )
        remedy = said(
            "Lower the ceiling by {missing}, or try one panel before all are bought.",
            missing=built.said(wanted - clearance),
        )
        yield Finding("warn" if least else "note", "clearance above the grid", source, text, None, remedy)


def finished_height(built: Built) -> Iterator[Finding]:
    """Habitable rooms and halls keep 7 ft below the ceiling; baths, laundries and basements nobody lives in 6 ft 8 in.

    International Residential Code R305.1 (as quoted in trade articles; older local codes ask for 7 ft 6 in).
    """
    height, use = built.room.ceiling_height, built.room.site.use
    if height is None or use == "other":
        return
    least = LEAST_HEIGHT_ELSEWHERE_MM if use in ("bath", "basement") else LEAST_HEIGHT_MM
    if height >= least - TOLERANCE_MM:
        return
    text = said("The ceiling is {height} above the floor; ", height=built.said(height))
    if use is None:
        elsewhere = height >= LEAST_HEIGHT_ELSEWHERE_MM - TOLERANCE_MM
        low = (
            said("enough only for a bath or laundry")
            if elsewhere
            else said(
                "less than {least_height_elsewhere} too", least_height_elsewhere=built.said(LEAST_HEIGHT_ELSEWHERE_MM)
            )
        )
        text += said(
            "habitable rooms keep {least_height}, and this is {low}.", least_height=built.said(LEAST_HEIGHT_MM), low=low
        )
    else:
        text += said("a {use} room keeps {least}.", use=term(use), least=built.said(least))
    remedy = said("Ask the local building office, whose code decides, or raise the ceiling.")
    yield Finding("warn" if use else "note", "finished height", "IRC R305.1", text, None, remedy)


def high_work(built: Built) -> Iterator[Finding]:
    """Work above 10 ft asks for more than a ladder: 29 CFR 1926.451 (scaffolds), from memory."""
    height = built.room.ceiling_height
    if height is not None and height > HIGH_WORK_MM + TOLERANCE_MM:
        text = said(
            "The ceiling is {height} up: a scaffold over {high_work} needs fall protection.",
            height=built.said(height),
            high_work=built.said(HIGH_WORK_MM),
        )
        remedy = said("Plan a platform with guard rails before work begins.")
        yield Finding("note", "work at height", "29 CFR 1926.451, from memory", text, None, remedy)
