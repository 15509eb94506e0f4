"""The kinds of service a room file may name, as one table; a new service is one row here and one symbol.

Form says how it meets the grid:
- lay-in: takes the place of one or more whole panels, its weight on the tees;
- cut-out: sits in a hole cut in a panel;
- surface: is fixed below the panel; only a wire passes.

Sizes that the room file does not give are round ones of the trade, in whichever units the room is in.
"""

from typing import Literal

from planner.records import dataclass

INCH = 25.4


@dataclass(frozen=True, slots=True)
class ServiceKind:
    """How one kind of service sits in the ceiling."""

    key: str  #: as written in the room file
    label: str  #: as shown in the legend
    form: Literal["lay-in", "cut-out", "surface"]
    prefix: str  #: for names made by the planner: D1, D2, ...
    cut_out_mm: float | None = None  #: hole when the room file gives no size
    cut_out_in: float | None = None  #: the same in a room in feet and inches
    shown_mm: tuple[float, float] | None = None  #: surface kinds: body when the room file gives no size; equal = round
    shown_in: tuple[float, float] | None = None  #: the same in a room in feet and inches
    rim_mm: float = 25.0  #: panel that must stay between a hole and a tee, a wall or another hole
    on_grid: bool = True  #: its weight rests on the grid; False = on its own pipe or box
    heavy: bool = False  #: heavy enough that a weight should be given
    electric: bool = False  #: a cable goes to it
    supplied: str = "services"  #: what others supply, in the list of what is not included
    fed_by: str = ""  #: what runs to it above the ceiling, other than a cable
    source: str = "common practice, no source"

    def own_size(self, *, imperial: bool) -> tuple[float, float] | None:
        """The hole or body when the room file gives no size, millimetres; None for a kind that has none of its own."""
        hole, shown, scale = (
            (self.cut_out_in, self.shown_in, INCH) if imperial else (self.cut_out_mm, self.shown_mm, 1.0)
        )
        size = shown if hole is None else (hole, hole)
        return None if size is None else (size[0] * scale, size[1] * scale)


_ROWS = (
    ServiceKind("troffer", "Light, lay-in", "lay-in", "L", heavy=True, electric=True, supplied="lights"),
    ServiceKind("downlight", "Downlight", "cut-out", "D", electric=True, supplied="lights"),
    ServiceKind("supply_diffuser", "Supply air", "lay-in", "SA", heavy=True, supplied="diffusers", fed_by="ducts"),
    ServiceKind("return_grille", "Return air", "lay-in", "RA", heavy=True, supplied="grilles", fed_by="ducts"),
    ServiceKind(
        "sprinkler",
        "Sprinkler head",
        "cut-out",
        "H",
        cut_out_mm=50.0,
        cut_out_in=2.0,
        on_grid=False,
        supplied="sprinkler heads",
        fed_by="pipes",
    ),
    ServiceKind(
        "smoke_detector",
        "Smoke detector",
        "surface",
        "SD",
        shown_mm=(100.0, 100.0),
        shown_in=(4.0, 4.0),
        electric=True,
        supplied="smoke detectors",
    ),
    ServiceKind("speaker", "Loudspeaker", "cut-out", "SP", electric=True, supplied="loudspeakers"),
    ServiceKind(
        "exit_sign",
        "Exit sign",
        "surface",
        "EX",
        shown_mm=(300.0, 60.0),
        shown_in=(12.0, 2.5),
        electric=True,
        supplied="exit signs",
    ),
    ServiceKind("access_panel", "Access panel", "lay-in", "AP", supplied="access panels"),
)

KINDS = {kind.key: kind for kind in _ROWS}
