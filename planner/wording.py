"""Plain words for what pydantic finds wrong.

In: one fault of a pydantic ValidationError, the model and the data it was checked against. Out: where it is, what is
wrong and how to mend it. Validators of our own raise `wrong(problem, mend)`, whose words are passed on.
"""

from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any, NamedTuple, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails, PydanticCustomError

from planner.yaml_text import Path


class Fault(NamedTuple):
    """A fault in plain words."""

    path: Path
    problem: str
    mend: str
    at_key: bool = False


def wrong(problem: str, mend: str = "", *, at_key: bool = False) -> PydanticCustomError:
    """Make the error that a validator of ours raises."""
    return PydanticCustomError("wrong", "{problem}", {"problem": problem, "mend": mend, "at_key": at_key})


def worded(error: ErrorDetails, model: type[BaseModel], data: Any) -> Fault:
    """Put one fault of a pydantic ValidationError into plain words."""
    kind, path, details = error["type"], _path(error, data), error.get("ctx", {})
    if kind == "wrong":
        return Fault(path, details["problem"], details["mend"], details["at_key"])
    if kind == "extra_forbidden":
        known = sorted({name for found in _models(model, path[:-1]) for name in _fields(found)})
        return Fault(path, f'unknown key "{path[-1]}".', near(str(path[-1]), known), True)
    if kind == "missing":
        return Fault(path, f'"{error["loc"][-1]}" is missing.', _added(model, path, str(error["loc"][-1])), True)
    if kind == "string_pattern_mismatch":
        return Fault(path, f"{shown(error['input'])} cannot stand here.", _described(model, path))
    return Fault(path, *_said(kind, details, error))


def near(word: str, known: list[str], *, listed: bool = False) -> str:
    """Suggest the nearest known word, or list them all; `listed`: they were told already."""
    if ":" in word:
        key, _, value = word.partition(":")
        return f"Put a space after the colon: {key}: {value}"
    match = get_close_matches(word, known, 1) or get_close_matches(_as_key(word), known, 1)
    if match:
        return f'Did you mean "{match[0]}"?'
    return "Take one of these." if listed else f"Known here: {', '.join(known)}."


def _as_key(word: str) -> str:
    return word.lower().replace("-", "_").replace(" ", "_")


def shown(value: Any) -> str:
    """Show a value as it was read."""
    match value:
        case None:
            return "nothing"
        case bool():
            return str(value).lower()
        case dict():
            return "a group of keys"
        case list() | tuple():
            return "a list"
        case str():
            return f'"{value if len(value) <= 60 else value[:59] + "…"}"'
    return str(value)[:60]


def _path(error: ErrorDetails, data: Any) -> Path:
    """Keep the steps of a location that the data has; pydantic adds others, for unions and missing keys."""
    path: Path = ()
    for step in error["loc"]:
        inside = step in data if isinstance(data, dict) else isinstance(data, list) and step in range(len(data))
        if inside:
            data, path = data[step], (*path, step)
    return path


def _models(annotation: Any, path: Path) -> Iterator[type[BaseModel]]:
    """Every model that may stand at a path inside an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        if not path:
            yield annotation
        elif path[0] in (fields := _fields(annotation)):
            yield from _models(fields[str(path[0])], path[1:])
        return
    container = get_origin(annotation) in (list, tuple, dict, Mapping)
    for part in get_args(annotation):
        yield from _models(part, path[1:] if container else path)


def _fields(model: type[BaseModel]) -> dict[str, Any]:
    """List the keys of a model as they are written in a file, with their annotations."""
    return {field.alias or name: field.annotation for name, field in model.model_fields.items()}


def _described(model: type[BaseModel], path: Path) -> str:
    """What a key wants, in the words of its schema."""
    for found in _models(model, path[:-1]):
        for name, field in found.model_fields.items():
            if path[-1] == (field.alias or name) and field.description:
                example = f"  Such as  {path[-1]}: {_written(field.examples[0])}" if field.examples else ""
                return f"What is wanted: {field.description.rstrip('.')}.{example}"
    return ""


def _added(model: type[BaseModel], path: Path, key: str) -> str:
    """Show a line that would mend a missing key."""
    for found in _models(model, path):
        for name, field in found.model_fields.items():
            if key == (field.alias or name) and field.examples:
                return f"Add  {key}: {_written(field.examples[0])}"
    return f"Add the key {key}."


def _written(value: Any) -> str:
    """Write an example as it would stand in a file."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_written(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(_written, value)) + "]"
    return str(value)


_KINDS: dict[str, tuple[str, ...]] = {
    "a text": ("string_type", "string_sub_type", "string_unicode"),
    "a whole number": ("int_type", "int_from_float", "int_parsing", "int_parsing_size"),
    "a number": ("float_type", "float_parsing", "finite_number", "decimal_type", "decimal_parsing"),
    "true or false": ("bool_type", "bool_parsing"),
    "a list": ("list_type", "tuple_type", "set_type", "iterable_type"),
    "keys with values": ("dict_type", "mapping_type", "model_type", "model_attributes_type", "dataclass_type"),
}
_EXPECTED = {kind: words for words, kinds in _KINDS.items() for kind in kinds}
_LIMITS: dict[str, tuple[str, str]] = {
    "greater_than": ("gt", "more than"),
    "greater_than_equal": ("ge", "at least"),
    "less_than": ("lt", "less than"),
    "less_than_equal": ("le", "at most"),
}


def _said(kind: str, details: dict[str, Any], error: ErrorDetails) -> tuple[str, str]:
    """Problem and mend for the faults of pydantic's own checks."""
    value = shown(error["input"])
    if kind in _EXPECTED:
        return f"{value} is not {_EXPECTED[kind]}.", _retyped(_EXPECTED[kind], error["input"])
    if kind in _LIMITS:
        name, words = _LIMITS[kind]
        return f"{value} is out of range.", f"Write a number of {words} {details[name]:g}."
    if kind in ("literal_error", "enum"):
        words_known = [word.strip("'") for word in str(details["expected"]).replace(" or ", ", ").split(", ")]
        return f"{value} is not one of: {', '.join(words_known)}.", near(str(error["input"]), words_known, listed=True)
    of_size: dict[str, Callable[[], tuple[str, str]]] = {
        "too_short": lambda: (_values(details, "few"), _within("at least", details, "min")),
        "too_long": lambda: (_values(details, "many"), _within("at most", details, "max")),
        "string_too_short": lambda: (f"{value} is too short.", "Write a text."),
        "string_too_long": lambda: (f"{value} is too long.", f"Write at most {details['max_length']} signs."),
        "value_error": lambda: (str(details["error"]), ""),
    }
    return of_size.get(kind, lambda: (f"{value}: {error['msg']}.", ""))()


def _retyped(words: str, value: Any) -> str:
    if words == "a text" and isinstance(value, int | float):
        return f'Put it in quotes: "{shown(value)}".'
    return f"Write {words} here."


def counted(number: int, thing: str) -> str:
    """A number of things: "1 piece", "0 values", "2 entries"."""
    if number == 1:
        return f"1 {thing}"
    return f"{number} {thing[:-1]}ies" if thing.endswith("y") else f"{number} {thing}s"


def numbers_read(units: str) -> str:
    """How lengths without units of their own are read in a file."""
    return "feet and inches with their marks" if units == "ft-in" else f"bare numbers in {units}"


def _values(details: dict[str, Any], too: str) -> str:
    count = details["actual_length"]
    return f"{counted(count, 'value')} {'is' if count == 1 else 'are'} too {too}."


def _within(words: str, details: dict[str, Any], end: str) -> str:
    return f"Write {words} {details[f'{end}_length']}."
