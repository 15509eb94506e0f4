"""The parts of a ceiling that a person may point at, each with what there is to know about it.

In: a `Plan`. Out: `Part`s in the order of the lists: services, walls, cut panels, members, hangers. Shapes are
millimetres of the room; lengths in facts are in the room's units: what is cut is rounded down, what is marked to the
nearest. Words are those of the language that is spoken.
"""

from collections.abc import Iterator
from typing import Any

from planner.ceiling.model import Border, CutOut, Hanger, Member, Panel, Piece, Service
from planner.drawing import words
from planner.drawing.dimensions import piece_said, spoken
from planner.drawing.legend import service_size
from planner.drawing.member_roles import MEMBER_ROLES
from planner.drawing.panel_marks import panel_class
from planner.drawing.plan_lines import panel_shape, panel_size
from planner.drawing.roles import Role
from planner.drawing.schedules import written_weight
from planner.drawing.symbols import role_of
from planner.drawing.wall_borders import border_range
from planner.geometry import Point, Ring, distance
from planner.lengths import Rounding
from planner.page.sources import Sources
from planner.planning import Plan
from planner.records import dataclass
from planner.render.curves import chords
from planner.room.outline import Wall

Facts = tuple[tuple[str, str], ...]

#: With more parts than this the page would not open on a phone.
MOST_PARTS = 12_000
#: A bowed wall angle is shown as chords that leave the arc by no more than this.
_CHORD_MM = 2.0


@dataclass(frozen=True, slots=True)
class Part:
    """Something in the ceiling with a name."""

    group: str  #: service, wall, panel, member or hanger; names are unique within it
    name: str
    kind: str  #: in words, e.g. "Main tee"
    role: Role  #: that it is drawn on
    shape: dict[str, Any]  #: {"ring": points, "holes": rings}, {"line": points} or {"at": point}
    facts: Facts
    why: str = ""  #: the rule it follows, in a sentence
    headline: str = ""  #: told below the name; the first fact when empty

    @property
    def key(self) -> str:
        return f"{self.group}:{self.name}"

    def record(self) -> dict[str, Any]:
        """For the page's program."""
        title = words.say("page.part title", kind=self.kind, name=self.name)
        told = {"facts": [list(fact) for fact in self.facts], "why": self.why}
        told |= {"big": self.headline} if self.headline else {}
        return {"key": self.key, "title": title, "role": self.role, **self.shape, **told}


def hangers_told(plan: Plan) -> bool:
    """Whether hangers are told of one by one: of a vast ceiling they would be most of the page."""
    ceiling = plan.ceiling
    return len(ceiling.hangers) + len(ceiling.members) + len(ceiling.panels) <= MOST_PARTS


def parts_of(plan: Plan) -> tuple[Part, ...]:
    """Every part of a plan; of a vast one all but the hangers."""
    sources = Sources(plan)
    ceiling = plan.ceiling
    return (
        *(_service(plan, service, sources) for service in ceiling.services),
        *(_wall(plan, wall, border) for wall, border in zip(plan.room.walls, ceiling.layout.borders, strict=True)),
        *(_panel(plan, panel, sources) for panel in ceiling.panels),
        *(_member(plan, member, sources) for member in ceiling.members),
        *(_hanger(plan, hanger, sources) for hanger in (ceiling.hangers if hangers_told(plan) else ())),
    )


def whole_panel(plan: Plan) -> dict[str, Any]:
    """What is said of any module that is neither cut nor taken by a service."""
    layout, units = plan.ceiling.layout, plan.room.units
    facts = [
        [words.say("page.cut"), words.say("page.not cut")],
        [words.say("page.module"), _size(layout.module, units)],
        [words.say("page.of these"), words.say("page.so many whole", n=plan.ceiling.full_panels)],
    ]
    return {"title": words.say("page.whole panel"), "facts": facts, "why": words.translated(layout.rule)}


def _service(plan: Plan, service: Service, sources: Sources) -> Part:
    facts = [
        (words.say("page.size"), service_size(service, plan.room.units)),
        *_place_facts(plan, service.at),
        (words.say("page.cut into"), ", ".join(service.panels)),
        (words.say("page.moved"), _moved_said(service, plan.room.units)),
        (words.say("page.weight"), _weight_said(service, plan.room.imperial)),
        (words.say("page.wires"), ", ".join(sources.hangers(service.name))),
        *((words.say("page.finding"), words.translated(text)) for text in sources.findings(service.name)),
    ]
    seat = words.say("page.sits in hole") if service.panels else words.say("page.takes place")
    kind = words.say(f"service kinds.{service.kind}")
    shape = {"ring": _around(plan, service)} if not service.round else _disc(service)
    return Part("service", service.name, kind, role_of(service.kind), shape, _known(facts), seat)


def _wall(plan: Plan, wall: Wall, border: Border) -> Part:
    units = plan.room.units
    facts = [
        (words.say("page.length"), spoken(wall.length, units)),
        (words.say("page.border"), border_said(border, units)),
    ]
    why = words.translated(plan.ceiling.layout.rule)
    return Part("wall", wall.name, words.say("page.wall"), Role.WALL, {"line": _ring(wall.points)}, _known(facts), why)


def border_said(border: Border, units: str) -> str:
    """How wide the border along a wall is, from its least to its most."""
    return border_range(border, units, spoken)


def _panel(plan: Plan, panel: Panel, sources: Sources) -> Part:
    units = plan.room.units
    name = panel_class(panel)
    alike = sources.classes[name]
    facts = [
        (words.say("page.cut to"), words.say("page.full size") if panel.full_size else panel_said(panel, units)),
        (words.say("page.opening"), _size(panel.opening, units)),
        (words.say("page.taper"), _taper_said(panel, units)),
        *((words.say("page.hole"), _hole_said(hole, units)) for hole in panel.cutouts),
        (words.say("page.from"), sources.of_panel(panel.id)),
        (words.say("page.cut alike"), words.say("page.cut alike said", n=alike, name=name) if alike > 1 else ""),
    ]
    shape = {"ring": _ring(panel.outline), "holes": [_ring(hole) for hole in panel.holes]}
    if panel.full_size:
        why, headline = words.say("page.only drilled"), ""
    else:
        why = f"{words.say('page.why smaller')} {words.translated(plan.ceiling.layout.rule)}"
        headline = words.say("page.cut to size", size=panel_said(panel, units))
    return Part("panel", panel.id, words.say("page.panel"), Role.CUT_PANEL, shape, _known(facts), why, headline)


def _member(plan: Plan, member: Member, sources: Sources) -> Part:
    units = plan.room.units
    held = sources.hangers(member.id)
    facts = [
        (words.say("page.length"), piece_said(member.length, units, whole=member.whole)),
        *_pieces_said(member, units),
        (words.say("page.sawn from"), sources.of_member(member.id)),
        (words.say("page.held by"), words.say("page.counted names", n=len(held), names=_few(held)) if held else ""),
    ]
    kind = words.say(f"members.{member.kind}")
    points = chords((member.start, member.end), (member.bulge, 0.0), _CHORD_MM) if member.bulge else ()
    line = _ring(points or (member.start, member.end))
    return Part("member", member.id, kind, MEMBER_ROLES[member.kind], {"line": line}, _known(facts), _way(plan, member))


def _hanger(plan: Plan, hanger: Hanger, sources: Sources) -> Part:
    units = plan.room.units
    member = sources.members.get(hanger.member)
    holds = hanger.member
    if member is not None:
        length = spoken(distance(member.start, hanger.at), units)
        holds = words.say("page.holds along", member=hanger.member, length=length)
    facts = [
        (words.say("page.kind"), words.say(f"hanger names.{hanger.kind}")),
        (words.say("page.holds"), holds),
        (words.say("page.wire to cut"), "" if hanger.length is None else spoken(hanger.length, units, Rounding.UP)),
        *_place_facts(plan, hanger.at),
    ]
    loads = plan.ceiling.loads
    why = words.say("page.hangers apart", length=spoken(loads.spacing, units)) if loads else ""
    kind = words.say("page.hanger")
    return Part("hanger", hanger.id, kind, Role.HANGER, {"at": _point(hanger.at)}, _known(facts), why)


def _place_facts(plan: Plan, at: Point) -> tuple[tuple[str, str], tuple[str, str]]:
    """From the reference corner: along the base wall, and away from it."""
    base, units = words.translated(plan.room.base), plan.room.units
    along, away = words.say("page.along", wall=base), words.say("page.away", wall=plan.room.walls[0].name)
    return (along, spoken(at[0], units)), (away, spoken(at[1], units))


def _moved_said(service: Service, units: str) -> str:
    return "" if service.moved < 0.5 else words.say("page.moved by", length=spoken(service.moved, units))


def _weight_said(service: Service, imperial: bool) -> str:
    return "" if service.weight_kg is None else written_weight(service.weight_kg, imperial)


def _taper_said(panel: Panel, units: str) -> str:
    return words.say("page.taper by", length=_small(panel.taper, units)) if panel.taper >= 1.0 else ""


def _pieces_said(member: Member, units: str) -> Iterator[tuple[str, str]]:
    """Pieces with their places in the row; several alike are said once."""
    place = 1
    for piece in member.pieces:
        last = place + piece.count - 1
        one = last == place
        term = words.say("page.piece", n=place) if one else words.say("page.pieces", first=place, last=last)
        yield term, _piece_said(piece, units)
        place = last + 1


def _piece_said(piece: Piece, units: str) -> str:
    length = piece_said(piece.length, units, whole=piece.whole)
    stock = words.named(piece.stock)
    first, last = (words.say(f"page.end {end}") for end in piece.ends)
    if first == last:
        return words.say("page.piece both", length=length, stock=stock, end=first)
    return words.say("page.piece ends", length=length, stock=stock, first=first, last=last)


def _way(plan: Plan, member: Member) -> str:
    """Why a member lies as it does, where the plan says so in one sentence."""
    if member.kind in ("main tee", "carrier", "cross tee", "cover strip"):
        return words.translated(plan.ceiling.layout.rule)
    return ""


def panel_said(panel: Panel, units: str) -> str:
    """What to saw, with its unit, and that it is notched or shaped."""
    size = panel_size(panel, units) + ("" if units in ("ft-in", "in") else " mm")
    if panel.is_shaped:
        return words.say("panels.size and shape", size=size, shape=panel_shape(panel, units))
    return size


def _hole_said(hole: CutOut, units: str) -> str:
    round_ = hole.shape == "round"
    size = words.say("page.round", size=_small(hole.size[0], units)) if round_ else _size(hole.size, units)
    return words.say("page.hole said", service=hole.service, size=size)


def _size(sides: tuple[float, float], units: str) -> str:
    """Two sides of a panel: inches, never feet, or millimetres."""
    return " × ".join(_small(side, units) for side in sides)


def _small(mm: float, units: str) -> str:
    return spoken(mm, "in" if units == "ft-in" else units)


def _few(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= 8 else f"{', '.join(names[:3])} … {names[-1]}"


def _known(facts: list[tuple[str, str]]) -> Facts:
    return tuple(fact for fact in facts if fact[1])


def _around(plan: Plan, service: Service) -> list[list[float]]:
    """The corners of a service, which lies as the grid does."""
    grid = plan.ceiling.layout.frame
    u, v = grid.inward(service.at)
    w, d = service.size[0] / 2, service.size[1] / 2
    return [_point(grid.outward((u + x, v + y))) for x, y in ((-w, -d), (w, -d), (w, d), (-w, d))]


def _disc(service: Service) -> dict[str, Any]:
    return {"at": _point(service.at), "radius": round(service.size[0] / 2, 1)}


def _ring(points: Ring) -> list[list[float]]:
    return [_point(point) for point in points]


def _point(at: Point) -> list[float]:
    """To a tenth of a millimetre, and never a minus zero."""
    return [round(at[0], 1) + 0.0, round(at[1], 1) + 0.0]
