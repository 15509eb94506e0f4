"""Findings that say the same of several things, told as one: "Each of L11 to L30: ...".

In: findings, of which each stands by itself in plan.json. Out: what people are told, the gravest first. Findings are
one where rule, source and sentence are the same, but for the names of what they are about (in the sentence itself, and
only where it can be said of several) and for lengths, which are told from the least to the most.
"""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from itertools import chain
from typing import Any

from planner.findings import Finding, Severity, gravest_first
from planner.geometry import Point
from planner.measures import Measure
from planner.naming import names_told
from planner.records import dataclass
from planner.sayings import Said, said

#: Of remedies that differ at most so many are told.
_MOST_REMEDIES = 6


@dataclass(frozen=True, slots=True)
class Gathered:
    """What one or several findings say."""

    findings: tuple[Finding, ...]
    message: str
    remedies: tuple[str, ...]  #: one for all, or each with the name of what it is for; none where nothing is to be done

    @property
    def severity(self) -> Severity:
        return self.findings[0].severity

    @property
    def rule(self) -> str:
        return self.findings[0].rule

    @property
    def source(self) -> str:
        return self.findings[0].source

    @property
    def places(self) -> tuple[Point, ...]:
        """Where to look, each place once; room frame, millimetres."""
        spots = ((finding.where, *finding.also) for finding in self.findings if finding.where is not None)
        return tuple(dict.fromkeys(chain.from_iterable(spots)))


def gathered(findings: Iterable[Finding]) -> tuple[Gathered, ...]:
    """What people are told, the gravest first; the place of each, counted from 1, is its number on the sheets."""
    alike: dict[Hashable, list[Finding]] = {}
    for finding in gravest_first(findings):
        key = (finding.severity, finding.rule, finding.source, _kind(finding.message))
        alike.setdefault(key, []).append(finding)
    return tuple(_as_one(group) for group in alike.values())


def _kind(text: object, *, whole: bool = True) -> Hashable:
    """What is the same in texts that can be told together; `whole` is the sentence itself, and no part of one."""
    match text:
        case Measure():
            return ("length", text.units, text.rounding, len(text.mm))
        case Said() if not whole or text.several:
            names = whole and bool(text.several)
            return (text.template, *((key, _part_kind(value, names)) for key, value in text.values.items()))
    return str(text)


def _part_kind(value: object, names: bool) -> Hashable:
    return "name" if names and _is_name(value) else _kind(value, whole=False)


def _is_name(value: object) -> bool:
    """Whether a value names what a sentence is about: a text, and neither sentence nor length."""
    return isinstance(value, str) and not isinstance(value, Said | Measure)


def _as_one(group: Sequence[Finding]) -> Gathered:
    message = _together([finding.message for finding in group])
    remedies = dict.fromkeys(finding.remedy for finding in group)
    if len(remedies) > 1 and len({_kind(remedy) for remedy in remedies}) == 1:
        remedies = {_together(list(remedies)): None}
    if len(remedies) > 1:
        return Gathered(tuple(group), message, _by_name(group))
    return Gathered(tuple(group), message, tuple(filter(None, remedies)))


def _by_name(group: Sequence[Finding]) -> tuple[str, ...]:
    """Remedies that differ, each for what it is for."""
    rows = [
        said("{what}: {remedy}", what=", ".join(_names(finding.message)), remedy=finding.remedy)
        for finding in group[:_MOST_REMEDIES]
        if finding.remedy
    ]
    more = len(group) - _MOST_REMEDIES
    return (*rows, said("And {count} more, each in plan.json.", count=more)) if more > 0 else tuple(rows)


def _names(message: str) -> list[str]:
    """What a sentence is about."""
    return [value for value in message.values.values() if _is_name(value)] if isinstance(message, Said) else []


def _together(texts: Sequence[str]) -> str:
    """One sentence for texts of one kind."""
    first = texts[0]
    if len(set(texts)) == 1 or not isinstance(first, Said):
        return first
    values = {
        key: _values_together([text.values[key] for text in texts if isinstance(text, Said)]) for key in first.values
    }
    several = any(len(set(map(str, _column(texts, key)))) > 1 for key in first.values if _is_name(first.values[key]))
    return said(first.several if several else first.template, several="", **values)


def _column(texts: Iterable[str], key: str) -> list[Any]:
    return [text.values[key] for text in texts if isinstance(text, Said)]


def _values_together(values: Sequence[Any]) -> object:
    """What several sentences of one kind have in one field."""
    match values[0]:
        case Measure():
            return _from_to([value for value in values if isinstance(value, Measure)])
        case Said(template=template, values=fields):
            return said(template, several="", **_fields_together(fields, values))
    return names_told(map(str, values)) if len(set(map(str, values))) > 1 else values[0]


def _fields_together(fields: Mapping[str, Any], values: Sequence[Said]) -> dict[str, Any]:
    return {key: _values_together([value.values[key] for value in values]) for key in fields}


def _from_to(lengths: Sequence[Measure]) -> str:
    least, most = min(lengths, key=lambda one: one.mm), max(lengths, key=lambda one: one.mm)
    return least if str(least) == str(most) else said("{least} to {most}", least=least, most=most)
