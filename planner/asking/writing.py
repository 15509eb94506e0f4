"""The room file that the answers make, with a comment beside every key.

In: answers. Out: the text of a YAML file. Rules: comments are the schema's own descriptions; what a reader could take
for something else than a text is quoted; keys that were not asked for follow each group, commented out.
"""

import json
import re
import textwrap
from collections.abc import Iterator
from typing import Any

from planner.asking.filling import file_data
from planner.asking.question import Answers
from planner.room.reference import Entry, entries

SCHEMA_FILE = "room.schema.json"
WIDTH = 110
COMMENT_AT = 40

#: Keys worth knowing of that are not asked for, by the group they belong to; shown commented out.
MORE: dict[tuple[str, ...], tuple[str, ...]] = {
    (): ("project", "structure", "ceiling_height", "services", "use"),
    ("room",): ("bowed_walls", "base_wall"),
    ("structure",): ("built", "seismic", "fire_rated"),
    ("structure", "joists"): ("first", "out_of_level"),
    ("grid",): ("panel_weight", "borders", "mains", "align"),
    ("stock",): ("panels_per_carton", "prices", "on_hand"),
}

_HEAD = (
    'Lengths are written as on a tape: 18\' 7-1/2", 18ft 7.5in, 223 1/2", 5.68 m, 5680 mm. Places and sizes are pairs: '
    "along the base wall, then away from it. `planner schema --guide` explains every key."
)
#: Texts that need no quotes anywhere in a file: words, and lengths as a tape has them.
_PLAIN = re.compile(r"[A-Za-z][\w .()/%+-]*|[\d.½¼¾⅓⅔⅛⅜⅝⅞][\w .'\"/%½¼¾⅓⅔⅛⅜⅝⅞-]*")
_NUMBER = re.compile(r"[-+]?[\d._]+(?:e[-+]?\d+)?|0[xo][\da-f]+", re.IGNORECASE)
_TAKEN = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"}


def file_text(given: Answers, schema: str | None = SCHEMA_FILE) -> str:
    """The text of the room file; `schema` is the schema's file beside it, for editors, or None."""
    known = {tuple(step for step in entry.path if step != "*"): entry for entry in entries()}
    lines = [f"# yaml-language-server: $schema={schema}"] if schema else []
    lines += [*_comment(_HEAD, 0), ""]
    data = file_data(given)
    for key, value in data.items():
        lines += [*_key((key,), value, known, 0), *([""] if (key,) in MORE else [])]
    lines += ["", *_more((), data, known)]
    return "\n".join(_single_gaps(lines)) + "\n"


def _single_gaps(lines: list[str]) -> Iterator[str]:
    for before, line in zip(["", *lines], lines, strict=False):
        if line or before:
            yield line


def _key(path: tuple[str, ...], value: Any, known: dict[tuple[str, ...], Entry], depth: int) -> Iterator[str]:
    """A key with its value and comment; groups and lists of groups over several lines."""
    indent, name, entry = "  " * depth, path[-1], known.get(path)
    about = entry.description if entry else ""
    if isinstance(value, dict):
        yield from _beside(f"{indent}{quoted(name)}:", about, depth)
        for key, inner in value.items():
            yield from _key((*path, key), inner, known, depth + 1)
        yield from _more(path, value, known)
    elif isinstance(value, list) and any(isinstance(item, dict) for item in value):
        yield from _beside(f"{indent}{name}:", about, depth)
        for item in value:
            yield f"{indent}  - {_flow(item)}"
    else:
        yield from _beside(f"{indent}{quoted(name)}: {_flow(value)}", about, depth)


def _flow(value: Any) -> str:
    """A value on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return quoted(value) if isinstance(value, str) else f"{value:g}" if isinstance(value, float) else str(value)


def quoted(text: str) -> str:
    """A text in quotes, unless it is read as the same text without."""
    plain = _PLAIN.fullmatch(text) and text == text.strip() and text.lower() not in _TAKEN
    return text if plain and not _NUMBER.fullmatch(text) else json.dumps(text, ensure_ascii=False)


def _beside(line: str, about: str, depth: int) -> Iterator[str]:
    """A line with its comment to the right, or above it when there is no room."""
    if not about:
        yield line
    elif len(line) < COMMENT_AT and COMMENT_AT + 2 + len(about) <= WIDTH:
        yield f"{line:{COMMENT_AT}}# {about}"
    else:
        yield from _comment(about, depth)
        yield line


def _comment(text: str, depth: int) -> list[str]:
    lead = "  " * depth + "# "
    return textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=lead, break_on_hyphens=False)


def _more(group: tuple[str, ...], data: dict[str, Any], known: dict[tuple[str, ...], Entry]) -> Iterator[str]:
    """Further keys of a group, commented out, each with its example."""
    indent = "  " * len(group)
    for name in MORE.get(group, ()):
        if name not in data:
            entry = known[*group, name]
            yield from _beside(f"{indent}# {name}: {entry.example}", entry.description, len(group))
