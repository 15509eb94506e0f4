"""Readers of answers: each turns a line into something kept and something shown, or says why it cannot be.

In: what a question needs to know. Out: a `read` for a `Question`. Rule: what the room file's own reader would refuse
is refused at the question, in its words; what could be but is probably a slip is doubted.
"""

from collections.abc import Callable, Mapping

from planner.asking.filling import BETWEEN, file_data
from planner.asking.question import Answers, Doubt, Outcome, Understood
from planner.asking.reading import both, read_choice, read_count, read_length, read_pair, read_share, tidy
from planner.asking.tapes import NONE
from planner.documents import Document
from planner.errors import InputError, PlannerError
from planner.room.reader import brief_from

Read = Callable[[str], Outcome]

_NOTHING = (NONE, "no", "skip", "-", "not known", "unknown", "don't know")
#: A wall shorter or longer than these is probably a slip; both can be.
SHORT_WALL_MM, LONG_WALL_MM = 150.0, 60_000.0


def words(most: int = 80) -> Read:
    """A name or a text on one line."""

    def read(line: str) -> Outcome:
        text = tidy(line)
        if len(text) > 1 and text[0] == text[-1] == '"':
            text = text[1:-1].strip()
        if not text or len(text) > most:
            raise PlannerError(f"{len(text)} signs.", mend=f"Write a name of 1 to {most} signs.")
        return Understood(text, text)

    return read


def choice(choices: Mapping[str, str], echoes: Mapping[str, str] | None = None) -> Read:
    """One of some words; the values are other words for each, with | between."""

    def read(line: str) -> Outcome:
        name = read_choice(line, choices)
        return Understood(name, (echoes or {}).get(name, name))

    return read


def length(units: str, *, small: bool = False, may_lack: bool = False, odd: tuple[float, float] | None = None) -> Read:
    """A length more than nothing; doubted outside `odd` (mm)."""

    def read(line: str) -> Outcome:
        if may_lack and tidy(line).lower() in _NOTHING:
            return Understood(NONE, "left out")
        text, mm = read_length(line, units, small=small)
        if mm == 0:
            raise PlannerError(f'"{text}" is nothing.', mend="Write the length as measured.")
        understood = Understood(text, both(mm, units, small=small))
        return doubted(understood, mm, units, odd) if odd else understood

    return read


def doubted(understood: Understood, mm: float, units: str, odd: tuple[float, float]) -> Outcome:
    if odd[0] <= mm <= odd[1]:
        return understood
    size = "short" if mm < odd[0] else "long"
    mend = "Write it again as it should be, with its unit; or yes, if it is so."
    return Doubt(understood, f"{both(mm, units)} is very {size}: was the unit meant so?", mend)


def distance(units: str) -> Read:
    """A length of nothing or more."""

    def read(line: str) -> Outcome:
        if tidy(line).lower() in _NOTHING:
            return Understood(NONE, "left out")
        text, mm = read_length(line, units, small=True)
        return Understood(text, both(mm, units, small=True))

    return read


def pair(units: str, *, small: bool = False, odd: tuple[float, float] | None = None) -> Read:
    """Two lengths, along the base wall and away from it."""

    def read(line: str) -> Outcome:
        one, other = read_pair(line, units, small=small)
        sides = f"{both(one[1], units, small=small)} by {both(other[1], units, small=small)}"
        understood = Understood(one[0] + BETWEEN + other[0], sides)
        small_side, large_side = sorted((one[1], other[1]))
        if small_side == 0:
            raise PlannerError("a side of nothing.", mend="Write both sides as measured.")
        outcome = doubted(understood, large_side, units, odd) if odd else understood
        return doubted(understood, small_side, units, odd) if odd and outcome is understood else outcome

    return read


def spot(units: str, corner: str, *, may_spread: bool = False) -> Read:
    """A place in the room: two lengths from the reference corner; or how many to spread, as in 3 x 2."""

    def read(line: str) -> Outcome:
        text = tidy(line)
        if may_spread and (counts := _counts(text, units)):
            across, deep = counts
            return Understood(f"spread {across}{BETWEEN}{deep}", f"{across} along by {deep} away, evenly spread")
        one, other = read_pair(text, units)
        return Understood(
            one[0] + BETWEEN + other[0],
            f"{both(one[1], units)} along, {both(other[1], units)} away from the base wall, from corner {corner}",
        )

    return read


def _counts(text: str, units: str) -> tuple[int, int] | None:
    """Two counts, said with `spread` before them, or without where bare numbers cannot be lengths."""
    plain = text.lower().removeprefix("spread").strip()
    if plain == text.lower() and units != "ft-in":
        return None
    parts = plain.replace("×", "x").split("x")
    if len(parts) != 2 or not all(part.strip().isdigit() for part in parts):
        return None
    return read_count(parts[0], 1, 100), read_count(parts[1], 1, 100)


def share() -> Read:
    """A share such as 5%."""

    def read(line: str) -> Outcome:
        text = read_share(line)
        return Understood(text, f"{text} more than needed")

    return read


def weight() -> Read:
    """A weight such as 18 lb, or none."""

    def read(line: str) -> Outcome:
        text = tidy(line)
        return Understood(NONE, "left out") if text.lower() in _NOTHING else Understood(text, text)

    return read


def borne_out(read: Read, given: Answers, key: str, *places: str) -> Read:
    """An answer that the reader of room files would take too, at the places of the file that it goes to."""

    def checked(line: str) -> Outcome:
        outcome = read(line)
        understood = outcome.answer if isinstance(outcome, Doubt) else outcome
        if isinstance(understood, Understood):
            _refuse_faults({**given, key: understood.keep}, places)
        return outcome

    return checked


def _refuse_faults(given: Answers, places: tuple[str, ...]) -> None:
    """PlannerError with the first complaint of the reader about one of the places."""
    data = file_data(given)
    if not data.get("room"):
        data["room"] = {"rectangle": ["10 m", "10 m"]}  # no shape yet: any room will do to judge the rest by
    try:
        brief_from(Document("room.yaml", data))
    except InputError as error:
        for complaint in error.complaints:
            if any(complaint.place == place or complaint.place.startswith(f"{place} ›") for place in places):
                raise PlannerError(complaint.problem, mend=complaint.mend) from error
