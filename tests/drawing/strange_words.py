"""A table of words in a language that does not exist: whatever is still read in Latin letters comes from elsewhere."""

import re
from pathlib import Path

from planner.drawing.wordbook import Entry, Plural, wordbook

_FIELD = re.compile(r"(\{\w*\}|\{\{|\}\})")
#: Latin letters as others that the font has and nobody uses for English.
_STRANGE = str.maketrans({letter: chr(0x0430 + k) for k, letter in enumerate("abcdefghijklmnopqrstuvwxyz")})
LANGUAGE = "qq"
#: What is the same in every language: the name of a publication.
SAME = {"navedtra"}


def strange(text: str) -> str:
    """A text with all its letters strange, the fields as they were."""
    return "".join(part if _FIELD.fullmatch(part) else part.lower().translate(_STRANGE) for part in _FIELD.split(text))


def write_strange_table(folder: Path) -> Path:
    """The table, in a folder."""
    english = wordbook("en")
    sections: dict[str, list[str]] = {}
    for key, entry in english.entries.items():
        section, _, name = key.partition(".")
        sections.setdefault(section, []).append(f"  {_quoted(name)}: {_strange_entry(entry)}")
    sayings = [f"  {_quoted(template)}: {_quoted(strange(template))}" for template in english.sayings]
    lines = [f"language: {LANGUAGE}", "name: strange"]
    for section, words in (*sections.items(), ("sayings", sayings)):
        lines += [f"{_quoted(section)}:", *words]
    path = folder / "strange.yaml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def latin(text: str) -> set[str]:
    """Words of three and more Latin letters, as a person would read them."""
    return {word.lower() for word in re.findall(r"[A-Za-z]{3,}", text)}


def given(room: Path) -> str:
    """All that a user wrote: the room file, and the grids of one's own that lie beside it."""
    systems = sorted((room.parent / "systems").glob("*.yaml"))
    return "\n".join(path.read_text(encoding="utf-8") for path in (room, *systems))


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def _strange_entry(entry: Entry) -> str:
    if isinstance(entry, Plural):
        return f"{{one: {_quoted(strange(entry.one))}, other: {_quoted(strange(entry.other))}}}"
    if isinstance(entry, tuple):
        return f"[{', '.join(_quoted(strange(part)) for part in entry)}]"
    return _quoted(strange(entry))
