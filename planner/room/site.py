"""What is known of the building round a room, beyond its shape: what the rules of the published standards ask about.

In: nothing. Out: `Site`. Everything may be left out of a room file; a rule that lacks its reason keeps silent.
"""

from typing import Literal

from planner.records import dataclass

SeismicCategory = Literal["A", "B", "C", "D", "E", "F"]
Use = Literal["habitable", "bath", "basement", "other"]

#: Wire for the two ties of a hanger. Sources disagree: 2 in (NAVEDTRA 14044 p. 5-17), 6 in and 12 in (how-to
#: articles); two ties of three turns need far more than 2 in.
WIRE_ALLOWANCE_MM = 12 * 25.4
LEAST_WIRE_ALLOWANCE_MM = 2 * 25.4  #: NAVEDTRA 14044 p. 5-17


@dataclass(frozen=True, slots=True)
class Site:
    """The building round a room, as the room file tells it."""

    seismic: SeismicCategory | None = None  #: seismic design category (ASCE 7)
    built: int | None = None  #: year
    fire_rated: bool = False  #: the ceiling is part of a fire-rated assembly
    use: Use | None = None  #: what the room is for; None when not told
    wire_allowance: float = WIRE_ALLOWANCE_MM  #: of hanger wire beyond the drop, for both ties together
    fixed_walls: tuple[str, ...] = ()  #: that tee ends are fixed to in categories D to F; () leaves it to the planner
