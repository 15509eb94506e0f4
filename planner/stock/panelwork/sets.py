"""Which pieces may share a panel, by their true shapes, and where they lie there.

In: the forms of the pieces, the panel, the kerf. Out: for a set of forms its places on a panel, or that there are
none, or that nobody knows. Pieces lie square in the panel, with their sides on tees along its own edges; where these
edges are hidden on the flanges anyway, they may lie elsewhere too, if else they would not fit. They are parted by
straight cuts right across what is being cut, or by the two cuts that make a notch.
"""

from shapely import Polygon, affinity

from planner.records import dataclass
from planner.runs.effort import Effort
from planner.stock.covering.cover import Counts
from planner.stock.panelwork.fitting import fit, may_fit
from planner.stock.panelwork.forms import DOUBT_MM, Form, Lie, lies_of
from planner.stock.panelwork.parting import parted

#: Turns of pieces that are tried for one set; with more nobody knows.
MOST_TURNS = 600


@dataclass(frozen=True, slots=True)
class Spot:
    """A piece on a panel."""

    form: int
    at: tuple[float, float]  #: lower left corner of its box
    size: tuple[float, float]  #: as it lies
    quarters: int  #: quarter turns to the left, against the way it lies at home


@dataclass(frozen=True, slots=True)
class Answer:
    """Whether a set fits; where both are false nobody knows."""

    spots: tuple[Spot, ...] = ()
    no: bool = False


class Sets:
    """The forms of a job, and what is known of sets of them."""

    def __init__(self, forms: list[Form], panel: tuple[float, float], kerf: float, *, turns: bool, kept: bool) -> None:
        self._forms, self._panel, self._kerf, self._kept = forms, panel, kerf, kept
        self._square = abs(panel[0] - panel[1]) <= DOUBT_MM
        self._turns = turns
        self._lies = {
            rule: [list(lies_of(form, k, panel, self._quarters(form, rule), kept=rule)) for k, form in enumerate(forms)]
            for rule in (True, False)
        }
        self._pairs: dict[tuple[bool, int, int, int, int], bool] = {}

    def _quarters(self, form: Form, kept: bool) -> tuple[int, ...]:
        if not self._turns:
            return (0,)
        if kept and not self._square:
            return (0, 2)
        if form.plain and not kept:
            return (0, 1) if abs(form.size[0] - form.size[1]) > DOUBT_MM else (0,)
        return (0, 1, 2, 3)

    def pair_may(self, one: int, other: int, effort: Effort) -> bool:
        """Whether two forms may share a panel, however they are turned."""
        if self._forms[one].area + self._forms[other].area > self._panel[0] * self._panel[1]:
            return False
        rule = self._kept
        return any(
            self._may(rule, a, b, effort) for a in self._first(self._lies[rule][one]) for b in self._lies[rule][other]
        )

    def answer(self, counts: Counts, effort: Effort) -> Answer:
        """Look for places for a set."""
        found = self.on_edges(counts, effort)
        return found if found.spots or self._kept else self._search(self._pieces(counts), False, effort)

    def on_edges(self, counts: Counts, effort: Effort) -> Answer:
        """Look for places for a set where all sides on tees lie on edges of the panel."""
        return self._search(self._pieces(counts), True, effort)

    def _pieces(self, counts: Counts) -> list[int]:
        """The forms of a set one by one, the largest first."""
        pieces = [form for form, n in counts for _ in range(n)]
        return sorted(pieces, key=lambda form: -self._forms[form].area)

    def _search(self, pieces: list[int], rule: bool, effort: Effort) -> Answer:
        """Try all turns of the pieces, the panel's own turns once."""
        all_no, tried = True, 0
        stack: list[tuple[Lie, ...]] = [(lie,) for lie in reversed(self._first(self._lies[rule][pieces[0]]))]
        while stack:
            lies = stack.pop()
            if len(lies) < len(pieces):
                stack += reversed([(*lies, lie) for lie in self._next(lies, pieces[len(lies)], rule, effort)])
                continue
            tried += 1
            if tried > MOST_TURNS or effort.spent:
                return Answer()
            places = fit(lies, self._kerf, effort)
            if places == "no":
                continue
            all_no = False
            if places is not None:
                spots = tuple(Spot(lie.form, at, lie.size, lie.quarters) for lie, at in zip(lies, places, strict=True))
                if parted([self._outline(spot) for spot in spots]):
                    return Answer(spots)
        return Answer(no=all_no)

    def _next(self, lies: tuple[Lie, ...], form: int, rule: bool, effort: Effort) -> list[Lie]:
        """The ways the next piece may lie beside those before it; of two alike the second is turned no less."""
        return [
            lie
            for lie in self._lies[rule][form]
            if not (len(lies) > 1 and lies[-1].form == form and lie.quarters < lies[-1].quarters)
            and all(self._may(rule, before, lie, effort) for before in lies)
        ]

    def _first(self, lies: list[Lie]) -> list[Lie]:
        """Of the ways that the first piece may lie those that the whole panel cannot be turned into."""
        if not self._turns:
            return lies
        return [lie for lie in lies if lie.quarters == 0 or (lie.quarters == 1 and not self._square)]

    def _may(self, rule: bool, one: Lie, other: Lie, effort: Effort) -> bool:
        key = (rule, one.form, one.quarters, other.form, other.quarters)
        if key not in self._pairs:
            self._pairs[key] = may_fit(one, other, self._kerf, effort)
        return self._pairs[key]

    def _outline(self, spot: Spot) -> list[Polygon]:
        """The convex parts of a piece where it lies."""
        lies = [*self._lies[False][spot.form], *self._lies[True][spot.form]]
        parts = next(lie.parts for lie in lies if lie.quarters == spot.quarters)
        return [affinity.translate(Polygon(part), *spot.at) for part in parts]
