"""The shape of a system file: which keys it has, and that every number stands beside its source.

In: the data of a file, with its `units` as context. Out: `SystemFile`, lengths in millimetres. What does not go
together is looked for in `planner.ceiling.system`; here each value is looked at alone.
"""

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, ValidationInfo

from planner.errors import LengthError
from planner.lengths import parse_length
from planner.wording import wrong

Words = Annotated[str, StringConstraints(min_length=1, strip_whitespace=True)]


def _length(text: Any, info: ValidationInfo) -> float:
    """A length of more than nothing, in the units of the file."""
    try:
        length = parse_length(text, (info.context or {}).get("units"))
    except LengthError as error:
        raise wrong(error.problem, error.mend) from error
    if length <= 0:
        raise wrong(f"{text} is no length to build with.", "Write a length of more than 0.")
    return length


Length = Annotated[float, BeforeValidator(_length)]
Path = tuple[str | int, ...]


class Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SourcedLength(Part):
    """A length and where it was read, or "from memory"."""

    value: Length = Field(examples=['12"'])
    source: Words = Field(examples=["from memory"])


class SourcedWeight(Part):
    """Kilograms per metre and where they were read, or "from memory"."""

    value: float = Field(gt=0, le=100)
    source: Words = Field(examples=["from memory"])


class ModulePart(Part):
    """A panel module, either way round."""

    size: tuple[Length, Length] = Field(examples=["[600, 600]"])
    source: Words = Field(examples=["from memory"])


class BarPart(Part):
    """Something sold by the length."""

    item: Words = Field(examples=["cross tee 600"])
    length: SourcedLength = Field(examples=["{value: 600, source: from memory}"])
    kg_per_m: SourcedWeight | None = None

    @property
    def weight(self) -> float | None:
        return self.kg_per_m.value if self.kg_per_m else None


class MainTeePart(BarPart):
    """The main tee and its slots."""

    spacing: SourcedLength = Field(examples=["{value: 1200, source: from memory}"])
    slot_pitch: SourcedLength = Field(examples=["{value: 150, source: from memory}"])
    first_slot: SourcedLength = Field(examples=["{value: 75, source: from memory}"])


class SourcedCorners(Part):
    """How the trim goes round a corner and where that was read, or "from memory"."""

    value: Literal["lapped", "mitred"] = Field(examples=["lapped"])
    source: Words = Field(examples=["from memory"])


class WallAnglePart(BarPart):
    """The trim along the walls and the ledge that panels and tees lie on."""

    ledge: SourcedLength = Field(examples=["{value: 24, source: from memory}"])
    corners: SourcedCorners | None = None


class SourcedDuty(Part):
    """A duty class of ASTM C635 and where it was read, or "from memory"."""

    value: Literal["light", "intermediate", "heavy"] = Field(examples=["intermediate"])
    source: Words = Field(examples=["from memory"])


class HangingPart(Part):
    """How a hung grid is held up, and what its main tees carry."""

    spacing: SourcedLength = Field(examples=["{value: 1200, source: ASTM C636}"])
    first: SourcedLength = Field(examples=["{value: 450, source: from memory}"])
    duty: SourcedDuty = Field(examples=["{value: intermediate, source: from memory}"])


class GridFile(Part):
    """What every system file has, however its grid is fixed."""

    title: Words = Field(examples=["My grid"])
    units: Literal["ft-in", "in", "mm", "cm", "m"] = Field(examples=["mm"])
    fixing: Literal["hung", "direct"] = Field(examples=["hung"])
    modules: tuple[ModulePart, ...] = Field(min_length=1, examples=["[{size: [600, 600], source: from memory}]"])
    panel_undersize: SourcedLength = Field(examples=["{value: 5, source: from memory}"])
    tee_face: SourcedLength = Field(examples=["{value: 24, source: from memory}"])
    cross_tees: tuple[BarPart, ...] = Field(min_length=1, examples=["[(item, length), ...]"])
    notes: tuple[Words, ...] = ()

    def own_sources(self) -> tuple[tuple[str, str], ...]:
        """Where the modules, the panel undersize and the face were read."""
        modules = [(f"module {a:g} x {b:g} mm", m.source) for m in self.modules for a, b in [m.size]]
        return (*modules, ("panel undersize", self.panel_undersize.source), ("tee face", self.tee_face.source))


class SystemFile(GridFile):
    """A whole system file of a hung grid."""

    main_tee: MainTeePart = Field(examples=["(item, length, spacing, slot_pitch, first_slot)"])
    wall_angle: WallAnglePart = Field(examples=["(item, length, ledge)"])
    hanging: HangingPart | None = None

    def items(self) -> Iterator[tuple[Path, str]]:
        """Every item of the order with its place in the file."""
        yield ("main_tee", "item"), self.main_tee.item
        for k, tee in enumerate(self.cross_tees):
            yield ("cross_tees", k, "item"), tee.item
        yield ("wall_angle", "item"), self.wall_angle.item

    def sources(self) -> tuple[tuple[str, str], ...]:
        """What each number is, and where it was read, in the order of the file."""
        bars = [line for bar in (self.main_tee, *self.cross_tees, self.wall_angle) for line in bar_sources(bar)]
        hanging = _hanging_sources(self.hanging) if self.hanging else ()
        return (*self.own_sources(), *bars, *hanging)


def _hanging_sources(part: HangingPart) -> tuple[tuple[str, str], ...]:
    return (
        ("hangers, spacing", part.spacing.source),
        ("hangers, first from a wall", part.first.source),
        ("main tee, duty class", part.duty.source),
    )


def bar_sources(bar: BarPart) -> Iterator[tuple[str, str]]:
    """Each number of a part, and where it was read."""
    for key in type(bar).model_fields:
        if isinstance(value := getattr(bar, key), SourcedLength | SourcedWeight | SourcedCorners):
            yield f"{bar.item}, {key.replace('_', ' ').replace('kg per m', 'weight')}", value.source
