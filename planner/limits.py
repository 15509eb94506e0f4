"""How large a job may be: every limit, what it counts, what is usual, and how far it can be raised at the desk.

In: what somebody says with `--limits`, such as "services=5000,pages=800". Out: `Limits`, which a document carries with
it. Rule: what a file asks for is no more than usual unless the person who runs the planner says so; a file from
elsewhere cannot raise its own limits. The usual ones are far above any job, and the worst that they let through is
done within minutes and a few gigabytes; the utmost ones are where memory or Python's own stack would end it.

Measured in 2026-11, in seconds of one core: 1,000 rooms of 4 m to 11 m are planned in 31 s and 270 MB, and drawn in
0.3 s each, on all cores, which holds about 1 MB of files for each until they are written; 390 pages of templates take
2 s and 100 MB.
"""

from dataclasses import field, fields, replace
from difflib import get_close_matches
from typing import Any

from planner.errors import PlannerError
from planner.records import dataclass

OPTION = "--limits"


def _limit(usual: int, utmost: int, counts: str) -> Any:
    return field(default=usual, metadata={"utmost": utmost, "counts": counts})


@dataclass(frozen=True, slots=True)
class Limits:
    """The most of everything."""

    bytes: int = _limit(1_000_000, 100_000_000, "bytes of a room or building file")
    values: int = _limit(50_000, 2_000_000, "values in it, aliases written out")
    depth: int = _limit(40, 100, "levels of lists and keys in one another")
    rooms: int = _limit(1_000, 10_000, "rooms of a building")
    corners: int = _limit(2_000, 20_000, "corners of a room, of columns given by points, chords of bowed walls")
    readings: int = _limit(1_000, 5_000, "readings of a tape")
    columns: int = _limit(4_000, 20_000, "columns, pipes and chases")
    services: int = _limit(10_000, 50_000, "services, those of arrays one by one")
    modules: int = _limit(1_000_000, 5_000_000, "modules of the grid that the room would take")
    pages: int = _limit(500, 5_000, "pages of one PDF: sheets of a set, or templates")
    drawing: int = _limit(64 * 2**20, 2**30, "bytes of somebody else's drawing")
    strokes: int = _limit(200_000, 5_000_000, "lines on the layers of it that are read")
    record: int = _limit(100_000_000, 2**30, "bytes of a plan.json that is compared")


USUAL = Limits()


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit, for a table."""

    name: str
    usual: int
    utmost: int
    counts: str


LIMITS = tuple(
    Limit(each.name, getattr(USUAL, each.name), each.metadata["utmost"], each.metadata["counts"])
    for each in fields(Limits)
)


def read_limits(text: str) -> Limits:
    """The usual limits but for those named, as in "services=5000,pages=800"; PlannerError for anything else."""
    found: dict[str, int] = {}
    for part in filter(None, (part.strip() for part in text.split(","))):
        name, _, number = (piece.strip() for piece in part.partition("="))
        found[name] = _number(_known(name), number)
    return replace(USUAL, **found)


def too_many(what: str, found: int, name: str, limits: Limits | int) -> tuple[str, str] | None:
    """Problem and mend when there are more than a limit allows, else None; `what` is as in "the room has 9 services".

    `limits` is all of them, or the one alone.
    """
    most = limits if isinstance(limits, int) else getattr(limits, name)
    if found <= most:
        return None
    return f"{what}, and {most:,} are the most.", raising(name, found)


def raising(name: str, found: int) -> str:
    """How to raise a limit so that it takes what was found."""
    limit = _known(name)
    if found > limit.utmost:
        return f"More than {limit.utmost:,} are never taken; plan it in parts."
    return f"If it is meant, raise the limit: planner {OPTION} {name}={found} ..."


def limits_table() -> str:
    """Every limit as a table, for a terminal."""
    rows = [("limit", "usual", "utmost", "counts")]
    rows += [(limit.name, f"{limit.usual:,}", f"{limit.utmost:,}", limit.counts) for limit in LIMITS]
    name, usual, utmost = (max(len(row[k]) for row in rows) for k in range(3))
    lines = [f"{row[0]:{name}}  {row[1]:>{usual}}  {row[2]:>{utmost}}  {row[3]}" for row in rows]
    return "\n".join([*lines, "", f"Raise them with  planner {OPTION} NAME=NUMBER,NAME=NUMBER COMMAND ..."])


def _known(name: str) -> Limit:
    for limit in LIMITS:
        if limit.name == name:
            return limit
    names = [limit.name for limit in LIMITS]
    near = get_close_matches(name, names, 1)
    mend = f"Did you mean {near[0]}? " if near else ""
    raise PlannerError(f'there is no limit "{name[:40]}".', where=OPTION, mend=f"{mend}There are: {', '.join(names)}.")


def _number(limit: Limit, text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 12 and 0 < int(text) <= limit.utmost):
        mend = f"Write {limit.name}=NUMBER, from 1 to {limit.utmost}; {limit.usual} is usual ({limit.counts})."
        raise PlannerError(f'"{text[:40]}" is no limit of {limit.name}.', where=OPTION, mend=mend)
    return int(text)
