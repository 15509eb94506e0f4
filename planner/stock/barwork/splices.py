"""Wall angle spliced anywhere on a wall: bars saved by filling off-cuts with parts of pieces.

In: a cutting in which each piece is whole. Out: one with no more bars, where some pieces are in parts, none shorter
than asked for. The bar that holds least is emptied onto the off-cuts of the others as long as that goes. Bound: total
length over stock length, as NAVEDTRA 14044 p. 5-16 counts. Fewer bars are bought for more joints in the angle.
"""

from dataclasses import dataclass, replace

from planner.stock.barwork.wanted import offcut
from planner.stock.certificate import BarCertificate, ValuedPiece
from planner.stock.model import Bar, BarPiece, Cutting
from planner.stock.saw import Saw, kerf_tenths, tenths


@dataclass(frozen=True, slots=True)
class _Cuts:
    """What the saw and the joints ask for, tenths of a millimetre."""

    stock: int
    kerf: int
    shortest: int


def splice(cutting: Cutting, shortest: float, saw: Saw) -> Cutting:
    """Save bars by splicing pieces, with no part shorter than `shortest` millimetres."""
    cuts = _Cuts(tenths(cutting.stock_length), kerf_tenths(saw.kerf), max(tenths(shortest), tenths(saw.reuse_from), 1))
    whole = [bar for bar in cutting.bars if not bar.pieces]
    bars = [list(bar.pieces) for bar in cutting.bars for _ in range(bar.count if bar.pieces else 0)]
    proof = _by_length(bars, sum(bar.count for bar in whole), cuts)
    while len(bars) + proof.whole > proof.bound:
        emptied = _emptied(bars, cuts)
        if emptied is None:
            break
        bars = emptied
    cut = tuple(Bar(tuple(pieces), offcut(pieces, cutting.stock_length, saw.kerf)) for pieces in bars)
    return replace(
        cutting, bars=(*whole, *cut), bought=len(bars) + proof.whole, lower_bound=proof.bound, certificate=proof
    )


def _by_length(bars: list[list[BarPiece]], whole: int, cuts: _Cuts) -> BarCertificate:
    """A tenth of a millimetre is worth 1: no bar holds more than its length."""
    lengths = [tenths(piece.length) for pieces in bars for piece in pieces]
    pieces = tuple(ValuedPiece(length, lengths.count(length), length) for length in sorted(set(lengths), reverse=True))
    return BarCertificate(cuts.stock, 0, pieces, cuts.stock, whole=whole)


def _emptied(bars: list[list[BarPiece]], cuts: _Cuts) -> list[list[BarPiece]] | None:
    """The bars without the one that holds least, its pieces on the others; None where that does not go."""
    if len(bars) < 2:
        return None
    least = min(range(len(bars)), key=lambda at: sum(tenths(piece.length) for piece in bars[at]))
    others = [list(pieces) for at, pieces in enumerate(bars) if at != least]
    for piece in sorted(bars[least], key=lambda piece: -piece.length):
        if not _placed(piece, others, cuts):
            return None
    return others


def _placed(piece: BarPiece, bars: list[list[BarPiece]], cuts: _Cuts) -> bool:
    """Put a piece, in parts where it must be, on bars with room, in place; False where it does not go."""
    left = tenths(piece.length)
    while left:
        rooms = [_room(pieces, cuts) for pieces in bars]
        fitting = [at for at, room in enumerate(rooms) if room >= left]
        at = min(fitting, key=lambda at: rooms[at]) if fitting else max(range(len(rooms)), key=lambda at: rooms[at])
        part = left if fitting else min(rooms[at], left - cuts.shortest)
        if part < min(cuts.shortest, left):
            return False
        bars[at].append(BarPiece(piece.member, part / 10))
        left -= part
    return True


def _room(pieces: list[BarPiece], cuts: _Cuts) -> int:
    """How long a further piece may be."""
    return cuts.stock - sum(tenths(piece.length) + cuts.kerf for piece in pieces)
