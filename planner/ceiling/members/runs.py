"""Stock pieces in a row: what a main run and a length of wall angle are put together from.

In: a length and the stock. Out: every way to put a main run together, and the `Piece`s of a way, equal ones counted;
which way is taken is for `planner.runs` to say.
"""

import math
from collections.abc import Iterable, Sequence

from planner.ceiling.model import End, Piece
from planner.ceiling.system import MainTee, Tee
from planner.geometry import TOLERANCE_MM
from planner.records import dataclass
from planner.runs.choose import plain
from planner.runs.job import Bar, Cut, Job, Run, Single
from planner.runs.joints import STAGGER_PITCHES, Joints
from planner.runs.tenths import tenths

#: A piece of wall angle at a splice is this long at least, for a fixing at either end (common practice, no source).
LEAST_ANGLE_MM = 100.0


def saw_off(to_first_cross_tee: float, main: MainTee) -> float:
    """What to saw off the first main tee of a run so that a slot meets the first cross tee; less than one slot pitch.

    The first slot at or beyond the distance from the wall to the first cross tee is taken. The pitch goes on over a
    splice, so every other cross tee of the run meets a slot too, and no splice falls on one. The method is published
    in how-to articles; the slots are the system's.
    """
    short = (main.first_slot - to_first_cross_tee) % main.slot_pitch
    return 0.0 if min(short, main.slot_pitch - short) <= TOLERANCE_MM else short


@dataclass(frozen=True, slots=True)
class Ways:
    """Every way to put one main run together, the one that is taken where nothing speaks against it first."""

    cuts: tuple[Cut, ...]  #: none for a run that one main tee spans
    pieces: tuple[tuple[Piece, ...], ...]  #: of each; of the only one, for a run of one piece
    slot: float | None = None  #: what is sawn off before a run of one piece, millimetres; None: anything

    @property
    def length(self) -> float:
        return sum(piece.length * piece.count for piece in self.pieces[0])

    def run(self, name: str, start: float, beside: tuple[int, ...] = (), under: tuple[Joints, ...] = ()) -> Run:
        return Run(name, start, self.cuts, beside, under)

    def single(self, name: str) -> Single:
        return Single(name, tenths(self.length), None if self.slot is None else tenths(self.slot))


def ways_of(length: float, to_first_cross_tee: float | None, main: MainTee, least: float | None = None) -> Ways:
    """Every way to put a run together: a piece begun at a slot, whole ones, and the rest.

    No end piece is shorter than `least`, a slot pitch unless told: that would put the splice on the wall angle, where
    no hanger can stand on either side of it (NAVEDTRA 14044 p. 5-17 asks for both). A run that one main tee spans is
    not spliced. `to_first_cross_tee` is None where the run meets no cross tee.
    """
    off = 0.0 if to_first_cross_tee is None else saw_off(to_first_cross_tee, main)
    begun = main.length - off
    if length <= begun + TOLERANCE_MM:
        left: End = "cut" if off else "factory"
        whole = Piece(main.item, length, (left, "factory" if length >= begun - TOLERANCE_MM else "cut"))
        return Ways((), ((whole,),), None if to_first_cross_tee is None else off)
    cuts = _cuts(length, begun, main, main.slot_pitch if least is None else least)
    return Ways(tuple(cut.sawn() for cut in cuts), tuple(cut.pieces(main) for cut in cuts))


def main_run(
    length: float,
    to_first_cross_tee: float | None,
    main: MainTee,
    *,
    start: float = 0.0,
    beside: Sequence[Joints] = (),
    least: float | None = None,
) -> tuple[Piece, ...]:
    """Pieces of one main run by itself, put together the plain way (`planner.runs.choose.plain`).

    `beside` are the splices of the neighbouring runs, and `start` says where this one begins among them: splices are
    staggered (from memory) by `STAGGER_PITCHES` slots where that can be.
    """
    ways = ways_of(length, to_first_cross_tee, main, least)
    if not ways.cuts:
        return ways.pieces[0]
    run = ways.run("", start, under=tuple(beside))
    (cut,) = plain(Job(Bar(tenths(main.length)), (run,), apart=STAGGER_PITCHES * main.slot_pitch))
    return ways.pieces[ways.cuts.index(cut)]


def joints_of(pieces: Sequence[Piece], start: float) -> Joints:
    """Where the splices of a run stand that begins at `start`."""
    count = sum(piece.count for piece in pieces) - 1
    whole = next((p.length for p in pieces if p.whole), 0.0)
    return Joints(start + pieces[0].length, whole, count)


@dataclass(frozen=True, slots=True)
class _Cut:
    """One way to cut a run: the first piece, whole ones, the rest."""

    first: float
    whole: int
    rest: float

    def sawn(self) -> Cut:
        """The same in whole tenths."""
        return Cut(tenths(self.first), self.whole, tenths(self.rest), self.first)

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
    return _Cut(first, round((length - first - rest) / stock), rest)


def angle_run(length: float, angle: Tee) -> tuple[Piece, ...]:
    """Wall angle along one wall: whole lengths and the rest, butted at splices, cut where it meets a corner.

    A rest too short to be fixed takes what it lacks from the length before it.
    """
    whole = math.floor((length + TOLERANCE_MM) / angle.length)
    rest = length - whole * angle.length
    parts = [angle.length] * whole + ([rest] if rest > TOLERANCE_MM else [])
    if whole and TOLERANCE_MM < rest < LEAST_ANGLE_MM:
        parts[-2:] = [angle.length + rest - LEAST_ANGLE_MM, LEAST_ANGLE_MM]
    return in_parts(parts, length, angle)


def in_parts(parts: Sequence[float], length: float, angle: Tee) -> tuple[Piece, ...]:
    """Wall angle in parts, in their order; the last one takes up what rounding has left of the length.

    Each is cut where it meets a corner; one between two others that is no whole length has one cut end.
    """
    lengths = [*parts[:-1], length - sum(parts[:-1])]
    row: list[Piece] = []
    for k, part in enumerate(lengths):
        sawn = k > 0 and part < angle.length - TOLERANCE_MM
        right: End = "cut" if sawn or k == len(lengths) - 1 else "factory"
        row.append(Piece(angle.item, part, ("factory" if k else "cut", right)))
    return gathered(row)


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
