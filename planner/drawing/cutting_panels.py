"""Panels drawn to scale with the pieces that come off them, side by side in rows.

In: a plan, the width of a column. Out: one stack of rows. Each piece bears its id and what to saw; what has no room in
its piece is told below the panel. Panels that are cut alike are drawn once, with how many, and all ids below.
"""

import math
from collections.abc import Iterable, Iterator, Sequence

from shapely.geometry import Point as Spot
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import polylabel

from planner.drawing import words
from planner.drawing.cutaways import Cutaway, cutaway_said, halving, size_said
from planner.drawing.cutting_bars import scale_for
from planner.drawing.cutting_names import told
from planner.drawing.cutting_shapes import PanelPattern, PanelSlot, panel_patterns
from planner.drawing.cutting_words import best_said, gap_said, like_this, sentences
from planner.drawing.dimensions import written_cut
from planner.drawing.labels import Heights, text_ring
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.scales import Scale
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.tables import PITCH, RISE, Row, Stack, drawn_rows, moved
from planner.drawing.wrapping import wrapped
from planner.geometry import Point, Ring, distance, edges, midpoint
from planner.planning import Plan
from planner.records import dataclass
from planner.stock.model import PanelCutting

#: At most so many patterns are drawn.
MOST_PATTERNS = 240
#: So many panels have room side by side, and so many where there are but a few.
_ABREAST, _FEW_ABREAST = 3, 2
#: So many are tried, until all have room on one sheet.
_WAYS = (2, 3, 4, 5)
_FEW = 6
#: Of words below a panel at most so many lines: six pieces without room for their sizes, in both systems.
_MOST_LINES = 20
#: So many lines stand below a panel as a rule; columns that end before they are full lose so many rows, with the words.
_USUAL_LINES, _BEGUN = 1.5, 0.8
#: Between panels, and between letters and the edges of a piece; millimetres.
_APART = 4.0
_EDGE = 0.7
#: Digits of a ring that went through cuts.
_DIGITS = 6
#: What is cut off is waste where so much of it is.
_MOSTLY = 0.98
#: How near the middle of a piece is found; millimetres.
_NEAR = 1.0


@dataclass(frozen=True, slots=True)
class _Table:
    """What is the same for all panels."""

    heights: Heights
    units: str
    scale: float
    size: tuple[float, float]  #: of a bought panel on paper
    width: float  #: for a panel and its words

    @property
    def letter(self) -> float:
        return self.heights[Role.PIECE_MARK]


def panel_stacks(
    plan: Plan, width: float, tall: float, heights: Heights, deep: float | None = None
) -> tuple[Stack, ...]:
    """The patterns in one stack, no panel taller than `tall` on paper; none where no panel is cut.

    `deep` is the height of a sheet's columns together: panels are drawn as large as all have room there.
    """
    cutting, patterns = plan.stock.panels, panel_patterns(plan)
    if cutting is None or not patterns:
        return ()
    units = plan.room.units
    usual = _FEW_ABREAST if len(patterns) <= _FEW else _ABREAST
    ways = (most for most in _WAYS if _has_room(len(patterns), most, plan, width, tall, heights, deep))
    most = next(ways, usual)
    scale = _scale(cutting.size, plan, width, tall, most)
    paper = (cutting.size[0] / scale.denominator, cutting.size[1] / scale.denominator)
    count = max(1, int((width + _APART) // (paper[0] + _APART)))
    table = _Table(heights, units, scale.denominator, paper, (width + _APART) / count - _APART)
    heading = words.say("cutting.panel size", size=_size(cutting.size, units), scale=scale.name)
    rows = sentences((_remark(cutting, patterns, units),), width, heights)
    shown = patterns[:MOST_PATTERNS]
    rows += [_row(shown[k : k + count], table) for k in range(0, len(shown), count)]
    if len(patterns) > MOST_PATTERNS:
        rows += sentences((words.say("cutting.more panel patterns", n=len(patterns) - MOST_PATTERNS),), width, heights)
    return (drawn_rows(heading, rows, width, heights),)


def _scale(size: tuple[float, float], plan: Plan, width: float, tall: float, most: int) -> Scale:
    """The largest at which so many panels have room side by side."""
    abreast = (width - (most - 1) * _APART) / most
    ways = zip(size, (abreast, tall), strict=True)
    return max((scale_for(side, limit, plan.room.imperial) for side, limit in ways), key=lambda way: way.denominator)


def _has_room(
    count: int, most: int, plan: Plan, width: float, tall: float, heights: Heights, deep: float | None
) -> bool:
    """Whether so many patterns have room on one sheet, drawn so that so many stand side by side."""
    if deep is None or plan.stock.panels is None:
        return False
    size = plan.stock.panels.size
    scale = _scale(size, plan, width, tall, most).denominator
    abreast = int((width + _APART) // (size[0] / scale + _APART))
    letters = 1.9 * heights[Role.HEADING] + _USUAL_LINES * PITCH * heights[Role.PIECE_MARK]
    rows = math.ceil(count / max(abreast, 1))
    return (rows + _BEGUN) * (size[1] / scale + letters) <= deep


def _size(size: tuple[float, float], units: str) -> str:
    """What to saw."""
    return written_cut(size, units)


def _remark(cutting: PanelCutting, patterns: Sequence[PanelPattern], units: str) -> str:
    said = [
        best_said(cutting),
        *_compared(cutting),
        words.say("cutting.panel backs"),
        *(
            []
            if all(slot.plain for pattern in patterns for slot in pattern.slots)
            else [words.say("cutting.panel shapes")]
        ),
        *like_this(pattern.count for pattern in patterns),
        *gap_said(cutting.kerf, units),
    ]
    return " ".join(said)


def _compared(cutting: PanelCutting) -> Iterator[str]:
    """What other counts there could be, where they are others: no pieces shared, and nothing thrown away."""
    if cutting.one_each > cutting.bought:
        yield words.say("cutting.one each", one_each=cutting.one_each)
    if cutting.by_area < cutting.bought:
        yield words.say("cutting.by area", by_area=cutting.by_area)


def _row(patterns: Sequence[PanelPattern], table: _Table) -> Row:
    """Panels side by side, each with its words below it."""
    shapes: list[Shape] = []
    foot = 0.0
    for k, pattern in enumerate(patterns):
        drawn, deep = _picture(pattern, table)
        shapes += moved(drawn, (k * (table.width + _APART), 0.0))
        foot = max(foot, deep)
    return Row(foot + 1.6 * table.letter, tuple(shapes))


def _picture(pattern: PanelPattern, table: _Table) -> tuple[list[Shape], float]:
    """One pattern with its upper left corner at (0, 0), and how far down it reaches."""
    head = table.heights[Role.HEADING]
    top = 1.9 * head
    shapes: list[Shape] = [Text(Role.HEADING, (0.0, -1.55 * head), words.say("cutting.times", n=pattern.count))]
    foot = top + table.size[1]
    corner = (0.0, -foot)
    for ring, holes in _rings(pattern.waste):
        shapes.append(
            Outline(
                Role.OFFCUT,
                _on_paper(ring, corner, table),
                tuple(_on_paper(h, corner, table) for h in holes),
                fill=True,
            )
        )
    for slot in pattern.slots:
        shapes += _piece(slot, corner, table)
    letters, said = _marks(pattern, corner, table)
    shapes += letters
    w, h = table.size
    shapes.append(Outline(Role.STOCK, ((0.0, -foot), (w, -foot), (w, h - foot), (0.0, h - foot))))
    lines, deep = _lines(said, foot, table)
    return [*shapes, *lines], deep


def _rings(shape: BaseGeometry) -> Iterator[tuple[Ring, tuple[Ring, ...]]]:
    """The outlines of a shape, each with its holes."""
    for part in getattr(shape, "geoms", (shape,)):
        if isinstance(part, Polygon) and not part.is_empty:
            yield _ring(part.exterior.coords), tuple(_ring(hole.coords) for hole in part.interiors)


def _ring(coords: Iterable[Sequence[float]]) -> Ring:
    return tuple((round(x, _DIGITS), round(y, _DIGITS)) for x, y, *_ in list(coords)[:-1])


def _on_paper(ring: Ring, corner: Point, table: _Table) -> Ring:
    return tuple((corner[0] + x / table.scale, corner[1] + y / table.scale) for x, y in ring)


def _piece(slot: PanelSlot, corner: Point, table: _Table) -> Iterator[Shape]:
    for ring, holes in _rings(slot.shape):
        yield Outline(Role.CUT_PIECE, _on_paper(ring, corner, table), title=" ".join(dict.fromkeys(slot.panels[:1])))
        for hole in holes:
            yield Outline(Role.CUT_PIECE, _on_paper(hole, corner, table))


def _marks(pattern: PanelPattern, corner: Point, table: _Table) -> tuple[list[Shape], list[str]]:
    """The letters in the pieces of a panel, and what must be told below it: sizes without room, the ids of many."""
    found: list[Shape] = []
    lone: list[PanelSlot] = []
    ids: dict[str, list[str]] = {}
    for slot in pattern.slots:
        name, size = _name(slot), _size(slot.told, table.units)
        whole = f"{name} {size}".strip()
        ways = [[line for line in way if line] for way in ((name, size), (whole,), (name,))]
        letters, way = next(
            ((got, way) for way in ways if way and (got := _placed(way, slot, corner, table))), ([], [])
        )
        found += letters
        if not letters:
            lone.append(slot)
        if len(set(slot.panels)) > 1 or way in ([], [name]):
            ids.setdefault("" if size in " ".join(way) else size, []).extend(slot.panels)
    offs, untold = _offs(pattern, corner, table)
    found += offs
    texts = [shape for shape in found if isinstance(shape, Text)]
    for slot in lone:
        led = _led(slot, pattern, texts, corner, table)
        texts += [shape for shape in led if isinstance(shape, Text)]
        found += led
    return found, [*(_ids_said(size, names) for size, names in ids.items()), *untold]


def _offs(pattern: PanelPattern, corner: Point, table: _Table) -> tuple[list[Shape], list[str]]:
    """Sizes of notches, corners and holes, in the waste where they have room there, else told below the panel."""
    found: list[Shape] = []
    untold: list[str] = []
    for slot in pattern.slots:
        told = []
        for off in slot.off:
            if off.kind == "corner" and _alike(off.size, slot.told):
                continue  # a triangle, which its two legs tell
            letters = _in_waste(off, pattern, corner, table)
            found += letters or []
            if "hole" in off.kind:
                ends = (_on_paper(part, corner, table) for part in halving(slot.shape, off.shape))
                found += [Line(Role.CUT_PIECE, start, end) for start, end in ends]
            if not letters or "hole" in off.kind:
                told.append(cutaway_said(off, table.units))
        if told:
            said = ", ".join(dict.fromkeys(told))
            one = len(pattern.slots) == 1
            untold.append(said if one else words.say("cutting.pieces for", length=_name(slot), ids=said))
    return found, list(dict.fromkeys(untold))


def _alike(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) < 1.0


def _in_waste(off: Cutaway, pattern: PanelPattern, corner: Point, table: _Table) -> list[Shape] | None:
    """The size of what is cut off, where nothing else comes from it and it has room for that."""
    free = off.shape.intersection(pattern.waste)
    if free.area < _MOSTLY * off.shape.area:
        return None
    return _placed([size_said(off, table.units)], PanelSlot(off.size, free, off.kind == "notch", ()), corner, table)


def _ids_said(size: str, names: Sequence[str]) -> str:
    """All the pieces of one size; a size that stands in its pieces is not said again."""
    return words.say("cutting.pieces for", length=size, ids=told(names)) if size else told(names)


def _name(slot: PanelSlot) -> str:
    return clean(slot.panels[0] if len(set(slot.panels)) == 1 else _class(slot))


def _led(
    slot: PanelSlot, pattern: PanelPattern, others: Sequence[Text], corner: Point, table: _Table
) -> tuple[Shape, ...]:
    """The id of a small piece, in the waste beside it with a leader; nothing where there is no room for that."""
    name = _name(slot)
    if not name:
        return ()
    free: BaseGeometry = pattern.waste.buffer(-_EDGE * table.scale, join_style="mitre")
    for other in others:
        free = free.difference(Polygon(_off_paper(text_ring(other, table.letter), corner, table)).buffer(_EDGE))
    spot = _middle(slot.shape)
    start = _on_paper(((spot.x, spot.y),), corner, table)[0]
    for far in (2.0, 3.0, 4.0, 5.5, 7.0):
        for turn in range(16):
            angle = math.tau * turn / 16
            at = (start[0] + far * table.letter * math.cos(angle), start[1] + far * table.letter * math.sin(angle))
            text = Text(Role.PIECE_MARK, at, name, "centre", "middle")
            ring = text_ring(text, table.letter)
            if free.covers(Polygon(_off_paper(ring, corner, table))):
                return Line(Role.CUT_PIECE, start, min(_sides(ring), key=lambda end: distance(start, end))), text
    return ()


def _sides(ring: Ring) -> list[Point]:
    """The middles of the four sides of a box of letters."""
    return [midpoint(a, b) for a, b in edges(ring)]


def _class(slot: PanelSlot) -> str:
    """The class of all its panels; empty when they are of several."""
    classes = {name.rstrip("0123456789") for name in slot.panels}
    return classes.pop() if len(classes) == 1 else ""


def _placed(lines: Sequence[str], slot: PanelSlot, corner: Point, table: _Table) -> list[Shape] | None:
    """Lines one below the other in a piece, upright or along its height; None where they touch its edges."""
    inner = slot.shape.buffer(-_EDGE * table.scale, join_style="mitre")
    if inner.is_empty:
        return None
    spot = _middle(slot.shape)
    left, low, right, high = slot.shape.bounds
    centres = [((left + right) / 2, (low + high) / 2), (spot.x, spot.y)]
    if not slot.plain:
        parts = (0.5, 0.25, 0.75)
        centres += [(left + a * (right - left), low + b * (high - low)) for b in parts for a in parts]
    for centre in centres:
        at = _on_paper((centre,), corner, table)[0]
        for angle in (0.0, 90.0):
            letters = _stacked(lines, at, angle, table.letter)
            if all(inner.covers(Polygon(_off_paper(text_ring(text, table.letter), corner, table))) for text in letters):
                return list(letters)
    return None


def _middle(shape: BaseGeometry) -> Spot:
    """The point of a shape that is furthest from its edges."""
    parts = [part for part in getattr(shape, "geoms", (shape,)) if isinstance(part, Polygon)]
    return polylabel(max(parts, key=lambda part: part.area), _NEAR)


def _stacked(lines: Sequence[str], at: Point, angle: float, letter: float) -> list[Text]:
    """Lines centred about a point."""
    offs = [(0.5 * (len(lines) - 1) - k) * PITCH * letter for k in range(len(lines))]
    places = [(at[0], at[1] + off) if angle == 0.0 else (at[0] - off, at[1]) for off in offs]
    return [
        Text(Role.PIECE_MARK, place, line, "centre", "middle", angle) for place, line in zip(places, lines, strict=True)
    ]


def _off_paper(ring: Ring, corner: Point, table: _Table) -> Ring:
    return tuple(((x - corner[0]) * table.scale, (y - corner[1]) * table.scale) for x, y in ring)


def _lines(said: Sequence[str], foot: float, table: _Table) -> tuple[list[Shape], float]:
    """Words below a panel, and how far down they reach."""
    letter = table.letter
    lines = [line for each in said for line in wrapped(clean(each), table.width, letter)]
    if len(lines) > _MOST_LINES:
        lines = [*lines[: _MOST_LINES - 1], words.say("cutting.more lines", n=len(lines) - _MOST_LINES + 1)]
    texts: list[Shape] = [
        Text(Role.PIECE_MARK, (0.0, -foot - (RISE + 0.2 + PITCH * k) * letter), line) for k, line in enumerate(lines)
    ]
    return texts, foot + ((0.5 + PITCH * len(lines)) * letter if lines else 0.0)
