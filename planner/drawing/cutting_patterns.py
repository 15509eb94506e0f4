"""Bars that are cut alike, gathered: what is drawn once and cut so many times.

In: a plan. Out: for each stock item its patterns, in the order of cutting: bars that are used whole are laid aside
first, then the longest pieces are cut, so that a bar cut wrong still yields a shorter piece (common practice, no
source). Where a piece lies on its bar comes from its ends: one that keeps the left factory end lies at the left of the
bar, one that keeps the right one at its right, and what is left over lies between them.
"""

import math
from collections import defaultdict
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from planner.ceiling.marks import tape_mark
from planner.ceiling.members.trim import follows_arc, trim_place
from planner.ceiling.model import Member
from planner.drawing.member_roles import TRIM
from planner.lengths import DROPPED_MM
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Room
from planner.stock.laid import as_laid, sawn_off
from planner.stock.model import Bar, BarPiece, Cutting

Side = Literal["left", "middle", "right"]

#: Items in the order in which their members are put up.
_ORDER = ("furring strip", "track", "wall angle", "main tee", "carrier", "cross tee", "cover strip")

#: Length of each piece of a bar, whether it lies at the right end, what is sawn off before it; in marks of the tape.
_Key = tuple[tuple[int, bool, int], ...]


@dataclass(frozen=True, slots=True)
class Slot:
    """A piece on a bar, and the members that such a piece is for: one of each bar that is cut like this."""

    length: float  #: of the shortest of them; all are cut to the mark below it
    at_end: bool  #: it lies at the right end of the bar, beyond what is left over
    members: tuple[str, ...]
    sawn_off: float = 0.0  #: before it, so that its slots meet the cross tees; up to the piece, kerf included


@dataclass(frozen=True, slots=True)
class Pattern:
    """How a number of bars are cut; without slots, they are used whole."""

    count: int
    slots: tuple[Slot, ...]  #: from left to right
    offcut: float  #: the least of them
    whole: tuple[str, ...] = ()  #: members that uncut bars are for, one for each; () = not told

    @property
    def one_name(self) -> bool:
        """True when each slot is for one member on every bar, so that its id can stand in the piece."""
        return all(len(set(slot.members)) == 1 for slot in self.slots)


@dataclass(frozen=True, slots=True)
class Lot:
    """All patterns of one stock item."""

    cutting: Cutting
    patterns: tuple[Pattern, ...]
    keeps_ends: bool  #: its pieces keep factory ends
    from_longer: int = 0  #: border tees among its pieces whose own length is shorter
    places: tuple[tuple[str, str], ...] = ()  #: trim by its id: the wall or column that it runs along
    curved: tuple[str, ...] = ()  #: ids of trim that follows an arc


@dataclass(frozen=True, slots=True)
class _Sawn:
    """A bar with its pieces from left to right, and what is sawn off before each."""

    bar: Bar
    pieces: Sequence[BarPiece]
    off: Sequence[float]


def lots(plan: Plan) -> tuple[Lot, ...]:
    """Each stock item with its patterns, in the order in which it is put up."""
    system, members = plan.ceiling.system, plan.ceiling.members
    kinds = {piece.stock: member.kind for member in members for piece in member.pieces}
    tees = {system.main.item, *(tee.item for tee in system.cross_tees)}

    def rank(cutting: Cutting) -> int:
        kind = kinds.get(cutting.item)
        return _ORDER.index(kind) if kind in _ORDER else len(_ORDER)

    def from_longer(cutting: Cutting) -> int:
        chosen = plan.ceiling.border_tees
        return chosen.from_longer(cutting.item) if chosen and cutting.item in chosen.items else 0

    return tuple(
        Lot(
            cutting,
            _with_whole(
                _patterns(cutting, members, system.main.item, tees, tape_mark(plan.room.imperial)),
                _whole(cutting, [] if cutting.item in [tee.item for tee in system.cross_tees] else members),
            ),
            cutting.item in tees,
            from_longer(cutting),
            *along(cutting.item, members, plan.room),
        )
        for cutting in sorted(plan.stock.cutting, key=rank)
        if cutting.bars
    )


def _with_whole(patterns: Iterable[Pattern], whole: tuple[str, ...]) -> tuple[Pattern, ...]:
    return tuple(pattern if pattern.slots else replace(pattern, whole=whole) for pattern in patterns)


def _whole(cutting: Cutting, members: Iterable[Member]) -> tuple[str, ...]:
    """The members that the uncut bars are for; nothing where they cannot be told, one for one."""
    found = tuple(
        member.id
        for member in members
        for piece in member.pieces
        if piece.stock == cutting.item and cutting.is_whole(_tenths(piece.length))
        for _ in range(piece.count)
    )
    return found if len(found) == sum(bar.count for bar in cutting.bars if not bar.pieces) else ()


def along(item: str, members: Iterable[Member], room: Room) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """Where each length of trim of an item runs, and which of them follow an arc."""
    mine = [member for member in members if member.kind in TRIM and any(piece.stock == item for piece in member.pieces)]
    places = [(member.id, trim_place(member.id, room)) for member in mine]
    curved = tuple(member.id for member in mine if follows_arc(member, room))
    return tuple((name, place) for name, place in places if place), curved


def _patterns(
    cutting: Cutting, members: Iterable[Member], main: str, tees: Container[str], mark: float
) -> tuple[Pattern, ...]:
    """Gather the bars that are cut alike, which is those that read alike: they differ by less than a mark of the tape.

    The two ends of a cross tee are the same; those of a main tee are not.
    """
    keeps = cutting.item in tees
    ends = _ends(cutting.item, members) if cutting.item == main else {}
    alike: defaultdict[_Key, list[_Sawn]] = defaultdict(list)
    for bar in cutting.bars:
        known = all(piece.at is not None for piece in bar.pieces)
        placed = as_laid(bar.pieces, cutting) if known else _placed(bar.pieces, ends, keeps=keeps)
        off = sawn_off(placed, cutting.kerf) if known else [0.0] * len(placed)
        key = tuple(
            (_marks(piece.length, mark), right, _marks(gap, mark))
            for (piece, right), gap in zip(placed, off, strict=True)
        )
        alike[key].append(_Sawn(bar, [piece for piece, _ in placed], off))
    found = (_pattern([right for _, right, _ in key], bars) for key, bars in alike.items())
    return tuple(sorted(found, key=_turn))


def _turn(pattern: Pattern) -> tuple[bool, list[float]]:
    return (bool(pattern.slots), sorted(-slot.length for slot in pattern.slots))


def _marks(length: float, mark: float) -> int:
    return math.floor((length + DROPPED_MM) / mark)


def _pattern(at_end: Sequence[bool], bars: Sequence[_Sawn]) -> Pattern:
    slots = tuple(
        Slot(
            round(min(each.pieces[k].length for each in bars), 1),
            right,
            tuple(each.pieces[k].member for each in bars for _ in range(each.bar.count)),
            min(each.off[k] for each in bars),
        )
        for k, right in enumerate(at_end)
    )
    return Pattern(sum(each.bar.count for each in bars), slots, min(each.bar.offcut for each in bars))


def _ends(item: str, members: Iterable[Member]) -> Mapping[tuple[str, float], frozenset[Side]]:
    """Where the pieces of each member and length may lie on a bar: at the factory end that they keep."""
    found: defaultdict[tuple[str, float], set[Side]] = defaultdict(set)
    for member in members:
        for piece in member.pieces:
            if piece.stock == item:
                found[member.id, _tenths(piece.length)].add(_side(piece.ends))
    return {key: frozenset(sides) for key, sides in found.items()}


def _tenths(length: float) -> float:
    """As sawn: whole tenths of a millimetre, rounded down."""
    return int(length * 10 + 1e-6) / 10


def _side(ends: tuple[str, str]) -> Side:
    if ends[0] == "factory":
        return "left"
    return "right" if ends[1] == "factory" else "middle"


def _placed(
    pieces: Sequence[BarPiece], ends: Mapping[tuple[str, float], frozenset[Side]], *, keeps: bool
) -> list[tuple[BarPiece, bool]]:
    """The pieces from left to right, each with whether it lies at the right end; at most one does."""
    ordered = sorted(pieces, key=lambda piece: -piece.length)
    if not keeps or not ordered:
        return [(piece, False) for piece in ordered]
    left, middle, right = _told_apart(ordered, ends)
    return [(piece, False) for piece in (*left, *middle)] + [(piece, True) for piece in right]


def _told_apart(
    pieces: Sequence[BarPiece], ends: Mapping[tuple[str, float], frozenset[Side]]
) -> tuple[list[BarPiece], list[BarPiece], list[BarPiece]]:
    """Those at the left end, between, at the right end: first those that can lie at one place only."""
    sides: dict[Side, list[BarPiece]] = {"left": [], "middle": [], "right": []}
    may = [ends.get((piece.member, piece.length), frozenset[Side]()) for piece in pieces]
    for k in sorted(range(len(pieces)), key=lambda at: len(may[at]) or 9):
        sides[_free(may[k], sides)].append(pieces[k])
    return sides["left"], sides["middle"], sides["right"]


def _free(may: frozenset[Side], sides: Mapping[Side, list[BarPiece]]) -> Side:
    """A place that a piece may have and that is not taken; pieces of a kind that pairs any ends take the other end."""
    wanted: Iterator[Side] = (side for side in ("left", "right") if side in may and not sides[side])
    first = next(wanted, None)
    if first is not None:
        return first
    if may == {"middle"}:
        return "middle"
    other: Iterator[Side] = (side for side in ("left", "right") if not sides[side])
    return next(other, "middle")
