"""What is asked about the outline: a rectangle by two lengths, any other room by its corners and a tape.

In: answers so far. Out: questions in the order in which one would walk round the room. Rule: inside angles must add up
to as many half turns as there are corners, less two, before a single wall is taped.
"""

from collections.abc import Iterator

from planner.asking import answers
from planner.asking.question import Answers, Outcome, Question, Understood
from planner.asking.reading import read_count, tidy
from planner.asking.tape_questions import EXAMPLES, tape_questions
from planner.asking.tapes import MOST_WITHOUT, NONE, corners_of, outside_of, refuse_unknown
from planner.errors import PlannerError
from planner.room.naming import corner_names

MOST_CORNERS = 60

_SHAPES = {"rectangle": "r|rect|square|oblong", "taped": "t|tape|other|corners|l|walls"}


def shape_questions(given: Answers) -> Iterator[Question]:
    """Everything about the outline."""
    yield Question(
        "shape",
        "Is the room a rectangle, or another shape (or not quite square) to be taped wall by wall?",
        "rectangle: four walls, corners square; two lengths are all that is needed.\n"
        "taped: any other shape, such as an L, or a room whose corners you do not trust. You name the corners, tape "
        "the walls one after another, then a diagonal or two, and the planner finds the true shape.",
        answers.choice(_SHAPES, {"taped": "wall by wall, with a tape"}),
        usual="rectangle",
        short="Shape",
    )
    yield from _rectangle(given) if given["shape"] == "rectangle" else _taped(given)


def _rectangle(given: Answers) -> Iterator[Question]:
    told = (
        ("length", "How long is the base wall, A-B?", "This is the wall you measure everything from", 0),
        ("width", "How far is it to the wall opposite?", "This is the length of wall B-C, square to A-B", 1),
    )
    for key, ask, why, place in told:
        read = _one_length(answers.length(given["units"], odd=(500.0, answers.LONG_WALL_MM)))
        yield Question(
            key,
            ask,
            f"{why}, from finished wall to finished wall, at the height of the ceiling.\n{EXAMPLES}",
            answers.borne_out(read, given, key, "room › rectangle" if place else "room › rectangle › 1"),
            picture=place == 1,
            short=("Base wall A-B", "To the wall opposite")[place],
        )


def _one_length(read: answers.Read) -> answers.Read:
    """Say so plainly when somebody answers both sides at once."""

    def checked(line: str) -> Outcome:
        try:
            return read(line)
        except PlannerError:
            if any(mark in tidy(line).lower() for mark in (" x ", " by ", "×", ";")):
                mend = "Answer with one of them; the other is asked for by itself."
                raise PlannerError("that is two lengths.", mend=mend) from None
            raise

    return checked


def _taped(given: Answers) -> Iterator[Question]:
    yield Question(
        "corners",
        "How many corners has the room? (or name them, in order)",
        "Walk round the room once and count where the wall turns, both inwards and outwards; an L has 6. They are "
        "named A, B, C, ... on the way; write them on the wall or on your sketch. A-B becomes the wall to measure "
        "from, so begin at a corner where the tape is easy to hold.",
        _read_corners,
        usual="4",
        short="Corners",
    )
    yield Question(
        "walk",
        "Walking from A to B, on which hand is the room: left or right?",
        "left: you walk round counter-clockwise, seen from above, with your left hand towards the middle of the room.\n"
        "right: the other way round; your right hand is towards the middle.",
        answers.choice({"left": "l", "right": "r"}, {"left": "the room on the left", "right": "the room on the right"}),
        usual="left",
        short="Room on the hand",
    )
    yield from _turns(given)
    yield from tape_questions(given)


def _read_corners(line: str) -> Outcome:
    text = tidy(line).replace(",", " ").upper()
    if text.isdigit() or len(text.split()) == 1:
        names = corner_names(read_count(text, 3, MOST_CORNERS))
    else:
        names = tuple(text.split())
        wrong = [name for name in names if not name.isalnum() or len(name) > 4 or names.count(name) > 1]
        if wrong or not 3 <= len(names) <= MOST_CORNERS:
            problem = f"{wrong[0]} cannot name one corner." if wrong else f"{len(names)} corners cannot be."
            raise PlannerError(problem, mend="Name each corner once, as in  A B C D; or say how many there are.")
    return Understood(" ".join(names), f"{len(names)} corners: {' '.join(names)}")


def _turns(given: Answers) -> Iterator[Question]:
    """Which corners jut in, and which are not square."""
    corners = corners_of(given)
    expected = max(0, (len(corners) - 4) // 2)
    if len(corners) > MOST_WITHOUT:
        yield Question(
            "outside",
            f"Which corners jut into the room? ({expected} of them, if all corners are square)",
            "Stand in the middle of the room. A corner that points at you juts in (an outside corner: 270 degrees on "
            "the room's side); one that points away is an inside corner. An L has one that juts in, a T has two.",
            _read_some(corners),
            usual="" if expected else NONE,
            short="Jutting in",
        )
    outside = outside_of(given)
    usual = "" if len(corners) - 4 != 2 * len(outside) else NONE
    yield Question(
        "angles",
        "Any corner that is not square, by design? (with its inside angle, as in C 135)",
        "Only corners that are built at another angle, such as 135 degrees at a cut-off corner; the angle is the one "
        "on the room's side. Corners that are a little out of square need nothing: the diagonals find them.",
        _read_angles(corners, outside),
        usual=usual,
        short="Not square",
        remark="" if usual else _turns_missing(len(corners), len(outside)),
    )


def _turns_missing(corners: int, outside: int) -> str:
    fits = max(0, (corners - 4) / 2)
    need = f"{fits:g}" if fits == int(fits) and corners >= 4 else "another number"
    return (
        f"{corners} corners, {outside} of them jutting in, cannot all be square: that takes {need}. Give the angles "
        "of those that are not, or type back."
    )


def _read_some(corners: tuple[str, ...]) -> answers.Read:
    def read(line: str) -> Outcome:
        text = tidy(line).replace(",", " ").upper()
        names = [] if text in ("NONE", "NO", "-", "0") else list(dict.fromkeys(text.split()))
        refuse_unknown(names, corners)
        return Understood(" ".join(names) or NONE, ", ".join(names) or "none")

    return read


def _read_angles(corners: tuple[str, ...], outside: tuple[str, ...]) -> answers.Read:
    def read(line: str) -> Outcome:
        text = tidy(line).replace(",", " ").replace(":", " ").replace("=", " ").replace("°", " ").upper()
        parts = [] if text in ("NONE", "NO", "-", "0") else text.split()
        names, degrees = parts[::2], [_degrees(part) for part in parts[1::2]]
        if len(names) != len(degrees):
            raise PlannerError(f'"{tidy(line)}" is not corners with angles.', mend="Write  C 135, D 135;  or none.")
        refuse_unknown(names, corners)
        told = dict(zip(names, degrees, strict=True))
        for name in outside:
            if told.get(name, 270.0) <= 180.0:
                mend = f"Give the angle on the room's side, {360 - told[name]:g}; or type back."
                raise PlannerError(f"{name} juts in, but {told[name]:g} degrees does not.", mend=mend)
        _refuse_turns([told.get(name, 270.0 if name in outside else 90.0) for name in corners])
        kept = ", ".join(f"{name} {angle:g}" for name, angle in told.items())
        return Understood(kept or NONE, kept or "all square")

    return read


def _degrees(text: str) -> float:
    try:
        angle = float(text)
    except ValueError:
        angle = 0.0
    if not 1.0 <= angle <= 359.0:
        raise PlannerError(f'"{text}" is not an angle from 1 to 359 degrees.', mend="Write  C 135, D 135;  or none.")
    return angle


def _refuse_turns(inside: list[float]) -> None:
    """Once round the room, the inside angles add up to as many half turns as there are corners, less two."""
    needed = (len(inside) - 2) * 180.0
    if abs(sum(inside) - needed) > 10.0:
        problem = (
            f"the inside angles of {len(inside)} corners add up to {needed:g} degrees; these make {sum(inside):g}."
        )
        raise PlannerError(problem, mend="Give each corner that is not square with its angle; or type back.")
