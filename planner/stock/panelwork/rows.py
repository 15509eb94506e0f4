"""So many kinds of pieces that ways to share a panel cannot be weighed one by one: rows alone, quickly.

In: the panel and the pieces in whole tenths, the kerf added, and the sides that show where they must be the factory's.
Out: a plan, and where the pieces of a pattern lie. Rule: pieces stand side by side in one row, each as if it were as
long as the panel, so that a panel is cut as a bar is. Where edges show, a piece that is no strip stands in a corner of
the panel, so that two come from one at most. The answer may be far from the best; the bound says how far at most.
"""

from collections.abc import Sequence

from planner.stock.barwork.ends import EndsNeeded
from planner.stock.covering.cover import Counts
from planner.stock.panelwork.guillotine import Placed, Size
from planner.stock.panelwork.reveal import Sides
from planner.stock.panelwork.strips import Plan, Strip, cut_row, rows_of, with_kinds

_Row = tuple[Sequence[Strip], int, bool]  #: strips, the room for them, whether they stand upright


class RowBench:
    """Panels of one size, and kinds of pieces."""

    def __init__(
        self, panel: Size, sizes: Sequence[Size], tees: Sequence[Sides] | None, *, turns: bool, kerf: int
    ) -> None:
        self._panel, self._sizes, self._kerf = panel, sizes, kerf
        self._tees, self._turns = tees, turns
        found = [(strips, room, self._stand(strips)) for strips, room in rows_of(panel, sizes, tees, turns)]
        left = sorted(set(range(len(sizes))) - {strip.kind for strips, _, _ in found for strip in strips})
        self._rows = _with_others(found, panel, [self._other(kind) for kind in left]) if left else found
        self._lying = {strip.kind for strips, _, standing in self._rows if not standing for strip in strips}
        self._strips = {strip.kind: strip for strips, _, _ in self._rows for strip in strips}

    def plan(self, demand: Sequence[int], budget_s: float) -> Plan:
        """Every row cut as a bar."""
        plan: Plan = []
        for strips, room, _ in self._rows:
            kinds = [strip.kind for strip in strips]
            part = cut_row(strips, [demand[kind] for kind in kinds], room, budget_s)
            plan += [(with_kinds(column, kinds), times) for column, times in part.plan]
        return plan

    def placed(self, counts: Counts) -> list[Placed]:
        """Where the pieces of a pattern lie: one after the other; what must keep the far side at that."""
        kinds = [kind for kind, n in counts for _ in range(n)]
        along = self._panel.height if kinds[0] in self._lying else self._panel.width
        lies: list[Placed] = []
        at = 0
        for strip in sorted((self._strips[kind] for kind in kinds), key=_turn):
            far = strip.need == "right" or (strip.need == "either" and bool(lies))
            lies.append(self._at(strip, along - strip.width if far else at, far=far))
            at += 0 if far else strip.width
        return lies

    def _stand(self, strips: Sequence[Strip]) -> bool:
        """Whether strips stand upright in their row; on square panels they can all be turned so."""
        square = self._panel.width == self._panel.height
        return (self._turns and square) or self._sizes[strips[0].kind].height == self._panel.height

    def _other(self, kind: int) -> Strip:
        """What is no strip: with its narrower side across the row if it may lie so, or at the side that it keeps."""
        size = self._sizes[kind]
        if self._tees is None:
            turned = self._turns and size.height < size.width <= self._panel.height
            return Strip(kind, size.height if turned else size.width, "none")
        tees = self._tees[kind]
        if {"left", "right"} <= tees or {"front", "back"} <= tees:
            return Strip(kind, self._panel.width, "both")  # no corner of a panel has three sides
        kept: EndsNeeded = "left" if "left" in tees else "right" if "right" in tees else "either"
        return Strip(kind, size.width, "either" if self._turns else kept)

    def _at(self, strip: Strip, at: int, *, far: bool) -> Placed:
        """A piece at a place along its row; turned where its narrower side goes across."""
        size = self._sizes[strip.kind]
        if strip.kind in self._lying:
            return Placed(strip.kind, 0, at, self._sawn(size), False)
        if self._tees is not None and size.height < self._panel.height and strip.width == size.width:
            high = self._stands_high(self._tees[strip.kind], far=far)
            return Placed(strip.kind, at, self._panel.height - size.height if high else 0, self._sawn(size), False)
        if strip.width == size.width or strip.need == "both":
            return Placed(strip.kind, at, 0, self._sawn(size), False)
        return Placed(strip.kind, at, 0, self._sawn(Size(size.height, size.width)), True)

    def _stands_high(self, tees: Sides, *, far: bool) -> bool:
        """Whether a piece in a corner keeps the upper side; half a turn takes it to the other side, upside down."""
        half_turn = self._turns and ("left" if far else "right") in tees
        return ("back" in tees) != (half_turn and bool(tees & {"front", "back"}))

    def _sawn(self, size: Size) -> Size:
        return Size(size.width - self._kerf, size.height - self._kerf)


def _with_others(rows: Sequence[_Row], panel: Size, others: Sequence[Strip]) -> list[_Row]:
    """The rows, with what is no strip among the upright ones."""
    upright = [strip for strips, _, standing in rows if standing for strip in strips]
    both = sorted([*upright, *others], key=lambda strip: (-strip.width, strip.kind))
    return [(both, panel.width, True), *(row for row in rows if not row[2])]


def _turn(strip: Strip) -> tuple[bool, bool, bool]:
    """From the near side on: what must be there or may be at either, what may lie anywhere, what must keep the far."""
    return (strip.need == "right", strip.need == "none", strip.need == "either")
