"""Pipes and thin posts, which carry no wall angle.

In: a room. Out: which of its columns have panels cut round them and nothing else. No angle or track is bent round a
pipe, no screw goes into one, and no tee end lies on one: a cover ring or sealant closes the gap. So it is with round
columns up to 12 in and with posts up to 150 mm that stand free (common practice, no source). A box against a wall is
trimmed as the wall is.
"""

from dataclasses import replace

import shapely

from planner.geometry import TOLERANCE_MM, box_of
from planner.room.outline import Column, Room

#: A round column up to this diameter is a pipe: 12 in (common practice, no source).
PIPE_MM = 12 * 25.4
#: A free-standing post with no side longer than this is treated as a pipe (common practice, no source).
POST_MM = 150.0


def pipes(room: Room) -> tuple[Column, ...]:
    """The columns that carry no wall angle."""
    if not any(_thin(column) for column in room.columns):
        return ()
    return tuple(
        column
        for column, others in zip(room.columns, touching(room)[1:], strict=True)
        if _thin(column) and (column.diameter is not None or not others)
    )


def ledged(room: Room) -> Room:
    """The room with only those columns that carry wall angle: what ledges run along."""
    bare = pipes(room)
    return replace(room, columns=tuple(column for column in room.columns if column not in bare)) if bare else room


def across(column: Column) -> float:
    """How wide a pipe or post is; of a post its longer side."""
    box = box_of(column.outline)
    return column.diameter or max(box.width, box.height)


def touching(room: Room) -> list[list[int]]:
    """For the walls (0) and each column (1, 2, ...), which of the others they touch."""
    if not room.columns:
        return [[]]
    shapes = [shapely.LinearRing(room.outline), *(shapely.LinearRing(column.outline) for column in room.columns)]
    pairs = shapely.STRtree(shapes).query(shapes, predicate="dwithin", distance=TOLERANCE_MM)
    touched: list[list[int]] = [[] for _ in shapes]
    for one, other in sorted(zip(*pairs.tolist(), strict=True)):
        if one != other:
            touched[one].append(other)
    return touched


def _thin(column: Column) -> bool:
    return across(column) <= (POST_MM if column.diameter is None else PIPE_MM) + TOLERANCE_MM
