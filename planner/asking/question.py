"""The nouns of asking: a question, and what becomes of an answer to it.

In: nothing. Out: `Question` and what its `read` may give. Rule: an answer is kept as text with its unit, as it would
stand in a room file, so that it means the same whatever is answered before or after it.
"""

from collections.abc import Callable, Mapping

from planner.records import dataclass

Answers = Mapping[str, str]  #: what was answered, by the key of the question


@dataclass(frozen=True, slots=True)
class Understood:
    """An answer that can be used."""

    keep: str  #: the answer as it is kept; reading it again gives the same
    echo: str  #: what was understood, to be shown


@dataclass(frozen=True, slots=True)
class Doubt:
    """An answer that could be, but is probably a slip; a yes keeps it."""

    answer: Understood
    problem: str
    mend: str


@dataclass(frozen=True, slots=True)
class GoTo:
    """An answer that asks for another question again."""

    key: str


Outcome = Understood | Doubt | GoTo


@dataclass(frozen=True, slots=True)
class Question:
    """One question; PlannerError from `read` when the answer cannot be, with the way to mend it."""

    key: str
    ask: str  #: the question itself, one line
    why: str  #: the plain explanation that `?` shows
    read: Callable[[str], Outcome]
    usual: str = ""  #: the answer that an empty line gives; empty = it must be answered
    remark: str = ""  #: something found out so far that bears on the answer
    picture: bool = False  #: the picture of the room changes with the answer
    short: str = ""  #: what it is called in a list of answers; empty = as it is asked
    last: bool = False  #: the question that ends the talk
