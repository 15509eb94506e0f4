"""Explanations as text for a terminal, and as a record for programs."""

import textwrap
from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import Any

from planner.errors import printable
from planner.explain.asking import Topic
from planner.explain.model import Explanation, Step
from planner.explain.words import shortened

FORMAT = "ceiling-explanation/1"

_WIDTH = 100


def explanation_text(explanations: Iterable[Explanation]) -> str:
    """Each with its answer, then its steps; the rule of a step and its source stand below it."""
    return "\n\n".join("\n".join(_lines(explanation)) for explanation in explanations)


def _lines(explanation: Explanation) -> list[str]:
    lines = [f"{printable(explanation.subject)}  ({explanation.kind})", *_wrapped(explanation.answer, "  ")]
    for step, following in zip_longest(explanation.steps, explanation.steps[1:]):
        told_below = following is not None and (following.rule, following.source) == (step.rule, step.source)
        lines += _step_lines(step, told_below)
    return lines


def _step_lines(step: Step, told_below: bool) -> list[str]:
    """One step, and its rule, unless the next step says the same."""
    indent = "      " if step.text.startswith("  ") else "  - "
    lines = _wrapped(step.text.strip(), indent)
    if step.rule and not told_below:
        lines += _wrapped(f"rule: {step.rule}" + (f" ({step.source})" if step.source else ""), "      ")
    return lines


def _wrapped(text: str, indent: str) -> list[str]:
    later = " " * len(indent)
    return textwrap.wrap(
        printable(text),
        _WIDTH,
        initial_indent=indent,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    )


def topics_text(room: str, topics: Sequence[Topic]) -> str:
    """What can be asked, one kind to a line."""
    width = max(len(topic.kind) for topic in topics)
    lines = [f"{printable(room)}: ask about any of these, e.g.  planner explain ROOM {printable(topics[1].names[0])}"]
    for topic in topics:
        head = f"  {topic.kind:{width}}  "
        later = " " * len(head)
        text = printable(shortened(topic.names))
        lines += textwrap.wrap(text, _WIDTH, initial_indent=head, subsequent_indent=later, break_on_hyphens=False)
    return "\n".join(lines)


def explanation_record(room: str, asked: str, explanations: Iterable[Explanation]) -> dict[str, Any]:
    """The same for programs; numbers are millimetres, newtons, kilograms, pieces or money, as `unit` says."""
    return {
        "format": FORMAT,
        "room": room,
        "asked": asked,
        "explanations": [
            {
                "subject": each.subject,
                "kind": each.kind,
                "answer": each.answer,
                "steps": [
                    {
                        "text": step.text.strip(),
                        "value": None if step.value is None else round(step.value, 4) + 0.0,
                        "unit": step.unit or None,
                        "rule": step.rule or None,
                        "source": step.source or None,
                    }
                    for step in each.steps
                ],
            }
            for each in explanations
        ],
    }


def topics_record(room: str, topics: Iterable[Topic]) -> dict[str, Any]:
    """What can be asked, for programs."""
    return {"format": FORMAT, "room": room, "topics": {topic.kind: list(topic.names) for topic in topics}}
