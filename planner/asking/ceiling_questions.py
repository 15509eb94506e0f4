"""What is asked about the ceiling: what stands in the room and hangs above it, the grid, lights and vents, stock.

In: answers so far, the shape among them. Out: questions in order. Rule: what is not known may be left out; what the
planner would refuse is refused at once.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import count

from planner.asking import answers
from planner.asking.filling import BETWEEN, needs_hole
from planner.asking.question import Answers, Outcome, Question, Understood
from planner.asking.tapes import NONE, corners_of
from planner.ceiling.system import System, load_system, system_names
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM
from planner.lengths import format_length, parse_length
from planner.room.service_kinds import KINDS, ServiceKind

IMPERIAL = ("ft-in", "in")
_NO = "no|0|done|that's all|that is all|nothing|no more|-"


def ceiling_questions(given: Answers) -> Iterator[Question]:
    """Everything that is asked once the shape is known."""
    yield from _columns(given)
    yield from _overhead(given)
    yield from _grid(given)
    yield from _services(given)
    yield from _stock(given)


def _corner(given: Answers) -> str:
    """The reference corner: where the base wall begins with the room on the left."""
    if given["shape"] == "rectangle":
        return "A"
    first, second, *_ = corners_of(given)
    return second if given["walk"] == "right" else first


def _columns(given: Answers) -> Iterator[Question]:
    units, corner = given["units"], _corner(given)
    for number in count(1):
        key, place = f"column {number}", f"room › columns › {number}"
        another = "Another column" if number > 1 else "A column"
        yield Question(
            key,
            f"{another}, pipe or chase that goes up through the ceiling? none, round or rectangular",
            "Only what the ceiling must be cut around: a column, a soil pipe, a boxed-in chase that stands in the room."
            " What is part of a wall belongs to the walls.",
            answers.choice({NONE: _NO, "round": "pipe|circle", "rectangular": "rectangle|square|box|chase|column"}),
            short=f"Column {number}",
            usual=NONE,
        )
        if given[key] == NONE:
            return
        is_round = given[key] == "round"
        size, small = (
            (answers.length, "Its diameter?") if is_round else (answers.pair, "Its size: along A-B, away from it?")
        )
        yield Question(
            f"{key} size", small, 'As the tape shows it; 12" x 12", say.', size(units, small=True), short="  size"
        )
        spot = "its centre" if is_round else f"its corner nearest to corner {corner}"
        yield Question(
            f"{key} at",
            f"Where is {spot}: along the base wall from {corner}, and away from that wall?",
            f"Two lengths with a comma between. Hold the tape at corner {corner}, run it along the base wall until you "
            f"stand abreast of {spot}; then measure from the wall to it, square to the wall.",
            answers.borne_out(answers.spot(units, corner), given, f"{key} at", place, "room › columns"),
            short="  place",
            picture=True,
        )


def _overhead(given: Answers) -> Iterator[Question]:
    units, corner = given["units"], _corner(given)
    heights = (
        ("underside", "How high are the joists, from the floor to their underside?", "structure › underside"),
        ("height", "How high will the finished ceiling be above the floor?", "ceiling_height"),
    )
    for key, ask, place in heights:
        read = answers.borne_out(answers.length(units, may_lack=True, odd=(1500.0, 12_000.0)), given, key, place)
        yield Question(key, ask, _HEIGHTS[key], read, usual=NONE, short=_SHORT[key])
    yield Question(
        "joists",
        "Are there regular joists overhead that the ceiling can hang from? yes or no",
        "With joists the planner puts every hanger on a real one, and lays the main tees across them. Without, or "
        "under a concrete slab, answer no: hangers are then spread evenly.",
        answers.choice({"yes": "y|joists", "no": "n|none|slab|not known|unknown"}),
        short="Regular joists",
        usual="yes",
    )
    if given["joists"] == "yes":
        yield from _joists(given, units, corner)


_SHORT = {"underside": "Underside of the joists", "height": "Finished ceiling"}
_HEIGHTS = {
    "underside": "It tells how long the hangers are. Measure at several places and give the least. none leaves it out.",
    "height": 'A hung grid wants about 3" (75 mm) or more below the joists to tilt the panels in, more for lights; a '
    'grid fixed straight to the joists needs about 1" to 2" (25 to 50 mm). none leaves it out.',
}


def _joists(given: Answers, units: str, corner: str) -> Iterator[Question]:
    place = "structure › joists"
    yield Question(
        "joist spacing",
        "How far apart are the joists, centre to centre?",
        "Measure from the side of one joist to the same side of the next; over five of them and divided by five is "
        'more exact. Usual are 16" or 24", 400, 450 or 600 mm.',
        answers.borne_out(
            answers.length(units, small=True, odd=(200.0, 1300.0)), given, "joist spacing", f"{place} › spacing"
        ),
        usual='16"' if units in IMPERIAL else "400 mm",
        short="  spacing",
    )
    yield Question(
        "joist direction",
        "Which way do they run: across (square to the base wall A-B) or along it?".replace("A-B", _base(given)),
        "across: they run away from the base wall, square to it.\nalong: they run beside it, parallel to it.",
        answers.choice({"across": "square|away", "along": "parallel"}),
        short="  direction",
        usual="across",
    )
    way = "along the base wall" if given["joist direction"] == "across" else "away from the base wall"
    yield Question(
        "joist first",
        f"How far is it from corner {corner}, {way}, to the centre of the first joist?",
        "From the finished wall to the middle of the first joist's edge. none if you cannot see it yet: write it into "
        "the room file before you set out, since every hanger depends on it.",
        answers.borne_out(answers.distance(units), given, "joist first", f"{place} › first"),
        short="  first one",
        usual=NONE,
    )


def _base(given: Answers) -> str:
    return "A-B" if given["shape"] == "rectangle" else "-".join(corners_of(given)[:2])


def _grid(given: Answers) -> Iterator[Question]:
    imperial = given["units"] in IMPERIAL
    systems = _systems()
    own = [name for name, system in systems.items() if system.imperial == imperial]
    usual = "lay-in-imperial" if imperial else "lay-in-metric"
    listed = "\n".join(f"  {name}: {systems[name].title}" for name in (*own, *(n for n in systems if n not in own)))
    yield Question(
        "system",
        f"Which kind of grid? {' or '.join(own)}",
        f"lay-in hangs on wires, panels are tilted in from below; direct is screwed to the joists, for low rooms.\n"
        f"{listed}\n`planner systems` lists them; a file of your own can be named in the room file later.",
        answers.choice({name: name.split("-")[0] if name in own else "" for name in systems}),
        short="Kind of grid",
        usual=usual,
    )
    system = systems[given["system"]]
    sizes = [_size(module, given["units"]) for module in system.modules]
    yield Question(
        "module",
        f"Which panel size, along the base wall by away from it? ({', '.join(sizes)}, either way round)",
        "The spacing of the grid from centre to centre of the tees; panels are a little smaller. For panels of two "
        'lengths the first is along the base wall: 24" x 48" and 48" x 24" are different ceilings. `planner options` '
        "lays them side by side later.",
        _module(given["units"], system),
        short="Panel size",
        usual=sizes[0],
    )


@cache
def _systems() -> Mapping[str, System]:
    """The built-in kinds of grid; the talk looks at them after every answer."""
    return {name: load_system(name) for name in system_names()}


def _size(module: tuple[float, float], units: str) -> str:
    unit = "in" if units in IMPERIAL else "mm"
    return BETWEEN.join(format_length(side, unit) for side in module)


def _module(units: str, system: System) -> answers.Read:
    read = answers.pair(units, small=True)

    def checked(line: str) -> Outcome:
        outcome = read(line)
        assert isinstance(outcome, Understood)  # a pair is never doubted
        sides = sorted(parse_length(side, units) for side in outcome.keep.split(BETWEEN))
        taken = [sorted(module) for module in system.modules]
        if not any(max(abs(a - b) for a, b in zip(sides, module, strict=True)) <= TOLERANCE_MM for module in taken):
            sizes = ", ".join(_size(module, units) for module in system.modules)
            raise PlannerError(f"{system.name} takes no panels of {outcome.echo}.", mend=f"It takes {sizes}.")
        return outcome

    return checked


_KINDS = {
    NONE: _NO,
    "troffer": "light|panel light|l",
    "downlight": "spot|spotlight|d",
    "supply_diffuser": "supply|diffuser|vent|air|sa",
    "return_grille": "return|grille|ra",
    "sprinkler": "h|head|sprinkler head",
    "smoke_detector": "smoke|detector|sd",
    "speaker": "loudspeaker|sp",
    "exit_sign": "exit|sign|ex",
    "access_panel": "access|hatch|ap",
}


def _services(given: Answers) -> Iterator[Question]:
    for number in count(1):
        key = f"service {number}"
        yield Question(
            key,
            "A light, vent or the like? (troffer, downlight, supply_diffuser, ... ? lists them; none for no more)"
            if number == 1
            else "Another one? (none for no more)",
            "\n".join(f"{kind.key}: {kind.label.lower()}, {_FORMS[kind.form]}" for kind in KINDS.values())
            + "\nGive each light by itself, or several of a kind at once: where asks how many.",
            answers.choice(_KINDS),
            short=f"Light or vent {number}",
            usual=NONE,
        )
        if given[key] == NONE:
            return
        yield from _service(given, key, number)


_ODD_SIZE, _ODD_HOLE = (100.0, 2500.0), (20.0, 600.0)  #: mm; beyond these a unit was probably mistaken
_FORMS = {
    "lay-in": "lies in the grid in place of panels",
    "cut-out": "sits in a hole in a panel",
    "surface": "fixed below a panel",
}


def _service(given: Answers, key: str, number: int) -> Iterator[Question]:
    units, corner, kind = given["units"], _corner(given), KINDS[given[key]]
    place = f"services › {number}"
    yield from _service_size(given, key, kind)
    example = "6', 4'" if units in IMPERIAL else "1.8 m, 1.2 m"
    yield Question(
        f"{key} where",
        f"Where: along the base wall from {corner}, then away from it ({example})? Or several, evenly: spread 3 x 2",
        f"The centre, about: it moves to suit the grid. Two lengths with a comma between, from corner {corner}.\n"
        "spread 3 x 2 puts three along the base wall by two away from it evenly over the room.",
        answers.borne_out(
            answers.spot(units, corner, may_spread=True), given, f"{key} where", f"{place} › near", f"{place} › array"
        ),
        usual="spread 1 x 1" if number == 1 else "",
        picture=True,
        short="  where",
    )
    if kind.heavy:
        yield Question(
            f"{key} weight",
            "How heavy is it? (18 lb, 8 kg; none if not known)",
            "From its data sheet, with its lamps. The planner checks what hangs on the tees; without it no load is "
            "checked.",
            answers.borne_out(answers.weight(), given, f"{key} weight", f"{place} › weight"),
            short="  weight",
            usual=NONE,
        )


def _service_size(given: Answers, key: str, kind: ServiceKind) -> Iterator[Question]:
    """What it fills or the hole it needs; nothing where its kind says that."""
    units = given["units"]
    if kind.form == "lay-in":
        yield Question(
            f"{key} size",
            "How large is it, along the base wall by away from it?",
            'The module or modules that it fills, not the frame: 24" x 48" or 2x4 for a long light, say.',
            answers.pair(units, small=True, odd=_ODD_SIZE),
            short="  size",
            usual=given["module"],
        )
    elif needs_hole(kind):
        yield Question(
            f"{key} size",
            "The diameter of its hole?",
            "As its data sheet states it. A square hole is given in the room file later, with size.",
            answers.length(units, small=True, odd=_ODD_HOLE),
            short="  hole",
            usual='6"' if units in IMPERIAL else "150 mm",
        )


def _stock(given: Answers) -> Iterator[Question]:
    imperial = given["units"] in IMPERIAL
    yield Question(
        "kerf",
        "How wide is the saw's cut?",
        'What every cut turns to dust: about 1/8" or 3 mm for a saw, 0 for tin snips. It is taken into account when '
        "many short pieces come off one length.",
        answers.borne_out(answers.distance(given["units"]), given, "kerf", "stock › saw_kerf"),
        short="Saw's cut",
        usual='1/8"' if imperial else "3 mm",
    )
    yield Question(
        "spare",
        "How much spare shall be bought?",
        "Added to every item of the order for what breaks or is miscut; 5% is common for panels, 0% buys what is "
        "needed and no more.",
        answers.borne_out(answers.share(), given, "spare", "stock › spare"),
        short="Spare",
        usual="5%",
    )
