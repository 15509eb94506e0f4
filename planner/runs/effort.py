"""How long to search: counted in work, never in time, so that the same input gives the same plan everywhere.

Work is counted in strokes. A stroke is about what one core did in a microsecond, measured in 2026-11; where work is
counted its strokes are given as measured there. Nobody looks at a clock: on a slow or a busy machine the same search
takes longer, and finds the same.
"""

#: So many strokes are taken for a second that somebody wants to wait.
STROKES_A_SECOND = 1_000_000


class Effort:
    """What may still be spent on a search; a part of an effort is spent from the whole, too."""

    __slots__ = ("_whole", "left")

    def __init__(self, strokes: int, whole: "Effort | None" = None) -> None:
        self.left, self._whole = strokes, whole

    @classmethod
    def of(cls, seconds: float) -> "Effort":
        """As much work as takes about so many seconds."""
        return cls(round(seconds * STROKES_A_SECOND))

    @property
    def spent(self) -> bool:
        """Whether nothing is left; what was begun may have taken more than there was."""
        return self.left <= 0

    def part(self, share: float) -> "Effort":
        """A share of what is left."""
        return Effort(int(self.left * share), self)

    def spend(self, strokes: int) -> None:
        self.left -= strokes
        if self._whole is not None:
            self._whole.spend(strokes)
