"""How sheets get their words: every word that is drawn is asked for here, by its key in `styles/words/en.yaml`.

In: a key and the values of its fields. Out: the words, in the language that is spoken at the moment. Which one that is,
`speaking` says, for as long as one set of sheets is drawn; every maker of sheets begins with it (`in_its_language`), so
that sheets depend on nothing but what their maker was given. The alternative, a table handed through each of the three
hundred functions between a sheet and its letters, would say the same three hundred times.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

from planner.drawing.lettering import clean
from planner.drawing.stylebook import Style
from planner.drawing.wish import SheetWish
from planner.drawing.wordbook import ENGLISH, Wordbook, load_wordbook, wordbook
from planner.measures import Measure
from planner.planning import Plan
from planner.records import dataclass
from planner.room.outline import Room
from planner.sayings import Said, term

_P = ParamSpec("_P")
_Made = TypeVar("_Made")


@dataclass(frozen=True, slots=True)
class _Speech:
    book: Wordbook
    dual: bool  #: lengths in the other system too, in brackets


_SPOKEN: ContextVar[_Speech | None] = ContextVar("spoken", default=None)


def say(key: str, /, **fields: object) -> str:
    """A word or a sentence; a field called `count` chooses between singular and plural where there are both."""
    return _book().say(key, **{name: _translated(value) for name, value in fields.items()})


def row(key: str, /) -> tuple[str, ...]:
    """The heads of a table."""
    return _book().row(key)


def translated(text: str) -> str:
    """A sentence made by the planning, in the language that is spoken; any other text as it is."""
    return str(_translated(text))


def named(text: str) -> str:
    """The name of a rule or of its source, in the language that is spoken; as it is where there are no words for it."""
    return translated(term(text))


def drawn(text: str) -> str:
    """A text as it is lettered: in the language that is spoken, and without what no format can draw."""
    return clean(translated(text))


def language() -> str:
    """ISO 639 name of the language that is spoken."""
    return _book().language


def dual() -> bool:
    """Whether lengths are given in both systems."""
    speech = _SPOKEN.get()
    return speech is not None and speech.dual


@contextmanager
def speaking(room: Room, wish: SheetWish) -> Iterator[None]:
    """Speak as it is wished, or else as the room file says; PlannerError or InputError for words that there are not."""
    own = dict(room.project).get("language") or ENGLISH
    book = load_wordbook(wish.language) if wish.language else wordbook(own, "project › language")
    token = _SPOKEN.set(_Speech(book, wish.dual or room.dual_units))
    try:
        yield
    finally:
        _SPOKEN.reset(token)


@contextmanager
def speaking_language(language: str) -> Iterator[None]:
    """Speak a language, or as a table says, where there is no room yet; English when it is empty."""
    token = _SPOKEN.set(_Speech(load_wordbook(language or ENGLISH), False))
    try:
        yield
    finally:
        _SPOKEN.reset(token)


def in_its_language(
    maker: Callable[Concatenate[Plan, Style, SheetWish, _P], _Made],
) -> Callable[Concatenate[Plan, Style, SheetWish, _P], _Made]:
    """A maker of sheets that speaks as it is wished, or as the room file says."""

    @wraps(maker)
    def spoken(plan: Plan, style: Style, wish: SheetWish, /, *args: _P.args, **kwargs: _P.kwargs) -> _Made:
        with speaking(plan.room, wish):
            return maker(plan, style, wish, *args, **kwargs)

    return spoken


def _book() -> Wordbook:
    speech = _SPOKEN.get()
    return wordbook(ENGLISH) if speech is None else speech.book


def _translated(value: object) -> object:
    """A value; where it is a sentence of the planning, that in the language that is spoken, its own values too.

    Lengths in it are written as all others on the sheet: in millimetres whatever the metric unit of the room file, and
    in the other system too where that is wished.
    """
    if isinstance(value, Measure):
        imperial = value.units in ("ft-in", "in")
        text = str(value if imperial else value.again("mm"))
        other = str(value.again("mm" if imperial else "ft-in"))
        return say("units.both", length=text, other=other) if dual() else text
    if not isinstance(value, Said):
        return value
    return _book().saying(value.template, {name: _translated(part) for name, part in value.values.items()})
