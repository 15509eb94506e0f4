"""The border of a whole wall as one long strip at full size: the cut along the wall, with the tees that cross it.

In: a plan and a wall. Out: sheets: a key with the widths of every panel, then the pages of the strip, in one row that
follows the wall. For walls that bow or run out of square to the grid. The strip lies on the panels' faces, in the order
in which they lie face up, or mirrored on their backs.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from difflib import get_close_matches

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from planner.drawing import words
from planner.drawing.labels import Heights, Taken, box_ring, first_free, readable
from planner.drawing.lettering import clean
from planner.drawing.roles import Role
from planner.drawing.shapes import Drawing, Line, Outline, Paper, Shape, Sheet, Text, Window
from planner.drawing.tables import Stack, table
from planner.drawing.templates.clearance import piece_of
from planner.drawing.templates.full_page import Page, page_sheet
from planner.drawing.templates.full_size import BAND
from planner.drawing.templates.hatch import hatched
from planner.drawing.templates.key_page import Job, Key, composed, words_width
from planner.drawing.templates.numbers import Said, how_to
from planner.drawing.templates.openings import Openings
from planner.drawing.templates.piece import Piece, Side, moved
from planner.drawing.templates.piece_lines import side_lines, waste_band
from planner.drawing.templates.stretch import stretched
from planner.drawing.templates.tiles import OVERLAP, Pages, pages_for, strip_for
from planner.errors import PlannerError
from planner.geometry import Box, Frame, Point, box_of, distance, midpoint
from planner.lengths import Rounding
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Wall

#: The strip shows so much of the panels beside the cut.
_SHOWN = 16.0
_HATCH = 4.0
#: Tee lines run so far past the cut, so that they meet the marks on the wall.
_PAST = 12.0
#: Letters stand so far beside a tee's centre line.
_ASIDE = 4.5
_SCALES = (5.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0, 1000.0)


@dataclass(frozen=True, slots=True)
class StripPiece:
    """A panel along the wall, in the strip's frame: the wall runs along x, the room is on the +y side."""

    piece: Piece
    side: Side  #: on the wall
    before: Side | None  #: the tee at its left end, where there is one
    after: Side | None


@dataclass(frozen=True, slots=True)
class Strip:
    """All panels along a wall, from the left."""

    wall: str
    pieces: tuple[StripPiece, ...]
    tees: tuple[tuple[Point, Point], ...]  #: centre lines of tees that end at the wall
    waste: BaseGeometry


def wall_named(plan: Plan, name: str, option: str) -> Wall:
    """The wall of that name, either way round; PlannerError with the nearest when there is none."""
    plain = name.strip().lower()
    walls = {wall.name.lower(): wall for wall in plan.room.walls}
    back = {f"{last}-{first}".lower(): wall for wall in plan.room.walls for first, last in [corners_of(plan, wall)]}
    found = walls.get(plain) or back.get(plain)
    if found is not None:
        return found
    near = get_close_matches(plain, walls, n=1, cutoff=0.5)
    known = ", ".join(wall.name for wall in plan.room.walls[:20])
    mend = f"Did you mean {walls[near[0]].name}? Walls: {known}." if near else f"Walls: {known}."
    raise PlannerError(f'there is no wall "{name.strip()[:20]}" in "{plan.room.name}".', where=option, mend=mend)


def corners_of(plan: Plan, wall: Wall) -> tuple[str, str]:
    """The names of the corners that a wall runs from and to."""
    names = plan.room.corner_names
    k = [each.name for each in plan.room.walls].index(wall.name)
    return names[k], names[(k + 1) % len(names)]


def strip_of(plan: Plan, wall: Wall, *, from_back: bool) -> Strip:
    """The panels along a wall; PlannerError where none is cut there."""
    openings = Openings(plan)
    turn = math.degrees(math.atan2(wall.end[1] - wall.start[1], wall.end[0] - wall.start[0]))
    frame, flip = Frame(wall.start, turn), 1.0 if from_back else -1.0
    found: list[StripPiece] = []
    waste: list[BaseGeometry] = []
    for panel in plan.ceiling.panels:
        piece = None if panel.full_size else piece_of(openings, panel)
        if piece is None or not any((side.kind, side.name) == ("wall", wall.name) for side in piece.cuts):
            continue
        own = openings.frame_of(panel)

        def go(point: Point, own: Frame = own) -> Point:
            x, y = frame.inward(own.outward(point))
            return (flip * x, y)

        found += _along_wall(moved(piece, go, over=not from_back), wall.name)
        waste.append(_moved(waste_band(piece, BAND), go))
    if not found:
        mend = "Whole panels meet that wall, so there is no border to cut; take another wall."
        raise PlannerError(f"no panel is cut along {wall.name}.", where="--wall", mend=mend)
    found.sort(key=lambda each: each.side.points[0][0] + each.side.points[-1][0])
    tees = tuple(_tees(found, plan.ceiling.system.panel_undersize / 2))
    return Strip(wall.name, tuple(found), tees, shapely.union_all(waste))


def strip_sheets(
    plan: Plan, strip: Strip, paper: Paper, job: Job, *, from_back: bool
) -> tuple[Pages, tuple[Sheet, ...]]:
    """The strip on paper: its pages, and the key before them."""
    lines = shapely.union_all([LineString(each.side.points) for each in strip.pieces])
    pages = strip_for(lines, paper, job.by) or pages_for(lines.buffer(_SHOWN), paper, job.by)
    job.refuse_more(len(pages.kept))
    shapes = stretched(_shapes(strip, job), pages.by)
    side = words.say("templates.from back" if from_back else "templates.face up")
    title = words.say("templates.strip", wall=clean(strip.wall))
    name = f"wall-{strip.wall}"
    width = words_width(paper, job.heights)
    told = (words.say("templates.strip panels", wall=clean(strip.wall)), job.room, _printed(pages))
    stacks = [how_to(not from_back, len(pages.printed) > 1, width, job.heights), _table(strip, width, job)]
    key = Key(name, title, side, told, stacks)
    page = Page(name, title, f"{title} · {job.room}", side)
    return pages, (
        *composed(key, lambda room: _overview(strip, pages, room, job), paper, job),
        *(page_sheet(page, shapes, pages, tile, job) for tile in pages.kept),
    )


def _along_wall(piece: Piece, wall: str) -> Iterator[StripPiece]:
    """Each side of a piece that is cut along the wall, with the tees at its ends; left and right as the strip lies."""
    for k, side in enumerate(piece.sides):
        if (side.kind, side.name) == ("wall", wall) and not side.factory:
            ends = (piece.sides[k - 1], piece.sides[(k + 1) % len(piece.sides)])
            if side.points[0][0] > side.points[-1][0]:
                ends = (ends[1], ends[0])
            left, right = (end if end.factory else None for end in ends)
            yield StripPiece(piece, side, left, right)


def _tees(pieces: Sequence[StripPiece], half: float) -> Iterator[tuple[Point, Point]]:
    """Centre lines of the tees between panels: half the undersize outside of the edge, from past the wall inwards."""
    seen: list[Point] = []
    for each in pieces:
        ends = sorted((each.side.points[0], each.side.points[-1]))
        for tee, end in zip((each.before, each.after), ends, strict=True):
            if tee is None:
                continue
            far = max(tee.points, key=lambda point: distance(point, end))
            length = distance(far, end)
            ux, uy = (far[0] - end[0]) / length, (far[1] - end[1]) / length
            (ax, ay), (bx, by) = tee.points[0], tee.points[-1]
            out = ((by - ay) / length, (ax - bx) / length)  # the piece lies on the left of its sides
            at = (end[0] + half * out[0], end[1] + half * out[1])
            if all(distance(at, other) > 4 * half + 1.0 for other in seen):
                seen.append(at)
                inner = min(length, 3 * _SHOWN)
                yield (at[0] - _PAST * ux, at[1] - _PAST * uy), (at[0] + inner * ux, at[1] + inner * uy)


def _moved(shape: BaseGeometry, go: Callable[[Point], Point]) -> BaseGeometry:
    return shapely.transform(shape, lambda points: np.array([go((x, y)) for x, y in points]))


def _shapes(strip: Strip, job: Job) -> list[Shape]:
    """The strip at full size."""
    shapes: list[Shape] = []
    letters = _Letters(job.heights)
    for each in strip.pieces:
        for side in each.piece.sides:
            shapes += side_lines(side, Role.TEMPLATE_EDGE if side.factory else Role.TEMPLATE_CUT)
    shapes += hatched(strip.waste, _HATCH)
    for start, end in strip.tees:
        shapes.append(Line(Role.CENTRE_MARK, start, end))
        letters.beside(midpoint(start, end), words.say("templates.strip tee"), (start, end))
    for each in strip.pieces:
        letters.within(each, words.say("templates.strip cut"))
    return [*shapes, *letters.texts]


class _Letters:
    """What is lettered on the strip so far."""

    def __init__(self, heights: Heights) -> None:
        self.heights, self.texts = heights, list[Text]()
        self._taken = Taken()

    def _letter(self, places: Sequence[Text]) -> None:
        found = first_free(places, self.heights[places[0].role], self._taken, gap=0.8) if places else None
        self.texts += [] if found is None else [found]

    def beside(self, at: Point, text: str, line: tuple[Point, Point]) -> None:
        """Letters along a tee, right of it."""
        (ax, ay), (bx, by) = line
        length = distance(*line)
        across = ((by - ay) / length, (ax - bx) / length)
        angle = readable(math.degrees(math.atan2(by - ay, bx - ax)))
        off = _ASIDE + self.heights[Role.NOTE] / 2
        self._letter(
            [
                Text(
                    Role.NOTE,
                    (at[0] + s * off * across[0], at[1] + s * off * across[1]),
                    text,
                    "centre",
                    "middle",
                    angle,
                )
                for s in (1, -1)
            ]
        )

    def within(self, each: StripPiece, cut: str) -> None:
        """The id of a panel and what to do, inside the cut."""
        line = LineString(each.side.points)
        for share, text, role in (
            (0.5, each.piece.panel, Role.SHEET_TITLE),
            (0.25, f"{each.piece.panel}: {cut}", Role.NOTE),
            (0.75, f"{each.piece.panel}: {cut}", Role.NOTE),
        ):
            a, b = (line.interpolate(share + d, normalized=True) for d in (-0.03, 0.03))
            length = math.hypot(b.x - a.x, b.y - a.y)
            across = (-(b.y - a.y) / length, (b.x - a.x) / length)  # the piece lies on the left of its sides
            off = 2.5 + self.heights[role] / 2
            at = ((a.x + b.x) / 2 + off * across[0], (a.y + b.y) / 2 + off * across[1])
            angle = readable(math.degrees(math.atan2(b.y - a.y, b.x - a.x)))
            self._letter([Text(role, at, text, "centre", "middle", angle)])


def _printed(pages: Pages) -> str:
    count, every = len(pages.printed), len(pages.tiling.tiles)
    if count == every:
        return words.say("templates.printed all", count=count)
    return words.say("templates.printed strip", printed=count, all=every)


def _table(strip: Strip, width: float, job: Job) -> Stack:
    """How wide each panel is at its two ends."""
    say = Said(job.units)
    rows = []
    for each in strip.pieces:
        lengths = [
            "" if tee is None else say(distance(tee.points[0], tee.points[-1]), Rounding.DOWN)
            for tee in (each.before, each.after)
        ]
        rows.append((each.piece.panel, *lengths))
    return table(
        words.say("templates.strip table"),
        "lll",
        words.row("templates.strip heads"),
        rows,
        width,
        job.heights,
        (words.say("templates.strip edges"),),
    )


def _overview(strip: Strip, pages: Pages, room: Box, job: Job) -> Window:
    """The strip small, with its pages."""
    boxes = [_unstretched(tile.box, pages.by) for tile in pages.tiling.tiles]
    around = box_of([p for box in boxes for p in box_ring(box)])
    scale = next(
        (s for s in _SCALES if around.width / s <= room.width and around.height / s <= room.height), _SCALES[-1]
    )
    shapes: list[Shape] = []
    taken, texts = Taken(), list[Text]()
    for tile, box in zip(pages.tiling.tiles, boxes, strict=True):
        kept = (tile.row, tile.column) in pages.printed
        core = box.grown(-OVERLAP / 2)
        shapes.append(Outline(Role.TRIM_LINE if kept else Role.OFFCUT, box_ring(core), fill=not kept))
        places = [
            Text(Role.NOTE, (core.centre[0], core.bottom + share * core.height), tile.name, "centre", "middle")
            for share in (1.35, -0.35, 1.75, -0.75)
        ]
        small = [Text(t.role, (t.at[0] / scale, t.at[1] / scale), t.text, "centre", "middle") for t in places]
        found = first_free(small, job.heights[Role.NOTE], taken)
        texts += [] if found is None else [places[small.index(found)]]
    for each in strip.pieces:
        for side in each.piece.sides:
            shapes += side_lines(side, Role.TEMPLATE_EDGE if side.factory else Role.TEMPLATE_CUT)
    return Window(Drawing((*shapes, *texts), (), scale, "mm"), room, around.centre)


def _unstretched(box: Box, by: tuple[float, float]) -> Box:
    return Box(box.left / by[0], box.bottom / by[1], box.right / by[0], box.top / by[1])
