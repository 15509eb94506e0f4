"""What is asked with the tape in hand: walls one after another, the diagonals worth taping, what to tape again.

In: answers so far, the corners among them. Out: questions. Rules: what cannot be is refused at once (a line longer than
the way round by others); what does not fit is told, with the slip of the tape that would explain it.
"""

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.asking import answers
from planner.asking.question import Answers, Doubt, GoTo, Outcome, Question, Understood
from planner.asking.reading import both, read_length, tidy
from planner.asking.tapes import (
    LINE,
    NONE,
    Misclosure,
    board_of,
    corners_of,
    fault_of,
    misclosure,
    proposals,
    refuse_unknown,
    survey_of,
    unknown_angles,
    walls,
)
from planner.errors import PlannerError
from planner.room.survey import Survey, tape_accuracy

#: Two readings of one line that differ by more than this many standard deviations are doubted.
APART = 6.0
#: A line this far from where the corners as told would have it is doubted, as a share of its length.
FAR = 0.04

EXAMPLES = 'Write it as the tape shows it: 18\' 7", 18\' 7-1/2", 18ft 7in, 223 1/2", 5.68 m, 568 cm or 5680 mm.'


def tape_questions(given: Answers) -> Iterator[Question]:
    """Walls, diagonals, and what they have to say together."""
    for wall in walls(given):
        yield _line(wall, given, f"Wall {wall}?", _WALL)
    closes = None if unknown_angles(given) else misclosure(board_of(given))
    if closes is not None:
        yield from _closing(closes, given)
    yield from _diagonals(given)
    yield from _more_lines(given)


_WALL = (
    f"The length of this wall, from corner to corner, at the height of the ceiling.\n{EXAMPLES}\n"
    "Taped twice finds a slip: give both readings with a semicolon between, as in  11' 4\"; 11' 4-1/16\".\n"
    "none leaves out a wall that you cannot reach; it is then found from the others."
)


def _line(line: str, given: Answers, ask: str, why: str, *, usual: str = "") -> Question:
    """A line of the tape, read once or several times."""

    def read(text: str) -> Outcome:
        if tidy(text).lower() in (NONE, "skip", "no", "-"):
            return Understood(NONE, "left out")
        read_so = [read_length(part, given["units"]) for part in text.split(";") if part.strip()]
        if not read_so:
            raise PlannerError("no length.", mend="Write the length as measured, or none.")
        kept = "; ".join(kept for kept, _ in read_so)
        lengths = [mm for _, mm in read_so]
        understood = Understood(kept, "; ".join(both(mm, given["units"]) for mm in lengths))
        if min(lengths) == 0:
            raise PlannerError("a line of no length.", mend="Write the length as measured, or none.")
        if fault := fault_of(line, board_of({**given, LINE + line: kept})):
            raise PlannerError(fault.problem, mend=f"{fault.mend} If another is wrong: go {_others(fault, line)}.")
        if kept == given.get(LINE + line):
            return understood  # kept already, with a yes where one was needed
        return _doubt(line, given, understood, lengths) or understood

    return Question(LINE + line, ask, why, read, usual=usual, picture=line in walls(given), short=ask.rstrip("?"))


def _others(fault: PlannerError, line: str) -> str:
    """Another line that the fault names; a length such as 20'-4" has a dash too, and is none."""
    named = [word.strip(",.:;") for word in fault.problem.split() if "-" in word and not re.search("['\"]", word)]
    return next((word for word in named if word != line), line)


def _doubt(line: str, given: Answers, understood: Understood, lengths: list[float]) -> Doubt | None:
    """A line that is probably a slip."""
    units, mend = given["units"], "Write it again as it should be; or yes, if it is so."
    spread = max(lengths) - min(lengths)
    if spread > APART * tape_accuracy(max(lengths)):
        return Doubt(understood, f"the readings differ by {both(spread, units)}.", mend)
    outcome = answers.doubted(understood, min(lengths), units, (answers.SHORT_WALL_MM, answers.LONG_WALL_MM))
    if isinstance(outcome, Doubt) or line in walls(given):
        return outcome if isinstance(outcome, Doubt) else None
    others = {key: text for key, text in given.items() if key != LINE + line}
    survey = survey_of(board_of(others))
    if not isinstance(survey, Survey) or _guessed(survey, given):
        return None
    (ax, ay), (bx, by) = (survey.corners[name] for name in line.split("-"))
    expected = ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
    if abs(expected - lengths[0]) <= FAR * expected:
        return None
    return Doubt(understood, f"the walls, with corners as told, make {line} about {both(expected, units)}.", mend)


def _guessed(survey: Survey, given: Answers) -> bool:
    """Whether the shape rests on an angle that nobody knows: then there is nothing to doubt a reading by."""
    return any(assumed.corner in unknown_angles(given) for assumed in survey.assumptions)


def _closing(closes: Misclosure, given: Answers) -> Iterator[Question]:
    """Asked when walls miss their beginning by more than tape and corners explain."""
    if closes.gap <= closes.allowed:
        return
    gap = both(round(closes.gap), given["units"])
    slip = f" ({closes.slip}?)" if closes.slip else ""
    start = corners_of(given)[0]
    yield Question(
        "closing",
        "Which wall will you tape again?",
        "Add up the walls that run one way and those that run back: in a room with corners as told both are the same. "
        "Tape the wall again that is named first; if it was right, the next. none goes on with the walls as they are: "
        "then a corner must be out of square, and the diagonals have to show it.",
        _again(walls(given), f"{closes.gap:.0f} mm"),
        short="A wall to tape again",
        remark=f"The walls do not close: once round, one ends {gap} from {start}. "
        f"An error would be in {' or '.join(closes.walls)}{slip}.",
    )


def _again(lines: tuple[str, ...], state: str) -> answers.Read:
    """A line to tape again, or none; an earlier none holds as long as the state of things is the same."""

    def read(text: str) -> Outcome:
        plain = tidy(text)
        if plain.startswith(f"{NONE}: ") and plain != f"{NONE}: {state}":
            raise PlannerError("the readings have changed since.", mend="Answer once more.")
        if plain.split(":")[0].lower() in (NONE, "no", "-"):
            return Understood(f"{NONE}: {state}", "none")
        line = _known_line(plain, lines)
        if line is not None:
            return GoTo(LINE + line)
        raise PlannerError(f'"{plain}" is not one of {", ".join(lines)}.', mend="Name a wall, or none.")

    return read


def _known_line(text: str, lines: tuple[str, ...]) -> str | None:
    ends = text.upper().replace(" ", "").replace("–", "-").split("-")
    return next((line for line in lines if sorted(line.split("-")) == sorted(ends)), None)


def _diagonals(given: Answers) -> Iterator[Question]:
    bounds = walls(given)
    board = board_of({key: text for key, text in given.items() if key.removeprefix(LINE) in bounds or LINE not in key})
    fixing, checking = proposals(board) if board.readings else ({}, {})
    lines = [(line, reason) for line, reason in (fixing | checking).items() if line not in bounds]
    for number, (line, reason) in enumerate(lines, 1):
        told = _DIAGONALS.format(count=len(lines)) if number == 1 and len(lines) > 1 else ""
        before = lines[number - 2][1] if number > 1 else ""
        why = f"{reason}\n{_ACROSS}\n{EXAMPLES}\n{_TWICE}"
        asked = _line(line, given, f"Diagonal {line}? ({number} of {len(lines)})", why, usual=NONE)
        yield replace(asked, remark="" if reason == before else f"{told}{reason}", short=f"Diagonal {line}")


_DIAGONALS = "Now {count} diagonals; skip with none what you cannot reach. "
_ACROSS = "Stretch the tape from corner to corner at the height of the ceiling."
_TWICE = "Taped twice finds a slip: give both readings with a semicolon between. none leaves it out."


def _more_lines(given: Answers) -> Iterator[Question]:
    """What the tape has to say as a whole, and any other line one may want to add or to tape again."""
    number = 0
    while True:
        number += 1
        key = f"more {number}"
        state, remark = _verdict(given)
        yield Question(
            key,
            "Another line to tape, or one to tape again? (as in A-C)",
            "The planner weighs all lines together. Name a line between two corners to add it or to give it again, or "
            "none to go on. A line that was taped a second time shows a slip in the first.",
            _more(given, key, state, remark),
            usual="" if state == "cannot be" else NONE,
            remark=remark,
            picture=True,
            short="Another line",
        )
        if given[key].startswith(NONE):
            return
        yield _line(given[key], given, f"Line {given[key]}?", _WALL)


def _more(given: Answers, key: str, state: str, remark: str) -> answers.Read:
    """A line to tape again or to add, or none once the shape can be."""
    corners = corners_of(given)
    again = _again(tuple(name.removeprefix(LINE) for name in given if name.startswith(LINE)), state)

    def read(text: str) -> Outcome:
        plain = tidy(text).upper().replace(" ", "").replace("–", "-")
        ends = plain.split("-")
        if plain.split(":")[0] in ("NONE", "NO", ""):
            if state == "cannot be":
                raise PlannerError(remark, mend="Name the line to tape again.")
            return again(text)
        if len(ends) != 2 or ends[0] == ends[1]:
            raise PlannerError(f'"{tidy(text)}" does not name a line.', mend="Name its two corners, as in A-C.")
        refuse_unknown(ends, corners)
        return Understood(plain, plain) if plain == given.get(key) else _known_or_new(again, plain)

    return read


def _known_or_new(again: answers.Read, line: str) -> Outcome:
    try:
        return again(line)
    except PlannerError:
        return Understood(line, line)


def _verdict(given: Answers) -> tuple[str, str]:
    """The state of the tape in a word, and what there is to say about it."""
    survey = survey_of(board_of(given))
    if not isinstance(survey, Survey):
        problem = f"{survey.problem} {survey.mend} (said lists the readings as they were understood.)"
        return "cannot be", problem[:1].upper() + problem[1:]
    stops = [finding for finding in survey.findings if finding.severity == "stop"]
    if stops:
        return "does not fit", f"{stops[0].message} {stops[0].remedy}".strip()
    said = [f.message for f in survey.findings if f.rule in ("readings agree", "nothing checks the tape")]
    found = ", ".join(f"{name} is {survey.angles[name]:.0f} degrees" for name in unknown_angles(given))
    return "fits", " ".join(part for part in (f"By the tape {found}." if found else "", *said[:1]) if part)
