"""YAML text to plain data, with the place of every value and key.

In: the text of a file. Out: `Parsed`: dicts, lists and scalars, marks, and whatever is wrong with the text itself.
Scalars follow the YAML 1.2 core schema, so that `on`, `yes` and 2026-01-02 stay texts, as 0x10 does too. Tags, merge
keys, repeated keys and files that unfold beyond all measure are refused. Nothing is constructed but plain data.
"""

import re
import warnings
from collections.abc import Iterator
from dataclasses import field
from typing import Any, NamedTuple

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentEndEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
    StreamStartEvent,
)

from planner.limits import USUAL, Limits, raising
from planner.records import dataclass

Path = tuple[str | int, ...]

#: Signs that are not printable (YAML 1.2.2, section 5.1); terminals obey some of them, SVG (XML 1.0) cannot hold most.
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")

#: Line ends of other systems, which the reader has taken out of a text: here somebody wrote them with a backslash.
_STRAY = re.compile(rf"{_UNPRINTABLE.pattern}|[\r\x85]")

LONGEST_NUMBER = 100


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a value stands; line and column are counted from 1."""

    line: int
    column: int
    width: int


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something wrong with the text itself."""

    problem: str
    mend: str
    mark: Mark | None = None
    path: Path = ()


@dataclass(slots=True)
class Parsed:
    """What a text holds; `data` is of use only when there are no troubles."""

    lines: tuple[str, ...]
    data: Any = None
    marks: dict[Path, Mark] = field(default_factory=dict)
    key_marks: dict[Path, Mark] = field(default_factory=dict)
    troubles: list[Trouble] = field(default_factory=list)


def parse_yaml(text: str, limits: Limits = USUAL) -> Parsed:
    """Read a text; never raises, whatever it holds."""
    parsed = Parsed(tuple(text.splitlines()))
    if control := _UNPRINTABLE.search(text):
        line = text.count("\n", 0, control.start()) + 1
        problem = f"line {line} holds a control character; this is not a text file."
        parsed.troubles.append(Trouble(problem, "Save the file as plain text (UTF-8)."))
        return parsed
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # the library's remarks about style are not the user's business
            parsed.data = _Builder(YAML(typ="safe", pure=True).parse(text), parsed, limits).document()
    except _TooMuch as stop:
        parsed.troubles.append(stop.trouble)
    except MarkedYAMLError as error:
        parsed.troubles.append(_explained(error, parsed.lines))
    except (YAMLError, ValueError, OverflowError):  # the latter two: escapes that are no characters
        parsed.troubles.append(Trouble("this is not a YAML text.", "Save the file as plain text (UTF-8)."))
    return parsed


class _TooMuch(Exception):
    """A text that cannot be read any further."""

    def __init__(self, problem: str, mend: str, mark: Mark, path: Path) -> None:
        self.trouble = Trouble(problem, mend, mark, path)


class _Built(NamedTuple):
    value: Any
    size: int  #: values inside, aliases written out
    height: int  #: levels inside


class _Builder:
    """Follows the parser's events downwards and notes where everything stands."""

    def __init__(self, events: Iterator[Any], parsed: Parsed, limits: Limits) -> None:
        self._events = events
        self._parsed = parsed
        self._limits = limits
        self._anchors: dict[str, _Built | None] = {}  # None while its value is still being read
        self._size = 0

    def document(self) -> Any:
        event = self._next(StreamStartEvent, DocumentStartEvent)
        if isinstance(event, StreamEndEvent):
            return None
        value = self._value(event, (), None).value
        after = self._next(DocumentEndEvent)
        if isinstance(after, DocumentStartEvent):
            mark = self._mark(after)
            raise _TooMuch(
                "a second document begins here.", "Keep one room to a file; take out the line ---.", mark, ()
            )
        return value

    def _next(self, *skipped: type) -> Any:
        return next(event for event in self._events if not isinstance(event, skipped))

    def _value(self, event: Any, path: Path, key: Mark | None) -> _Built:
        """Read one value; `key` is the mark of the key it belongs to."""
        if isinstance(event, AliasEvent):
            return self._alias(event, path)
        self._parsed.marks[path] = mark = self._mark(event, key)
        if event.ctag is not None:
            problem = f"tags such as {event.ctag} are not read here."
            self._trouble(problem, "Take the tag out and write the value alone.", mark, path)
        if event.anchor:
            self._anchors[event.anchor] = None
        built = self._built(event, path)
        if event.anchor:
            self._anchors[event.anchor] = built
        self._count(1, len(path) + built.height, path)
        return built

    def _built(self, event: Any, path: Path) -> _Built:
        if isinstance(event, ScalarEvent):
            if _STRAY.search(event.value):
                mark = self._parsed.marks[path]
                self._trouble("this text holds a control character.", "Take the backslash out.", mark, path)
            return _Built(event.value if event.style else plain_scalar(event.value), 1, 0)
        if len(path) >= self._limits.depth:
            self._count(0, len(path) + 1, path)
        return self._mapping(event, path) if isinstance(event, MappingStartEvent) else self._sequence(event, path)

    def _sequence(self, start: SequenceStartEvent, path: Path) -> _Built:
        items: list[_Built] = []
        while not isinstance(event := next(self._events), SequenceEndEvent):
            items.append(self._value(event, (*path, len(items)), None))
        self._close(start, event, path)
        return _Built([item.value for item in items], *_total(items))

    def _mapping(self, start: MappingStartEvent, path: Path) -> _Built:
        items: dict[str, _Built] = {}
        while not isinstance(event := next(self._events), MappingEndEvent):
            mark = self._mark(event)
            key = self._key(event, path, mark)
            if key in items:
                self._trouble(f'the key "{key}" stands here a second time.', "Keep one of the two.", mark, (*path, key))
            self._parsed.key_marks[(*path, key)] = mark
            items[key] = self._value(next(self._events), (*path, key), mark)
        self._close(start, event, path)
        return _Built({key: item.value for key, item in items.items()}, *_total(list(items.values())))

    def _key(self, event: Any, path: Path, mark: Mark) -> str:
        if not isinstance(event, ScalarEvent):
            raise _TooMuch("a key must be a word.", "Write keys as in  name: value.", mark, path)
        if _STRAY.search(event.value):
            raise _TooMuch("this key holds a control character.", "Take the backslash out.", mark, path)
        if event.style or event.ctag is not None or isinstance(plain_scalar(event.value), str):
            if event.value == "<<" and not event.style:
                self._trouble("merge keys (<<) are not read here.", "Write the keys out.", mark, path)
            return str(event.value)
        mend = f'Put it in quotes if it is meant: "{event.value}".' if event.value else "Write a word before the colon."
        self._trouble(f"{event.value or 'nothing'} is not a word, as a key should be.", mark=mark, mend=mend, path=path)
        return str(event.value)

    def _alias(self, event: AliasEvent, path: Path) -> _Built:
        self._parsed.marks[path] = mark = self._mark(event)
        if event.anchor not in self._anchors:
            mend = f"Write &{event.anchor} before the value it stands for; put a text that begins with * in quotes."
            raise _TooMuch(f"nothing is named &{event.anchor} above.", mend, mark, path)
        built = self._anchors[event.anchor]
        if built is None:
            raise _TooMuch(f"*{event.anchor} stands inside itself.", "Write the value out.", mark, path)
        self._count(built.size, len(path) + built.height, path)
        return built

    def _count(self, size: int, depth: int, path: Path) -> None:
        self._size += size
        if depth > self._limits.depth:
            problem = f"lists and keys are nested more than {self._limits.depth} deep here."
            mend = f"A room file needs no more than six levels. {raising('depth', 2 * self._limits.depth)}"
            raise _TooMuch(problem, mend, self._parsed.marks[path], ())
        if self._size > self._limits.values:
            problem = f"the file unfolds to more than {self._limits.values:,} values."
            found = max(self._size, 2 * self._limits.values)
            mend = f"Take out what the planner does not need. {raising('values', found)}"
            raise _TooMuch(problem, mend, self._parsed.marks[path], ())

    def _trouble(self, problem: str, mend: str, mark: Mark, path: Path) -> None:
        self._parsed.troubles.append(Trouble(problem, mend, mark, path))

    def _mark(self, event: Any, key: Mark | None = None) -> Mark:
        """Where an event stands; the key's place for what has none of its own (nothing, or a block of lines)."""
        start, end = event.start_mark, event.end_mark
        block = isinstance(event, SequenceStartEvent | MappingStartEvent) and not event.flow_style
        empty = (start.line, start.column) == (end.line, end.column)
        if key and ((empty and not block) or (block and start.line + 1 != key.line)):
            return key
        one_line = end.line == start.line and not block
        width = (end.column if one_line else len(self._line(start.line))) - start.column
        return Mark(start.line + 1, start.column + 1, max(1, width))

    def _close(self, start: Any, end: Any, path: Path) -> None:
        """Underline what is written in brackets up to its closing bracket."""
        first, last = start.start_mark, end.end_mark
        if start.flow_style and last.line == first.line:
            self._parsed.marks[path] = Mark(first.line + 1, first.column + 1, max(1, last.column - first.column))

    def _line(self, index: int) -> str:
        lines = self._parsed.lines
        return lines[index].split(" #")[0].rstrip() if index < len(lines) else ""


def _total(items: list[_Built]) -> tuple[int, int]:
    return 1 + sum(item.size for item in items), 1 + max((item.height for item in items), default=0)


_INTEGER = re.compile(r"[-+]?[0-9]+")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_WORDS: dict[str, bool | float | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
    **dict.fromkeys((".nan", ".NaN", ".NAN"), float("nan")),
    **{sign + word: float(sign + "inf") for sign in ("", "+", "-") for word in (".inf", ".Inf", ".INF")},
}


def plain_scalar(text: str) -> bool | int | float | str | None:
    """Say what a word without quotes stands for, by the core schema of YAML 1.2.2 (section 10.3.2).

    But 0x1000 and 0o17 stay words: nobody tapes in sixteens or eights, so they are slips and not numbers.
    """
    if text in _WORDS:
        return _WORDS[text]
    if len(text) > LONGEST_NUMBER:
        return text
    if _INTEGER.fullmatch(text):
        return int(text)
    return float(text) if _FLOAT.fullmatch(text) else text


class _Saying(NamedTuple):
    """What the parser says, in its problem or its context, and what to say instead."""

    fragment: str
    problem: str
    mend: str
    where_opened: bool = False  #: complain where the quote or bracket was opened


_ALIKE = "Indent the keys of one group alike, and give each key one value."
_SAYINGS = (
    _Saying("a quoted scalar", "this quote is not closed.", "Close it. Lengths such as 18' 7\" need no quotes.", True),
    _Saying("escape", "a backslash means something in double quotes.", "Use single quotes, or none."),
    _Saying("found character '\\t'", "a tab stands here.", "Indent with spaces."),
    _Saying("that cannot start any token", "a text cannot begin with this sign.", "Put the text in quotes."),
    _Saying("a flow sequence", "this bracket is not closed, or a comma is missing in it.", "Write [one, two].", True),
    _Saying(
        "a flow mapping",
        "this brace is not closed, or a comma is missing in it.",
        "Write {a: 1, b: 2}, with spaces.",
        True,
    ),
    _Saying(
        "mapping values are not allowed", "a second colon, or a line too far in.", f"{_ALIKE} Quote colons in texts."
    ),
    _Saying(
        "sequence entries are not allowed", "a list cannot begin here.", "Begin it on the next line, one - to a line."
    ),
    _Saying("expected ':'", "this key has no colon.", "Write keys as in  name: value"),
    _Saying("node content", "a value is missing, or this sign is one too many.", "Take it out or write the value."),
    _Saying("expected <block end>", "this does not fit with the lines above.", _ALIKE),
)


def _explained(error: MarkedYAMLError, lines: tuple[str, ...]) -> Trouble:
    """Say in plain words what the parser stumbled over."""
    said = f"{error.problem} {error.context}"
    for saying in _SAYINGS:
        if saying.fragment in said:
            place = error.context_mark if saying.where_opened and error.context_mark else error.problem_mark
            return Trouble(saying.problem, saying.mend, _clamped(place, lines))
    problem = f"this is not YAML: {error.problem}."
    return Trouble(
        problem, "See fixtures/reference.yaml for how a file is written.", _clamped(error.problem_mark, lines)
    )


def _clamped(place: Any, lines: tuple[str, ...]) -> Mark | None:
    """Put the mark of an error at the end of the file onto its last line."""
    if place is None or not lines:
        return None
    if place.line < len(lines):
        return Mark(place.line + 1, place.column + 1, 1)
    return Mark(len(lines), max(1, len(lines[-1])), 1)
