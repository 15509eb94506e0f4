"""Kinds of value that only the room file has: weights, shares, kinds of service, borders, and keys not read yet.

In: plain data. Out: pydantic field types, checked, in kilograms and millimetres.
"""

import re
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, WithJsonSchema
from pydantic.json_schema import SkipJsonSchema

from planner.fields import Distance, Size, read_size
from planner.room.service_kinds import KINDS
from planner.room.work_kinds import WORK
from planner.wording import near, shown, wrong

#: Beyond these a length was read in the wrong unit.
WIDEST_KERF_MM = 20.0
CLOSEST_HANGERS_MM = 150.0
LONGEST_SEARCH_S = 3600.0  #: for each stock item: beyond this nobody waits
KG_PER_POUND = 0.45359237  #: exactly (international yard and pound, 1959)
KG_PER_M2_OF_PSF = KG_PER_POUND / 0.3048**2  #: pounds per square foot, 4.88243 kg/m2


def _kind(value: str) -> str:
    if value not in KINDS:
        raise wrong(f"{shown(value)} is not a kind of service.", near(value, sorted(KINDS)))
    return value


def _weight(value: Any) -> float:
    """Read 18 lb or 8 kg as kilograms."""
    match = re.fullmatch(r"(\d{1,6}(?:\.\d{1,6})?) ?(kg|lbs?)", value.strip()) if isinstance(value, str) else None
    if match is None:
        raise wrong(f"{shown(value)} is not a weight.", "Write it as 18 lb or 8 kg.")
    return float(match[1]) * (1.0 if match[2] == "kg" else KG_PER_POUND)


def _area_weight(value: Any) -> float:
    """Read 1.0 psf or 5 kg/m2 as kilograms per square metre."""
    pattern = r"(\d{1,4}(?:\.\d{1,6})?) ?(psf|kg/m2|kg/m²)"
    match = re.fullmatch(pattern, value.strip()) if isinstance(value, str) else None
    if match is None or float(match[1]) == 0:
        raise wrong(f"{shown(value)} is not a weight for an area.", "Write it as 1.0 psf or 5 kg/m2.")
    return float(match[1]) * (KG_PER_M2_OF_PSF if match[2] == "psf" else 1.0)


def _minutes(value: Any) -> float:
    """Read 3 min, 1.5 h or 40 s as minutes."""
    match = re.fullmatch(r"(\d{1,4}(?:\.\d{1,4})?) ?(s|min|h)", value.strip()) if isinstance(value, str) else None
    if match is None or float(match[1]) == 0:
        raise wrong(f"{shown(value)} is not a time.", "Write it as 3 min, 1.5 h or 40 s.")
    return float(match[1]) * {"s": 1 / 60, "min": 1.0, "h": 60.0}[match[2]]


def _seconds(value: Any) -> float:
    """Read 5 s, 1.5 min or 5 as seconds."""
    number = value
    if isinstance(value, str) and re.fullmatch(r"\d{1,4}(\.\d{1,4})? ?(s|min)", value.strip()):
        text = value.strip()
        number = float(text.removesuffix("min")) * 60 if text.endswith("min") else float(text.removesuffix("s"))
    if isinstance(number, bool) or not isinstance(number, int | float) or not 0 <= number <= LONGEST_SEARCH_S:
        raise wrong(f"{shown(value)} is not a time to search.", "Write seconds, as 5 s; at most an hour.")
    return float(number)


def _work(value: str) -> str:
    if value not in WORK:
        raise wrong(f"{shown(value)} is not a kind of work.", near(value, sorted(WORK)))
    return value


def _share(value: Any) -> float:
    """Read 5% or 0.05 as a share."""
    match = re.fullmatch(r"(\d{1,3}(?:\.\d{1,6})?) ?%", value.strip()) if isinstance(value, str) else None
    number = float(match[1]) / 100 if match else value
    if isinstance(number, bool) or not isinstance(number, int | float) or not 0 <= number <= 1:
        raise wrong(f"{shown(value)} is not a share between 0 and 1.", "Write it as 5% or 0.05.")
    return float(number)


def _border(value: Any, info: ValidationInfo) -> Any:
    return value if value == "full" else read_size(value, info)


def _alignment(value: Any) -> str | float:
    angle = isinstance(value, int | float) and not isinstance(value, bool) and value == value  # nan is no angle
    if not angle and not isinstance(value, str):
        raise wrong(f"{shown(value)} is neither a wall nor an angle.", "Write a wall as A-B, or degrees as 30.")
    if angle and abs(value) > 180:
        raise wrong(f"{shown(value)} is more than half a turn.", "Write degrees against the base wall, as 30 or -45.")
    return value if isinstance(value, str) else float(value)


def _kerf(value: float) -> float:
    if value > WIDEST_KERF_MM:
        raise wrong("no saw takes that much.", 'Write the width of its cut, 1/8" or 3 mm, say; 0 for snips.')
    return value


def _spacing(value: float) -> float:
    if value < CLOSEST_HANGERS_MM:
        raise wrong(
            "hangers so close cannot be meant.", 'Write the most that may lie between two, 42" or 1000 mm, say.'
        )
    return value


def _readings(value: Any) -> Any:
    return value if isinstance(value, list) else [value]


InsideAngle = Annotated[float, Field(gt=0, lt=360, strict=False)]  #: degrees
Kerf = Annotated[Distance, AfterValidator(_kerf)]  #: millimetres
Spacing = Annotated[Size, AfterValidator(_spacing)]  #: millimetres
Readings = Annotated[  #: millimetres: one reading, or a list of them
    list[Size],
    BeforeValidator(_readings),
    Field(min_length=1),
    WithJsonSchema(
        {"anyOf": [{"type": ["string", "number"], "$comment": "length above 0"}, {"type": "array", "minItems": 1}]}
    ),
]
NotYet = SkipJsonSchema[Any]  #: a key that is known, to say that it is not read yet
Kind = Annotated[str, AfterValidator(_kind), WithJsonSchema({"enum": sorted(KINDS)})]
Weight = Annotated[
    float,
    BeforeValidator(_weight),
    WithJsonSchema({"type": "string", "pattern": "(kg|lbs?)$", "$comment": "weight, as 18 lb or 8 kg"}),
]
AreaWeight = Annotated[
    float,
    BeforeValidator(_area_weight),
    WithJsonSchema({"type": "string", "pattern": "(psf|kg/m2|kg/m²)$", "$comment": "weight, as 1.0 psf or 5 kg/m2"}),
]  #: kilograms per square metre
Minutes = Annotated[
    float,
    BeforeValidator(_minutes),
    WithJsonSchema({"type": "string", "pattern": "(s|min|h)$", "$comment": "time, as 3 min, 1.5 h or 40 s"}),
]
Seconds = Annotated[
    float,
    BeforeValidator(_seconds),
    WithJsonSchema({"type": ["string", "number"], "$comment": "seconds, as 5 s, 1 min or 5"}),
]
Work = Annotated[str, AfterValidator(_work), WithJsonSchema({"enum": sorted(WORK)})]
Share = Annotated[
    float, BeforeValidator(_share), WithJsonSchema({"type": ["string", "number"], "$comment": "share, as 5% or 0.05"})
]
Alignment = Annotated[
    str | float,
    BeforeValidator(_alignment),
    WithJsonSchema({"type": ["string", "number"], "$comment": "wall, as A-B, or degrees"}),
]
Border = Annotated[
    float | Literal["full"],
    BeforeValidator(_border),
    WithJsonSchema({"type": ["string", "number"], "$comment": "length above 0, or the word full"}),
]  #: millimetres from a wall to the first grid line, or a full module
MOST_COUNTED = 10**9  #: pieces in a pack, say, or money for one: more is a slip of the keys
Price = Annotated[float, Field(ge=0, le=MOST_COUNTED)]
Count = Annotated[int, Field(ge=0, le=MOST_COUNTED)]
Several = Annotated[int, Field(ge=1, le=MOST_COUNTED)]
