"""The keys of a room file that say how material is bought and sawn.

In: plain data. Out: `StockKeys`, lengths in millimetres.
"""

from pydantic import Field

from planner.fields import Distance, Keys, Size, Words
from planner.room.values import Count, Kerf, Price, Several, Share


class StockKeys(Keys):
    """How material is bought; prices, packs and on_hand name items as the take-off does."""

    panels_per_carton: Several | None = Field(default=None, description="Panels are ordered in cartons.", examples=[12])
    spare: Share = Field(default=0.0, description="To be bought beyond need.", examples=["5%"])
    saw_kerf: Kerf = Field(default=3.175, description="Width of the saw's cut.", examples=['1/8"'])
    prices: dict[Words, Price] = Field(
        default={}, description="For each item.", examples=[{"panel": 6.4, "main tee": 9.85}]
    )
    packs: dict[Words, Several] = Field(default={}, description="How many make a pack.", examples=[{"main tee": 20}])
    on_hand: dict[Words, Count] = Field(default={}, description="Taken off the order.", examples=[{"main tee": 4}])
    currency: Words = Field(default="", description="Shown with the costs.", examples=["USD"])
    spare_pieces: dict[Words, Count] = Field(
        default={},
        description="Spare of single items by count, in place of spare; panels to leave with the owner, say.",
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
