"""What changed between two plans.

In: two records. Out: a `Comparison`, change by change: room, layout, panels, pieces, members, services, hangers, order,
cost, findings. Panels and pieces are told by their sizes, since letters and numbers are given anew in every plan.
"""

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping
from typing import TypeVar

from planner.compare.records import MemberPart, OrderPart, PanelPart, PiecePart, PlanRecord
from planner.explain.words import listed, shortened
from planner.records import dataclass
from planner.runs.tenths import tenths

#: Millimetres, square millimetres apart: less is no change.
SAME_MM = 0.1

K = TypeVar("K", bound=Hashable)
Value = float | int | str | tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not as it was; None where it was not there before, or is no more."""

    group: str
    what: str
    old: Value
    new: Value
    unit: str = ""  #: of numbers: mm (pairs too), mm2, degrees, or a currency; counts have none
    note: str = ""  #: which panels, members or hangers, in words
    whole: bool = False  #: a piece, or what is of a single piece, that is used as it is sold


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that changed from one plan to another."""

    old: PlanRecord
    new: PlanRecord
    changes: tuple[Change, ...]

    @property
    def same(self) -> bool:
        return not self.changes


def compare(old: PlanRecord, new: PlanRecord) -> Comparison:
    """All changes, from the room to the findings."""
    changes = (
        *_room(old, new),
        *_layout(old, new),
        *_panels(old, new),
        *_pieces(old, new),
        *_members(old, new),
        *_services(old, new),
        *_hangers(old, new),
        *_order(old, new),
        *_cost(old, new),
        *_findings(old, new),
    )
    return Comparison(old, new, changes)


def _room(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    a, b = old.room, new.room
    yield from _told("room", "name", a.name, b.name)
    yield from _each("room", a.corners, b.corners, "mm", "corner ")
    if abs(a.area_mm2 - b.area_mm2) > 1.0:
        yield Change("room", "area", a.area_mm2, b.area_mm2, "mm2")


def _layout(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    a, b = old.layout, new.layout
    yield from _told("layout", "module", a.module_mm, b.module_mm, "mm")
    yield from _told("layout", "angle", round(a.angle_deg, 3), round(b.angle_deg, 3), "degrees")
    yield from _told("layout", "origin", a.origin_mm, b.origin_mm, "mm")
    least = [{wall: border.min for wall, border in layout.borders_mm.items()} for layout in (a, b)]
    yield from _each("layout", least[0], least[1], "mm", "border ")
    most = [
        {wall: border.max for wall, border in layout.borders_mm.items() if border.max - border.min > SAME_MM}
        for layout in (a, b)
    ]
    yield from _each("layout", most[0], most[1], "mm", "widest border ")
    yield from _told("layout", "narrowest opening", a.smallest_cut_mm, b.smallest_cut_mm, "mm")
    yield from _told("layout", "whole modules", a.full_panels, b.full_panels)
    yield from _told("layout", "cut panels", a.cut_panels, b.cut_panels)


def _panels(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    """Cut and drilled panels by size and by what is cut into them."""
    before, after = (_gathered((_panel_key(panel), panel.id) for panel in record.panels) for record in (old, new))
    for key in _all_of(before, after):
        (width, depth), holes = key
        if len(before.get(key, ())) != len(after.get(key, ())):
            drilled = f", {listed(holes)}" if holes else ""
            note = _ids(before.get(key, ()), after.get(key, ()))
            yield Change(
                "panels", f"{width} x {depth}{drilled}", len(before.get(key, ())), len(after.get(key, ())), "", note
            )


def _panel_key(panel: PanelPart) -> tuple[tuple[float, float], tuple[str, ...]]:
    width, depth = (round(side, 1) for side in panel.cut_to_mm)
    holes = tuple(sorted(f"hole {round(hole.size_mm[0], 1):g} mm for {hole.service}" for hole in panel.cutouts))
    return (width, depth), holes


def _ids(before: Iterable[str], after: Iterable[str]) -> str:
    was, now = shortened(tuple(before)), shortened(tuple(after))
    return f"was {was or 'none'}; now {now or 'none'}"


def _pieces(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    """Pieces by stock and length, whichever members they are for."""
    before, after = (
        Counter((*_piece_key(piece), piece.whole) for member in record.members for piece in member.pieces)
        for record in (old, new)
    )
    for key in _all_of(before, after):
        stock, length, whole = key
        if before[key] != after[key]:
            yield Change("pieces", f"{stock} {length}", before[key], after[key], whole=whole)


def _piece_key(piece: PiecePart) -> tuple[str, float]:
    """Stock, and length in tenths as the saw counts them."""
    return piece.stock, tenths(piece.length_mm) / 10


def _members(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    before, after = ({member.id: member for member in record.members} for record in (old, new))
    for name in _all_of(before, after):
        a, b = before.get(name), after.get(name)
        if a is None or b is None or not _alike(a, b):
            kind = (a or b).kind  # type: ignore[union-attr]  # it is in one of the two
            whole = (b or a).whole  # type: ignore[union-attr]
            yield Change("members", f"{name} {kind}", _length(a), _length(b), "mm", _how_changed(a, b), whole)


def _length(member: MemberPart | None) -> float | None:
    return None if member is None else member.length_mm


def _alike(a: MemberPart, b: MemberPart) -> bool:
    pieces = [[_piece_key(piece) for piece in member.pieces] for member in (a, b)]
    return a.kind == b.kind and _near(a.start_mm, b.start_mm) and _near(a.end_mm, b.end_mm) and pieces[0] == pieces[1]


def _how_changed(a: MemberPart | None, b: MemberPart | None) -> str:
    if a is None or b is None:
        return "new" if a is None else "gone"
    if abs(a.length_mm - b.length_mm) > SAME_MM:
        return "another length"
    if _near(a.start_mm, b.start_mm) and _near(a.end_mm, b.end_mm):
        return "cut otherwise"
    return "moved"


def _services(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    before, after = ({service.name: service for service in record.services} for record in (old, new))
    for name in _all_of(before, after):
        a, b = before.get(name), after.get(name)
        if a is None or b is None:
            at = a.at_mm if a else None, b.at_mm if b else None
            yield Change("services", name, *at, "mm", "new" if a is None else "gone")
            continue
        yield from _told("services", f"{name} kind", a.kind, b.kind)
        yield from _told("services", f"{name} size", a.size_mm, b.size_mm, "mm")
        yield from _told("services", f"{name} place", a.at_mm, b.at_mm, "mm")


def _hangers(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    """How many of each kind; and how many hang elsewhere, where the number is the same."""
    before, after = (_gathered((hanger.kind, hanger.id) for hanger in record.hangers) for record in (old, new))
    places = [{_rounded(hanger.at_mm) for hanger in record.hangers} for record in (old, new)]
    for kind in _all_of(before, after):
        yield from _told("hangers", kind, len(before.get(kind, ())), len(after.get(kind, ())))
    if len(old.hangers) == len(new.hangers) and (gone := places[0] - places[1]):
        yield Change("hangers", "hanging elsewhere", 0, len(gone))
    lengths = [round(sum(hanger.wire_mm or 0.0 for hanger in record.hangers), 1) for record in (old, new)]
    yield from _told("hangers", "wire in all", lengths[0], lengths[1], "mm")


def _order(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    before, after = ({line.item: line for line in record.takeoff} for record in (old, new))
    currency = new.bill.currency or old.bill.currency or "money"
    for item in _all_of(before, after):
        a, b = before.get(item), after.get(item)
        for what, unit in (("net", ""), ("order", ""), ("packs", ""), ("cost", currency)):
            yield from _told("order", f"{item}: {what}", _of(a, what), _of(b, what), unit)


def _of(line: OrderPart | None, what: str) -> Value:
    value: Value = None if line is None else getattr(line, what)
    return value


def _cost(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    yield from _told("cost", "currency", old.bill.currency, new.bill.currency)
    currency = new.bill.currency or old.bill.currency or "money"
    yield from _told("cost", "material", old.bill.material, new.bill.material, currency)
    yield from _told("cost", "total", old.bill.total, new.bill.total, currency)


def _findings(old: PlanRecord, new: PlanRecord) -> Iterator[Change]:
    before, after = (Counter((f.severity, f.rule, f.message) for f in record.findings) for record in (old, new))
    for severity, rule, message in _all_of(before, after):
        count = after[severity, rule, message] - before[severity, rule, message]
        if count:
            said = f"{severity}: {message}"
            yield Change("findings", rule, None if count > 0 else said, said if count > 0 else None)


def _told(group: str, what: str, old: Value, new: Value, unit: str = "") -> Iterator[Change]:
    """A change, if there is one."""
    if old == new or (unit == "mm" and _near(old, new)):
        return
    yield Change(group, what, old, new, unit)


def _each(group: str, old: Mapping[str, Value], new: Mapping[str, Value], unit: str, before: str) -> Iterator[Change]:
    for name in _all_of(old, new):
        yield from _told(group, before + name, old.get(name), new.get(name), unit)


def _near(old: Value, new: Value) -> bool:
    """Whether two lengths or two points are the same, but for noise."""
    if isinstance(old, tuple) and isinstance(new, tuple):
        return all(abs(a - b) <= SAME_MM for a, b in zip(old, new, strict=True))
    if isinstance(old, float | int) and isinstance(new, float | int):
        return abs(old - new) <= SAME_MM
    return old == new


def _rounded(point: tuple[float, float]) -> tuple[int, int]:
    return (round(point[0]), round(point[1]))


def _gathered(pairs: Iterable[tuple[K, str]]) -> dict[K, list[str]]:
    found: defaultdict[K, list[str]] = defaultdict(list)
    for key, name in pairs:
        found[key].append(name)
    return dict(found)


def _all_of(old: Iterable[K], new: Iterable[K]) -> Iterator[K]:
    """Keys of both, in the order of the first, then what the second adds."""
    return iter(dict.fromkeys((*old, *new)))
