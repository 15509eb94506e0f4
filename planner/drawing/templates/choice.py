"""Which templates there are: one for each different piece, with all the panels it serves.

In: a plan, what is asked for, and the side that is cut from. Out: `Template`s in the order of the panels' ids.
Panels of one class share one, which shows the smallest of them; where edges as bought lie on other sides there is one
for each way, since the arrow to the reference corner and the pattern of the face would point elsewhere. Plain
rectangles are left out unless asked.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from planner.ceiling.model import Panel
from planner.drawing.templates.clearance import piece_of
from planner.drawing.templates.openings import Openings
from planner.drawing.templates.piece import Piece, face_up
from planner.errors import PlannerError
from planner.geometry import TOLERANCE_MM
from planner.planning import Plan
from planner.records import dataclass

_NEAREST = 3
_CLASSES = 40  #: of the classes of panels so many are told


@dataclass(frozen=True, slots=True)
class Template:
    """One piece at full size, and the panels that are cut by it."""

    piece: Piece
    panels: tuple[str, ...]

    @property
    def name(self) -> str:
        """The id of the first panel, fit for a file name."""
        return self.panels[0]


def templates_of(
    plan: Plan, wanted: Sequence[str] = (), *, everything: bool = False, from_back: bool = False
) -> tuple[Template, ...]:
    """The templates of a plan: for the wanted panels (ids or class letters), else for all that need one.

    PlannerError for a panel that this room does not have, with the nearest ids, and for one of which nothing is left.
    """
    asked = asked_for(plan, wanted)
    openings = Openings(plan)
    shapes: defaultdict[tuple[object, ...], list[Piece]] = defaultdict(list)
    classes = {letters_of(name) for name in asked}
    for panel in plan.ceiling.panels:
        if not (everything or letters_of(panel.id) in classes or (not wanted and _needs_one(panel))):
            continue
        piece = piece_of(openings, panel)
        if piece is not None:
            shapes[_signature(piece)].append(piece)
        elif panel.id in asked:
            raise _nothing_left(panel)
    found = [Template(_least(pieces), tuple(piece.panel for piece in pieces)) for pieces in shapes.values()]
    kept = [each for each in found if not wanted or asked & set(each.panels)]
    return tuple(each if from_back else Template(face_up(each.piece), each.panels) for each in kept)


def _needs_one(panel: Panel) -> bool:
    """False where two numbers cut a panel."""
    return bool(panel.cutouts) or panel.shape != "plain"


def _least(pieces: Sequence[Piece]) -> Piece:
    """Of pieces that are cut alike the smallest: the others have room for it."""
    return min(pieces, key=lambda piece: round(piece.shape.area))


def asked_for(plan: Plan, wanted: Iterable[str]) -> frozenset[str]:
    """The ids that a list of ids and class letters means; PlannerError for what is not there."""
    panels = plan.ceiling.panels
    known = {panel.id: panel for panel in panels}
    asked: set[str] = set()
    for word in wanted:
        name = word.strip().lower()
        group = {panel.id for panel in panels if letters_of(panel.id) == name}
        if word.strip() != name and (name in known or group):
            _refuse_other(plan, word.strip(), name)
        if name not in known and not group:
            raise _unknown(word, tuple(known), {letters_of(panel.id) for panel in panels}, plan.room.name)
        asked |= group or {name}
    return frozenset(asked)


def _refuse_other(plan: Plan, word: str, name: str) -> None:
    """Refuse what is, letter for letter, no panel but something else; PlannerError. P1 may be a pipe, p1 a panel."""
    ceiling, columns = plan.ceiling, plan.room.columns
    others = {each.id: each.kind for each in ceiling.members} | {each.name: "column" for each in columns}
    others |= {each.name: "service" for each in ceiling.services}
    if word in others:
        raise PlannerError(
            f"{word} is a {others[word]} here, not a panel.", where="PANEL", mend=f"Write {name} if the panel is meant."
        )


def letters_of(name: str) -> str:
    """The class letters of a panel's id; panels of one class have the same outline."""
    return name.rstrip("0123456789") or name


def _unknown(word: str, ids: Sequence[str], classes: set[str], room: str) -> PlannerError:
    shown = word.strip()[:20]
    if not ids:
        return PlannerError(f'no panel is cut in "{room}", so there is no panel {shown}.', where="PANEL")
    name = word.strip().lower()
    letters = letters_of(name)
    if letters in classes:
        count = sum(letters_of(each) == letters for each in ids)
        has = f"Class {letters} has {letters}1" + (f" to {letters}{count}." if count > 1 else " alone.")
    else:
        near = get_close_matches(name, ids, n=_NEAREST, cutoff=0.0)
        listed = sorted(classes, key=lambda each: (len(each), each))
        more = f" and {len(listed) - _CLASSES} more" if len(listed) > _CLASSES else ""
        has = f"Nearest: {', '.join(near)}. Classes here: {', '.join(listed[:_CLASSES])}{more}."
    mend = f"{has} Whole panels have no id. The ceiling plan shows every id."
    return PlannerError(f'there is no cut panel "{shown}" in "{room}".', where="PANEL", mend=mend)


def _nothing_left(panel: Panel) -> PlannerError:
    return PlannerError(
        f"the opening of panel {panel.id} is narrower than the gap its seat takes; nothing is left to cut.",
        where="PANEL",
        mend="Move the grid, or leave this strip to the wall angle.",
    )


def _signature(piece: Piece) -> tuple[object, ...]:
    """The same for pieces that one template serves: the class, and the sides that stay as bought."""
    box = piece.box
    ends = {"left": box.left, "right": box.right, "bottom": box.bottom, "top": box.top}
    kept = {
        name
        for side in piece.sides
        if side.factory
        for name, end in ends.items()
        if all(abs(point[0 if name in ("left", "right") else 1] - end) <= TOLERANCE_MM for point in side.points)
    }
    return letters_of(piece.panel), tuple(sorted(kept))
