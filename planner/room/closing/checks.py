"""What can be wrong with a clipboard before anything is computed.

In: a `Clipboard`. Out: everything that stands in its way, each as a `PlannerError` that says where and how to mend it.
The rule that needs arithmetic: no line is longer than the way round by other lines (in a triangle, two sides together
are longer than the third).
"""

import math
from collections import Counter
from collections.abc import Iterator
from difflib import get_close_matches
from heapq import heappop, heappush

from planner.errors import PlannerError
from planner.lengths import format_length
from planner.room.survey import Clipboard, Line, Reading, line_name, tape_accuracy

#: Standard deviations by which a line may seem longer than the way round.
_BY_CHANCE = 3.29


def problems_of(clipboard: Clipboard) -> tuple[PlannerError, ...]:
    """Everything wrong with a clipboard, in the order of its keys; empty when it can be closed or at least tried."""
    written = (
        *_wrong_corners(clipboard),
        *_wrong_readings(clipboard),
        *_wrong_outside_corners(clipboard),
        *_wrong_angles(clipboard),
        *_wrong_accuracy(clipboard),
    )
    return written or tuple(_too_long(clipboard))


def reading_accuracy(clipboard: Clipboard, reading: Reading) -> float:
    """The standard deviation of a reading, mm: as stated on the clipboard, or by its length."""
    return tape_accuracy(reading.taped) if clipboard.accuracy is None else clipboard.accuracy


def _wrong_corners(clipboard: Clipboard) -> Iterator[PlannerError]:
    corners = clipboard.corners
    if len(corners) < 3:
        yield PlannerError(
            f"a room has three corners or more, got {len(corners)}.",
            where="corners",
            mend="Name the corners in the order of the walk, the room on the left: [A, B, C, D].",
        )
    for name, times in Counter(corners).items():
        if times > 1:
            yield PlannerError(f"corner {name} is named {times} times.", where="corners", mend="Name each corner once.")


def _wrong_readings(clipboard: Clipboard) -> Iterator[PlannerError]:
    if not clipboard.readings:
        yield PlannerError("nothing was taped.", where="tape", mend="Tape every wall and at least one diagonal.")
    for reading in clipboard.readings:
        where = f"tape › {reading.name}"
        for name in dict.fromkeys(reading.between):
            if name not in clipboard.corners:
                yield _unknown(name, clipboard.corners, where)
        if reading.between[0] == reading.between[1]:
            yield PlannerError(
                f"a line from corner {reading.between[0]} to itself.", where=where, mend="Name two different corners."
            )
        if not (math.isfinite(reading.taped) and reading.taped > 0):
            yield PlannerError(
                f"a taped length is more than nothing, got {reading.taped:g} mm.",
                where=where,
                mend=f"Tape {reading.name}, or leave it out.",
            )


def _wrong_outside_corners(clipboard: Clipboard) -> Iterator[PlannerError]:
    for name in clipboard.outside_corners:
        if name not in clipboard.corners:
            yield _unknown(name, clipboard.corners, "outside_corners")


def _wrong_angles(clipboard: Clipboard) -> Iterator[PlannerError]:
    for name, angle in clipboard.angles.items():
        where = f"angles › {name}"
        if name not in clipboard.corners:
            yield _unknown(name, clipboard.corners, where)
        if not 1.0 <= angle <= 359.0:
            yield PlannerError(
                f"an inside angle lies between 1 and 359 degrees, got {angle:g}.",
                where=where,
                mend="Give the angle inside the room: 90 is square, more than 180 juts into the room.",
            )
        elif name in clipboard.outside_corners and angle <= 180.0:
            yield PlannerError(
                f"corner {name} is said to jut into the room, but its inside angle is {angle:g} degrees.",
                where=where,
                mend=f"Give the angle on the room's side, {360 - angle:g}, or take {name} out of outside_corners.",
            )


def _wrong_accuracy(clipboard: Clipboard) -> Iterator[PlannerError]:
    accuracy = clipboard.accuracy
    if accuracy is not None and not (math.isfinite(accuracy) and accuracy > 0):
        yield PlannerError(
            f"the accuracy of a tape is more than nothing, got {accuracy:g} mm.",
            where="tape_accuracy",
            mend='Leave it out for a usual tape, or give the usual error of one reading, such as 1/16" or 2 mm.',
        )


def _unknown(name: str, corners: tuple[str, ...], where: str) -> PlannerError:
    near = [corner for corner in corners if corner.casefold() == name.casefold()] or get_close_matches(
        name, corners, n=1
    )
    hint = f"Did you mean {near[0]}? " if near else ""
    return PlannerError(f"there is no corner {name}.", where=where, mend=f"{hint}The corners are {', '.join(corners)}.")


def _too_long(clipboard: Clipboard) -> Iterator[PlannerError]:
    """Lines that are longer, in every reading, than the shortest way round by other lines."""
    ways: dict[str, dict[str, float]] = {name: {} for name in clipboard.corners}
    least: dict[frozenset[str], Reading] = {}
    for reading in clipboard.readings:
        a, b = reading.between
        ways[a][b] = ways[b][a] = max(reading.taped, ways[a].get(b, 0.0))
        line = frozenset(reading.between)
        least[line] = min(reading, least.get(line, reading), key=lambda one: one.taped)
    for reading in least.values():
        round_by = _way_round(reading.between, ways)
        lengths = [ways[a][b] for a, b in round_by]
        spread = math.hypot(*(clipboard.accuracy or tape_accuracy(length) for length in (reading.taped, *lengths)))
        if round_by and reading.taped > sum(lengths) + _BY_CHANCE * spread:
            yield _no_triangle(clipboard, reading, round_by, sum(lengths))


def _way_round(line: Line, ways: dict[str, dict[str, float]]) -> tuple[Line, ...]:
    """The shortest way between the ends of a line by other lines (E. W. Dijkstra's search); empty if there is none."""
    start, end = line
    came: dict[str, str] = {}
    ahead = [(0.0, start, "")]
    while ahead:
        gone, here, before = heappop(ahead)
        if here in came:
            continue
        came[here] = before
        if here == end:
            break
        for there, length in ways[here].items():
            if there not in came and {here, there} != {start, end}:
                heappush(ahead, (gone + length, there, here))
    way = [end] if end in came else []
    while way and way[-1] != start:
        way.append(came[way[-1]])
    return tuple(zip(reversed(way[1:]), reversed(way[:-1]), strict=True))


def _no_triangle(clipboard: Clipboard, reading: Reading, way: tuple[Line, ...], total: float) -> PlannerError:
    units = clipboard.units
    legs = " and ".join(line_name(leg) for leg in way)
    return PlannerError(
        f"{reading.name} is taped as {format_length(reading.taped, units)}, but {legs} together are only "
        f"{format_length(total, units)}: these walls cannot close.",
        where=f"tape › {reading.name}",
        mend=f"Tape {reading.name} again, then {legs}; one of them was misread or written down wrongly.",
    )
