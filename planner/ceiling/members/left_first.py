"""Runs as they are read on the plan: from the left, or from the front where they stand upright.

In: a member with its pieces in order from start to end, wherever it starts. Out: the same in the order in which it is
read, so that no list tells a run from another end than the next list does. Common practice, no source.
"""

from collections.abc import Sequence

from planner.ceiling.model import Member, Piece

_UPRIGHT = 1e-6


def runs_backwards(member: Member) -> bool:
    """True for a member that begins at its right end, or at its back end where it stands upright."""
    dx, dy = member.end[0] - member.start[0], member.end[1] - member.start[1]
    return dx < -_UPRIGHT * abs(dy) or (abs(dx) <= _UPRIGHT * abs(dy) and dy < 0)


def pieces_in_order(member: Member) -> tuple[Piece, ...]:
    """The pieces of a run from its left end on, or from its front end where it stands upright."""
    return member.pieces[::-1] if runs_backwards(member) else member.pieces


def places_in_order(member: Member, places: Sequence[float]) -> tuple[float, ...]:
    """Distances from the start of a run, as distances from the end at which its pieces begin; millimetres."""
    return tuple(member.length - at for at in reversed(places)) if runs_backwards(member) else tuple(places)
