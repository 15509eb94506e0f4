"""Kinds of value that files of ours share: lengths, sizes, words.

In: plain data of a YAML file. Out: pydantic field types; lengths become millimetres. Bare numbers are read in the
`units` of the validation context: `validate(document, model, {"units": "mm"})`.
"""

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, ValidationInfo, WithJsonSchema

from planner.errors import LengthError
from planner.lengths import parse_length
from planner.wording import counted, shown, wrong


class Keys(BaseModel):
    """A group of keys in a file: unknown keys are errors, and values are not bent to fit."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


def read_length(value: Any, info: ValidationInfo) -> float:
    """Read a length in the units of the validation context."""
    try:
        return parse_length(value, (info.context or {}).get("units"))
    except LengthError as error:
        raise wrong(error.problem, error.mend) from error


#: No size is smaller: at the saw lengths are whole tenths of a millimetre.
SMALLEST_MM = 0.1


def read_size(value: Any, info: ValidationInfo) -> float:
    """Read a length that must be more than nothing."""
    length = read_length(value, info)
    if length <= 0:
        raise wrong(f"{shown(value)} is not more than nothing.", _as_measured(length))
    if length < SMALLEST_MM:
        raise wrong(f"{shown(value)} is less than {SMALLEST_MM} mm.", "Write the length as measured; check its unit.")
    return length


def _as_measured(length: float) -> str:
    return "Write the length as measured" + (", without a minus." if length < 0 else ".")


def _distance(value: Any, info: ValidationInfo) -> float:
    length = read_length(value, info)
    if length < 0:
        raise wrong(f"{shown(value)} is less than nothing.", "Write the length as measured, without a minus.")
    return length


def _words(value: Any) -> Any:
    """Take whole numbers as texts, but no decimals (1.10 would lose its nought); put a text onto one line."""
    if isinstance(value, str):
        return " ".join(value.split())
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _pair(value: Any) -> Any:
    if not isinstance(value, list | tuple) or len(value) != 2:
        got = counted(len(value), "value") if isinstance(value, list) else shown(value)
        mend = "Write two lengths in brackets, [18' 7\", 11' 4\"] or [5.68 m, 3.45 m]"
        comma = "; a comma inside a number splits it, so write a point." if isinstance(value, list) else "."
        raise wrong(f"expected two lengths, got {got}.", mend + comma)
    return tuple(value)


def _written(kind: str) -> WithJsonSchema:
    """A length as it stands in a file; `kind` says so to whoever reads the schema."""
    return WithJsonSchema({"type": ["string", "number"], "$comment": kind})


Length = Annotated[float, BeforeValidator(read_length), _written("length, also less than 0")]  #: millimetres, any sign
Size = Annotated[float, BeforeValidator(read_size), _written("length above 0")]  #: millimetres, more than 0
Distance = Annotated[float, BeforeValidator(_distance), _written("length from 0")]  #: millimetres, 0 or more
Spot = Annotated[tuple[Length, Length], BeforeValidator(_pair)]  #: a point
Extent = Annotated[tuple[Size, Size], BeforeValidator(_pair)]  #: along the base wall, away from it
Words = Annotated[str, BeforeValidator(_words)]  #: a text on one line
