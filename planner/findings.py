"""What the planner has to say about a room or its ceiling, beyond the plan itself."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from planner.records import dataclass

Severity = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule that speaks up: what was found, where, by which rule, and what to do about it."""

    severity: Severity  #: stop = do not build this; warn = look at it; note = good to know
    rule: str  #: short name of the rule, e.g. "border under half a module"
    source: str  #: published source of the rule, or "common practice, no source"
    message: str
    where: tuple[float, float] | None = None  #: the spot itself, room frame, millimetres; None: no single spot
    remedy: str = ""
    also: tuple[tuple[float, float], ...] = ()  #: further spots that it is about


#: A finding about more spots than this leads to none of them: its sentence names what it is about.
MOST_SPOTS = 6


def placed(finding: Finding, spots: Iterable[tuple[float, float]]) -> Finding:
    """The finding with all its spots; of very many none, which would only hide the plan."""
    found = tuple(dict.fromkeys(spots))
    if not found or len(found) > MOST_SPOTS:
        return finding
    return replace(finding, where=found[0], also=found[1:])


_GRAVITY: dict[Severity, int] = {"stop": 0, "warn": 1, "note": 2}


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings sorted by severity, otherwise in the order they came."""
    return tuple(sorted(findings, key=lambda finding: _GRAVITY[finding.severity]))
