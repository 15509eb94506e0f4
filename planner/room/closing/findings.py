"""What a closed survey has to say for itself: readings that disagree, corners assumed, lines that lack a check.

In: a `Survey` and its `Clipboard`. Out: findings, the gravest first. The rule: a misfit beyond what the tape allows
stops the plan, anything assumed or unchecked is told with the line to tape to be rid of it.
"""

import math
from collections.abc import Iterator

from planner.findings import Finding
from planner.geometry import Point, midpoint
from planner.lengths import Rounding, spoken_length
from planner.room.closing.network import angle_as_told
from planner.room.outline import Units
from planner.room.survey import Assumption, Clipboard, Line, Survey, Suspect, line_name
from planner.sayings import joined, said

SNOOPING = "data snooping after W. Baarda, from memory"
PRACTICE = "common practice, no source"

#: An error that could hide up to this size is worth a word (study of the survey, a judgement).
HIDDEN_MM = 15.0
HARDLY_CHECKED = 0.05  #: and so is any reading with less redundancy than this

#: A corner this far from what was told was probably told or taped wrongly: 35 mm in a metre. A judgement.
_FAR_FROM_SQUARE_DEG = 2.0

_MOST_NAMED = 6


def survey_findings(survey: Survey, clipboard: Clipboard) -> tuple[Finding, ...]:
    """All findings of a survey: stop, warn, note."""
    return (
        *_misfit(survey, clipboard.units),
        *_far_from_square(survey, clipboard),
        *(_assumed(survey, clipboard, assumption) for assumption in survey.assumptions),
        *_found(survey, clipboard.units),
        *_unchecked(survey, clipboard.units),
    )


def written(mm: float, units: Units) -> str:
    """A length as it is read off the tape."""
    return spoken_length(mm, units, Rounding.NEAREST)


def written_small(mm: float, units: Units) -> str:
    """A difference, as a person at the wall would say it: whole sixteenths or millimetres."""
    if units in ("ft-in", "in"):
        return spoken_length(mm, "in") if abs(mm) >= 25.4 / 32 else said('under 1/16"')
    return spoken_length(mm, "mm") if abs(mm) >= 0.5 else said("under 1 mm")


def listed(words: list[str], link: str = "{some} and {last}") -> str:
    """One, two and three; `link` joins the last to the others."""
    return said(link, some=", ".join(words[:-1]), last=words[-1]) if len(words) > 1 else "".join(words)


def _misfit(survey: Survey, units: Units) -> Iterator[Finding]:
    """How the readings agree with one another."""
    if survey.suspect:
        yield _wrong_reading(survey, survey.suspect, units)
    elif len(survey.doubtful) == 1:
        yield _two_of_one_line(survey, survey.doubtful[0], units)
    elif survey.doubtful:
        yield _wrong_among(survey, units)
    elif not survey.agrees:
        yield _wrong_anywhere(survey, units)
    elif survey.redundancy > 0:
        worst = max(survey.readings, key=lambda reading: abs(reading.residual))
        yield Finding(
            "note",
            "readings agree",
            SNOOPING,
            said(
                "{readings} more than the shape needs, and all agree within what the tape allows. The largest "
                "difference is {off}, at {worst}.",
                readings=_readings(survey.redundancy),
                off=written_small(abs(worst.residual), units),
                worst=worst.name,
            ),
        )
    else:
        yield Finding(
            "note",
            "nothing checks the tape",
            SNOOPING,
            said("Every reading is needed for the shape, so that an error in any of them would go unnoticed."),
            remedy=said("Tape each line a second time, and the diagonals."),
        )


def _wrong_reading(survey: Survey, suspect: Suspect, units: Units) -> Finding:
    name = line_name(suspect.between)
    verdict = (
        said(
            "Probably {proposed}: {explanation}.",
            proposed=written(suspect.proposed, units),
            explanation=suspect.explanation,
        )
        if suspect.usual
        else said("No usual slip of the tape explains it.")
    )
    return Finding(
        "stop",
        "a reading does not fit",
        SNOOPING,
        said(
            "{name} was taped as {taped}, but the other readings make it {predicted} (give or take {off}). {verdict}",
            name=name,
            taped=written(suspect.taped, units),
            predicted=written(suspect.predicted, units),
            off=written_small(2 * suspect.accuracy, units),
            verdict=verdict,
        ),
        where=_middle(survey, suspect.between),
        remedy=said("Tape {name} again and correct it. Until then it is left out.", name=name),
    )


def _two_of_one_line(survey: Survey, line: Line, units: Units) -> Finding:
    name = line_name(line)
    again = survey.tape_again
    taped = [written(reading.taped, units) for reading in survey.readings if set(reading.between) == set(line)]
    slip = (
        said(
            " If {taped} is the wrong one: {explanation}.",
            taped=written(again.taped, units),
            explanation=again.explanation,
        )
        if again and again.taped and again.explanation
        else ""
    )
    return Finding(
        "stop",
        "readings disagree",
        SNOOPING,
        said(
            "{name} was taped as {readings}, and no other line tells which is right.{slip}",
            name=name,
            readings=listed(taped),
            slip=slip,
        ),
        where=_middle(survey, line),
        remedy=said("Tape {name} once more and strike out what was wrong.", name=name),
    )


def _wrong_among(survey: Survey, units: Units) -> Finding:
    again = survey.tape_again
    lines = listed([line_name(line) for line in survey.doubtful], "{some} or {last}")
    remedy = said("Tape each of these lines again.")
    if again is not None and again.taped is not None and again.expected is not None:
        slip = joined((" (", again.explanation, ")"), "") if again.explanation else ""
        remedy = said(
            "Tape {line} again. If it now reads about {expected}{slip}, that was the error; if it still "
            "reads {taped}, add it as a second reading: the error is in another of these lines.",
            line=line_name(again.between),
            expected=written(again.expected, units),
            slip=slip,
            taped=written(again.taped, units),
        )
    elif again is not None:
        remedy = said("Tape {line}, which was not taped yet: its length will tell.", line=line_name(again.between))
    return Finding(
        "stop",
        "readings disagree",
        SNOOPING,
        said(
            "The readings cannot all be right: up to {off} is left over. The error is in {lines}; "
            "these readings alone cannot tell which.",
            off=written_small(_largest(survey), units),
            lines=lines,
        ),
        where=_middle(survey, again.between) if again else None,
        remedy=remedy,
    )


def _wrong_anywhere(survey: Survey, units: Units) -> Finding:
    by_misfit = sorted(survey.readings, key=lambda reading: -abs(reading.standardised or 0.0))
    names = list(dict.fromkeys(reading.name for reading in by_misfit))[:3]
    return Finding(
        "stop",
        "readings disagree",
        SNOOPING,
        said(
            "The readings cannot all be right: up to {off} is left over, and no single error explains it.",
            off=written_small(_largest(survey), units),
        ),
        where=_middle(survey, by_misfit[0].between),
        remedy=said(
            "Tape {readings} again first. If no reading is wrong, the tape is less exact than stated: give "
            "tape_accuracy.",
            readings=listed(names),
        ),
    )


def _far_from_square(survey: Survey, board: Clipboard) -> Iterator[Finding]:
    believed = survey.agrees or survey.suspect is not None
    for corner, angle in survey.angles.items() if believed else ():
        told = angle_as_told(board, corner)
        if abs(angle - told) <= _FAR_FROM_SQUARE_DEG:
            continue
        yield Finding(
            "warn",
            "corner far from square" if corner not in board.angles else "corner far from the angle given",
            PRACTICE,
            said(
                "Corner {corner} is {angle} degrees by the tape, not {told}: {off} off over its shorter wall.",
                corner=corner,
                angle=f"{angle:.1f}",
                told=f"{told:g}",
                off=written_small(abs(survey.out_of_square[corner]), board.units),
            ),
            where=survey.corners[corner],
            remedy=said(
                "If that is right, give {corner} under angles; if not, tape the lines at {corner} again.", corner=corner
            ),
        )


def _assumed(survey: Survey, board: Clipboard, assumption: Assumption) -> Finding:
    corner, given = assumption.corner, assumption.corner in board.angles
    taken = said("{angle} degrees, as given", angle=f"{assumption.angle:g}") if given else said("square")
    return Finding(
        "note",
        "corner angle taken as given" if given else "corner assumed square",
        PRACTICE,
        said(
            "Corner {corner} is taken as {taken}: no reading says how it is.",
            several="Corners {corner} are taken as {taken}: no reading says how they are.",
            corner=corner,
            taken=taken,
        ),
        where=survey.corners[corner],
        remedy=said("Tape {line} to know.", several="Tape {line} to know.", line=line_name(assumption.tape))
        if assumption.tape
        else said("Measure the angle at {corner}.", several="Measure the angles at {corner}.", corner=corner),
    )


def _found(survey: Survey, units: Units) -> Iterator[Finding]:
    for wall in survey.found:
        name = line_name(wall.between)
        yield Finding(
            "note",
            "wall not taped",
            PRACTICE,
            said(
                "{name} was not taped; from the rest it is {length} (give or take {off}).",
                name=name,
                length=written(wall.length, units),
                off=written_small(2 * wall.accuracy, units),
            ),
            where=_middle(survey, wall.between),
            remedy=said("Tape {name} to check it.", name=name),
        )


def _unchecked(survey: Survey, units: Units) -> Iterator[Finding]:
    """Lines in which an error would not be noticed, though others are checked."""
    weak = [
        reading
        for reading in survey.readings
        if not reading.left_out and (reading.redundancy < HARDLY_CHECKED or reading.least_error_seen > HIDDEN_MM)
    ]
    if survey.redundancy == 0 or not weak:
        return
    weak.sort(key=lambda reading: -reading.least_error_seen)
    names = list(dict.fromkeys(reading.name for reading in weak))
    largest = weak[0].least_error_seen
    hidden = said("of any size") if math.isinf(largest) else said("of {off}", off=written_small(largest, units))
    more = said(" and {rest} more", rest=len(names) - _MOST_NAMED) if len(names) > _MOST_NAMED else ""
    yield Finding(
        "note",
        "readings hardly checked",
        SNOOPING,
        said(
            "An error {hidden} in {name} could go unnoticed; hardly checked: {names}{more}.",
            hidden=hidden,
            name=names[0],
            names=", ".join(names[:_MOST_NAMED]),
            more=more,
        ),
        where=_middle(survey, weak[0].between),
        remedy=said("Tape these lines a second time."),
    )


def _middle(survey: Survey, line: Line) -> Point:
    return midpoint(survey.corners[line[0]], survey.corners[line[1]])


def _largest(survey: Survey) -> float:
    return max(abs(reading.residual) for reading in survey.readings)


def _readings(count: int) -> str:
    return said("{count} reading", count=count) if count == 1 else said("{count} readings", count=count)
