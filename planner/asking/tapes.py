"""What a tape has told so far: the clipboard of a room being asked for, whether its walls close, what to tape next.

In: answers so far. Out: a `Clipboard`, a misclosure, lines worth taping, with the reason. Rules: walls that meet as
told must come back to where they began, within what tape and corners allow (5 mm in a metre out of square, 3.29
standard deviations); the lines that fix the shape come first, the longest lines of sight then check them.
"""

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from planner.asking.question import Answers
from planner.errors import PlannerError
from planner.lengths import parse_length
from planner.records import dataclass
from planner.room.closing.assumptions import free_motions, lines_to_tape
from planner.room.closing.checks import problems_of
from planner.room.closing.network import (
    SQUARE_RAD,
    angle_as_told,
    lines_named,
    network_of,
    room_on_the_left,
    rough_shape,
    walls_of,
)
from planner.room.closing.shape import sight_lines
from planner.room.closing.slips import likely_slips
from planner.room.naming import wall_names
from planner.room.survey import Clipboard, Line, Reading, Survey, line_name, tape_accuracy
from planner.room.tape import close_survey

MOST_WITHOUT = 4  #: corners of a room in which none can jut in, if it is to hold a ceiling
LINE = "line "  #: keys of questions for a line of the tape begin so
NONE = "none"
UNKNOWN = "?"  #: in place of an inside angle that is not known
BY_CHANCE = 3.29  #: standard deviations; the level of the survey's own tests
LINES_OF_CHECK = 2  #: proposed beyond those that fix the shape; one is enough for four corners


def corners_of(given: Answers) -> tuple[str, ...]:
    """The corners as named, in the order of the walk."""
    return tuple(given["corners"].split())


def walls(given: Answers) -> tuple[str, ...]:
    """The walls of a taped room by their two corners."""
    return wall_names(corners_of(given))


def readings_of(text: str) -> tuple[str, ...]:
    """The readings in an answer to a line of the tape; none when it was left out."""
    return () if text == NONE else tuple(text.split("; "))


def angles_of(given: Answers) -> dict[str, float]:
    """Inside angles of corners that are not square, as kept: "C 135, D 100"; those not known share what is left."""
    pairs = dict(part.split() for part in given["angles"].split(", ")) if given.get("angles", NONE) != NONE else {}
    known = {name: float(angle) for name, angle in pairs.items() if angle != UNKNOWN}
    return known | shared(corners_of(given), known, outside_of(given), [name for name in pairs if name not in known])


def shared(
    corners: Sequence[str], known: Mapping[str, float], outside: Sequence[str], unknown: Sequence[str]
) -> dict[str, float]:
    """Inside angles to begin with where none is known: half a right angle from square, then what is left is shared."""
    told = {name: known.get(name, 270.0 if name in outside else 90.0) for name in corners}
    told |= {name: 225.0 if name in outside else 135.0 for name in unknown}
    left = (len(corners) - 2) * 180.0 - sum(told.values())
    return {name: told[name] + left / len(unknown) for name in unknown}


def unknown_angles(given: Answers) -> tuple[str, ...]:
    """Corners that are not square, at an angle that the tape has to find."""
    return tuple(part.split()[0] for part in given.get("angles", NONE).split(", ") if part.endswith(f" {UNKNOWN}"))


def angles_found(given: Answers) -> dict[str, float]:
    """As `angles_of`; those not known as the tape has them by now, to the degree."""
    told, unknown = angles_of(given), unknown_angles(given)
    survey = survey_of(board_of(given)) if unknown else None
    if not isinstance(survey, Survey):
        return told
    told |= {name: survey.angles[name] for name in unknown}
    left = sum(angles_round(given, told).values()) - (len(corners_of(given)) - 2) * 180.0
    return told | {name: float(round(told[name] - left / len(unknown))) for name in unknown}


def angles_round(given: Answers, known: Mapping[str, float]) -> dict[str, float]:
    """The inside angle of every corner: as known, else square."""
    outside = outside_of(given)
    return {name: known.get(name, 270.0 if name in outside else 90.0) for name in corners_of(given)}


def outside_of(given: Answers) -> tuple[str, ...]:
    """Corners that jut in; a room of four corners is never asked for any."""
    if len(corners_of(given)) <= MOST_WITHOUT:
        return ()
    text = given.get("outside", NONE)
    return () if text == NONE else tuple(text.split())


def lines_taped(given: Answers) -> dict[str, tuple[str, ...]]:
    """Every line of the tape between corners that there are, with its readings as text; walls first, in order."""
    corners = set(corners_of(given))
    names = [key.removeprefix(LINE) for key in given if key.startswith(LINE)]
    here = [name for name in names if set(name.split("-")) <= corners]
    ordered = [*(w for w in walls(given) if w in here), *(n for n in here if n not in walls(given))]
    return {name: found for name in ordered if (found := readings_of(given[LINE + name]))}


def board_of(given: Answers) -> Clipboard:
    """The clipboard as far as it is filled in."""
    readings = [
        Reading((line.split("-")[0], line.split("-")[1]), parse_length(text, given["units"]))
        for line, texts in lines_taped(given).items()
        for text in texts
    ]
    return Clipboard(
        corners=corners_of(given),
        readings=tuple(readings),
        outside_corners=outside_of(given),
        angles=angles_of(given),
        walk="clockwise" if given.get("walk") == "right" else "counter-clockwise",
        units=given["units"],  # type: ignore[arg-type]  # one of the five, as the question takes no other
    )


def fault_of(line: str, board: Clipboard) -> PlannerError | None:
    """What is wrong with one line, seen with all the others; None when nothing is."""
    return next((problem for problem in problems_of(board) if problem.where == f"tape › {line}"), None)


def refuse_unknown(names: list[str], corners: tuple[str, ...]) -> None:
    """PlannerError when a name is no corner's."""
    unknown = [name for name in names if name not in corners]
    if unknown:
        raise PlannerError(f"there is no corner {unknown[0]}.", mend=f"The corners are {', '.join(corners)}.")


def survey_of(board: Clipboard) -> Survey | PlannerError:
    """The survey closed, or why it cannot be."""
    try:
        return close_survey(board)
    except PlannerError as error:
        return error


@dataclass(frozen=True, slots=True)
class Misclosure:
    """How far walls that meet as told miss their beginning."""

    gap: float  #: mm
    allowed: float  #: mm that tape and corners explain
    walls: tuple[str, ...]  #: in which an error would show so, the likeliest first
    slip: str  #: the slip that explains it in the first of them; empty when none of the usual ones does


def misclosure(board: Clipboard) -> Misclosure | None:
    """How the walls close; None where a wall was not taped or the corners do not turn once round."""
    turned = room_on_the_left(board)
    lengths = [_mean(wall, turned.readings) for wall in walls_of(turned)]
    inside = [angle_as_told(turned, corner) for corner in turned.corners]
    if None in lengths or abs(sum(inside) - (len(inside) - 2) * 180.0) > 1.0:
        return None
    taped = [length for length in lengths if length is not None]
    turns = np.cumsum([0.0, *(180.0 - angle for angle in inside[1:])])
    ways = np.column_stack((np.cos(np.radians(turns)), np.sin(np.radians(turns))))
    gap = np.array(taped) @ ways
    size = float(np.hypot(*gap))
    shares = [float(abs(way @ gap)) / size if size > 0 else 0.0 for way in ways]
    allowed = BY_CHANCE * math.hypot(*(math.hypot(tape_accuracy(mm), SQUARE_RAD * mm) for mm in taped))
    names = [line_name(wall) for wall in walls_of(turned)]
    suspects = [k for k in range(len(names)) if shares[k] > 0.7]
    slips = {k: _slip(taped[k], float(ways[k] @ gap), board) for k in suspects}
    suspects.sort(key=lambda k: not slips[k])
    return Misclosure(size, allowed, tuple(names[k] for k in suspects), slips[suspects[0]] if suspects else "")


def _mean(wall: Line, readings: Iterable[Reading]) -> float | None:
    taped = [reading.taped for reading in readings if set(reading.between) == set(wall)]
    return sum(taped) / len(taped) if taped else None


def _slip(taped: float, excess: float, board: Clipboard) -> str:
    """The usual slip that would have made a wall too long by `excess`, within a quarter of it."""
    slips = likely_slips(taped, taped - excess, abs(excess) / 4 / BY_CHANCE, board.units)
    return slips[0].words if slips else ""


def proposals(board: Clipboard) -> tuple[dict[str, str], dict[str, str]]:
    """Diagonals worth taping with the reason for each: those that fix the shape, and those that check it."""
    turned = room_on_the_left(board)
    network = network_of(turned)
    rough = rough_shape(turned, network)
    sights = sight_lines(rough)
    free = free_motions(rough, network.lines)
    none = np.empty(0, dtype=np.intp)
    fixing = [line_name(line) for line in lines_named(turned, lines_to_tape(rough, sights, free, network.angles, none))]
    known = {frozenset(name.split("-")) for name in (*fixing, *(line_name(wall) for wall in walls_of(turned)))}
    across = [(a, b) for a, b in sights if frozenset((turned.corners[a], turned.corners[b])) not in known]
    across.sort(key=lambda line: -float(np.hypot(*(rough[line[0]] - rough[line[1]]))))
    most = 1 if len(board.corners) == 4 else LINES_OF_CHECK
    checking = [line_name((turned.corners[a], turned.corners[b])) for a, b in across[:most]]
    fixes = "It fixes the shape: without it a corner must be taken as square."
    checks = "It checks the others: with one line more than the shape needs, a slip of the tape shows."
    return {_named(line, board): fixes for line in fixing}, {_named(line, board): checks for line in checking}


def _named(line: str, board: Clipboard) -> str:
    """A line by its corners in the order of the walk, a wall as it is walked."""
    one, other = line.split("-")
    walked = {line_name(wall) for wall in walls_of(board)}
    if line in walked or f"{other}-{one}" in walked:
        return line if line in walked else f"{other}-{one}"
    return line if board.corners.index(one) < board.corners.index(other) else f"{other}-{one}"
