"""Dimension strings as the trade draws them: next to the room the border, the module run and the other border; then
the walls where a side has more than one; then the overall length.

In: positions along one side of the room. Out: `Dimension` shapes whose printed lengths add up exactly, because the
positions are rounded and not the parts. Ticks, gaps and lettering follow US office practice as published: the first
string about an inch off, text above the line (and readable from below or from the right, ISO 129-1, from memory).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import field
from itertools import pairwise
from typing import Literal

from planner.drawing import words
from planner.drawing.labels import LIFT, MASK, ROOM, TICK_REACH
from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Dimension, Shape
from planner.geometry import TOLERANCE_MM, Point
from planner.lengths import Rounding, format_length, format_mm, piece_length, spoken_cut, spoken_length, spoken_piece
from planner.records import dataclass

Side = Literal["bottom", "top", "left", "right"]

#: Distance of the first string from the room, and between strings, in heights of capitals.
FIRST_OFF = 4.6
APART = 3.4
#: From the dimension line to letters that stand crosswise to it, past the ends of the extension lines; millimetres.
CROSSWISE_OFF = 3.7


@dataclass(frozen=True, slots=True)
class Segment:
    """Part of a string: from one position to the next along a side, with what is written on it."""

    start: float
    end: float
    text: str
    short: str = ""  #: written instead when `text` does not fit


@dataclass(frozen=True, slots=True)
class String:
    """Segments in a row along one side; `feet` are the points that the extension lines come from."""

    side: Side
    segments: tuple[Segment, ...]
    feet: tuple[tuple[Point, Point], ...]  #: for each segment


def written(mm: float, units: str, rounding: Rounding = Rounding.NEAREST) -> str:
    """A length as drawings show it: feet and inches, inches, or bare millimetres whatever the metric unit.

    In the other system too, in brackets and rounded the same way, where both are wished for.
    """
    imperial = units in ("ft-in", "in")
    text = format_length(mm, units if imperial else "mm", rounding, bare=not imperial)
    if not words.dual():
        return text
    other = format_length(mm, "mm", rounding, bare=True) if imperial else str(spoken_length(mm, "ft-in", rounding))
    return words.say("units.both", length=text, other=other)


def spoken(mm: float, units: str, rounding: Rounding = Rounding.NEAREST) -> str:
    """A length as sentences have it, with its unit and without feet where there are none: 3/4", 1219 mm."""
    return words.translated(spoken_length(mm, units, rounding))


def written_piece(mm: float, units: str, *, whole: bool = False) -> str:
    """A piece of a bar as drawings and tables show it: down for what is sawn, see `planner.lengths.piece_length`."""
    length, rounding = piece_length(mm, whole=whole)
    return written(length, units, rounding)


def piece_said(mm: float, units: str, *, whole: bool = False) -> str:
    """The same as sentences have it."""
    return words.translated(spoken_piece(mm, units, whole=whole))


def cut_said(sides: Iterable[float], units: str) -> str:
    """What to saw as sentences have it: inches without feet, else millimetres; rounded down."""
    return words.translated(spoken_cut(sides, units))


def units_named(units: str) -> str:
    """What the lengths on a sheet are in."""
    name = words.say(f"units.{units}")
    if not words.dual():
        return name
    return words.say("units.named both", units=name, other=words.say(f"units.short {_other_system(units)}"))


def _other_system(units: str) -> str:
    return "mm" if units in ("ft-in", "in") else "ft-in"


def written_size(sides: Iterable[float], units: str, before: str = "") -> str:
    """Sides of a module or of what fills one: inches (never feet), or millimetres to the tenth; in both systems where
    that is wished. `before` is a sign for both: Ø.
    """
    sides = tuple(sides)
    text, other = (
        before + " × ".join(_module(side, system) for side in sides) for system in (units, _other_inches(units))
    )
    return words.say("units.both", length=text, other=other) if words.dual() else text


def written_cut(sides: Iterable[float], units: str) -> str:
    """What to saw, width by depth, feet as inches; rounded down, since what is too large does not go in."""
    return written_pair(sides, units, Rounding.DOWN)


def written_pair(sides: Iterable[float], units: str, rounding: Rounding = Rounding.NEAREST) -> str:
    """Two lengths with a sign between them, feet as inches; in both systems where that is wished."""
    inches = {"ft-in": "in"}.get(units, units)
    sides = tuple(sides)
    text, other = (
        " × ".join(format_length(side, system, rounding, bare=True) for side in sides)
        for system in (inches if inches == "in" else "mm", _other_inches(units))
    )
    return words.say("units.both", length=text, other=other) if words.dual() else text


def written_place(at: Iterable[float], units: str) -> str:
    """How far a place lies along two walls, each as a tape shows it: feet and inches where the room is in them."""
    return " × ".join(written(far, units) for far in at)


def _other_inches(units: str) -> str:
    return "mm" if units in ("ft-in", "in") else "in"


def _module(mm: float, units: str) -> str:
    return format_length(mm, "in") if units in ("ft-in", "in") else format_mm(mm, step=0.1)


def span(start: float, end: float, datum: float, units: str) -> float:
    """Length from `start` to `end` between marks that are each rounded from `datum`, so that spans add up exactly."""
    tick = 25.4 / 16 if units in ("ft-in", "in") else 1.0
    near = [math.floor((position - datum) / tick + 0.5 + 1e-9) for position in (start, end)]
    return (near[1] - near[0]) * tick


def grid_segments(
    breaks: tuple[float, ...],
    line_at: float,
    module: float,
    units: str,
    also: Sequence[float] = (),
    hidden: Sequence[tuple[float, float]] = (),
) -> tuple[Segment, ...]:
    """Between breaks: to the first grid line, the run of whole modules, from the last grid line.

    Grid lines stand at `line_at` and every `module` from it; a run is split at grid lines in it that `also` names. A
    line that parts no more from a break than one of `hidden` carries no tee: the border is measured across it.
    """
    found: list[Segment] = []
    for start, end in pairwise(breaks):
        stops = _across(_stops(start, end, line_at, module, also), module, hidden)
        for (a, _), (b, modules) in pairwise(stops):
            length = written(span(a, b, breaks[0], units), units)
            run = f"{modules} × {_module(module, units)} = {length}" if modules > 1 else length
            found.append(Segment(a, b, run, length))
    return tuple(found)


def _stops(start: float, end: float, line_at: float, module: float, also: Sequence[float]) -> list[tuple[float, int]]:
    """Where a string stops, each with the number of whole modules since the stop before (0 for a border)."""
    first = math.ceil((start - line_at - TOLERANCE_MM) / module)
    last = math.floor((end - line_at + TOLERANCE_MM) / module)
    if last < first:
        return [(start, 0), (end, 0)]
    inner = {first, last}
    for at in also:
        k = round((at - line_at) / module)
        if first <= k <= last and abs(line_at + k * module - at) < TOLERANCE_MM:
            inner.add(k)
    marks = sorted(inner)
    stops = [(line_at + k * module, k - before) for before, k in zip([marks[0], *marks], marks, strict=False)]
    near_start, near_end = stops[0][0] - start <= TOLERANCE_MM, end - stops[-1][0] <= TOLERANCE_MM
    stops = [(start, 0), *(stops[1:] if near_start else stops)]
    return [*(stops[:-1] if near_end else stops), (end, stops[-1][1] if near_end else 0)]


def _across(
    stops: list[tuple[float, int]], module: float, hidden: Sequence[tuple[float, float]]
) -> list[tuple[float, int]]:
    """The stops, where the strip at an end is hidden with the module beside it added to it."""

    def is_hidden(low: float, high: float) -> bool:
        return any(low - TOLERANCE_MM < a and b < high + TOLERANCE_MM for a, b in hidden)

    if len(stops) > 2 and not stops[-1][1] and stops[-2][1] and is_hidden(stops[-2][0], stops[-1][0]):
        at, modules = stops[-2]
        stops = [*stops[:-2], *([(at - module, modules - 1)] if modules > 1 else []), stops[-1]]
    if len(stops) > 2 and not stops[1][1] and stops[2][1] and is_hidden(stops[0][0], stops[1][0]):
        modules = stops[2][1]
        kept = [(stops[1][0] + module, 0), (stops[2][0], modules - 1)] if modules > 1 else [(stops[2][0], 0)]
        stops = [stops[0], *kept, *stops[3:]]
    return stops


def plain_segments(breaks: tuple[float, ...], units: str) -> tuple[Segment, ...]:
    """One segment from each break to the next."""
    return tuple(Segment(a, b, written(span(a, b, breaks[0], units), units)) for a, b in pairwise(breaks))


def string_shapes(
    string: String, off: float, edge: float, height: float, scale: float, bars: tuple[float, ...] = ()
) -> tuple[Shape, ...]:
    """Shapes in the room for a string with its line `off` paper millimetres outside of `edge`, a coordinate there.

    `bars` are positions at which extension lines of strings further out pass: crosswise letters keep clear of them.
    """
    placer = _Placer(string.side, edge + _outward(string.side) * off * scale, height, scale, bars)
    shapes: list[Shape] = []
    for k, (segment, feet) in enumerate(zip(string.segments, string.feet, strict=True)):
        at_end = -1 if k == 0 else 1 if k == len(string.segments) - 1 else 0
        shapes += placer.place(segment, feet, at_end)
    return tuple(shapes)


def depth(string: String, height: float, scale: float) -> float:
    """How far a string reaches outward from its own line, paper millimetres: crosswise letters need the most."""
    crosswise = [
        text_width(_fitting(s, height, scale)[0], height)
        for k, s in enumerate(string.segments)
        if not _fitting(s, height, scale)[1] and not _goes_outside(string, k)
    ]
    return max([(APART - 1.4) * height, *(width + CROSSWISE_OFF + 0.5 * height for width in crosswise)])


def overhang(string: String, height: float, scale: float) -> float:
    """How far letters reach beyond the ends of a string, paper millimetres."""
    outside = [
        text_width(s.short or s.text, height) + TICK_REACH
        for k, s in enumerate(string.segments)
        if not _fitting(s, height, scale)[1] and _goes_outside(string, k)
    ]
    return max(outside, default=0.0)


def _goes_outside(string: String, k: int) -> bool:
    """A narrow segment at the end of a lying string is lettered beyond the end."""
    return string.side in ("bottom", "top") and len(string.segments) > 1 and k in (0, len(string.segments) - 1)


def _outward(side: Side) -> int:
    return -1 if side in ("bottom", "left") else 1


def _fitting(segment: Segment, height: float, scale: float) -> tuple[str, bool]:
    """The longest text that fits a segment along its line, or the shorter one and False."""
    room = (segment.end - segment.start) / scale - 2 * ROOM
    for text in filter(None, (segment.text, segment.short)):
        if text_width(text, height) <= room:
            return text, True
    return segment.short or segment.text, False


@dataclass(slots=True)
class _Placer:
    """Draws the segments of one string one after the other; `line` is the coordinate of its dimension line."""

    side: Side
    line: float
    height: float
    scale: float
    bars: tuple[float, ...]
    lettered: list[float] = field(default_factory=list)  #: middles of the crosswise letters so far

    def place(self, segment: Segment, feet: tuple[Point, Point], at_end: int) -> list[Shape]:
        text, fits = _fitting(segment, self.height, self.scale)
        lying = self.side in ("bottom", "top")
        angle = 0.0 if lying else 90.0
        line_at = self._point(segment.start, 0.0)
        if fits:
            for shown in filter(None, (text, segment.short)):
                clear, text_at = self._clear_of_bars(segment, shown)
                if clear:
                    return [Dimension(Role.DIMENSION, *feet, line_at, angle, shown, text_at)]
            return [Dimension(Role.DIMENSION, *feet, line_at, angle, text, mask=MASK)]
        if at_end and lying:  # letters find no room and go past the end: outward
            feet = feet if at_end > 0 else (feet[1], feet[0])
            return [Dimension(Role.DIMENSION, *feet, line_at, angle, text)]
        middle, clear = self._free_middle((segment.start + segment.end) / 2)
        self.lettered.append(middle)
        out = text_width(text, self.height) / 2 + CROSSWISE_OFF
        text_at = self._point(middle, _outward(self.side) * out * self.scale)
        mask = 0.0 if clear else MASK
        return [Dimension(Role.DIMENSION, *feet, line_at, angle, text, text_at, 90.0 if lying else 0.0, mask)]

    def _clear_of_bars(self, segment: Segment, text: str) -> tuple[bool, Point | None]:
        """Whether letters along the line can stand so that no passing line crosses them, and where if not midway."""
        half = (text_width(text, self.height) / 2 + 0.6) * self.scale
        middle = (segment.start + segment.end) / 2
        if not any(abs(bar - middle) < half for bar in self.bars):
            return True, None
        inner = (bar for bar in self.bars if segment.start < bar < segment.end)
        low, high = max(pairwise(sorted((segment.start, *inner, segment.end))), key=lambda gap: gap[1] - gap[0])
        if high - low < 2 * half:
            return False, None
        up = (LIFT + self.height / 2) * self.scale
        x, y = self._point((low + high) / 2, 0.0)
        return True, (x, y + up) if self.side in ("bottom", "top") else (x - up, y)

    def _free_middle(self, wanted: float) -> tuple[float, bool]:
        """The nearest middle clear of other crosswise letters and of lines that pass, and True; else what is wanted."""
        unit = self.height * self.scale
        shifts = sorted((k * 0.2 * unit for k in range(-40, 41)), key=abs)
        clear = (
            (wanted + shift, True)
            for shift in shifts
            if all(abs(wanted + shift - other) >= 1.4 * unit for other in self.lettered)
            and all(abs(wanted + shift - bar) >= 0.75 * unit for bar in self.bars)
        )
        return next(clear, (wanted, False))

    def _point(self, along: float, outward: float) -> Point:
        """The point at a position along the string and off its line."""
        return (along, self.line + outward) if self.side in ("bottom", "top") else (self.line + outward, along)
