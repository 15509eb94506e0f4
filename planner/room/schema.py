"""The room file's exact shape.

In: the plain data of a room file. Out: a `RoomFile`, every length in millimetres. Which keys exclude each other is
checked here; what they mean for the room is not.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, field_validator, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from planner.fields import Distance, Extent, Keys, Length, Size, Spot, Words
from planner.room.outline import Units
from planner.room.service_kinds import KINDS
from planner.room.site import LEAST_WIRE_ALLOWANCE_MM, SeismicCategory, Use
from planner.room.stock_keys import StockKeys
from planner.room.values import (
    Alignment,
    AreaWeight,
    Border,
    InsideAngle,
    Kind,
    NotYet,
    Readings,
    Several,
    Weight,
)
from planner.wording import shown, wrong

MOST_IN_ARRAY = 10_000


class ProjectKeys(Keys):
    """What the title block says beside the name of the job."""

    client: Words | None = Field(default=None, description="Who it is for.", examples=["Riverside Pottery Co-op"])
    drawn_by: Words | None = Field(default=None, description="Who drew it.", examples=["M. Okafor"])
    revision: Words | None = Field(default=None, description="Which issue of the drawing this is.", examples=["B"])
    date: Words | None = Field(
        default=None, description="Date on the sheets, as it is to be shown.", examples=["2026-03-14"]
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
        description="Columns, pipes and chases, in the coordinates of the points or along the base wall.",
        examples=[[{"name": "C1", "at": ["8'", "5' 2\""], "size": ['12"', '12"']}]],
    )
    corners: Annotated[list[Words], Field(min_length=3)] | None = Field(
        default=None,
        description="Corners of a taped room, in the order one walks with the room on the left.",
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
        description="From the reference corner to the centre of the first joist, square to the joists.",
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


class BorderKeys(Keys):
    """How far the first grid lines stand from the walls: left and right as one looks away from the base wall."""

    left: Border | None = Field(default=None, description="A length, or full for a whole module.", examples=['14"'])
    right: Border | None = Field(default=None, description="A length, or full for a whole module.", examples=["full"])
    front: Border | None = Field(default=None, description="At the base wall: a length, or full.", examples=["full"])
    back: Border | None = Field(
        default=None, description="Opposite the base wall: a length, or full.", examples=['10"']
    )
    centre_on: Spot | None = Field(default=None, description="Put the centre of a panel here.", examples=[["6'", "4'"]])

    @model_validator(mode="after")
    def _no_contest(self) -> Self:
        for one, other in (("left", "right"), ("front", "back")):
            if getattr(self, one) is not None and getattr(self, other) is not None:
                raise wrong(f"{one} and {other} cannot both be chosen.", "The one follows from the other; give one.")
        sides = [side for side in ("left", "right", "front", "back") if getattr(self, side) is not None]
        if self.centre_on is not None and sides:
            raise wrong(f"centre_on and {sides[0]} cannot both be chosen.", "Give one of them.")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"anyOf": [{"const": "balanced"}, handler(core)]}


def _spread_borders(value: Any) -> Any:
    if value is None or value == "balanced":
        return {}
    if not isinstance(value, dict):
        mend = 'Write balanced, {left: 14"}, {front: full} or {centre_on: [x, y]}.'
        raise wrong(f"{shown(value)} is not a way to place the borders.", mend)
    return value


class GridKeys(Keys):
    """The grid as asked for."""

    system: Words | None = Field(
        default=None,
        description="A built-in system (planner systems lists them), or the path of a file of one's own."
        " Without it: lay-in-imperial or lay-in-metric, by the units.",
        examples=["lay-in-imperial"],
    )
    module: Extent | None = Field(
        default=None, description="Panel module along the base wall, then away from it.", examples=[['24"', '24"']]
    )
    mains: Literal["auto", "along", "across"] = Field(
        default="auto", description="Which way the main tees run, against the base wall.", examples=["auto"]
    )
    align: Alignment | None = Field(
        default=None, description="A wall that the grid is parallel to, or an angle in degrees.", examples=["A-B"]
    )
    borders: Annotated[BorderKeys, BeforeValidator(_spread_borders)] = Field(
        default=BorderKeys(),
        description="balanced: as wide as can be and alike on opposite sides. Or a border, or a panel's centre.",
        examples=["balanced"],
    )
    prefer: Literal["widest_borders", "fewest_panels"] = Field(
        default="widest_borders", description="What decides where both cannot be had.", examples=["fewest_panels"]
    )
    panel_weight: AreaWeight | None = Field(
        default=None,
        description="What the panels weigh, as 1.0 psf or 5 kg/m2; without it no loads are checked.",
        examples=["1.0 psf"],
    )
    hanger_spacing: Size | None = Field(
        default=None,
        description="Most between hangers along a main tee, where closer than the system's own is wanted.",
        examples=['42"'],
    )
    panel_edge: Literal["plain", "revealed"] = Field(
        default="plain",
        description="plain: edges lie hidden on the flanges. revealed: the face drops through the grid, and edges that"
        " show must be the factory's.",
        examples=["plain"],
    )
    panel_turns: bool = Field(
        default=True, description="false: panels have a pattern and lie all one way.", examples=[False]
    )


class ArrayKeys(Keys):
    """Services evenly spread over the room, the first half a step from the walls."""

    columns: Several = Field(description="How many along the base wall.", examples=[3])
    rows: Several = Field(description="How many away from it.", examples=[2])

    @model_validator(mode="after")
    def _not_endless(self) -> Self:
        if self.columns * self.rows > MOST_IN_ARRAY:
            raise wrong(f"an array of {self.columns} x {self.rows} is too large.", f"Stay under {MOST_IN_ARRAY}.")
        return self


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
    project: ProjectKeys | None = Field(
        default=None, description="More for the title block.", examples=[{"revision": "B"}]
    )
    room: OutlineKeys = Field(
        description="The outline and what stands in it.", examples=[{"rectangle": ["18' 7\"", "11' 4\""]}]
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
        default=[], description="Lights, vents and the like.", examples=[[{"kind": "troffer"}]]
    )
    stock: StockKeys = Field(default=StockKeys(), description="How material is bought.", examples=[{"spare": "5%"}])
    rooms: NotYet = Field(default=None, description="Not read yet: the rooms of a building.", examples=[["a.yaml"]])

    @field_validator("rooms", mode="before")
    @classmethod
    def _no_building(cls, value: Any) -> None:
        raise wrong("a building is not planned yet.", "Plan each room file by itself.", at_key=True)


def room_schema() -> dict[str, Any]:
    """Publish the shape as JSON Schema (draft 2020-12), for editors."""
    schema = RoomFile.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def _all_of(given: list[str]) -> str:
    return " and ".join(given) if given else "none of the keys it needs"
