"""Where pieces lie on their bar, and what is sawn off before one so that its slots meet the cross tees.

In: the pieces of a bar whose places are known. Out: the same from left to right, each with whether it lies at the right
end of the bar, and with what is sawn off before it. Millimetres.
"""

from collections.abc import Sequence

from planner.stock.model import BarPiece, Cutting

#: Places closer than this, in millimetres, are one: lengths at the saw are whole tenths, and the kerf is rounded up.
_NEAR_MM = 0.15

Laid = tuple[BarPiece, bool]  #: a piece, and whether it lies at the right end of its bar


def as_laid(pieces: Sequence[BarPiece], cutting: Cutting) -> list[Laid]:
    """Pieces whose places are known, in the order in which they are given: from left to right."""
    end = cutting.stock_length - _NEAR_MM
    return [(piece, bool(piece.at) and (piece.at or 0.0) + piece.length > end) for piece in pieces]


def sawn_off(placed: Sequence[Laid], kerf: float) -> list[float]:
    """What is sawn off before each piece that lies behind others from the left, the kerf included."""
    off, place = [], 0.0
    for piece, right in placed:
        gap = 0.0 if right else (piece.at or 0.0) - place
        off.append(round(gap, 1) if gap > _NEAR_MM else 0.0)
        place = (piece.at or 0.0) + piece.length + kerf
    return off
