"""The keys of a room file that say how material is bought and sawn.

In: plain data. Out: `StockKeys`, lengths in millimetres.
"""

from collections.abc import Iterable
from typing import Literal, Self

from pydantic import Field, model_validator

from planner.fields import Distance, Keys, Size, Words
from planner.room.values import Count, Kerf, Minutes, Price, Seconds, Several, Share, Weight, Work
from planner.wording import wrong


class ExtraKeys(Keys):
    """Something to buy that the ceiling itself does not call for."""

    item: Words = Field(min_length=1, description="Its name.", examples=["touch-up paint"])
    count: Several = Field(default=1, description="How many are needed.", examples=[1])
    price: Price | None = Field(default=None, description="Of one.", examples=[12.5])
    pack: Several | None = Field(default=None, description="How many make a pack.", examples=[6])
    weight: Weight | None = Field(default=None, description="Of one, as 2 lb or 1 kg.", examples=["0.5 kg"])


class LabourKeys(Keys):
    """Rates of one's own; the planner has none."""

    each: dict[Work, Minutes] = Field(
        min_length=1,
        description="Time for one of each kind of work: a piece put up, a panel laid, a panel cut.",
        examples=[{"panel": "3 min", "main tee": "12 min"}],
    )
    hour: Price | None = Field(
        default=None, description="Price of an hour; without it only hours are told.", examples=[45.0]
    )


class StockKeys(Keys):
    """How material is bought; prices, packs and on_hand name items as the take-off does."""

    panels_per_carton: Several | None = Field(default=None, description="Panels are ordered in cartons.", examples=[12])
    spare: Share = Field(default=0.0, description="To be bought beyond need.", examples=["5%"])
    saw_kerf: Kerf = Field(
        default=3.175,
        description="Width of the saw's cut.",
        examples=['1/8"'],
        json_schema_extra={"default": '1/8"'},  # a bare 3.175 would be read in the file's units
    )
    prices: dict[Words, Price] = Field(
        default={},
        description="Of one, for each item, named as in the take-off.",
        examples=[{"panel": 6.4, "main tee": 9.85}],
    )
    packs: dict[Words, Several] = Field(default={}, description="How many make a pack.", examples=[{"main tee": 20}])
    on_hand: dict[Words, Count] = Field(
        default={}, description="Pieces there already, taken off the order.", examples=[{"main tee": 4}]
    )
    currency: Words = Field(default="", description="Shown with the costs.", examples=["USD"])
    spare_pieces: dict[Words, Count] = Field(
        default={},
        description="Spare of single items by count, in place of spare.",
        examples=[{"panel": 4}],
    )
    reuse_from: Distance = Field(
        default=0.0,
        description="Off-cuts shorter than this are thrown away, and nothing more is cut from them.",
        examples=['12"'],
    )
    long_offcuts: bool = Field(
        default=False,
        description="true: of equally few bars, those that leave few long off-cuts, not many short ones.",
        examples=[True],
    )
    splice_from: Size | None = Field(
        default=None,
        description="Wall angle may be spliced anywhere on a wall, where that saves a length, if no piece is shorter"
        " than this; if none, only where a wall is longer than the angle.",
        examples=['12"'],
    )
    staggered_splices: bool = Field(
        default=False,
        description="true: splices of runs side by side stand apart even where that takes a length more; else they do"
        " where that takes none.",
        examples=[True],
    )
    border_tees_from_longer: bool = Field(
        default=False,
        description="true: a border tee may be cut from a longer cross tee than its line has, where that costs less or,"
        " if not every cross tee has a price, takes less length. Only where all lengths have one hook and slot, and not"
        " in a fire-rated design that does not name it.",
        examples=[True],
    )
    budget: Seconds = Field(
        default=5.0,
        description="How long to search for a better way of cutting, for each item: by the work that a computer of 2026"
        " does in so long, so that everybody gets the same plan. What is not proven then is said.",
        examples=["5 s"],
    )
    leave_with_owner: dict[Words, Count] = Field(
        default={},
        description="Pieces to leave with the owner, beyond need and spare; told on a line of their own.",
        examples=[{"panel": 4}],
    )
    extras: list[ExtraKeys] = Field(
        default=[],
        max_length=1000,
        description="More to buy with the ceiling, by count; no spare is added.",
        examples=[[{"item": "touch-up paint", "price": 12.5}]],
    )
    labour: LabourKeys | None = Field(
        default=None,
        description="Rates of one's own for the work; hours and their cost stand apart from the material.",
        examples=[{"each": {"panel": "3 min"}, "hour": 45.0}],
    )
    tax: Share | None = Field(default=None, description="Added to the costs on a line of its own.", examples=["8%"])
    tax_on: Literal["all", "material"] = Field(
        default="all", description="What the tax is on: material and labour, or the material alone.", examples=["all"]
    )

    @model_validator(mode="after")
    def _once(self) -> Self:
        names = [extra.item for extra in self.extras]
        _refuse_twice(names, "an extra")
        for key, known in (("prices", self.prices), ("packs", self.packs)):
            own = [extra.item for extra in self.extras if getattr(extra, key.rstrip("s")) is not None]
            _refuse_twice([*own, *known], f"{key} and in extras")
        return self


def _refuse_twice(names: Iterable[str], where: str) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise wrong(f"{name} is named twice: as {where}.", "Keep one of the two.")
        seen.add(name)
