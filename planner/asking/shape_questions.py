"""What is asked about the outline: a rectangle by two lengths, any other room by its corners and a tape.

In: answers so far. Out: questions in the order in which one would walk round the room. Rule: inside angles must add up
to as many half turns as there are corners, less two, before a single wall is taped.
"""

import re
from collections.abc import Iterator

from planner.asking import answers
from planner.asking.question import Answers, Doubt, Outcome, Question, Understood
from planner.asking.reading import read_count, tidy
from planner.asking.tape_questions import EXAMPLES, tape_questions
from planner.asking.tapes import MOST_WITHOUT, NONE, UNKNOWN, corners_of, outside_of, refuse_unknown, shared
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
            f"Which corners jut into the room? ({_expected_words(len(corners), expected)})",
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
        "Any corner that is not square, by design? (C 135 D 135; or only C D where the angle is not known)",
        "Only corners that are built at another angle, such as 135 degrees at a cut-off corner; the angle is the one "
        "on the room's side. Where you do not know it name the corner alone: the walls and diagonals find it. Corners "
        "that are a little out of square need nothing: the diagonals find them too.",
        _read_angles(corners, outside),
        usual=usual,
        short="Not square",
        remark="" if usual else _turns_missing(len(corners), len(outside)),
        picture=True,
    )


def _turns_missing(corners: int, outside: int) -> str:
    fits = max(0, (corners - 4) / 2)
    if corners % 2:
        return f"{corners} corners cannot all be square. Name those that are not."
    need = f" That takes {fits:g}." if corners >= 4 else ""
    return (
        f"{corners} corners, {outside} of them jutting in, cannot all be square.{need} Name those that are not square, "
        "or type back."
    )


def _expected_words(corners: int, expected: int) -> str:
    if corners % 2:
        return "none where none does"
    return f"{expected} of them, if all corners are square"


def _parts(line: str, corners: tuple[str, ...]) -> list[str]:
    """Names and numbers of an answer, as in "C 135, D=135", "C135 and D", "C & D"; nothing for none."""
    found = list[str]()
    for part in re.split(r"[\s,;:=°&+/]+", tidy(line).upper().replace("DEGREES", " ")):
        glued = re.fullmatch(r"([A-Z]+)(\d[\d.]*)", part)
        found += [glued[1], glued[2]] if glued and part not in corners and glued[1] in corners else [part]
    words = [part for part in found if part not in ("", "AND", "Y", "ONLY") or part in corners]
    return [] if words in (["NONE"], ["NO"], ["-"], ["0"]) else words


def _read_some(corners: tuple[str, ...]) -> answers.Read:
    def read(line: str) -> Outcome:
        names = list(dict.fromkeys(_parts(line, corners)))
        refuse_unknown(names, corners)
        return Understood(" ".join(names) or NONE, ", ".join(names) or "none")

    return read


def _read_angles(corners: tuple[str, ...], outside: tuple[str, ...]) -> answers.Read:
    def read(line: str) -> Outcome:
        parts = _parts(line, corners)
        if parts and parts[0] not in corners and _is_number(parts[0]):
            raise PlannerError(f'"{tidy(line)}" names no corner.', mend=_ANGLES_SO)
        names, told = _paired(parts)
        refuse_unknown(names, corners)
        open_ones = [name for name in names if name not in told]
        told |= shared(corners, told, outside, open_ones) if open_ones else {}
        for name in outside:
            if told.get(name, 270.0) <= 180.0:
                mend = f"Give the angle on the room's side, {360 - told[name]:g}; or type back."
                raise PlannerError(f"{name} juts in, but {told[name]:g} degrees does not.", mend=mend)
        _refuse_turns([told.get(name, 270.0 if name in outside else 90.0) for name in corners])
        kept = ", ".join(f"{name} {UNKNOWN if name in open_ones else format(told[name], 'g')}" for name in names)
        echo = ", ".join(f"{name} to be found" if name in open_ones else f"{name} {told[name]:g}" for name in names)
        understood = Understood(kept or NONE, echo or "all square")
        if (
            open_ones
            and len(corners) > MOST_WITHOUT
            and all(abs(told[name] - (270.0 if name in outside else 90.0)) < 1.0 for name in open_ones)
        ):
            problem = f"with all others square, {' and '.join(open_ones)} would be square too, or cancel out."
            return Doubt(understood, problem, "Name every corner that is not square; or yes, if it is so.")
        return understood

    return read


_ANGLES_SO = "Write  C 135 D 135,  or  C D  where the angles are not known,  or none."


def _paired(parts: list[str]) -> tuple[list[str], dict[str, float]]:
    """Corners in order, and the angles of those that have one."""
    names, told = list[str](), dict[str, float]()
    for part in parts:
        if part == UNKNOWN:
            continue
        if not _is_number(part):
            if part in names:
                raise PlannerError(f"{part} is named twice.", mend=_ANGLES_SO)
            names.append(part)
        elif names and names[-1] not in told:
            told[names[-1]] = _degrees(part)
        else:
            raise PlannerError(f'"{part}" follows no corner.', mend=_ANGLES_SO)
    return names, told


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _degrees(text: str) -> float:
    angle = float(text)
    if not 1.0 <= angle <= 359.0:
        raise PlannerError(f'"{text}" is not an angle from 1 to 359 degrees.', mend=_ANGLES_SO)
    return angle


def _refuse_turns(inside: list[float]) -> None:
    """Once round the room, the inside angles add up to as many half turns as there are corners, less two."""
    needed = (len(inside) - 2) * 180.0
    if abs(sum(inside) - needed) > 10.0:
        problem = (
            f"the inside angles of {len(inside)} corners add up to {needed:g} degrees; these make {sum(inside):g}."
        )
        raise PlannerError(problem, mend="Give each corner that is not square with its angle; or type back.")
