"""Where things lie on the paper: the plan, the columns of words beside or below it, the title block.

In: a paper, how much room the plan takes at each scale, the stacks of words. Out: the arrangement at which the plan is
largest: words in a strip below, in a column at the right, or both. The title block is always in the lower right corner.
"""

from collections.abc import Callable, Iterator, Sequence

from planner.drawing.scales import Scale, largest_that_fits
from planner.drawing.shapes import Shape
from planner.drawing.tables import Row, Stack, moved
from planner.geometry import Box
from planner.records import dataclass

GUTTER = 5.0
#: Columns of words, in heights of their capitals: in narrower ones every third word is broken.
_NARROWEST = 23.4
_WIDEST = 40.0
_BETWEEN = 3.5
#: Around a plan: where so much is to spare, millimetres, the largest part of a sheet is taken, not the airiest.
_AIRY = 8.0
#: A list carried on in the next column is worth it if the plan becomes this much larger.
_BROKEN = 1.1
#: The strip below the plan never takes more than this share of the frame.
_TALLEST = 0.72

Need = Callable[[Scale], tuple[float, float]]  #: width and height of the plan with its dimensions, on paper
Words = Callable[[float], Sequence[Stack]]  #: the stacks for a column width


@dataclass(frozen=True, slots=True)
class Ground:
    """One way to divide the frame."""

    window: Box
    columns: tuple[Box, ...]
    width: float  #: of each column of words
    title: Box
    rules: tuple[tuple[tuple[float, float], tuple[float, float]], ...]  #: lines between the parts


@dataclass(frozen=True, slots=True)
class Composition:
    """A way that works, and the largest scale it allows."""

    ground: Ground
    scale: Scale
    whole: bool  #: no list is broken in two
    price: float  #: the denominator, and more where lists are broken: the less, the better


def compose(
    frame: Box,
    title: tuple[float, float],
    head: float,
    letter: float,
    need: Need,
    words: Words,
    scales: Sequence[Scale],
) -> Composition | None:
    """The arrangement with the largest scale; then one that breaks no list in two; then the one with the most air.

    `title` is the size of the title block, `head` the height kept free above the plan, `letter` the height of the
    capitals of the words. None when nothing fits.
    """
    best: tuple[tuple[float, float, float], Composition] | None = None
    for ground in grounds(frame, title, letter):
        space = (ground.window.width - 2 * GUTTER, ground.window.height - 2 * GUTTER - head)
        worth_it = scales if best is None else [scale for scale in scales if scale.denominator <= best[1].price]
        scale = largest_that_fits(need, space, worth_it)
        if scale is None:
            continue
        stacks = words(ground.width)
        whole = _set_whole(stacks, ground.columns) is not None
        if not whole and _set_broken(stacks, ground.columns) is None:
            continue
        price = scale.denominator * (1.0 if whole else _BROKEN)
        spare = min(room - n for n, room in zip(need(scale), space, strict=True))
        rank = (-price, min(spare, _AIRY), ground.window.width * ground.window.height)
        if best is None or rank > best[0]:
            best = rank, Composition(ground, scale, whole, price)
    return None if best is None else best[1]


def grounds(frame: Box, title: tuple[float, float], letter: float) -> Iterator[Ground]:
    """Every way to divide the frame: strips of rising height, a column at the right, a narrow one and a low strip."""
    wide, tall = title
    spare = frame.width - wide
    height = tall
    while height <= _TALLEST * frame.height:
        yield _strip(frame, title, height, letter)
        height += 3.0
    if spare > 60.0:
        yield _column(frame, title, letter)
        for count, each in ((1, 24.0), (1, 28.0), (1, 33.0), (1, 38.0), (2, 24.0), (2, 28.0)):
            side = count * (each * letter + GUTTER) + GUTTER
            if side < wide - 1.0:
                yield _corner(frame, title, side, letter)


def fits(stacks: Sequence[Stack], columns: Sequence[Box], whole: bool = False) -> bool:
    """True when the stacks find room in the columns; `whole`: without being broken."""
    return (_set_whole if whole else _set)(stacks, columns) is not None


def set_words(stacks: Sequence[Stack], columns: Sequence[Box]) -> tuple[Shape, ...]:
    """The stacks as shapes on the paper; ValueError when they do not fit (ask `fits` first)."""
    placed = _set(stacks, columns)
    if placed is None:
        raise ValueError("the words do not fit their columns")
    return tuple(shape for row, x, y in placed for shape in moved(row.shapes, (x, y)))


def _strip(frame: Box, title: tuple[float, float], height: float, letter: float) -> Ground:
    """Words below the plan, left of the title block and above it."""
    block = _block(frame, title)
    top = frame.bottom + height
    left = Box(frame.left, frame.bottom, block.left, top)
    above = Box(block.left, block.top, frame.right, top)
    width = min(_column_width(left.width, letter), _column_width(above.width, letter))
    columns = (*_columns(left, width), *(_columns(above, width) if above.height > 12.0 else ()))
    window = Box(frame.left, top, frame.right, frame.top)
    return Ground(window, columns, width, block, (((frame.left, top), (frame.right, top)),))


def _column(frame: Box, title: tuple[float, float], letter: float) -> Ground:
    """Words in a column at the right, as wide as the title block below them."""
    block = _block(frame, title)
    side = Box(block.left, block.top, frame.right, frame.top)
    width = _column_width(side.width, letter)
    window = Box(frame.left, frame.bottom, block.left, frame.top)
    return Ground(window, _columns(side, width), width, block, (((block.left, frame.bottom), (block.left, frame.top)),))


def _corner(frame: Box, title: tuple[float, float], side: float, letter: float) -> Ground:
    """Words in a column at the right, `side` wide, and in a strip as low as the title block."""
    block = _block(frame, title)
    edge = frame.right - side
    beside = Box(edge, block.top, frame.right, frame.top)
    left = Box(frame.left, frame.bottom, block.left, block.top)
    width = min(_column_width(beside.width, letter), _column_width(left.width, letter))
    window = Box(frame.left, block.top, edge, frame.top)
    rules = (((frame.left, block.top), (block.left, block.top)), ((edge, block.top), (edge, frame.top)))
    return Ground(window, (*_columns(left, width), *_columns(beside, width)), width, block, rules)


def _block(frame: Box, title: tuple[float, float]) -> Box:
    return Box(frame.right - title[0], frame.bottom, frame.right, frame.bottom + title[1])


def _column_width(width: float, letter: float) -> float:
    """Of as many columns as are not too narrow; the widest where there is no room for any."""
    narrowest, widest = _NARROWEST * letter, _WIDEST * letter
    count = int((width - GUTTER) // (narrowest + GUTTER))
    return min(widest, (width - GUTTER) / count - GUTTER) if count > 0 else widest


def _columns(area: Box, width: float) -> tuple[Box, ...]:
    """Columns side by side in an area, spread evenly, with gutters around them."""
    count = int((area.width - GUTTER + 1e-6) // (width + GUTTER))
    if count < 1:
        return ()
    pitch = (area.width - GUTTER) / count
    lefts = (area.left + GUTTER + k * pitch for k in range(count))
    return tuple(Box(x, area.bottom + 0.5 * GUTTER, x + width, area.top - 0.6 * GUTTER) for x in lefts)


_Placed = list[tuple[Row, float, float]]


def _set(stacks: Sequence[Stack], columns: Sequence[Box]) -> _Placed | None:
    """Every stack in one piece where that can be, else carried on from column to column."""
    return _set_whole(stacks, columns) or _set_broken(stacks, columns)


def _set_whole(stacks: Sequence[Stack], columns: Sequence[Box]) -> _Placed | None:
    """Each stack in the first column that has room for all of it, below what stands there."""
    feet = [column.top for column in columns]
    placed: _Placed = []
    for stack in stacks:
        tall = stack.height
        roomy = (k for k, column in enumerate(columns) if feet[k] - tall >= column.bottom - 1e-6)
        k = next(roomy, None)
        if k is None:
            return None
        for row in (stack.heading, *stack.rows):
            placed.append((row, columns[k].left, feet[k]))
            feet[k] -= row.height
        feet[k] -= _BETWEEN
    return placed


def _set_broken(stacks: Sequence[Stack], columns: Sequence[Box]) -> _Placed | None:
    """One stack after the other, carried on in the next column below its heading again; tall columns first."""
    placed: _Placed = []
    left = sorted(columns, key=lambda column: -column.height)
    y = left[0].top if left else 0.0
    for stack in stacks:
        rows = list(stack.rows)
        heading = stack.heading
        while rows:
            if not left:
                return None
            need = heading.height + sum(row.height for row in rows[:2])
            if y - need < left[0].bottom:
                left.pop(0)
                y = left[0].top if left else 0.0
                continue
            for row in (heading, *_taken(rows, y - heading.height, left[0].bottom)):
                placed.append((row, left[0].left, y))
                y -= row.height
            heading = stack.again
        y -= _BETWEEN
    return placed


def _taken(rows: list[Row], y: float, bottom: float) -> Iterator[Row]:
    """Rows from the front of the list as far as they go above `bottom`; those given out are removed."""
    while rows and y - rows[0].height >= bottom - 1e-6:
        y -= rows[0].height
        yield rows.pop(0)
