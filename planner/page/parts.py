"""The parts of a ceiling that a person may point at, each with what there is to know about it.

In: a `Plan`. Out: `Part`s in the order of the lists: services, cut panels, members, hangers. Shapes are millimetres of
the room; lengths in facts are in the room's units: what is cut is rounded down, what is marked to the nearest.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from planner.ceiling.model import CutOut, Hanger, Member, Panel, Piece, Service
from planner.drawing import words
from planner.drawing.dimensions import spoken
from planner.drawing.legend import service_size
from planner.drawing.member_roles import MEMBER_ROLES
from planner.drawing.panel_marks import panel_class
from planner.drawing.plan_lines import panel_size
from planner.drawing.roles import Role
from planner.drawing.schedules import written_weight
from planner.drawing.symbols import role_of
from planner.geometry import Point, Ring, distance
from planner.lengths import Rounding
from planner.page.sources import Sources
from planner.planning import Plan
from planner.render.curves import chords

Facts = tuple[tuple[str, str], ...]

#: A bowed wall angle is shown as chords that leave the arc by no more than this.
_CHORD_MM = 2.0


@dataclass(frozen=True, slots=True)
class Part:
    """Something in the ceiling with a name."""

    group: str  #: service, panel, member or hanger; names are unique within it
    name: str
    kind: str  #: in words, e.g. "Main tee"
    role: Role  #: that it is drawn on
    shape: dict[str, Any]  #: {"ring": points, "holes": rings}, {"line": points} or {"at": point}
    facts: Facts
    why: str = ""  #: the rule it follows, in a sentence

    @property
    def key(self) -> str:
        return f"{self.group}:{self.name}"

    def record(self) -> dict[str, Any]:
        """For the page's program."""
        title = f"{self.kind} {self.name}"
        facts = [list(fact) for fact in self.facts]
        return {"key": self.key, "title": title, "role": self.role, **self.shape, "facts": facts, "why": self.why}


def parts_of(plan: Plan) -> tuple[Part, ...]:
    """Every part of a plan."""
    sources = Sources(plan)
    ceiling = plan.ceiling
    return (
        *(_service(plan, service, sources) for service in ceiling.services),
        *(_panel(plan, panel, sources) for panel in ceiling.panels),
        *(_member(plan, member, sources) for member in ceiling.members),
        *(_hanger(plan, hanger, sources) for hanger in ceiling.hangers),
    )


def whole_panel(plan: Plan) -> dict[str, Any]:
    """What is said of any module that is neither cut nor taken by a service."""
    layout, units = plan.ceiling.layout, plan.room.units
    facts = [["Cut", "not cut: as bought"], ["Module", _size(layout.module, units)]]
    facts += [["Of these", f"{plan.ceiling.full_panels} whole panels"]]
    return {"title": "Whole panel", "facts": facts, "why": layout.rule}


def _service(plan: Plan, service: Service, sources: Sources) -> Part:
    facts = [
        ("Size", service_size(service, plan.room.units)),
        *_place_facts(plan, service.at),
        ("Cut into", ", ".join(service.panels)),
        ("Moved", "" if service.moved < 0.5 else f"{spoken(service.moved, plan.room.units)} from where it was wished"),
        ("Weight", "" if service.weight_kg is None else written_weight(service.weight_kg, plan.room.imperial)),
        ("Wires", ", ".join(sources.hangers(service.name))),
        *(("Finding", f.message) for f in plan.findings if f.message.startswith(f"{service.name}:")),
    ]
    seat = "Takes the place of panels." if not service.panels else "Sits in a hole cut into its panel."
    kind = words.say(f"service kinds.{service.kind}")
    shape = {"ring": _around(plan, service)} if not service.round else _disc(service)
    return Part("service", service.name, kind, role_of(service.kind), shape, _known(facts), seat)


def _panel(plan: Plan, panel: Panel, sources: Sources) -> Part:
    units = plan.room.units
    name = panel_class(panel)
    alike = sources.classes[name]
    facts = [
        ("Cut to", "full size" if panel.full_size else panel_said(panel, units)),
        ("Opening", _size(panel.opening, units)),
        ("Taper", f"{_small(panel.taper, units)} from end to end" if panel.taper >= 1.0 else ""),
        *(("Hole", _hole_said(hole, units)) for hole in panel.cutouts),
        ("From", sources.of_panel(panel.id)),
        ("Cut alike", f"{alike} of class {name}" if alike > 1 else ""),
    ]
    why = (
        "Only drilled: its edges are as bought."
        if panel.full_size
        else "The opening runs from the wall to the middle of the tee; the panel is sawn smaller so that it drops in. "
        + plan.ceiling.layout.rule
    )
    shape = {"ring": _ring(panel.outline), "holes": [_ring(hole) for hole in panel.holes]}
    return Part("panel", panel.id, "Panel", Role.CUT_PANEL, shape, _known(facts), why)


def _member(plan: Plan, member: Member, sources: Sources) -> Part:
    units = plan.room.units
    held = sources.hangers(member.id)
    facts = [
        ("Length", spoken(member.length, units, Rounding.DOWN)),
        *((f"Piece {n}", text) for n, text in _pieces_said(member, units)),
        ("Sawn from", sources.of_member(member.id)),
        ("Held by", f"{len(held)}: {_few(held)}" if held else ""),
    ]
    kind = words.say(f"members.{member.kind}")
    points = chords((member.start, member.end), (member.bulge, 0.0), _CHORD_MM) if member.bulge else ()
    line = _ring(points or (member.start, member.end))
    return Part("member", member.id, kind, MEMBER_ROLES[member.kind], {"line": line}, _known(facts), _way(plan, member))


def _hanger(plan: Plan, hanger: Hanger, sources: Sources) -> Part:
    units = plan.room.units
    member = sources.members.get(hanger.member)
    along = "" if member is None else f", {spoken(distance(member.start, hanger.at), units)} along it"
    facts = [
        ("Kind", hanger.kind),
        ("Holds", f"{hanger.member}{along}"),
        ("Wire to cut", "" if hanger.length is None else spoken(hanger.length, units, Rounding.UP)),
        *_place_facts(plan, hanger.at),
    ]
    loads = plan.ceiling.loads
    why = f"At most {spoken(loads.spacing, units)} between hangers, so that the mains carry." if loads else ""
    return Part("hanger", hanger.id, "Hanger", Role.HANGER, {"at": _point(hanger.at)}, _known(facts), why)


def _place_facts(plan: Plan, at: Point) -> tuple[tuple[str, str], tuple[str, str]]:
    """From the reference corner: along the base wall, and away from it."""
    base, units = plan.room.walls[0], plan.room.units
    return (f"Along {base.name}", spoken(at[0], units)), (f"From {base.name}", spoken(at[1], units))


def _pieces_said(member: Member, units: str) -> Iterator[tuple[str, str]]:
    """Pieces with their places in the row; several alike are said once."""
    place = 1
    for piece in member.pieces:
        last = place + piece.count - 1
        yield (str(place) if last == place else f"{place} to {last}", _piece_said(piece, units))
        place = last + 1


def _piece_said(piece: Piece, units: str) -> str:
    length = spoken(piece.length, units, Rounding.DOWN)
    ends = {"factory": "as made", "cut": "cut"}
    both = "both ends " + ends[piece.ends[0]]
    return f"{length} of {piece.stock}, " + (
        both if piece.ends[0] == piece.ends[1] else f"first end {ends[piece.ends[0]]}, last end {ends[piece.ends[1]]}"
    )


def _way(plan: Plan, member: Member) -> str:
    """Why a member lies as it does, where the plan says so in one sentence."""
    if member.kind in ("main tee", "carrier", "cross tee", "cover strip"):
        return plan.ceiling.layout.rule
    return ""


def panel_said(panel: Panel, units: str) -> str:
    """What to saw, with its unit."""
    return panel_size(panel, units) + ("" if units in ("ft-in", "in") else " mm")


def _hole_said(hole: CutOut, units: str) -> str:
    return f"{hole.service}: " + (
        f"round, {_small(hole.size[0], units)}" if hole.shape == "round" else _size(hole.size, units)
    )


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
