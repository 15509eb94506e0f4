"""A closed survey as a table that can be read on a ladder.

In: a `Survey` and the units to write it in. Out: lines of plain text. The rule: every reading with what it should be
and one word on it, every corner with how far it is from square, then the diagonals and what was assumed.
"""

from planner.room.closing.blunders import LIMIT
from planner.room.closing.findings import HARDLY_CHECKED, listed, written, written_small
from planner.room.outline import Units
from planner.room.survey import ClosedReading, Survey
from planner.sayings import said

#: A standardised residual beyond this comes up once in twenty readings.
_POOR = 1.96


def survey_table(survey: Survey, units: Units) -> list[str]:
    """Write the survey as lines of text, in `units`: readings, corners, diagonals, what was assumed.

    "give or take" is two standard deviations; "out of square" is over the shorter wall at the corner.
    """
    return [
        *_columns(("line", "taped", "should be", "differs by", ""), reading_rows(survey, units)),
        "",
        *_columns(("corner", "along", "away", "give or take", "out of square"), corner_rows(survey, units)),
        "",
        *closing_lines(survey, units),
    ]


def reading_rows(survey: Survey, units: Units) -> list[tuple[str, ...]]:
    """For each reading: line, as taped, as it should be, the difference, one word on it."""
    return [_reading(reading, units) for reading in survey.readings]


def corner_rows(survey: Survey, units: Units) -> list[tuple[str, ...]]:
    """For each corner: its name, along and away from the first wall, how sure that is, how far it is from square."""
    return [_corner(survey, name, units) for name in survey.corners]


def _reading(reading: ClosedReading, units: Units) -> tuple[str, ...]:
    taped, adjusted = written(reading.taped, units), written(reading.adjusted, units)
    return reading.name, taped, adjusted, _too_long(-reading.residual, units), _word(reading)


def _too_long(mm: float, units: Units) -> str:
    """By how much a reading is too long, +; one that is too short has a -."""
    off = _difference(mm, units)
    return off if off.startswith(("0", "-")) else f"+{off}"


def _word(reading: ClosedReading) -> str:
    """Say what to think of a reading."""
    if reading.left_out:
        return said("WRONG, left out")
    if reading.standardised is None or reading.redundancy < HARDLY_CHECKED:
        return said("not checked by any other")
    if abs(reading.standardised) > LIMIT:
        return said("DOES NOT FIT")
    return said("fits poorly") if abs(reading.standardised) > _POOR else said("fits")


def _corner(survey: Survey, name: str, units: Units) -> tuple[str, ...]:
    along, away = survey.corners[name]
    spread = written_small(2 * survey.accuracy[name].radius, units)
    return name, _place(along, units), _place(away, units), spread, _squareness(survey, name, units)


def _squareness(survey: Survey, name: str, units: Units) -> str:
    """Say how a corner stands to what was told of it."""
    if any(assumption.corner == name for assumption in survey.assumptions):
        return said("assumed, not measured")
    off = _difference(survey.out_of_square[name], units)
    if off == "0":
        return said("no")
    gap = off.lstrip("-")
    return said("{off} closed", off=gap) if off.startswith("-") else said("{off} open", off=gap)


def closing_lines(survey: Survey, units: Units) -> list[str]:
    """Sentences on the diagonals, the redundancy and what was assumed."""
    lines: list[str] = [said("Readings beyond what the shape needs: {count}.", count=survey.redundancy)]
    if survey.assumptions:
        lines.append(
            said("Assumed, not measured: {corners}.", corners=listed([one.corner for one in survey.assumptions]))
        )
    if survey.diagonal_difference is None:
        return lines
    a, b, c, d = survey.corners
    off = _difference(abs(survey.diagonal_difference), units)
    longer = f"{a}-{c}" if survey.diagonal_difference > 0 else f"{b}-{d}"
    pair = {"one": f"{a}-{c}", "other": f"{b}-{d}"}
    if off == "0":
        return [said("The diagonals {one} and {other} are equal.", **pair), *lines]
    told = said(
        "The diagonals {one} and {other} differ by {off}; {longer} is the longer.", off=off, longer=longer, **pair
    )
    return [told, *lines]


def _difference(mm: float, units: Units) -> str:
    """Write a difference with its sign, 0 when it is below what a tape shows."""
    text = written_small(mm, units)
    return "0" if text.startswith("under") else text


def _place(mm: float, units: Units) -> str:
    """Write a coordinate; a small one may be less than nothing."""
    return _difference(mm, units) if abs(mm) < 300.0 else written(mm, units)


def _columns(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    """Set a table: the first column and the last to the left, figures to the right."""
    widths = [max(len(row[k]) for row in (head, *rows)) for k in range(len(head))]
    last = len(head) - 1

    def line(row: tuple[str, ...]) -> str:
        cells = [cell.ljust(widths[k]) if k in (0, last) else cell.rjust(widths[k]) for k, cell in enumerate(row)]
        return "  ".join(cells).rstrip()

    return [line(head), *map(line, rows)]
