"""Standard scales, and the largest that fits.

In: how large something is drawn at each scale, and the room on the paper. Out: a `Scale` with the name that is printed.
Metric: ISO 5455 reductions (1:2, 1:5, 1:10 and ten times each), and 1:25, not among them but usual in building.
US: architect's scales 1-1/2" to 1/8" to the foot as drafting manuals list them (1/4" = 1'-0" is 1:48, 1/8" is 1:96),
smaller ones and the engineer's 1" = 20' to 100' from memory.
"""

from collections.abc import Callable, Iterable

from planner.records import dataclass

Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Scale:
    """One length on paper for `denominator` such lengths in the room."""

    denominator: float
    imperial: str = ""  #: e.g. 1/4" = 1'-0"

    @property
    def ratio(self) -> str:
        return f"1:{self.denominator:g}"

    @property
    def name(self) -> str:
        """As printed: 1:50, or 1/4" = 1'-0" (1:48)."""
        return f"{self.imperial} ({self.ratio})" if self.imperial else self.ratio


METRIC = tuple(Scale(float(n)) for n in (2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000))
IMPERIAL = (
    *(
        Scale(float(n), f'{inches}" = 1\'-0"')
        for n, inches in (
            (4, "3"),
            (8, "1 1/2"),
            (12, "1"),
            (16, "3/4"),
            (24, "1/2"),
            (32, "3/8"),
            (48, "1/4"),
            (64, "3/16"),
            (96, "1/8"),
            (128, "3/32"),
            (192, "1/16"),
        )
    ),
    *(Scale(12.0 * feet, f'1" = {feet}\'-0"') for feet in (20, 30, 40, 50, 60, 100, 200, 400)),
)


def standard_scales(imperial: bool) -> tuple[Scale, ...]:
    """The standard scales of one system of units, largest first."""
    return IMPERIAL if imperial else METRIC


def scale_of(denominator: float, imperial: bool) -> Scale:
    """The scale 1:`denominator`, with its name in feet and inches where it is one of those and the job is in them."""
    known = (scale for scale in standard_scales(imperial) if scale.denominator == denominator)
    return next(known, Scale(denominator))


def largest_that_fits(need: Callable[[Scale], Size], space: Size, scales: Iterable[Scale]) -> Scale | None:
    """The first of `scales` at which what is drawn fits `space`; `need` is its size at a scale, paper millimetres."""
    return next((s for s in scales if all(n <= room for n, room in zip(need(s), space, strict=True))), None)
