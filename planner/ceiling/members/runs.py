"""Stock pieces in a row: what a main run and a length of wall angle are put together from.

In: a length, the stock and the splices of the run beside it. Out: the `Piece`s in order, equal ones counted.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.ceiling.model import End, Piece
from planner.ceiling.system import MainTee, Tee
from planner.geometry import TOLERANCE_MM

#: Splices of neighbouring runs stand at least this many slots from each other (common practice, no source).
STAGGER_PITCHES = 4


@dataclass(frozen=True, slots=True)
class Joints:
    """The splices of one run: `count` of them, `apart` from each other, along a coordinate that runs share."""

    first: float
    apart: float
    count: int

    def distance(self, other: "Joints") -> float:
        """The least distance between two splices; infinite where one of the runs has none."""
        if not self.count or not other.count:
            return math.inf
        if self.apart and other.apart and abs(self.apart - other.apart) > TOLERANCE_MM:
            mine, theirs = ([j.first + k * j.apart for k in range(j.count)] for j in (self, other))
            return min(abs(a - b) for a in mine for b in theirs)
        off, step = other.first - self.first, max(self.apart, other.apart)
        if not step:
            return abs(off)
        shift = min(max(round(-off / step), 1 - self.count), other.count - 1)
        return abs(off + shift * step)


def saw_off(to_first_cross_tee: float, main: MainTee) -> float:
    """What to saw off the first main tee of a run so that a slot meets the first cross tee; less than one slot pitch.

    The first slot at or beyond the distance from the wall to the first cross tee is taken. The pitch goes on over a
    splice, so every other cross tee of the run meets a slot too, and no splice falls on one. The method is published
    in how-to articles; the slots are the system's.
    """
    short = (main.first_slot - to_first_cross_tee) % main.slot_pitch
    return 0.0 if min(short, main.slot_pitch - short) <= TOLERANCE_MM else short


def main_run(
    length: float,
    to_first_cross_tee: float | None,
    main: MainTee,
    *,
    start: float = 0.0,
    beside: Sequence[Joints] = (),
    least: float | None = None,
) -> tuple[Piece, ...]:
    """Pieces of a main run: one begun at the right slot, whole ones, and the rest.

    No end piece is shorter than `least`, a slot pitch unless told: that would put the splice on the wall angle, where
    no hanger can stand on either side of it (NAVEDTRA 14044 p. 5-17 asks for both). `beside` are the splices of the
    neighbouring runs, and `start` says where this one begins among them: splices are staggered (from memory) by
    `STAGGER_PITCHES` slots where that can be, with the fewest pieces, and then as the first run is cut or its mirror
    image, which needs the same lengths. `to_first_cross_tee` is None where the run meets no cross tee.
    """
    off = 0.0 if to_first_cross_tee is None else saw_off(to_first_cross_tee, main)
    begun = main.length - off
    if length <= begun + TOLERANCE_MM:
        left: End = "cut" if off else "factory"
        return (Piece(main.item, length, (left, "factory" if length >= begun - TOLERANCE_MM else "cut")),)
    cuts = _cuts(length, begun, main, main.slot_pitch if least is None else least)
    return _best(cuts, start, beside, STAGGER_PITCHES * main.slot_pitch).pieces(main)


def joints_of(pieces: Sequence[Piece], start: float) -> Joints:
    """Where the splices of a run stand that begins at `start`."""
    count = sum(piece.count for piece in pieces) - 1
    whole = next((p.length for p in pieces if p.ends == ("factory", "factory")), 0.0)
    return Joints(start + pieces[0].length, whole, count)


@dataclass(frozen=True, slots=True)
class _Cut:
    """One way to cut a run: the first piece, whole ones, the rest."""

    first: float
    whole: int
    rest: float
    stock: float

    @property
    def count(self) -> int:
        return 1 + self.whole + (self.rest > 0)

    def joints(self, start: float) -> Joints:
        return Joints(start + self.first, self.stock, self.count - 1)

    def pieces(self, main: MainTee) -> tuple[Piece, ...]:
        start: End = "factory" if abs(self.first - main.length) <= TOLERANCE_MM else "cut"
        return gathered(
            [
                Piece(main.item, self.first, (start, "factory")),
                Piece(main.item, main.length, ("factory", "factory"), self.whole),
                Piece(main.item, self.rest, ("factory", "cut")),
            ]
        )


def _cuts(length: float, begun: float, main: MainTee, least: float) -> list[_Cut]:
    """Every way to begin a run at a slot, longest first piece first; the longest alone where none leaves `least`."""
    steps = range(max(1, math.floor((begun - least + TOLERANCE_MM) / main.slot_pitch) + 1))
    cuts = [_cut(length, begun - k * main.slot_pitch, main.length) for k in steps]
    return [cut for cut in cuts if not 0 < cut.rest < least - TOLERANCE_MM] or cuts[:1]


def _cut(length: float, first: float, stock: float) -> _Cut:
    rest = (length - first) % stock
    if min(rest, stock - rest) <= TOLERANCE_MM:
        rest = 0.0
    return _Cut(first, round((length - first - rest) / stock), rest, stock)


def _best(cuts: list[_Cut], start: float, beside: Sequence[Joints], apart: float) -> _Cut:
    """Clear of the neighbours' splices, then fewest pieces, then the longest first piece, then its mirror image."""
    fewest = min(cut.count for cut in cuts)
    mirror = max(k for k, cut in enumerate(cuts) if cut.count == fewest)

    def rank(k: int) -> tuple[float, int, int]:
        joints = cuts[k].joints(start)
        near = min((joints.distance(other) for other in beside), default=math.inf)
        return (round(max(0.0, apart - near), 1), cuts[k].count, 1 if k == mirror and k else 0 if k == 0 else k + 1)

    return cuts[min(range(len(cuts)), key=rank)]


def angle_run(length: float, angle: Tee) -> tuple[Piece, ...]:
    """Wall angle along one wall: whole lengths and the rest, butted at splices, cut where it meets a corner."""
    whole = math.floor((length + TOLERANCE_MM) / angle.length)
    rest = length - whole * angle.length
    lengths = [angle.length] * whole + ([rest] if rest > TOLERANCE_MM else [])
    last = len(lengths) - 1
    return gathered(
        Piece(angle.item, part, ("cut" if k == 0 else "factory", "cut" if k == last else "factory"))
        for k, part in enumerate(lengths)
    )


def gathered(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """The same row with equal neighbours counted together and empty ones left out."""
    row: list[Piece] = []
    for piece in pieces:
        if piece.count == 0 or piece.length <= TOLERANCE_MM:
            continue
        last = row[-1] if row else None
        if last and _alike(last, piece):
            row[-1] = Piece(last.stock, last.length, last.ends, last.count + piece.count)
        else:
            row.append(piece)
    return tuple(row)


def _alike(a: Piece, b: Piece) -> bool:
    return a.stock == b.stock and a.ends == b.ends and abs(a.length - b.length) <= 1e-6
