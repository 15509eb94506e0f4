"""Which way the main tees run, and which grid lines carry them.

In: a room, a layout, a system and the wish. Out: `MainLines`.

Direction: as wished; else square to the joists (NAVEDTRA 14044 p. 5-16), on a turned grid along the axis nearer to
that; with no joists given, square to the long side of an oblong panel, which takes half the main tee of the other way,
and for square panels along the longer side of the room (common practice, no source).

Lines: mains stand a cross tee's length apart, so no wall is further from one than a cross tee reaches. Among the ways
to begin the count that put a main into the room at all, the one with the fewest runs is taken, then the least length,
then the lowest line.
"""

from typing import Literal

from planner.ceiling.members.hidden import parted
from planner.ceiling.members.lines import clip_lines, rings_in
from planner.ceiling.members.pipes import ledged
from planner.ceiling.model import Layout
from planner.ceiling.system import System
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM, box_of
from planner.records import dataclass
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


#: What decided which way the mains run: the room file, what can be framed, joists, the panel's or the room's long side.
Ground = Literal["asked", "framing", "joists", "panel", "room"]


@dataclass(frozen=True, slots=True)
class Start:
    """One way to begin the count of mains, and what it would take."""

    phase: int
    runs: int
    length: float  #: of all runs; millimetres


def choose_mains(room: Room, layout: Layout, system: System, wish: GridWish) -> MainLines:
    """Choose the mains; PlannerError when the system's cross tees cannot frame the module."""
    direction, _ = direction_of(room, layout, system, wish)
    step = _step(layout, system, direction)
    if step is None:
        raise PlannerError(_unframed(layout, system, direction), where="grid", mend=_mend(layout, system, direction))
    return MainLines(direction, step, _best(starts(room, layout, system, direction, step)))


def direction_of(room: Room, layout: Layout, system: System, wish: GridWish) -> tuple[Direction, Ground]:
    """Which way the mains run, and what decided it: the wish, else one that can be framed, by the rules above."""
    if wish.mains != "auto":
        return wish.mains, "asked"
    if _step(layout, system, "along") is None:
        return "across", "framing"
    if _step(layout, system, "across") is None:
        return "along", "framing"
    if room.joists is not None:
        return _square_to_joists(room.joists.direction, layout.frame.angle_deg), "joists"
    if abs(layout.module[0] - layout.module[1]) > TOLERANCE_MM:
        return "along" if layout.module[1] > layout.module[0] else "across", "panel"
    box = box_of(map(layout.frame.inward, room.outline))
    return "along" if box.width >= box.height - TOLERANCE_MM else "across", "room"


def _square_to_joists(joists: Direction, angle_deg: float) -> Direction:
    """The grid axis nearer to square to the joists; joists "across" are square to the base wall."""
    square = 0.0 if joists == "across" else 90.0
    off = abs((angle_deg - square + 90.0) % 180.0 - 90.0)
    return "along" if off <= 45.0 else "across"


def _step(layout: Layout, system: System, direction: Direction) -> int | None:
    along, across = layout.module if direction == "along" else layout.module[::-1]
    return system.main_step(along, across)


def starts(room: Room, layout: Layout, system: System, direction: Direction, step: int) -> tuple[Start, ...]:
    """Every way to begin counting each `step`-th line, by phase."""
    axis = 1 if direction == "along" else 0
    rings, ledges = rings_in(layout.frame, room), rings_in(layout.frame, ledged(room))
    lines = parted(clip_lines(rings, axis, layout.module[axis]), ledges, axis, layout.module, system).carrying
    runs, lengths = [0] * step, [0.0] * step
    for index, stretches in lines.items():
        runs[index % step] += len(stretches)
        lengths[index % step] += sum(end - start for start, end in stretches)
    return tuple(Start(k, runs[k], lengths[k]) for k in range(step))


def _best(ways: tuple[Start, ...]) -> int:
    """Fewest runs but not none, then least length, then lowest."""
    return min(ways, key=lambda way: (way.runs == 0, way.runs, round(way.length, 1), way.phase)).phase


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
