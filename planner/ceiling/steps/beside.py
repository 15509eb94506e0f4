"""What steps of the order of work ask for and no list has: the take-off says that it is not included.

In: a room and its system. Out: what it is, in words. How many shims there are only a string under the joists tells, and
which ring goes round a pipe whoever fits the pipe (common practice, no source).
"""

from planner.ceiling.members.pipes import pipes
from planner.ceiling.system import System
from planner.room.outline import Room

SHIMS = "shims under the joists"
RINGS = "cover rings or sealant at pipes"


def asked_for_beside(room: Room, system: System) -> tuple[str, ...]:
    """Shims where a grid is fixed to joists, rings where pipes come through."""
    return (*((SHIMS,) if system.direct is not None else ()), *((RINGS,) if pipes(room) else ()))
