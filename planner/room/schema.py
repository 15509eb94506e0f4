"""The room file's exact shape.

In: the plain data of a room file. Out: a `RoomFile`, every length in millimetres. Which keys exclude each other is
checked here; what they mean for the room is not.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, field_validator, model_validator

from planner.fields import Distance, Extent, Keys, Length, Size, Spot, Words
from planner.room.grid_keys import GridKeys
from planner.room.outline import Units
from planner.room.service_kinds import KINDS
from planner.room.site import LEAST_WIRE_ALLOWANCE_MM, SeismicCategory, Use
from planner.room.stock_keys import StockKeys
from planner.room.values import (
    InsideAngle,
    Kind,
    NotYet,
    Readings,
    Several,
    Weight,
)
from planner.wording import wrong


class RevisionKeys(Keys):
    """One issue of the drawings."""

    rev: Words = Field(description="Its letter or number.", examples=["B"])
    date: Words | None = Field(default=None, description="When, as it is to be shown.", examples=["2026-03-14"])
    text: Words | None = Field(default=None, description="What changed.", examples=["Lights moved off the beam"])
    by: Words | None = Field(default=None, description="Who made it.", examples=["MO"])


class ProjectKeys(Keys):
    """What the title block says beside the name of the job."""

    client: Words | None = Field(default=None, description="Who it is for.", examples=["Riverside Pottery Co-op"])
    legal_owner: Words | None = Field(
        default=None, description="Whose drawings they are.", examples=["Okafor Ceilings Ltd"]
    )
    supplementary_title: Words | None = Field(
        default=None, description="A second line below the title.", examples=["Ground floor, east wing"]
    )
    number: Words | None = Field(default=None, description="The drawings' own number.", examples=["RR-2604-C1"])
    drawn_by: Words | None = Field(default=None, description="Who drew it.", examples=["M. Okafor"])
    approved_by: Words | None = Field(default=None, description="Who approved it.", examples=["S. Lindqvist"])
    department: Words | None = Field(default=None, description="Department that answers for it.", examples=["Fit-out"])
    technical_reference: Words | None = Field(default=None, description="Whom to ask about it.", examples=["J. Haddad"])
    status: Words | None = Field(default=None, description="How far it has come.", examples=["For approval"])
    classification: Words | None = Field(default=None, description="A code of the office's own.", examples=["C-35"])
    revision: Words | None = Field(
        default=None,
        description="Which issue this is; the last of the revisions if none.",
        examples=["B"],
    )
    revisions: list[RevisionKeys] = Field(
        default=[],
        description="Every issue so far, the first first.",
        examples=[[{"rev": "A", "date": "2026-02-20", "text": "First issue", "by": "MO"}]],
    )
    date: Words | None = Field(
        default=None, description="Date on the sheets, as it is to be shown.", examples=["2026-03-14"]
    )
    language: Annotated[str, Field(pattern="^[a-z]{2,3}$")] | None = Field(
        default=None, description="Language of the sheets, ISO 639; English if none.", examples=["es"]
    )
    notes: Words | None = Field(
        default=None, description="Anything else to be said.", examples=["Measured after plastering"]
    )


class ColumnKeys(Keys):
    """A column, pipe or chase that goes through the ceiling: `at` with `size` or `diameter`, or `points`."""

    name: Words | None = Field(default=None, description="Name on the drawing; C1, C2, ... if none.", examples=["C1"])
    at: Spot | None = Field(
        default=None,
        description="Rectangular: the corner nearest the reference corner. Round: the centre.",
        examples=[["8'", "5' 2\""]],
    )
    size: Extent | None = Field(
        default=None, description="Along the base wall, then away from it.", examples=[['12"', '12"']]
    )
    diameter: Size | None = Field(default=None, description="Of a round one.", examples=['4-1/2"'])
    points: list[Spot] | None = Field(
        default=None,
        description="Corners of any other outline, in order, either way round.",
        examples=[[["0", "0"], ["300 mm", "0"], ["0", "450 mm"]]],
    )

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = [key for key in ("size", "diameter", "points") if getattr(self, key) is not None]
        if len(given) != 1:
            raise wrong(f"a column has {_all_of(given)}.", "Give exactly one of size, diameter and points.")
        if (self.at is None) == (self.points is None):
            problem = "a column with points needs no at." if self.points else f"a column with {given[0]} needs at."
            raise wrong(problem, "Give at with size or diameter; points stand where they are.")
        return self


class DrawingKeys(Keys):
    """Somebody else's drawing of the room."""

    file: Words = Field(description="A DXF file, named from the room file's folder.", examples=["floor.dxf"])
    layer: Words | None = Field(
        default=None, description="Where the outline is; needed when several layers hold one.", examples=["A-WALL"]
    )
    units: Literal["in", "ft", "mm", "cm", "m"] | None = Field(
        default=None, description="What one unit of the drawing is, if it does not say so itself.", examples=["mm"]
    )


def _check_lines(lines: list[str]) -> None:
    """Complain of a line of the tape that is no line between two corners, or named from both ends."""
    seen = dict[frozenset[str], str]()
    for line in lines:
        ends = line.split("-")
        if len(ends) != 2 or not all(ends):
            raise wrong(f'"{line}" does not name a line.', "Name it by its two corners, as in A-C.")
        first = seen.setdefault(frozenset(ends), line)
        if first != line:
            raise wrong(f"{line} is the same line as {first}.", f"Give its readings in one list: {first}: [..., ...].")


class OutlineKeys(Keys):
    """The outline of the room and what stands in it."""

    rectangle: Extent | None = Field(
        default=None, description="Along the base wall, then away from it.", examples=[["18' 7\"", "11' 4\""]]
    )
    points: list[Spot] | None = Field(
        default=None,
        description="Corners as coordinates, in order, either way round; they are named A, B, C, ...",
        examples=[[[0, 0], ["5.6 m", 0], ["5.6 m", "3.2 m"], [0, "3.2 m"]]],
    )
    base_wall: Words | None = Field(
        default=None,
        description="The wall to measure from; the first one if none. Its start, walked with the room on the left,"
        " is the reference corner.",
        examples=["A-B"],
    )
    columns: list[ColumnKeys] = Field(
        default=[],
        description="Columns, pipes and chases, each with one of size, diameter and points; in the coordinates of the"
        " points or along the base wall.",
        examples=[[{"name": "C1", "at": ["8'", "5' 2\""], "size": ['12"', '12"']}]],
    )
    corners: Annotated[list[Words], Field(min_length=3)] | None = Field(
        default=None,
        description="Corners of a taped room, in the order of the walk; room on the left if walk is not given.",
        examples=[["A", "B", "C", "D"]],
    )
    tape: dict[Words, Readings] = Field(
        default={},
        description="Walls and any diagonals of a taped room, each read once or several times.",
        examples=[{"A-B": "18' 7\"", "B-C": ["11' 4\"", "11' 4-1/16\""]}],
    )
    outside_corners: list[Words] = Field(
        default=[], description="Corners of a taped room that jut into it.", examples=[["E"]]
    )
    angles: dict[Words, InsideAngle] = Field(
        default={}, description="Inside angles, in degrees, of corners that are not near square.", examples=[{"C": 135}]
    )
    tape_accuracy: Size | None = Field(
        default=None,
        description="Standard deviation of one reading; if none, 1 mm and 0.12 mm for each metre.",
        examples=['1/16"'],
    )
    walk: Literal["counter-clockwise", "clockwise"] = Field(
        default="counter-clockwise",
        description="clockwise: the corners were taken with the room on the right.",
        examples=["clockwise"],
    )
    dxf: DrawingKeys | None = Field(
        default=None, description="A closed outline drawn by somebody else.", examples=[{"file": "floor.dxf"}]
    )
    bowed_walls: dict[Words, Length] = Field(
        default={},
        description="Rise of walls that are arcs: the longest distance from the straight line between their corners,"
        " + outwards.",
        examples=[{"C-D": '3"'}],
    )

    @field_validator("tape", mode="before")
    @classmethod
    def _named_once(cls, value: Any) -> Any:
        if isinstance(value, dict):
            _check_lines([str(key) for key in value])
        return value

    @model_validator(mode="after")
    def _one_outline(self) -> Self:
        ways = ("rectangle", "points", "corners", "dxf")
        given = [key for key in ways if getattr(self, key) is not None]
        if len(given) != 1:
            raise wrong(f"the room has {_all_of(given)}.", f"Give one of {', '.join(ways)}.", at_key=True)
        if given == ["corners"] and not self.tape:
            raise wrong("the room has corners and no tape.", "Add  tape: {A-B: 18' 7\", ...}.", at_key=True)
        taped = [key for key in ("tape", "outside_corners", "angles", "tape_accuracy") if getattr(self, key)]
        if taped and given != ["corners"]:
            raise wrong(f"{taped[0]} goes with corners, not with {given[0]}.", "Give one of them.", at_key=True)
        return self


class JoistKeys(Keys):
    """Regular joists overhead."""

    spacing: Size = Field(description="Centre to centre.", examples=['16"'])
    first: Distance = Field(
        default=0.0,
        description="From the reference corner to the centre of the first joist, square to the joists. Left out, one "
        "is taken to lie at the corner, and a finding says that it has to be found.",
        examples=['9"'],
    )
    direction: Literal["across", "along"] = Field(
        default="across", description="across: square to the base wall. along: parallel to it.", examples=["across"]
    )
    out_of_level: Distance = Field(
        default=0.0, description="From the highest underside of a joist to the lowest.", examples=['1/2"']
    )


class StructureKeys(Keys):
    """What the ceiling hangs from."""

    joists: JoistKeys | None = Field(
        default=None, description="Regular joists.", examples=[{"spacing": '16"', "first": '9"'}]
    )
    underside: Size | None = Field(
        default=None, description="Height of the joists above the floor.", examples=["8' 6\""]
    )
    seismic: SeismicCategory | None = Field(
        default=None,
        description="Seismic design category, as the building's drawings or the local building office state it.",
        examples=["C"],
    )
    fixed_walls: Annotated[list[Words], Field(min_length=2)] | None = Field(
        default=None,
        description="In seismic categories D to F: the walls that tee ends are fixed to, two of which meet. Left out, "
        "the two that meet at the reference corner, or at another where they are clearly longer.",
        examples=[["A-B", "D-A"]],
    )
    built: Annotated[int, Field(ge=1000, le=2999)] | None = Field(
        default=None, description="Year in which the building was built.", examples=[1972]
    )
    fire_rated: bool = Field(
        default=False, description="true: the ceiling is part of a fire-rated assembly.", examples=[True]
    )
    wire_allowance: Size | None = Field(
        default=None,
        description="Hanger wire beyond the drop, for both ties together; 12 in if none, never under 2 in.",
        examples=['12"'],
    )

    @field_validator("wire_allowance")
    @classmethod
    def _enough_for_ties(cls, value: float | None) -> float | None:
        if value is not None and value < LEAST_WIRE_ALLOWANCE_MM:
            mend = 'Write 2" (50.8 mm) or more (NAVEDTRA 14044 p. 5-17); two ties of three turns need about 12".'
            raise wrong(f"{value:g} mm of wire is too little for two ties.", mend)
        return value


class ArrayKeys(Keys):
    """Services evenly spread over the room, the first half a step from the walls."""

    columns: Several = Field(description="How many along the base wall.", examples=[3])
    rows: Several = Field(description="How many away from it.", examples=[2])


class ServiceKeys(Keys):
    """A light, vent or the like: `at`, `near` or `array` says where."""

    name: Words | None = Field(
        default=None, description="Name on the drawing; made from the kind if none (D1, D2, ...).", examples=["L1"]
    )
    kind: Kind = Field(description="What it is.", examples=["troffer"])
    size: Extent | None = Field(
        default=None, description="Along the base wall, then away from it.", examples=[['24"', '48"']]
    )
    diameter: Size | None = Field(default=None, description="Of a round one.", examples=['6"'])
    at: Spot | None = Field(default=None, description="Its centre, fixed.", examples=[["5' 1\"", "4' 7\""]])
    near: Spot | None = Field(
        default=None, description="Its centre, which may move to suit the grid.", examples=[["6'", "4'"]]
    )
    array: ArrayKeys | None = Field(
        default=None, description="Several, evenly spread.", examples=[{"columns": 3, "rows": 2}]
    )
    weight: Weight | None = Field(default=None, description="What hangs on the grid.", examples=["18 lb"])

    @model_validator(mode="after")
    def _one_place(self) -> Self:
        given = [key for key in ("at", "near", "array") if getattr(self, key) is not None]
        if len(given) != 1:
            raise wrong(f"a service has {_all_of(given)}.", "Give exactly one of at, near and array.")
        return self

    @model_validator(mode="after")
    def _known_size(self) -> Self:
        kind = KINDS[self.kind]
        if self.size and self.diameter:
            raise wrong("a service has size and diameter.", "Give size, or diameter of a round one.")
        if kind.form == "lay-in" and not self.size:
            raise wrong(f"a {kind.key} takes the place of panels and has no size.", 'Add  size: [24", 24"].')
        if kind.form == "cut-out" and not (self.size or self.diameter or kind.cut_out_mm):
            raise wrong(f"a {kind.key} has neither size nor diameter.", 'Add  diameter: 6"  or  size: [6", 6"].')
        return self


class RoomFile(Keys):
    """One room and the ceiling that is wanted in it."""

    job: Words | None = Field(default=None, description="Title block; the file's name if none.", examples=["Kiln room"])
    units: Units = Field(description="How bare numbers are read and results shown.", examples=["ft-in"])
    dual_units: bool = Field(
        default=False, description="true: lengths on sheets in the other system too, in brackets.", examples=[True]
    )
    project: ProjectKeys | None = Field(
        default=None, description="More for the title block.", examples=[{"revision": "B"}]
    )
    room: OutlineKeys = Field(
        description="The outline, by one of rectangle, points, corners with tape, and dxf; and what stands in it.",
        examples=[{"rectangle": ["18' 7\"", "11' 4\""]}],
    )
    structure: StructureKeys | None = Field(
        default=None, description="What is overhead.", examples=[{"underside": "8' 6\""}]
    )
    ceiling_height: Size | None = Field(default=None, description="Finished ceiling above floor.", examples=["7' 9\""])
    use: Use | None = Field(
        default=None, description="What the room is for; its least height depends on it.", examples=["habitable"]
    )
    grid: GridKeys = Field(default=GridKeys(), description="The grid wanted.", examples=[{"system": "lay-in-imperial"}])
    services: list[ServiceKeys] = Field(
        default=[],
        description="Lights, vents and the like, each with one of at, near and array.",
        examples=[[{"kind": "troffer", "size": ['24"', '48"'], "near": ["6'", "4'"]}]],
    )
    stock: StockKeys = Field(default=StockKeys(), description="How material is bought.", examples=[{"spare": "5%"}])
    rooms: NotYet = Field(default=None, description="Of a building file, not of a room.", examples=[["a.yaml"]])

    @field_validator("rooms", mode="before")
    @classmethod
    def _no_building(cls, value: Any) -> None:
        raise wrong("rooms belong to a building file, and this is a room.", "Keep room, or rooms.", at_key=True)


def room_schema() -> dict[str, Any]:
    """The shape of a room file as JSON Schema, for editors."""
    return published(RoomFile)


def published(model: type[Keys]) -> dict[str, Any]:
    """The shape of a file as JSON Schema (draft 2020-12)."""
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **model.model_json_schema()}


def _all_of(given: list[str]) -> str:
    return " and ".join(given) if given else "none of the keys it needs"
