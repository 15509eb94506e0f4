"""What can be drawn of the room so far.

In: answers. Out: a `View` for the picture, or None as long as there is no shape. Rule: what is drawn is what the
planner's own reader makes of the answers; what cannot be placed yet is left out.
"""

from planner.asking.filling import file_data, numbers
from planner.asking.picture import View
from planner.asking.question import Answers
from planner.asking.tapes import LINE, walls
from planner.documents import Document
from planner.errors import PlannerError
from planner.room.brief import Brief
from planner.room.reader import brief_from
from planner.room.service_kinds import KINDS

#: Answers that a picture needs; the rest may still be missing or wrong.
_SHAPE = ("job", "units", "room", "services")


def view_of(given: Answers) -> View | None:
    """The room so far; None as long as it has no shape, or none that can be."""
    if given.get("shape") == "taped" and not _walked(given):
        return None
    data = {key: value for key, value in file_data(given).items() if key in _SHAPE}
    if "room" not in data:
        return None
    brief = _read(data) or _read({key: value for key, value in data.items() if key != "services"})
    if brief is None:
        return None
    room = brief.room
    marks = [(_sign(wish.kind), point) for wish in brief.services if (point := wish.at or wish.near) is not None]
    return View(room.outline, room.corners, tuple(column.outline for column in room.columns), tuple(marks))


def begun(given: Answers) -> bool:
    """Whether a wall was taped."""
    return any(key.startswith(LINE) for key in given)


def _walked(given: Answers) -> bool:
    """Whether every wall of a taped room was asked for."""
    return "corners" in given and all(LINE + wall in given for wall in walls(given))


def _read(data: dict[str, object]) -> Brief | None:
    try:
        return brief_from(Document("room.yaml", data))
    except PlannerError:
        return None


def _sign(kind: str) -> str:
    """One letter for a kind of service: the first of its name."""
    return KINDS[kind].prefix[0]


def key_of(given: Answers) -> str:
    """What the letters in the picture stand for; empty when there are none."""
    kinds = dict.fromkeys(given[f"service {number}"] for number in numbers(given, "service"))
    return ", ".join(f"{_sign(kind)} {KINDS[kind].label.lower()}" for kind in kinds)
