"""The keys of a room file that say what grid is wanted.

In: plain data. Out: `GridKeys`, lengths in millimetres.
"""

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from planner.fields import Extent, Keys, Spot, Words
from planner.room.values import Alignment, AreaWeight, Border, Spacing
from planner.wording import shown, wrong

#: The one word for whole panels from wall to wall.
UNCUT = "uncut"


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
        return {"anyOf": [{"enum": ["balanced", UNCUT]}, handler(core)]}


class UncutBorders(BorderKeys):
    """Whole panels from wall to wall, as the one word uncut asks for; the middle of the room is where they go."""


def _spread_borders(value: Any) -> Any:
    if value is None or value == "balanced":
        return {}
    if value == UNCUT:
        return UncutBorders()
    if not isinstance(value, dict):
        mend = 'Write balanced, uncut, {left: 14"}, {front: full} or {centre_on: [x, y]}.'
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
        description="balanced: as wide as can be and alike on opposite sides. uncut: whole panels that stop a little"
        " short of the walls, where the ledge of the wall angle hides that. Or a border, or a panel's centre.",
        examples=["balanced"],
    )
    prefer: Literal["widest_borders", "fewest_panels"] = Field(
        default="widest_borders",
        description="What decides where both cannot be had. fewest_panels counts whole and cut modules, each as a"
        " panel; what is really bought, with several cuts from one panel, is told by planner options.",
        examples=["fewest_panels"],
    )
    panel_weight: AreaWeight | None = Field(
        default=None,
        description="What the panels weigh, as 1.0 psf or 5 kg/m2; without it no loads are checked.",
        examples=["1.0 psf"],
    )
    hanger_spacing: Spacing | None = Field(
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
