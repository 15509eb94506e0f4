"""Which cut panels come off one bought panel: the fewest there can be, and the proof.

In: the cut panels of a ceiling, how their edges may be used, and the saw. Out: a `PanelCutting`, whose pieces have the
sizes that the panels are cut to. What fits is asked in whole tenths of a millimetre, rounded down: of whole sixteenths
of an inch, or millimetres, up to fifteen in a row lose less than one mark by that, so that what fits in tenths fits on
the tape; one kerf goes between two pieces. Pieces are first packed as rectangles, those that are none by the boxes
around them; where there are such, `shaped` packs all by their true shapes.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from shapely import Polygon

from planner.ceiling.grid.cells import EDGE_MM
from planner.ceiling.model import Ceiling, Panel
from planner.geometry import Frame, box_of
from planner.records import dataclass
from planner.stock.certificate import PanelCertificate, ValuedPanel
from planner.stock.covering.cover import Certificate, Cover, Task
from planner.stock.covering.solve import solve
from planner.stock.model import CutPanel, PanelCutting, PanelPiece
from planner.stock.panelwork.guillotine import Size
from planner.stock.panelwork.plain import PlainBench
from planner.stock.panelwork.reveal import RevealBench, Sides
from planner.stock.panelwork.rows import RowBench
from planner.stock.panelwork.strips import cut_strips
from planner.stock.saw import Saw, kerf_tenths, tenths
from planner.stock.sawn import sawn

#: With more kinds of pieces than this, panels are cut in rows alone.
MOST_KINDS = 400
#: So too with more kinds of corner pieces whose edges show: each goes with each other.
MOST_CORNERS = 80

#: Of a piece that lies on tees all round.
ALL_SIDES: Sides = frozenset({"left", "right", "front", "back"})


@dataclass(frozen=True, slots=True)
class PanelRules:
    """How panels may be used."""

    revealed: bool = False  #: the face drops through the grid, and edges that show must be the factory's
    turns: bool = True  #: False for patterned panels, which lie all one way


@dataclass(frozen=True, slots=True)
class PanelWanted:
    """A piece of panel: its size as it lies in the ceiling, and the sides on which it lies on a tee."""

    panel: str
    size: tuple[float, float]
    tees: Sides = ALL_SIDES
    shape: Polygon | None = None  #: of one that is no rectangle, where it lies on a panel laid into its module


def cut_panels(ceiling: Ceiling, rules: PanelRules, saw: Saw) -> PanelCutting | None:
    """Cut the panels of a ceiling that are not whole; None when all are."""
    wanted = panels_wanted(ceiling)
    return cut_pieces(wanted, panel_sides(ceiling), rules, saw) if wanted else None


def panel_sides(ceiling: Ceiling) -> tuple[float, float]:
    """Of a panel as it is bought: its module less the undersize."""
    wide, deep = (side - ceiling.system.panel_undersize for side in ceiling.layout.module)
    return (wide, deep)


def panels_wanted(ceiling: Ceiling) -> list[PanelWanted]:
    """The pieces of a ceiling that are to be cut from panels."""
    layout = ceiling.layout
    cut = [panel for panel in ceiling.panels if not panel.full_size]
    shaped = [panel for panel in cut if panel.shape != "plain"]
    shapes = dict(zip((p.id for p in shaped), sawn(shaped, layout, ceiling.system.panel_undersize), strict=True))
    return [
        PanelWanted(panel.id, panel.cut_to, _tees(panel, layout.frame, layout.module), shapes.get(panel.id))
        for panel in cut
    ]


def _tees(panel: Panel, frame: Frame, module: tuple[float, float]) -> Sides:
    """The sides of a panel that lie on a tee: where it reaches the edge of its module."""
    if not panel.outline:
        return ALL_SIDES
    box = box_of([frame.inward(point) for point in panel.outline])
    left, front = panel.cell[0] * module[0], panel.cell[1] * module[1]
    reaches = {
        "left": abs(box.left - left),
        "right": abs(box.right - left - module[0]),
        "front": abs(box.bottom - front),
        "back": abs(box.top - front - module[1]),
    }
    return frozenset(side for side, gap in reaches.items() if gap <= EDGE_MM)


def cut_pieces(wanted: Sequence[PanelWanted], size: tuple[float, float], rules: PanelRules, saw: Saw) -> PanelCutting:
    """Cut pieces from the fewest panels of a size; a piece larger than a panel takes a panel by itself."""
    panel, kerf = Size(tenths(size[0]), tenths(size[1])), kerf_tenths(saw.kerf)
    kinds = _kinds(wanted, panel, rules)
    whole = [piece for piece in wanted if _size(piece, panel) == panel]
    alone = tuple(CutPanel((PanelPiece(piece.panel, (0.0, 0.0), _within(piece.size, size)),)) for piece in whole)
    cut, bound, proof = _cut(kinds, panel, kerf, rules, saw.budget_s) if kinds else ((), 0, None)
    sizes = {piece.panel: _within(piece.size, size) for piece in wanted}
    told = [_told(each, sizes, saw.kerf) for each in cut]
    panels = (*alone, *(told if rules.revealed else [_as_it_lies(each, sizes, size) for each in told]))
    area = sum(width * height for width, height in (_size(piece, panel) for piece in wanted))
    boxed = PanelCutting(
        size=size,
        kerf=saw.kerf,
        panels=panels,
        bought=sum(each.count for each in panels),
        lower_bound=len(whole) + bound,
        one_each=len(wanted),
        by_area=-(-area // (panel.width * panel.height)),
        certificate=proof,
    )
    if all(piece.shape is None for piece in wanted):
        return boxed
    from planner.stock.shaped import by_shape  # loaded only where pieces are no rectangles

    pieces = {piece.panel: (sizes[piece.panel], piece.tees, piece.shape) for piece in wanted}
    return by_shape(pieces, boxed, turns=rules.turns, revealed=rules.revealed, budget_s=saw.budget_s)


def _within(size: tuple[float, float], panel: tuple[float, float]) -> tuple[float, float]:
    return (min(size[0], panel[0]), min(size[1], panel[1]))


def _as_it_lies(cut: CutPanel, sizes: Mapping[str, tuple[float, float]], panel: tuple[float, float]) -> CutPanel:
    """The same turned back, where all its pieces are turned: directions are those of the ceiling then."""
    if not all(piece.turned for piece in cut.pieces) or (len(cut.pieces) > 1 and panel[0] != panel[1]):
        return cut
    return replace(cut, pieces=tuple(PanelPiece(p.panel, (p.at[1], p.at[0]), sizes[p.panel]) for p in cut.pieces))


def _told(cut: CutPanel, sizes: Mapping[str, tuple[float, float]], kerf: float) -> CutPanel:
    """The same with the sizes that the panels are cut to, not what the tenths leave of them.

    What a piece is larger by than its tenths, those beyond it move on by.
    """
    grown = [replace(p, size=sizes[p.panel][::-1] if p.turned else sizes[p.panel]) for p in cut.pieces]
    for axis in (0, 1):
        order = sorted(range(len(grown)), key=lambda k: cut.pieces[k].at[axis])
        for place, k in enumerate(order):
            before = [j for j in order[:place] if _beyond(cut.pieces[j], cut.pieces[k], axis)]
            least = max((grown[j].at[axis] + grown[j].size[axis] + kerf for j in before), default=0.0)
            at = list(grown[k].at)
            at[axis] = max(at[axis], least)
            grown[k] = replace(grown[k], at=(at[0], at[1]))
    return replace(cut, pieces=tuple(grown))


def _beyond(piece: PanelPiece, other: PanelPiece, axis: int) -> bool:
    """Whether another piece lies beyond a piece along an axis, beside it along the other axis."""
    low, high = piece.at[1 - axis], piece.at[1 - axis] + piece.size[1 - axis]
    beside = other.at[1 - axis] < high and low < other.at[1 - axis] + other.size[1 - axis]
    return beside and other.at[axis] >= piece.at[axis] + piece.size[axis]


@dataclass(frozen=True, slots=True)
class _Kind:
    """Alike pieces."""

    size: Size
    tees: Sides
    panels: tuple[str, ...]


def _kinds(wanted: Sequence[PanelWanted], panel: Size, rules: PanelRules) -> tuple[_Kind, ...]:
    """Gather alike pieces, the greatest first; where edges are hidden it does not matter which lie on tees."""
    gathered: defaultdict[tuple[Size, Sides], list[str]] = defaultdict(list)
    for piece in wanted:
        size = _size(piece, panel)
        if size != panel:
            gathered[size, piece.tees if rules.revealed else ALL_SIDES].append(piece.panel)
    order = sorted(gathered, key=lambda key: (-key[0].width * key[0].height, key[0], sorted(key[1])))
    return tuple(_Kind(*key, tuple(gathered[key])) for key in order)


def _size(piece: PanelWanted, panel: Size) -> Size:
    """What to saw, in whole tenths; at least a tenth, at most a panel."""
    width, height = (tenths(side) for side in piece.size)
    return Size(min(max(width, 1), panel.width), min(max(height, 1), panel.height))


def _cut(
    kinds: Sequence[_Kind], panel: Size, kerf: int, rules: PanelRules, budget_s: float
) -> tuple[tuple[CutPanel, ...], int, PanelCertificate | None]:
    """The panels to cut, how many are needed at least, and the proof."""
    room = Size(panel.width + kerf, panel.height + kerf)
    sizes = [Size(kind.size.width + kerf, kind.size.height + kerf) for kind in kinds]
    demand = tuple(len(kind.panels) for kind in kinds)
    corners = sum(room.width > size.width and room.height > size.height for size in sizes) if rules.revealed else 0
    if len(kinds) > MOST_KINDS or corners > MOST_CORNERS:
        return _cut_in_rows(kinds, room, kerf, rules, budget_s)
    bench: PlainBench | RevealBench
    if rules.revealed:
        bench = RevealBench(room, sizes, [kind.tees for kind in kinds], turns=rules.turns, kerf=kerf)
    else:
        bench = PlainBench(room, sizes, demand, turns=rules.turns, kerf=kerf)
    tees = [kind.tees for kind in kinds] if rules.revealed else None
    strips = cut_strips(room, sizes, demand, tees, rules.turns, budget_s)
    cut = {kind for column, _ in strips.plan for kind, _ in column.counts}
    start = [*strips.plan, *bench.greedy([0 if kind in cut else n for kind, n in enumerate(demand)], [None])]
    by_area = Certificate(demand, tuple(w * h for w, h in sizes), room.width * room.height)
    quick = max(strips.certificate, by_area, key=lambda certificate: certificate.bound)
    cover = solve(Task(demand, (1,), (None,), bench), quick, budget_s, start)
    return tuple(_dealt(kinds, cover, bench)), cover.bound, _proof(kinds, cover)


def _cut_in_rows(
    kinds: Sequence[_Kind], room: Size, kerf: int, rules: PanelRules, budget_s: float
) -> tuple[tuple[CutPanel, ...], int, PanelCertificate | None]:
    """The same for more kinds than can be weighed one by one; the bound is that of the strips or of the area."""
    sizes = [Size(kind.size.width + kerf, kind.size.height + kerf) for kind in kinds]
    demand = tuple(len(kind.panels) for kind in kinds)
    tees = [kind.tees for kind in kinds] if rules.revealed else None
    bench = RowBench(room, sizes, tees, turns=rules.turns, kerf=kerf)
    plan = bench.plan(demand, budget_s)
    strips = cut_strips(room, sizes, demand, tees, rules.turns, budget_s).certificate
    by_area = Certificate(demand, tuple(w * h for w, h in sizes), room.width * room.height)
    best = max(strips, by_area, key=lambda certificate: certificate.bound)
    cost = sum(times for _, times in plan)
    cover = Cover(tuple(plan), cost, min(best.bound, cost), best)
    return tuple(_dealt(kinds, cover, bench)), cover.bound, _proof(kinds, cover)


def _proof(kinds: Sequence[_Kind], cover: Cover) -> PanelCertificate | None:
    if cover.certificate is None:
        return None
    values = zip(kinds, cover.certificate.values, strict=True)
    pieces = tuple(ValuedPanel((kind.size.width, kind.size.height), len(kind.panels), value) for kind, value in values)
    return PanelCertificate(pieces, cover.certificate.most)


def _dealt(kinds: Sequence[_Kind], cover: Cover, bench: PlainBench | RevealBench | RowBench) -> Iterator[CutPanel]:
    """Write the panels' names on the pieces; what a pattern yields beyond what is wanted is left out."""
    names = [iter(kind.panels) for kind in kinds]
    for column, times in cover.plan:
        lies = bench.placed(column.counts)
        for _ in range(times):
            named = [(next(names[lie.kind], None), lie) for lie in lies]
            pieces = tuple(
                PanelPiece(name, (lie.x / 10, lie.y / 10), _mm(lie.size), lie.turned)
                for name, lie in named
                if name is not None
            )
            if pieces:
                yield CutPanel(pieces)


def _mm(size: Size) -> tuple[float, float]:
    return (size.width / 10, size.height / 10)
