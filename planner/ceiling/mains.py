"""Which way the main tees run, and which grid lines carry them.

In: a room, a layout, a system and the wish. Out: `MainLines`.

Direction: as wished; else square to the joists (NAVEDTRA 14044 p. 5-16), on a turned grid along the axis nearer to
that; with no joists given, square to the long side of an oblong panel, which takes half the main tee of the other way,
and for square panels along the longer side of the room (common practice, no source).

Lines: mains stand a cross tee's length apart, so no wall is further from one than a cross tee reaches. Among the ways
to begin the count that put a main into the room at all, the one with the fewest runs is taken, then the least length,
then the lowest line.
"""

from dataclasses import dataclass
from typing import Literal

from planner.ceiling.members.lines import clip_lines, rings_in
from planner.ceiling.model import Layout
from planner.ceiling.system import System
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM, box_of
from planner.room.brief import GridWish
from planner.room.outline import Room

Direction = Literal["along", "across"]


@dataclass(frozen=True, slots=True)
class MainLines:
    """The grid lines that carry main tees.

    Mains "along" run parallel to the grid's first axis and stand at v = index * module[1]; mains "across" run parallel
    to the second axis and stand at u = index * module[0].
    """

    direction: Direction
    step: int  #: every `step`-th line is a main
    phase: int  #: 0 <= phase < step: the lines with index = phase (mod step)

    def is_main(self, index: int) -> bool:
        return (index - self.phase) % self.step == 0


def choose_mains(room: Room, layout: Layout, system: System, wish: GridWish) -> MainLines:
    """Choose the mains; PlannerError when the system's cross tees cannot frame the module."""
    direction = wish.mains if wish.mains != "auto" else _direction(room, layout, system)
    step = _step(layout, system, direction)
    if step is None:
        raise PlannerError(_unframed(layout, system, direction), where="grid", mend=_mend(layout, system, direction))
    return MainLines(direction, step, _phase(room, layout, direction, step))


def _direction(room: Room, layout: Layout, system: System) -> Direction:
    """The direction nobody asked for: one that can be framed, by the rules above."""
    if _step(layout, system, "along") is None:
        return "across"
    if _step(layout, system, "across") is None:
        return "along"
    if room.joists is not None:
        return _square_to_joists(room.joists.direction, layout.frame.angle_deg)
    if abs(layout.module[0] - layout.module[1]) > TOLERANCE_MM:
        return "along" if layout.module[1] > layout.module[0] else "across"
    box = box_of(map(layout.frame.inward, room.outline))
    return "along" if box.width >= box.height - TOLERANCE_MM else "across"


def _square_to_joists(joists: Direction, angle_deg: float) -> Direction:
    """The grid axis nearer to square to the joists; joists "across" are square to the base wall."""
    square = 0.0 if joists == "across" else 90.0
    off = abs((angle_deg - square + 90.0) % 180.0 - 90.0)
    return "along" if off <= 45.0 else "across"


def _step(layout: Layout, system: System, direction: Direction) -> int | None:
    along, across = layout.module if direction == "along" else layout.module[::-1]
    return system.main_step(along, across)


def _phase(room: Room, layout: Layout, direction: Direction, step: int) -> int:
    """Where to begin counting every `step`-th line: fewest runs but not none, then least length, then lowest."""
    axis = 1 if direction == "along" else 0
    lines = clip_lines(rings_in(layout.frame, room), axis, layout.module[axis])
    runs, lengths = [0] * step, [0.0] * step
    for index, stretches in lines.items():
        runs[index % step] += len(stretches)
        lengths[index % step] += sum(end - start for start, end in stretches)
    return min(range(step), key=lambda k: (runs[k] == 0, runs[k], round(lengths[k], 1), k))


def _unframed(layout: Layout, system: System, direction: Direction) -> str:
    a, b = layout.module
    tees = ", ".join(f"{tee.length:g}" for tee in system.cross_tees)
    return (
        f"with mains {direction}, no cross tees of {system.name} frame a module of {a:g} x {b:g} mm (it has {tees} mm)."
    )


def _mend(layout: Layout, system: System, direction: Direction) -> str:
    other: Direction = "across" if direction == "along" else "along"
    if _step(layout, system, other) is not None:
        return f"Write mains: {other}, or mains: auto."
    modules = ", ".join(f"{a:g} x {b:g}" for a, b in system.modules)
    return f"Take one of its modules ({modules} mm), or a system with cross tees of that length."
