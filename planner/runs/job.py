"""The nouns of first cuts, each frozen once made; lengths are whole tenths of a millimetre, unless said otherwise.

A run longer than a bar is put together of a piece that begins it, whole bars, and the rest. The piece that begins it
keeps its right factory end, the rest its left one, so that from one bar at most one of each can come; a whole bar keeps
both. A run that one bar spans is one piece and keeps no end; where it meets cross tees, it may begin at certain places
of a bar only. How far apart joints of neighbours must be is in `beside` and `apart`.
"""

from collections.abc import Sequence
from dataclasses import field

from planner.records import dataclass
from planner.runs.joints import Joints


@dataclass(frozen=True, slots=True)
class Bar:
    """What runs are cut from, and how it is sawn."""

    length: int
    pitch: int = 0  #: of the slots; 0 where it has none
    kerf: int = 0
    reuse: int = 0  #: off-cuts shorter than this are thrown away

    def seat(self, piece: int) -> int:
        """What a piece takes of a bar: all of it, where what it leaves is thrown away."""
        return self.length if piece + self.kerf + self.reuse > self.length else piece

    def slotted(self, place: int, slot: int | None) -> int:
        """The first place from one on where a piece may begin that must begin `slot` beyond a multiple of the pitch."""
        return place if slot is None or not self.pitch else place + (slot - place) % self.pitch


@dataclass(frozen=True, slots=True)
class Cut:
    """One way to put a run together."""

    first: int  #: the piece that begins it; as long as a bar where nothing is sawn off
    whole: int  #: bars after it
    rest: int  #: 0 where there is none
    begun: float = field(default=0.0, compare=False)  #: the first piece unrounded, millimetres: where joints stand

    @property
    def count(self) -> int:
        """Pieces of the run."""
        return 1 + self.whole + (self.rest > 0)

    def uncut(self, bar: Bar) -> int:
        """Bars that are used whole."""
        return self.whole + (self.first == bar.length)

    def sawn(self, bar: Bar) -> int:
        """Length of the piece that begins it, if that is sawn; else 0."""
        return 0 if self.first == bar.length else self.first


@dataclass(frozen=True, slots=True)
class Run:
    """A run, every way in which it may be put together, and its neighbours."""

    name: str
    start: float  #: along a coordinate that all runs share, millimetres
    cuts: tuple[Cut, ...]  #: the one that is taken where nothing speaks against it first
    beside: tuple[int, ...] = ()  #: neighbours, whose joints its own must not stand beside
    under: tuple[Joints, ...] = ()  #: joints of something else that its own must not stand under

    def joints(self, cut: Cut, bar: Bar) -> Joints:
        return Joints(self.start + cut.begun, bar.length / 10, cut.count - 1)


@dataclass(frozen=True, slots=True)
class Single:
    """A run of one piece."""

    name: str
    length: int
    slot: int | None = None  #: it begins so far beyond a multiple of the pitch; None: anywhere

    @property
    def kind(self) -> tuple[int, int | None]:
        return (self.length, self.slot)


@dataclass(frozen=True, slots=True)
class Job:
    """All runs that are cut from one kind of bar."""

    bar: Bar
    runs: tuple[Run, ...]
    singles: tuple[Single, ...] = ()
    apart: float = 0.0  #: least distance of neighbours' joints, millimetres

    def near(self, at: int, cut: Cut, chosen: Sequence[Cut | None]) -> float:
        """How much too near to its neighbours' joints those of a run are, in millimetres; 0 where they are clear."""
        mine = self.runs[at].joints(cut, self.bar)
        least = min(map(mine.distance, self.neighbours(at, chosen)), default=self.apart)
        return round(max(0.0, self.apart - least), 1)

    def neighbours(self, at: int, chosen: Sequence[Cut | None]) -> list[Joints]:
        """All joints that those of a run must be clear of."""
        run = self.runs[at]
        chosen_beside = ((k, chosen[k]) for k in run.beside)
        beside = [self.runs[k].joints(other, self.bar) for k, other in chosen_beside if other is not None]
        return [*beside, *run.under]


@dataclass(frozen=True, slots=True)
class LaidBar:
    """A sawn bar from left to right: a rest, single pieces, a piece that begins a run; 0 where there is none."""

    rest: int = 0
    singles: tuple[tuple[int, int | None], ...] = ()
    first: int = 0
