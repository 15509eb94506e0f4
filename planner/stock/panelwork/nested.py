"""The fewest panels for pieces of which some are no rectangles, packed by their true shapes, with an honest bound.

In: forms and how many are wanted of each. Out: sets of pieces with their places, how many panels they take, and how
many are needed at least. Rule: first every set that may share a panel is listed: any two of it fit together, and its
area is a panel's at most. The fewest of such sets is a bound. Then for the sets that were chosen places are looked for;
sets that turn out not to fit are struck off, and it is chosen anew, until all fit or the effort is spent.
"""

from collections.abc import Iterator, Sequence

from planner.records import dataclass
from planner.runs.effort import Effort
from planner.stock.covering.cover import Column, Counts
from planner.stock.panelwork.forms import Form
from planner.stock.panelwork.sets import Answer, Sets, Spot

#: More forms are not packed; with more sets of them only the area is a bound.
MOST_FORMS, MOST_SETS = 100, 30_000
#: With more sets it is not asked which of equally few panels keep their edges; a panel is worth so many of these.
MOST_ON_EDGES, ON_EDGES = 600, 1_000
#: Strokes that it takes to list a set.
LIST = 12


@dataclass(frozen=True, slots=True)
class _Wanted:
    """So many pieces of each form, from panels that all cost the same."""

    demand: tuple[int, ...]
    costs: tuple[int, ...] = (1,)
    limits: tuple[int | None, ...] = (None,)


@dataclass(frozen=True, slots=True)
class Nested:
    """Panels by true shapes; `plan` is empty where nothing better was found than what was known."""

    plan: tuple[tuple[tuple[Spot, ...], int], ...]
    bound: int


def by_area(forms: Sequence[Form], demand: Sequence[int], panel: tuple[float, float]) -> int:
    """Panels that the true area of the pieces would fill."""
    area = sum(form.area * n for form, n in zip(forms, demand, strict=True))
    return int(-(-area * (1 - 1e-9) // (panel[0] * panel[1])))


def nest(
    forms: list[Form], demand: Sequence[int], panel: tuple[float, float], sets: Sets, known: int, effort: Effort
) -> Nested:
    """Find fewer panels than are known, and what is needed at least."""
    bound = by_area(forms, demand, panel)
    if bound >= known:
        return Nested((), min(bound, known))
    listed = _listed(forms, demand, panel, sets, effort)
    return Nested((), bound) if listed is None else _Choice(listed, demand, sets, effort).best(bound, known)


def _listed(
    forms: Sequence[Form], demand: Sequence[int], panel: tuple[float, float], sets: Sets, effort: Effort
) -> list[Counts] | None:
    """Sets of which any two fit together and whose area is a panel's at most; None where there are too many."""
    room = panel[0] * panel[1] * (1 + 1e-9)
    may = [[sets.pair_may(k, j, effort) for j in range(k + 1)] for k in range(len(forms))]
    found: list[Counts] = []
    fresh: list[tuple[Counts, float]] = [(((k, 1),), form.area) for k, form in enumerate(forms)]
    while fresh:
        found += [counts for counts, _ in fresh]
        effort.spend(LIST * len(fresh))
        if len(found) > MOST_SETS or effort.spent:
            return None
        fresh = [
            (more, area + forms[more[-1][0]].area)
            for counts, area in fresh
            for more in _one_more(counts, demand, may)
            if area + forms[more[-1][0]].area <= room
        ]
    return found


def _one_more(counts: Counts, demand: Sequence[int], may: Sequence[Sequence[bool]]) -> Iterator[Counts]:
    """The set with a piece more, of its last form or a later one."""
    last, count = counts[-1]
    if count < demand[last] and may[last][last]:
        yield (*counts[:-1], (last, count + 1))
    for form in range(last + 1, len(demand)):
        if all(may[form][other] for other, _ in counts):
            yield (*counts, (form, 1))


class _Choice:
    """The sets that are still in question, and what is known of each."""

    def __init__(self, listed: list[Counts], demand: Sequence[int], sets: Sets, effort: Effort) -> None:
        self._listed, self._demand, self._sets, self._effort = listed, demand, sets, effort
        self._known: dict[Counts, Answer] = {}
        self._no: list[Counts] = []  #: sets that were found not to fit since something was struck off

    def best(self, bound: int, known: int) -> Nested:
        """Choose, look, strike off, until what is chosen fits or is no better than what is known."""
        sure = True  #: nothing was struck off that might fit
        while not self._effort.spent:
            found, exact = self._fewest(bound)
            if found is None:
                return Nested((), bound if not (sure and exact) else known)
            count = sum(times for _, times in found)
            if sure and exact:
                bound = max(bound, min(count, known))
            if count >= known:
                return Nested((), min(bound, known))
            answers = [(self._answer(counts), times) for counts, times in found]
            if all(answer.spots for answer, _ in answers):
                plan = self._on_edges(count) or answers
                return Nested(tuple((answer.spots, times) for answer, times in plan), bound)
            sure = self._strike([counts for counts, _ in found]) and sure
        return Nested((), min(bound, known))

    def _on_edges(self, count: int) -> list[tuple[Answer, int]] | None:
        """As few panels, of which fewest hold pieces away from the panel's own edges; None where that is not known."""
        from planner.stock.covering.master import whole

        if len(self._listed) > MOST_ON_EDGES:
            return None
        kept = {counts: self._sets.on_edges(counts, self._effort) for counts in self._listed}
        free = {counts: answer for counts, answer in self._known.items() if answer.spots}
        columns = [Column(0, counts) for counts, answer in kept.items() if answer.spots]
        columns += [Column(1, counts) for counts in free if counts not in kept or not kept[counts].spots]
        wanted = _Wanted(tuple(self._demand), (ON_EDGES, ON_EDGES + 1), (None, None))
        found = whole(wanted, columns, 0, 1, self._effort).plan
        plan = [] if found is None else _exact(found, self._demand)
        if sum(times for _, times in plan) != count:
            return None
        answers = [(self._on_edges_or_free(counts), times) for counts, times in plan]
        return answers if all(answer.spots for answer, _ in answers) else None

    def _on_edges_or_free(self, counts: Counts) -> Answer:
        found = self._sets.on_edges(counts, self._effort)
        return found if found.spots else self._answer(counts)

    def _answer(self, counts: Counts) -> Answer:
        """What is known of a set; if already some of its largest pieces do not fit, it does not."""
        for part in _growing(counts):
            if part not in self._known:
                self._known[part] = self._sets.answer(part, self._effort)
            if self._known[part].no:
                self._no.append(part)
                return Answer(no=True)
        return self._known[counts]

    def _strike(self, chosen: Sequence[Counts]) -> bool:
        """Strike off what does not fit, with all that holds it; if that is none, what nobody knows of: then False."""
        out = self._no or [counts for counts in chosen if not self._known[counts].spots]
        self._listed = [counts for counts in self._listed if not any(_holds(counts, each) for each in out)]
        sure, self._no = bool(self._no), []
        return sure

    def _fewest(self, bound: int) -> tuple[list[tuple[Counts, int]] | None, bool]:
        """The fewest sets that hold all pieces, and whether none fewer do."""
        from planner.stock.covering.master import whole  # loaded only where shapes are packed

        columns = [Column(0, counts) for counts in _fullest(self._listed)]
        found = whole(_Wanted(tuple(self._demand)), columns, bound, 1, self._effort)
        plan = None if found.plan is None else _exact(found.plan, self._demand)
        return plan, found.exact or (plan is not None and sum(times for _, times in plan) <= bound)


def _growing(counts: Counts) -> Iterator[Counts]:
    """A set from its three largest pieces on, one piece more each time; any two are known to fit."""
    pieces = [form for form, n in counts for _ in range(n)]
    for size in range(min(3, len(pieces)), len(pieces) + 1):
        some = pieces[:size]
        yield tuple((form, some.count(form)) for form in dict.fromkeys(some))


def _fullest(listed: Sequence[Counts]) -> list[Counts]:
    """Those to which none of the others adds a piece."""
    less = {
        tuple((form, n - (form == one)) for form, n in counts if n > 1 or form != one)
        for counts in listed
        for one, _ in counts
    }
    return [counts for counts in listed if counts not in less]


def _holds(counts: Counts, other: Counts) -> bool:
    mine = dict(counts)
    return all(mine.get(form, 0) >= n for form, n in other)


def _exact(plan: Sequence[tuple[Column, int]], demand: Sequence[int]) -> list[tuple[Counts, int]]:
    """The plan with nothing beyond what is wanted."""
    left, counted = list(demand), dict[Counts, int]()
    for column, times in plan:
        for _ in range(times):
            counts = tuple((form, n) for form, n in ((f, min(n, left[f])) for f, n in column.counts) if n)
            for form, n in counts:
                left[form] -= n
            if counts:
                counted[counts] = counted.get(counts, 0) + 1
    return sorted(counted.items())
