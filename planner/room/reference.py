"""Every key of a room or building file with what is to be known of it, taken from the schema.

In: the JSON Schema of such a file. Out: `Entry`s in the order of the schema, and the whole as a reference in Markdown.
Rule: nothing is written here that the schema does not say.
"""

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from planner.records import dataclass
from planner.room.building import building_schema
from planner.room.schema import room_schema

WIDTH = 100


@dataclass(frozen=True, slots=True)
class Entry:
    """One key."""

    path: tuple[str, ...]  #: "*" stands for any entry of a list, or any name that the user gives
    kind: str  #: what may stand there, in words
    needed: bool
    default: str  #: as written in a file; empty = none
    description: str
    example: str  #: as written in a file
    allowed: tuple[str, ...] = ()  #: the words that may stand there, where only these may

    @property
    def key(self) -> str:
        """The path as one writes it: room › columns › at."""
        return " › ".join(step for step in self.path if step != "*")


def entries(schema: Mapping[str, Any] | None = None) -> tuple[Entry, ...]:
    """Every key of a room file, or of what has another schema, each group's own keys after it."""
    schema = room_schema() if schema is None else schema
    return tuple(_group(schema, schema, ()))


def descriptions() -> dict[tuple[str, ...], str]:
    """What each key means, by its path without the numbers and names between."""
    return {tuple(step for step in entry.path if step != "*"): entry.description for entry in entries()}


def guide() -> str:
    """The reference of the room file in Markdown."""
    return _guide("The room file", f"{_HOW} `planner schema` prints the same as JSON Schema, for editors.", entries())


def building_guide() -> str:
    """The reference of the building file in Markdown."""
    how = f"{_BUILDING} {_HOW} `planner schema building` prints the same as JSON Schema, for editors."
    return _guide("The building file", how, entries(building_schema()))


def _guide(title: str, how: str, found: tuple[Entry, ...]) -> str:
    lines = [f"# {title}, key by key", "", *_wrapped(how), ""]
    tops = [entry for entry in found if len(entry.path) == 1]
    lines += [f"- [`{entry.path[0]}`](#{entry.path[0]}){' (needed)' if entry.needed else ''}" for entry in tops]
    for entry in found:
        level = "##" if len(entry.path) == 1 else "###"
        lines += ["", f"{level} {entry.key}", "", *_wrapped(entry.description), "", *_facts(entry)]
    return "\n".join(lines) + "\n"


_HOW = (
    'Lengths are written as on a tape: 18\' 7-1/2", 18ft 7.5in, 223 1/2", 5.68 m, 568 cm, 5680 mm, or a bare number '
    "in the file's `units`. Places and sizes are pairs: along the base wall, then away from it. A key that is not "
    "marked as needed may be left out."
)
_BUILDING = (
    "A building file names room files. Each room is planned by itself; stock is cut and ordered for all of them "
    "together. `planner plan`, `check` and `takeoff` take it in place of a room file."
)


def _facts(entry: Entry) -> Iterator[str]:
    if entry.kind != _WORDS:
        yield f"- Type: {entry.kind}"
    if entry.allowed:
        yield from _wrapped(f"One of: {', '.join(f'`{word}`' for word in entry.allowed)}", "- ")
    if entry.needed:
        yield "- Needed"
    elif entry.default:
        yield f"- Default: `{entry.default}`"
    if entry.example:
        yield f"- Example: `{entry.path[-1] if entry.path[-1] != '*' else 'NAME'}: {entry.example}`"


def _wrapped(text: str, first: str = "") -> list[str]:
    indent = " " * len(first)
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def _group(part: Mapping[str, Any], schema: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[Entry]:
    for key, value in part.get("properties", {}).items():
        if not value.get("description"):
            continue  # keys that are only known to be refused
        yield Entry(
            path=(*path, key),
            kind=_kind(value, schema),
            needed=key in part.get("required", ()),
            default=_default(value.get("default"), _kind(value, schema)),
            description=value["description"],
            example=written(value["examples"][0]) if value.get("examples") else "",
            allowed=tuple(map(str, _allowed(value, schema))),
        )
        yield from _inside(value, schema, (*path, key))


def _inside(value: Mapping[str, Any], schema: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[Entry]:
    """The keys of the groups that may stand in a value."""
    for option in _options(value, schema):
        if "properties" in option:
            yield from _group(option, schema, path)
        for inner in ("items", "additionalProperties"):
            if isinstance(option.get(inner), dict):
                yield from _inside(option[inner], schema, (*path, "*"))


def _options(value: Mapping[str, Any], schema: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Everything that a value may be, with references followed."""
    if "$ref" in value:
        yield from _options(schema["$defs"][value["$ref"].rsplit("/", 1)[1]], schema)
    elif "anyOf" in value:
        for option in value["anyOf"]:
            yield from _options(option, schema)
    elif value.get("type") != "null":
        yield value


def _allowed(value: Mapping[str, Any], schema: Mapping[str, Any]) -> list[Any]:
    found = list[Any]()
    for option in _options(value, schema):
        found += option.get("enum", [option["const"]] if "const" in option else [])
    return found


def _default(default: Any, kind: str) -> str:
    """A default as one would write it; the schema has lengths in millimetres."""
    if default is None or default in ([], "") or isinstance(default, dict):
        return ""
    if isinstance(default, float):
        unit = " mm" if kind.startswith("length") and default else "%" if kind.startswith("share") else ""
        return f"{default * (100 if unit == '%' else 1):g}{unit}"
    return written(default)


_WORDS = "one of some words"
_PLAIN = {"string": "text", "integer": "whole number", "number": "number", "boolean": "true or false"}


def _kind(value: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    """What may stand in a value, in words."""
    return " or ".join(dict.fromkeys(_word(option, schema) for option in _options(value, schema))) or "any"


def _word(option: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    if comment := option.get("$comment"):
        return str(comment)
    if "enum" in option:
        return _WORDS
    if "const" in option:
        return f"the word {option['const']}"
    if "properties" in option:
        return "keys of its own, below"
    match option.get("type"):
        case "array" if "prefixItems" in option:
            return f"{len(option['prefixItems'])} in brackets, each a {_kind(option['prefixItems'][0], schema)}"
        case "array":
            items = option.get("items")
            return f"list, each entry: {_kind(items, schema)}" if items else "list of such"
        case "object":
            return f"names of your own, each with: {_kind(option['additionalProperties'], schema)}"
        case str() as plain:
            return _limited(_PLAIN[plain], option)
    return "text or number"


def _limited(word: str, option: Mapping[str, Any]) -> str:
    limits = {"minimum": "from", "exclusiveMinimum": "above", "maximum": "to", "exclusiveMaximum": "below"}
    more = [f"{way} {_number(option[key])}" for key, way in limits.items() if key in option]
    return " ".join([word, *more])


def _number(value: float) -> str:
    return f"{value:g}" if abs(value) < 1e6 else f"{value:,.0f}"


def written(value: Any) -> str:
    """A value as it would stand in a file, on one line."""
    match value:
        case dict():
            return "{" + ", ".join(f"{key}: {written(item)}" for key, item in value.items()) + "}"
        case list() | tuple():
            return "[" + ", ".join(map(written, value)) + "]"
        case bool():
            return str(value).lower()
    return str(value)
