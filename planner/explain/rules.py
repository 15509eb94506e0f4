"""What each rule of a finding says, and every place where it speaks in a plan.

In: a `Job` and the name of a rule. Out: an explanation. What was found, its source and its remedy are the finding's
own; here stands in one sentence what the rule asks for.
"""

from planner.explain.model import Explanation, Job, Step
from planner.findings import Finding
from planner.wording import counted

#: Every rule that a finding may name, and what it asks for.
RULES: dict[str, str] = {
    # the tape
    "readings agree": "Readings beyond what the shape needs show how well the tape was read.",
    "nothing checks the tape": "A shape with no reading to spare hides any slip: tape lines twice, and the diagonals.",
    "a reading does not fit": "A reading that disagrees with all others beyond what a tape allows is taped again.",
    "readings disagree": "Readings that cannot all be right are taped again before anything is planned on them.",
    "readings hardly checked": "A reading that the others hardly check could hide a slip.",
    "corner far from square": "A corner over two degrees from square was taped wrongly, or is given under angles.",
    "corner far from the angle given": "A corner over two degrees from the angle given was probably taped wrongly.",
    "corner assumed square": "A corner that no reading fixes is taken as square; a diagonal makes it known.",
    "corner angle taken as given": "A corner that no reading fixes is taken as the room file gives it.",
    "wall not taped": "The length of a wall that was not taped follows from the others.",
    # somebody else's drawing
    "damaged drawing": "A drawing that had to be repaired to be read is looked at again before one builds on it.",
    "unit of somebody else's drawing": "A drawing whose unit is not sure is checked by one length of the room.",
    "gap in the outline": "A small gap in a drawn outline is closed, and told.",
    "line drawn twice": "Lines that lie on each other count once.",
    "line left out": "A line that closes no loop is no wall.",
    "shape not read": "A shape of a kind that the planner does not read is left out, and told.",
    "loop outside the outline": "A closed line outside the room's outline is no part of the room.",
    "loop inside a column": "A closed line inside a column changes nothing.",
    # the borders
    "border under half a module": "Panels at a wall are at least half a module wide.",
    "sliver at a wall": "Panels at a wall under a quarter of a module look like a mistake and hardly rest on it.",
    "narrower than a module": "A room or niche narrower than a module has one cut panel across.",
    "bearing of the panels": "A panel rests on tees and ledges by a quarter of an inch or more.",
    "closed by the wall angle": "What lies over the ledge alone is no panel: nobody sees whether anything is there.",
    "sliver of a panel": "A cut panel under two inches wide is hard to cut and to lay.",
    "uncut over the ledge": "Panels may stay uncut and stop short of the walls as far as the ledge hides it.",
    "tee meets a pipe": "A tee keeps clear of pipes and thin posts, which carry no wall angle and no tee end.",
    "tee on a ledge": "A tee keeps off the ledge of a wall or column alongside, where no panel fits beside it.",
    "tee on a face": "A grid line is further from a face along it than a tape may be out.",
    # services
    "size off the module": "A lay-in service fills whole modules.",
    "no place for a service": "A service has a place that no main, no wall and no other service has.",
    "service off the modules": "A lay-in service lies on whole modules, clear of mains.",
    "service meets another": "Services keep clear of each other.",
    "service meets a tee": "A hole keeps clear of the tees.",
    "service meets a wall": "A service keeps clear of the wall angle.",
    "service outside the room": "A service is inside the room.",
    "sliver beside a hole": "Between a hole and a tee, a wall or another hole stays a rim of panel.",
    "size of a hole": "A service that is cut into a panel needs its size.",
    "array beyond the room": "An array is built where its places lie in the room; places that do not are told.",
    "service moved": "A service asked for near a place goes to the nearest that suits.",
    "row off its line": "A row of lights stands on the line it was wished on only where panels have their middles.",
    "detector near air": "A smoke detector stands 36 in or more from supply and return air.",
    "sprinkler distances": "Sprinkler heads keep their distance from walls and each other; their designer decides.",
    "weight of a service": "What weighs more than 56 lb hangs straight from the structure, not from the grid.",
    "weights not given": "Without weights no load is checked and no wires of services are counted.",
    # splices
    "staggered joints": "Splices of runs side by side stand apart, so that the grid has no weak line across it.",
    # hangers and loads
    "joists not given": "Hangers are tied to real joists, which must be measured.",
    "hangers need blocking": "Where no joist is over a hang point, blocking or channel is set across.",
    "hanger spacing": "Hangers along a main tee are no further apart than the limit.",
    "first hanger from the wall": "The first hanger is within its limit of the wall.",
    "wire on each side of a splice": "A splice has a hanger on either side.",
    "duty of the main tees": "Main tees bear no more than their duty class carries with a sag of 1/360 of the span.",
    "load on a hanger": "No hanger bears more than its connection to the structure holds: 100 lb at least.",
    # grids on joists
    "joists not known": "A grid fixed straight to the joists needs joists that are known.",
    "joists the wrong way": "Carriers run square to the joists; else furring goes across them.",
    "joists far apart": "Joists are no further apart along a carrier than its screws may be.",
    "joists out of level": "Joists more than 1/4 in out of level are shimmed or furred.",
    "depth of the grid": "A grid fixed straight to the joists has one depth, and so one height.",
    # heights
    "clearance above the grid": "There is room above the grid to tip a panel in, and for what hangs there.",
    "first joist not given": "Wires and screws are put on joists, so one of them has to be found first.",
    "finished height": "Rooms to live in keep 7 ft below the ceiling; baths, and basements nobody lives in, 6 ft 8 in.",
    "work at height": "Work over 10 ft up asks for more than a ladder: a scaffold with fall protection.",
    # earthquakes
    "seismic perimeter": "For earthquakes tee ends at walls are free, or fixed at two walls that meet, else free.",
    "tees held at no end": "In seismic categories D to F every tee is fixed to a wall at one end.",
    "walls to fix tees to": "fixed_walls speaks of hung ceilings in seismic categories D to F alone.",
    "seismic ledge": "In an earthquake the ledge is wide enough for tees to move on.",
    "seismic duty": "In seismic categories C to F main tees are of intermediate or heavy duty.",
    "seismic rings": "Sprinkler heads on rigid pipes pass the ceiling with an inch free all round.",
    "wires at the walls": "In an earthquake tee ends at walls are held by wires within 8 in.",
    "lateral bracing": "Over 1000 sq ft a ceiling in seismic categories D to F is braced.",
    "separation joint": "Over 2500 sq ft a ceiling in seismic categories D to F is divided.",
    # the building
    "fire-rated ceiling": "A fire-rated ceiling is built from the parts of one listed design only.",
    "asbestos": "In buildings up to 1980 lagging and sprayed ceilings are presumed to hold asbestos until tested.",
    "wiring above the ceiling": "Lights are fastened to the grid, and cables keep off it, on wires of their own.",
}


def explain_rule(job: Job, rule: str) -> Explanation:
    """A rule, and all that it has to say about this plan."""
    found = [finding for finding in job.plan.findings if finding.rule == rule]
    asks = RULES.get(rule, "")
    if not found:
        return Explanation(rule, "rule", f"{asks} It has nothing to say about this plan.".strip(), ())
    steps = [_step(job, finding) for finding in found]
    speaks = f"It speaks {counted(len(found), 'time')} here."
    return Explanation(rule, "rule", f"{asks} {speaks}".strip(), tuple(steps))


def _step(job: Job, finding: Finding) -> Step:
    text = f"{finding.severity}: {finding.message}"
    if finding.where is not None:
        along, away = (job.said(at) for at in finding.where)
        text += f" At {along} along {job.room.base} and {away} from it."
    if finding.remedy:
        text += f" {finding.remedy}"
    return Step(text, None, "", finding.rule, finding.source)
