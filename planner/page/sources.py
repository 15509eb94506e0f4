"""What each part is cut from and held by: looked up once for the whole plan, so that work grows with the parts.

In: a `Plan`. Out: for a panel or a member, in words, the bought panel or bars and what else comes off them; hangers.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable

from planner.drawing import words
from planner.drawing.dimensions import piece_said
from planner.drawing.panel_marks import panel_class
from planner.planning import Plan
from planner.records import dataclass

_MOST_NAMES = 6


@dataclass(frozen=True, slots=True)
class _Cut:
    """A piece that comes off a bar."""

    item: str
    bar: int  #: as numbered in the cutting list
    length: float
    whole: bool


class Sources:
    """Where the pieces of a plan come from."""

    def __init__(self, plan: Plan) -> None:
        self._units = plan.room.units
        self._together: dict[str, tuple[str, ...]] = {}
        self._cuts: dict[str, list[_Cut]] = defaultdict(list)
        self.classes = Counter(panel_class(panel) for panel in plan.ceiling.panels)  #: how many are cut alike
        self.members = {member.id: member for member in plan.ceiling.members}
        self._hangers: dict[str, list[str]] = defaultdict(list)
        self._findings: dict[str, list[str]] = defaultdict(list)
        for finding in plan.findings:
            for k, letter in enumerate(finding.message):
                if letter == ":":  # names may have colons of their own
                    self._findings[finding.message[:k]].append(finding.message)
        for hanger in plan.ceiling.hangers:
            self._hangers[hanger.member].append(hanger.id)
        for panel in plan.stock.panels.panels if plan.stock.panels else ():
            names = tuple(piece.panel for piece in panel.pieces)
            self._together |= dict.fromkeys(names, names)
        for cutting in plan.stock.cutting:
            for number, bar in enumerate(cutting.bars, 1):
                for piece in bar.pieces:
                    whole = cutting.is_whole(piece.length)
                    self._cuts[piece.member].append(_Cut(cutting.item, number, piece.length, whole))

    def hangers(self, name: str) -> list[str]:
        """The hangers that hold a member or a service."""
        return self._hangers.get(name, [])

    def of_panel(self, name: str) -> str:
        """The bought panel that a cut one comes off; empty where the plan does not say."""
        names = self._together.get(name)
        if names is None:
            return ""
        others = [other for other in dict.fromkeys(names) if other != name]
        return words.say("page.with others", names=_listed(others)) if others else words.say("page.of its own")

    def findings(self, name: str) -> list[str]:
        """What is told of a service by its name."""
        return self._findings.get(name, [])

    def of_member(self, name: str) -> str:
        """The bars that the sawn pieces of a member come off; empty where none is sawn, or pieces are shared."""
        return "; ".join(
            words.say(
                "page.bar said",
                item=words.named(cut.item),
                n=cut.bar,
                length=piece_said(cut.length, self._units, whole=cut.whole),
            )
            for cut in self._cuts.get(name, ())[:_MOST_NAMES]
        )


def _listed(names: Iterable[str]) -> str:
    kept = list(names)
    more = len(kept) - _MOST_NAMES
    shown = ", ".join(kept[:_MOST_NAMES])
    return words.say("page.and more", names=shown, n=more) if more > 0 else shown
