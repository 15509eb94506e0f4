"""Tables of words: what the planner writes on sheets, one file for each language.

In: the name of a language in `styles/words/` (ISO 639: en, es), or a path to a table of the user's own, which may hold
single words. Out: a `Wordbook`, complete: what a table does not say is said in the words of its language that come with
the planner, or else in English. Anything that does not fit the English table is an InputError at its line.
"""

import string
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from functools import cache
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from planner.documents import Document, read_document, refuse
from planner.drawing.word_lines import table_of
from planner.errors import Complaint, PlannerError
from planner.records import dataclass

ENGLISH = "en"
#: Keys of a table that are no section.
_LANGUAGE, _NAME, _SAYINGS = "language", "name", "sayings"


@dataclass(frozen=True, slots=True)
class Plural:
    """A sentence that counts something: `one` when its field `count` is 1, else `other`."""

    one: str
    other: str


Entry = str | tuple[str, ...] | Plural


@dataclass(frozen=True, slots=True)
class Wordbook:
    """The words of one language."""

    language: str  #: ISO 639
    name: str  #: what the language calls itself
    entries: Mapping[str, Entry]  #: by "section.key"
    sayings: Mapping[str, Entry]  #: sentences of the planning itself, by their English template

    def say(self, key: str, /, **fields: object) -> str:
        """A word or sentence, its fields filled; KeyError for a key that the English table has not."""
        return _filled(self.entries[key], fields)

    def row(self, key: str, /) -> tuple[str, ...]:
        """The heads of a table."""
        entry = self.entries[key]
        assert isinstance(entry, tuple), key
        return entry

    def saying(self, template: str, values: Mapping[str, object]) -> str:
        """A sentence of the planning, as this language has it; in English where it has it not."""
        return _filled(self.sayings.get(template, template), values)


def _filled(entry: Entry, fields: Mapping[str, object]) -> str:
    if isinstance(entry, Plural):
        entry = entry.one if fields.get("count") in (1, "1") else entry.other
    assert isinstance(entry, str), entry
    return entry.format(**fields)


def language_names() -> tuple[str, ...]:
    """The languages that come with the planner, in alphabetical order."""
    return tuple(sorted(entry.name.removesuffix(".yaml") for entry in _shelf().iterdir()))


@cache
def wordbook(language: str, where: str = "language") -> Wordbook:
    """The words of a language that comes with the planner; PlannerError when there is none, `where` it is asked for."""
    if language not in language_names():
        raise PlannerError(
            f'there are no words in "{language[:40]}".', where=where, mend=f"{_known()}; or give your own table."
        )
    with as_file(_shelf() / f"{language}.yaml") as path:
        table = table_of(path.read_text("utf-8"))
        document = read_document(path) if table is None else Document(str(path), table)
    return _read(document, None if language == ENGLISH else wordbook(ENGLISH))


def load_wordbook(name_or_path: str | Path, base: str | Path = ".") -> Wordbook:
    """The words of a language, or those of a file of one's own (a path is seen from `base`); InputError."""
    wanted = str(name_or_path)
    if not wanted.endswith((".yaml", ".yml")):
        return wordbook(wanted.lower())
    document = read_document(Path(base) / wanted)
    language = str(document.data.get(_LANGUAGE, ENGLISH))
    return _read(document, wordbook(language if language in language_names() else ENGLISH))


def _known() -> str:
    return f"There are {', '.join(f'{name} ({wordbook(name).name})' for name in language_names())}"


def _shelf() -> Traversable:
    """Where the tables lie: inside a wheel, or beside the package in a checkout."""
    packed = files("planner") / "styles"
    return (packed if packed.is_dir() else Path(__file__).parents[2] / "styles") / "words"


def _read(document: Document, below: Wordbook | None) -> Wordbook:
    """A table; what it does not say is taken from the one below it, which is None for the English one only."""
    data = document.data
    refuse(_complaints(document, below))
    own = {
        f"{section}.{key}": _entry(value)
        for section, words in data.items()
        if section not in (_LANGUAGE, _NAME, _SAYINGS)
        for key, value in words.items()
    }
    said = data.get(_SAYINGS) or {}  # a list in the English table: there they say what their template says
    sayings = {
        template: _entry(value)
        for template, value in (said.items() if isinstance(said, dict) else zip(said, said, strict=True))
    }
    return Wordbook(
        str(data.get(_LANGUAGE, below.language if below else ENGLISH)),
        str(data.get(_NAME, below.name if below else "")),
        {**(below.entries if below else {}), **own},
        {**(below.sayings if below else {}), **sayings},
    )


def _entry(value: object) -> Entry:
    if isinstance(value, dict):
        return Plural(str(value["one"]), str(value["other"]))
    if isinstance(value, list):
        return tuple(map(str, value))
    return str(value)


# What may be wrong with a table


def _complaints(document: Document, below: Wordbook | None) -> Iterator[Complaint]:
    for section, words in document.data.items():
        if section in (_LANGUAGE, _NAME):
            if not isinstance(words, str) or not words:
                yield document.complaint((section,), f"{section} is a word.", f"Write  {section}: es")
        elif section == _SAYINGS and below is None:
            continue  # a plain list: what there is to say, in English
        elif not isinstance(words, dict):
            yield document.complaint((section,), f'"{section}" holds no words.', "Indent  key: words  below it.")
        else:
            for key, value in words.items():
                yield from _entry_complaints(document, (section, str(key)), value, below)


def _entry_complaints(
    document: Document, path: tuple[str, str], value: object, below: Wordbook | None
) -> Iterator[Complaint]:
    section, key = path
    like = _stands_for(path, below)
    if like is None and below is not None:
        yield document.complaint(path, f'there is no "{key}" under "{section}".', _nearest(path, below), at_key=True)
        return
    problem = _misshapen(value, like)
    if problem:
        yield document.complaint(path, *problem)


def _stands_for(path: tuple[str, str], below: Wordbook | None) -> Entry | None:
    """The English entry that one stands for; None when there is none."""
    if below is None:
        return None
    section, key = path
    return (key if key in below.sayings else None) if section == _SAYINGS else below.entries.get(f"{section}.{key}")


def _nearest(path: tuple[str, str], below: Wordbook) -> str:
    if path[0] == _SAYINGS:
        close = get_close_matches(path[1], list(below.sayings), n=1, cutoff=0.4)
        return f'Did you mean "{close[0]}"?' if close else "See the end of styles/words/en.yaml for what there is."
    close = get_close_matches(".".join(path), list(below.entries), n=1, cutoff=0.4)
    section, _, key = close[0].partition(".") if close else ("", "", "")
    return f'Did you mean "{key}" under "{section}"?' if close else "See styles/words/en.yaml for what there is."


def _misshapen(value: object, like: Entry | None) -> tuple[str, str] | None:
    """What is wrong with an entry, measured by the one that it stands for, and what to do; None when nothing is."""
    if isinstance(value, list):
        if not all(isinstance(part, str) for part in value) or (like is not None and not isinstance(like, tuple)):
            return "a row of words stands where none is expected.", "Write one text."
        if like is not None and len(value) != len(like):
            return f"{len(value)} words stand where {len(like)} are expected.", f"Like {', '.join(like)}."
        return None
    if isinstance(like, tuple):
        return "one text stands where a row of words is expected.", f"Write [{', '.join(like)}], in your words."
    if isinstance(value, dict) and set(value) != {"one", "other"}:
        return "what counts has two forms.", "Write  one: ...  and  other: ..."
    texts = list(value.values()) if isinstance(value, dict) else [value]
    if not all(isinstance(text, str) for text in texts):
        return "this is no text.", "Put it in quotation marks."
    return _fields_wrong(list(map(str, texts)), like)


def _fields_wrong(texts: list[str], like: Entry | None) -> tuple[str, str] | None:
    known = None if like is None else fields_of(like)
    for text in texts:
        try:
            used = fields_of(text)
        except ValueError:
            return f'"{text[:60]}" has a brace too many or too few.', "Fields are written as {name}."
        if known is not None and not used <= known:
            there = ", ".join(f"{{{name}}}" for name in sorted(known)) or "none"
            return f"there is no {{{min(used - known)}}} here.", f"Fields that may be used: {there}."
    return None


def fields_of(entry: Entry) -> frozenset[str]:
    """The names of the fields of an entry; ValueError when its braces do not match or hold more than a name."""
    texts = (entry.one, entry.other) if isinstance(entry, Plural) else (entry,) if isinstance(entry, str) else entry
    parsed = [field for text in texts for field in string.Formatter().parse(text) if field[1] is not None]
    if any(form or conversion for _, _, form, conversion in parsed):
        raise ValueError("a field holds more than a name")
    return frozenset(str(name) for _, name, _, _ in parsed)
