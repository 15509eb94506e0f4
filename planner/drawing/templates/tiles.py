"""Over which pages a template goes, and which of them are worth printing.

In: lines that must be on paper, the paper. Out: `Pages`. Rules: neighbours share 10 mm; a page is printed when its
window shows any of the lines; the paper lies or stands, and the template is shifted on it, so that the fewest are.
Pages that would hang together with no other are joined by the pages between them, so that all can be taped to one;
only in strip mode, which follows the cut alone, they are not.
"""

import itertools
from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.drawing.shapes import Paper
from planner.drawing.templates.paper import turned, window_of
from planner.drawing.templates.stretch import TRUE, Factors, on_page
from planner.drawing.windows import Tile, Tiling, tiled
from planner.geometry import Box
from planner.records import dataclass

#: What neighbours share, millimetres on paper.
OVERLAP = 10.0
#: Pages show so much beyond the outermost line.
_BEYOND = 4.0
_LEANS = (0.5, 0.0, 0.25, 0.75, 1.0)

_Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Pages:
    """The pages of one template."""

    paper: Paper
    window: Box  #: on the paper
    tiling: Tiling  #: in the template's own millimetres, as printed
    printed: frozenset[tuple[int, int]]  #: row and column
    by: Factors = TRUE  #: how the template is stretched for the printer, across and up

    @property
    def kept(self) -> tuple[Tile, ...]:
        """The pages to print, row by row."""
        return tuple(tile for tile in self.tiling.tiles if (tile.row, tile.column) in self.printed)

    def neighbour(self, tile: Tile, down: int, right: int) -> Tile | None:
        """The page beside one, if it is printed."""
        other = self.tiling.at(tile.row + down, tile.column + right)
        return other if other is not None and (other.row, other.column) in self.printed else None


def pages_for(lines: BaseGeometry, paper: Paper, by: Factors = TRUE, *, joined: bool = True) -> Pages:
    """The fewest pages, upright or lying, that show all lines; `joined` adds what they need to be taped to one.

    `by` are the printer's factors along the short and the long side of the paper.
    """
    best: tuple[tuple[int, int, int], Pages] | None = None
    for k, page in enumerate((paper, turned(paper))):
        window, factors = window_of(page), on_page(by, page)
        drawn = _stretched(lines, factors)
        area = Box(*drawn.bounds).grown(_BEYOND)
        for lean in itertools.product(_LEANS, _LEANS):
            tiling = tiled(area, (window.width, window.height), OVERLAP, lean)
            printed = _showing(tiling, drawn)
            pages = Pages(page, window, tiling, _joined(printed) if joined else printed, factors)
            price = (len(pages.printed), len(tiling.tiles), k)
            if best is None or price < best[0]:
                best = (price, pages)
    assert best is not None
    return best[1]


def strip_for(lines: BaseGeometry, paper: Paper, by: Factors = TRUE) -> Pages | None:
    """Pages in one row that rise and fall with the lines, for a long strip; None where the lines are too steep for it.

    Neighbours share at least half of their height, so that crosses are far enough apart to square them.
    """
    rows = (_row(lines, page, on_page(by, page)) for page in (paper, turned(paper)))
    found = [pages for pages in rows if pages is not None]
    return min(found, key=lambda pages: len(pages.printed), default=None)


def _row(lines: BaseGeometry, paper: Paper, by: Factors) -> Pages | None:
    window, lines = window_of(paper), _stretched(lines, by)
    left, bottom, right, top = lines.bounds
    flat = tiled(Box(left, 0.0, right, 1.0).grown(_BEYOND), (window.width, window.height), OVERLAP)
    tiles: list[Tile] = []
    for tile in flat.tiles:
        seen = shapely.clip_by_rect(lines, tile.box.left, bottom - 1.0, tile.box.right, top + 1.0)
        low, high = (seen.bounds[1], seen.bounds[3]) if not seen.is_empty else (bottom, top)
        middle = (low + high) / 2
        box = Box(tile.box.left, middle - window.height / 2, tile.box.right, middle + window.height / 2)
        apart = abs(middle - tiles[-1].box.centre[1]) if tiles else 0.0
        if high - low > window.height - 2 * _BEYOND or apart > window.height / 2:
            return None
        tiles.append(Tile(0, tile.column, box))
    tiling = Tiling(1, len(tiles), tuple(tiles), OVERLAP)
    return Pages(paper, window, tiling, frozenset((0, t.column) for t in tiles), by)


def _showing(tiling: Tiling, lines: BaseGeometry) -> frozenset[_Place]:
    """The pages whose windows show any of the lines, margins that neighbours share included."""
    boxes = np.array([(t.box.left, t.box.bottom, t.box.right, t.box.top) for t in tiling.tiles])
    hit = shapely.intersects(lines, shapely.box(*boxes.T))
    return frozenset((t.row, t.column) for t, shows in zip(tiling.tiles, hit, strict=True) if shows)


def _stretched(lines: BaseGeometry, by: Factors) -> BaseGeometry:
    drawn = lines if by == TRUE else shapely.transform(lines, lambda points: points * by)
    shapely.prepare(drawn)
    return drawn


def _joined(printed: frozenset[_Place]) -> frozenset[_Place]:
    """With the pages that join all to one: from the part with the first page to the nearest other, and so on."""
    pages = set(printed)
    while True:
        whole = _reached(pages)
        rest = pages - whole
        if not rest:
            return frozenset(pages)
        a, b = min(itertools.product(sorted(whole), sorted(rest)), key=lambda ab: _steps(*ab))
        pages |= set(_way(a, b))


def _reached(pages: Iterable[_Place]) -> set[_Place]:
    """The pages that hang together with the first, side by side."""
    left = set(pages)
    reached, edge = set[_Place](), {min(left)}
    while edge:
        reached |= edge
        left -= edge
        edge = {(r + dr, c + dc) for r, c in edge for dr, dc in ((0, 1), (1, 0), (0, -1), (-1, 0))} & left
    return reached


def _steps(a: _Place, b: _Place) -> int:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def _way(a: _Place, b: _Place) -> Iterable[_Place]:
    """Along the row, then along the column."""
    (r, c), (goal_r, goal_c) = a, b
    while c != goal_c:
        c += 1 if goal_c > c else -1
        yield r, c
    while r != goal_r:
        r += 1 if goal_r > r else -1
        yield r, c
