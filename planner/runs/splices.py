"""Lengths along walls that may be spliced anywhere: parts that take the fewest bars, then the fewest joints.

In: lengths in whole tenths of a millimetre, the bar and the shortest part. Out: the parts of each length. To begin
with, each is whole bars and a rest, which is the fewest joints; the rests are laid on bars by best fit, the longest
first. Then the bar that holds least is emptied onto the off-cuts of the others, in parts where it must be, as long as
that goes and until the total length allows no fewer: as NAVEDTRA 14044 p. 5-16 counts, perimeter over stock length.
Where that stops too early, bars are filled one after the other, each length going on where the bar before it ended.
"""

import random
from bisect import bisect_left
from collections.abc import Sequence

from planner.runs.job import Bar

#: A part and which length it is of.
_Part = tuple[int, int]

#: How often bars are filled one after the other, each time in another order; and the work of all tries together.
MOST_TRIES, MOST_WORK = 24, 600_000


def fewest_by_length(lengths: Sequence[int], bar: Bar) -> int:
    """Bars that lengths take at least, however they are spliced: each part beyond the bars' first takes a kerf."""
    parts = sum(-(-length // bar.length) for length in lengths)
    return -(-(sum(lengths) + parts * bar.kerf) // (bar.length + bar.kerf))


def begun_whole(length: int, bar: Bar, least: int) -> list[int]:
    """Whole bars and a rest; a rest shorter than `least` takes what it lacks from the bar before it."""
    whole, rest = divmod(length, bar.length)
    parts = [bar.length] * whole
    lack = least - rest
    if rest and whole and lack > 0 and bar.length - lack >= least:
        parts[-1] -= lack
        rest = least
    return [*parts, *([rest] if rest else [])]


def spliced(lengths: Sequence[int], bar: Bar, least: int) -> list[list[int]]:
    """Parts of each length, none shorter than `least` unless the length itself is; the longest first."""
    least = max(least, bar.reuse, 1)
    parts = [(part, at) for at, length in enumerate(lengths) for part in begun_whole(length, bar, least)]
    bars = _best_fit(parts, bar)
    fewest = fewest_by_length(lengths, bar)
    while len(bars) > fewest:
        fewer = _emptied(bars, bar, least)
        if fewer is None:
            break
        bars = fewer
    if len(bars) > fewest and not bar.reuse:
        bars = min([bars, *_tries(lengths, bar, least)], key=lambda found: (len(found), sum(map(len, found))))
    rows: list[list[int]] = [[] for _ in lengths]
    for part, at in sorted((part for row in bars for part in row), reverse=True):
        rows[at].append(part)
    return rows


def _best_fit(parts: Sequence[_Part], bar: Bar) -> list[list[_Part]]:
    bars: list[list[_Part]] = []
    free: list[tuple[int, int]] = []  # what is left of each bar, and which, by rising length
    for part, at in sorted(parts, key=lambda part: (-part[0], part[1])):
        spot = bisect_left(free, (max(part, bar.reuse), 0))
        if spot < len(free):
            left, number = free.pop(spot)
        else:
            left, number = bar.length, len(bars)
            bars.append([])
        bars[number].append((part, at))
        rest = left - part - bar.kerf
        if rest > 0:
            free.insert(bisect_left(free, (rest, number)), (rest, number))
    return bars


def _emptied(bars: Sequence[list[_Part]], bar: Bar, least: int) -> list[list[_Part]] | None:
    """The bars without the one that holds least, its parts on the others; None where that does not go."""
    if len(bars) < 2:
        return None
    emptied = min(range(len(bars)), key=lambda number: sum(part for part, _ in bars[number]))
    others = [list(row) for number, row in enumerate(bars) if number != emptied]
    rooms = [_room(row, bar) for row in others]
    for part, at in sorted(bars[emptied], reverse=True):
        if not _placed(part, at, others, rooms, bar, least):
            return None
    return others


def _placed(part: int, at: int, bars: list[list[_Part]], rooms: list[int], bar: Bar, least: int) -> bool:
    """Put a part, in parts where it must be, on bars with room, in place; False where it does not go."""
    left = part
    while left:
        fitting = [number for number, room in enumerate(rooms) if room >= left]
        number = min(fitting, key=rooms.__getitem__) if fitting else max(range(len(rooms)), key=rooms.__getitem__)
        taken = left if fitting else min(rooms[number], left - least)
        if taken < min(least, left):
            return False
        bars[number].append((taken, at))
        rooms[number] -= taken + bar.kerf
        left -= taken
    return True


def _tries(lengths: Sequence[int], bar: Bar, least: int) -> list[list[list[_Part]]]:
    dice = random.Random(0)
    bars = sum(lengths) // bar.length + 1
    tries = min(MOST_TRIES, MOST_WORK // (len(lengths) * (bars + len(lengths))))
    return [_one_after_another(lengths, bar, least, dice, number / MOST_TRIES) for number in range(tries)]


def _one_after_another(
    lengths: Sequence[int], bar: Bar, least: int, dice: random.Random, split: float
) -> list[list[_Part]]:
    """Fill bars one after the other; a share `split` of the times, a length is parted even where another would fit."""
    left = [(length, at) for at, length in enumerate(lengths)]
    bars: list[list[_Part]] = [[]]
    room = bar.length
    while left:
        taken, number = _next_part(left, room, bar, least, part_first=dice.random() < split)
        if not taken:
            bars.append([])
            room = bar.length
            continue
        length, at = left.pop(number)
        bars[-1].append((taken, at))
        room -= taken + bar.kerf
        if length > taken:
            left.append((length - taken, at))
    return bars


def _next_part(left: Sequence[_Part], room: int, bar: Bar, least: int, *, part_first: bool) -> tuple[int, int]:
    """How much to cut next from what is left of a bar, and of which length; 0 where nothing will do.

    Either the whole of a length, so that a useful rest stays or hardly any; or all of the rest for a part of one. Else
    what wastes least.
    """
    numbers = range(len(left))
    whole = [n for n in numbers if left[n][0] <= room and not bar.kerf < room - left[n][0] < least + bar.kerf]
    parted = [n for n in numbers if room >= least and left[n][0] - room >= least]
    for found in (parted, whole) if part_first else (whole, parted):
        if found:
            number = max(found, key=lambda n: left[n])
            return min(left[number][0], room), number
    parts = [(left[n][0] if left[n][0] <= room else min(room, left[n][0] - least), n) for n in numbers]
    return max((part for part in parts if part[0] >= least or part[0] == left[part[1]][0]), default=(0, 0))


def _room(parts: Sequence[_Part], bar: Bar) -> int:
    """How long a further part may be."""
    return bar.length - sum(part + bar.kerf for part, _ in parts)
