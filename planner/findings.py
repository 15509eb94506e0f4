"""What the planner has to say about a room or its ceiling, beyond the plan itself."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["stop", "warn", "note"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule that speaks up: what was found, where, by which rule, and what to do about it."""

    severity: Severity  #: stop = do not build this; warn = look at it; note = good to know
    rule: str  #: short name of the rule, e.g. "border under half a module"
    source: str  #: published source of the rule, or "common practice, no source"
    message: str
    where: tuple[float, float] | None = None  #: room frame, millimetres
    remedy: str = ""


_GRAVITY: dict[Severity, int] = {"stop": 0, "warn": 1, "note": 2}


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings sorted by severity, otherwise in the order they came."""
    return tuple(sorted(findings, key=lambda finding: _GRAVITY[finding.severity]))
