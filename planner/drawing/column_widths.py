"""How wide the columns of a table are: as its cells need, or with their lines broken where they cost least room.

In: the cells of each column as they are lettered, the width of the table. Out: columns, paper millimetres. What is left
over goes between them.
"""

import re
from collections.abc import Sequence
from itertools import product
from typing import Literal

from planner.drawing.lettering import text_width
from planner.drawing.wrapping import IN_NEED, SPACE, shortened, wrapped
from planner.records import dataclass

#: Lines of a cell of a table.
MOST_LINES = 3
#: Between the columns of a table, in heights of capitals, and what of it stays free behind letters; where room is
#: scarce.
_GAPS = ((1.5, 1.2), (1.2, 0.9))
_TIGHT = (0.8, 0.6)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table."""

    width: float  #: paper millimetres
    side: Literal["left", "right"] = "left"
    free: float = 0.0  #: of that, what stays free before the next column


Lettered = Sequence[tuple[str, float]]  #: the cells of a column, each with the height of its letters


def columns_for(sides: str, cells: Sequence[Lettered], width: float, height: float) -> tuple[Column, ...]:
    """Columns that fill a width. `sides` has a letter for each: l, r for the side that its words keep to.

    `height` is that of capitals in most cells, from which the room between columns follows. Where there is not enough
    room a cell goes over several lines; what is wider even then is for the table to shorten.
    """
    roomy = ((_wide(cells, None, gap * height), free) for gap, free in _GAPS)
    fitting = ((_spread(wide, width), free) for wide, free in roomy if sum(wide) <= width)
    wide, free = next(fitting, None) or _narrow(cells, width, height)
    last = len(sides) - 1
    return tuple(
        Column(each, "right" if side == "r" else "left", free * height if k < last else 0.0)
        for k, (each, side) in enumerate(zip(wide, sides, strict=True))
    )


def _wide(columns: Sequence[Lettered], ends: re.Pattern[str] | None, gap: float) -> list[float]:
    """How wide each column must be for its cells, or for the parts that their lines may be broken into."""
    parts = [
        [(part, tall) for text, tall in cells for part in (ends.split(text) if ends else (text,))] for cells in columns
    ]
    wide = [max((text_width(text, tall) for text, tall in cells), default=0.0) for cells in parts]
    # A hair more for the last, so that no rounding shortens its longest cell.
    return [each + gap for each in wide[:-1]] + [wide[-1] + 0.1]


def _spread(wide: Sequence[float], width: float) -> list[float]:
    """What is left over goes between the columns."""
    if len(wide) == 1:
        return [width]
    more = (width - sum(wide)) / (len(wide) - 1)
    return [*(each + more for each in wide[:-1]), wide[-1]]


def _narrow(columns: Sequence[Lettered], width: float, height: float) -> tuple[list[float], float]:
    """Columns that fit together, and what stays free between them: no size is broken, then no word, if that can be.

    Where not all cells are whole even then, as with a name of three hundred letters, they are shortened, and still no
    word is broken if that can be.
    """
    ways = [(gap, free, ends) for gap, free in (_GAPS[-1], _TIGHT) for ends in (SPACE, IN_NEED)]
    for whole, (gap, free, ends) in product((True, False), ways):
        cells = columns if whole else _fair(columns, width)
        found = _narrowed(cells, _wide(cells, ends, gap * height), gap * height, width)
        if found and (not whole or _hold(found, cells, gap * height)):
            return found, free
    gap, free = _GAPS[-1]
    needs = _wide(columns, None, gap * height)
    most = _level(needs, width)
    return [min(need, most) for need in needs], free


def _fair(columns: Sequence[Lettered], width: float) -> list[Lettered]:
    """Cells that ask for no more than their share of the lines that there may be."""
    most = MOST_LINES * width / len(columns)
    return [[(shortened(text, most, tall), tall) for text, tall in cells] for cells in columns]


def _hold(columns: Sequence[float], lettered: Sequence[Lettered], gap: float) -> bool:
    """Whether every cell is whole on the lines that there may be."""
    behind = [gap] * (len(columns) - 1) + [0.0]
    return all(
        len(wrapped(text, wide - off, tall)) <= MOST_LINES
        for wide, off, cells in zip(columns, behind, lettered, strict=True)
        for text, tall in cells
    )


def _narrowed(columns: Sequence[Lettered], least: Sequence[float], gap: float, width: float) -> list[float] | None:
    """Columns that fit together and break no word; None where that cannot be.

    Step by step room goes to the column where it keeps most cells on one line for its width.
    """
    found, spare = list(least), width - sum(least)
    if spare < 0:
        return None
    behind = [gap] * (len(columns) - 1) + [0.1]
    wide = [
        sorted(text_width(text, tall) + off for text, tall in cells) for cells, off in zip(columns, behind, strict=True)
    ]
    while True:
        steps = []
        for k, cells in enumerate(wide):
            wider = [cell - found[k] for cell in cells if cell > found[k] + 1e-6]
            steps += [((n + 1) / more, more, k) for n, more in enumerate(wider) if more <= spare]
        if not steps:
            return _spread(found, width)
        _, more, k = max(steps)
        found[k] += more
        spare -= more


def _level(needs: Sequence[float], width: float) -> float:
    """The width that no column may pass for all to fit: what is missing is taken from the widest, and evenly."""
    left, columns = width, len(needs)
    for need in sorted(needs):
        if need * columns > left:
            break
        left, columns = left - need, columns - 1
    return left / max(columns, 1)
