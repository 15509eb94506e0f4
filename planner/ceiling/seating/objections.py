"""What there is to say about services: why one cannot stand where it is wished, and where it could.

In: the ground, everything that stands, and how each service fared. Out: findings with place and remedy. Places are
proposed only once all services are set, and no place twice.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.ceiling.model import Service
from planner.ceiling.seating.directions import length_said, move_said, place_said, size_said
from planner.ceiling.seating.ground import Ground, Span
from planner.ceiling.seating.holes import Fault, Hole, Ledger, fits_a_whole_panel
from planner.ceiling.seating.places import least_move
from planner.ceiling.seating.seats import Seat, nearest_seat, whole_modules
from planner.findings import Finding, Severity
from planner.geometry import TOLERANCE_MM, Point
from planner.records import dataclass
from planner.room.brief import ServiceWish
from planner.room.service_kinds import KINDS
from planner.sayings import said, term

PRACTICE = "common practice, no source"

#: Rule names by the trouble that a hole is in.
RULES = {
    "outside": "service outside the room",
    "panel taken": "service meets another",
    "tee": "service meets a tee",
    "wall": "service meets a wall",
    "hole": "service meets another",
    "sliver": "sliver beside a hole",
}


@dataclass(frozen=True, slots=True)
class Stand:
    """How one wish fared; without a `service` it found no place and is left out."""

    wish: ServiceWish
    service: Service | None = None
    hole: Hole | None = None  #: where it is cut, or would have been
    faults: tuple[Fault, ...] = ()  #: of a hole that is fixed
    span: Span | None = None  #: of a lay-in service
    seat: Seat | None = None  #: of a lay-in service; with an obstacle it cannot sit there


def objections(ground: Ground, ledger: Ledger, stands: Iterable[Stand]) -> Iterator[Finding]:
    """What each service gives reason to say, in the order given."""
    for stand in stands:
        match stand:
            case Stand(service=None, span=None, hole=None):
                yield _off_size(ground, stand.wish)
            case Stand(service=None, hole=Hole() as hole):
                yield _no_panel(ground, stand.wish, hole)
            case Stand(service=None, span=(along, away)):
                yield _no_modules(stand.wish, (along, away))
            case Stand(seat=Seat() as seat, span=(along, away)) if seat.obstacle:
                yield _wrong_seat(ground, ledger, stand.wish, seat, (along, away))
            case Stand(faults=(_, *_), hole=Hole() as hole):
                yield from _wrong_hole(ground, ledger, stand, hole)
            case Stand(service=Service() as service):
                yield from _good_to_know(ground, stand.wish, service, stand.hole)


def _finding(severity: Severity, rule: str, wish: ServiceWish, text: str, remedy: str) -> Finding:
    kind = term(KINDS[wish.kind].label.lower())
    message = said(
        "{name} ({kind}): {text}", several="Each of {name} ({kind}): {text}", name=wish.name, kind=kind, text=text
    )
    return Finding(severity, rule, PRACTICE, message, wish.at or wish.near, remedy)


def _off_size(ground: Ground, wish: ServiceWish) -> Finding:
    """A lay-in size that fills no whole modules and is too large for a hole."""
    room, module = ground.room, ground.layout.module
    width, depth = wish.size or module
    if whole_modules((depth, width), module, ground.system):
        remedy = said(
            "Turned it fits: write size: [{depth}, {width}].",
            depth=length_said(room, depth),
            width=length_said(room, width),
        )
    else:
        remedy = said(
            "Choose {size} or whole multiples, or one that fits inside a panel.", size=size_said(room, module)
        )
    text = said(
        "{size} does not fill whole modules of {module}; it is left out.",
        size=size_said(room, (width, depth)),
        module=size_said(room, module),
    )
    return _finding("stop", "size off the module", wish, text, remedy)


def _no_panel(ground: Ground, wish: ServiceWish, hole: Hole) -> Finding:
    """A hole that no panel has room for."""
    room = ground.room
    if fits_a_whole_panel(ground, hole):
        text, remedy = (
            said("no panel has room for it; it is left out."),
            said("Leave something out, or choose smaller ones."),
        )
    else:
        margin = ground.system.tee_face + 2 * hole.rim
        width, depth = (side - margin for side in ground.layout.module)
        most = length_said(room, min(width, depth)) if hole.round else size_said(room, (width, depth))
        text = said("its hole of {hole} leaves too little of any panel; it is left out.", hole=hole_said(ground, hole))
        remedy = said("Choose one whose hole is at most {most}.", most=most)
    return _finding("stop", "no place for a service", wish, text, remedy)


def _no_modules(wish: ServiceWish, span: Span) -> Finding:
    if span == (1, 1):
        text = said("no whole module is free; it is left out.")
    else:
        text = said(
            "no {along} x {away} whole modules are free, clear of mains and framed by tees; it is left out.",
            along=span[0],
            away=span[1],
        )
    return _finding(
        "stop", "no place for a service", wish, text, said("Leave something out, turn it, or turn the mains.")
    )


def _wrong_seat(ground: Ground, ledger: Ledger, wish: ServiceWish, seat: Seat, span: Span) -> Finding:
    """A fixed lay-in service that cannot sit where it is fixed."""
    reason = {
        "off the modules": said("it does not lie on whole modules"),
        "cut panel": said("its modules are cut by a wall or a column"),
        "main tee": said("a main tee would run through it"),
        "taken": said("{other} is in its modules", other=seat.other),
        "long side": said("no cross tee is long enough to run along its side"),
    }[seat.obstacle or "taken"]
    place = ground.layout.frame.inward(wish.at or seat.centre)
    better = nearest_seat(ground, ledger, span, place)
    if better is not None:
        ledger.take(ground, better.cell, span, wish.name)
    rule = "service meets another" if seat.obstacle == "taken" else "service off the modules"
    text = said("{reason} where it is fixed.", reason=reason)
    return _finding("stop", rule, wish, text, _remedy(ground, place, better.centre if better else None))


def _wrong_hole(ground: Ground, ledger: Ledger, stand: Stand, hole: Hole) -> Iterator[Finding]:
    """A fixed hole with faults; only the gravest are told, and one move cures them all."""
    gravest = [fault for fault in stand.faults if fault.severity == stand.faults[0].severity]
    others = ledger.without(hole)
    better = least_move(ground, others, hole)
    if better is not None:
        ledger.stand(ground, hole.at(better))
    remedy = _remedy(ground, hole.centre, better, named=gravest[0].trouble != "outside")
    for fault in gravest:
        yield _finding(fault.severity, RULES[fault.trouble], stand.wish, _fault_said(ground, hole, fault), remedy)


def _fault_said(ground: Ground, hole: Hole, fault: Fault) -> str:
    what, gap = said("its hole") if hole.cut else said("it"), length_said(ground.room, abs(fault.gap))
    match fault.trouble:
        case "outside":
            return said("it is outside the room, or in a column.")
        case "panel taken":
            return said("it sits in a module that {other} fills.", other=fault.other)
        case "tee":
            return (
                said("{what} runs {gap} into a tee.", what=what, gap=gap) if hole.cut else said("it sits over a tee.")
            )
        case "wall":
            return (
                said("{what} runs {gap} into the wall angle.", what=what, gap=gap)
                if hole.cut
                else said("it runs into a wall or a column.")
            )
        case "hole":
            return said("{what} meets {other}.", what=what, other=fault.other)
        case "sliver":
            return said(
                "only {gap} of panel is left between {what} and {other}; {rim} holds.",
                gap=gap,
                what=what,
                other=fault.other,
                rim=length_said(ground.room, hole.rim),
            )


def _remedy(ground: Ground, start: Point, better: Point | None, *, named: bool = True) -> str:
    if better is None:
        return said("There is no free place for it: choose a smaller one, or leave something out.")
    place = place_said(ground.room, ground.layout.frame.outward(better))
    return (
        said("Move it {move}, to {place}.", move=move_said(ground, start, better), place=place)
        if named
        else said("The nearest place is {place}.", place=place)
    )


def _good_to_know(ground: Ground, wish: ServiceWish, service: Service, hole: Hole | None) -> Iterator[Finding]:
    if hole is not None and hole.cut and not any(hole.size):
        text = said("no size is given, so no hole is cut for it.")
        yield _finding("warn", "size of a hole", wish, text, said("Write diameter: or size: as its maker states."))
    if wish.near is not None and _went_elsewhere(ground, wish.near, service, hole):
        text = said(
            "it stands {moved} from where it was wished, in the nearest place that suits.",
            moved=length_said(ground.room, service.moved),
        )
        remedy = said(
            "Nearer panels are cut, taken or crossed by a main tee; wish for another place if this one is wrong."
        )
        yield replace(_finding("note", "service moved", wish, text, remedy), where=service.at)


def _went_elsewhere(ground: Ground, wish: Point, service: Service, hole: Hole | None) -> bool:
    """Whether a service went further than to the panel, or to the modules, that its wish lies nearest to."""
    start, end = map(ground.layout.frame.inward, (wish, service.at))
    if hole is not None:
        return ground.cell_at(start) != ground.cell_at(end)
    module = ground.layout.module
    return any(abs(end[k] - start[k]) > module[k] / 2 + TOLERANCE_MM for k in (0, 1))


def hole_said(ground: Ground, hole: Hole) -> str:
    return length_said(ground.room, hole.size[0]) if hole.round else size_said(ground.room, hole.size)
