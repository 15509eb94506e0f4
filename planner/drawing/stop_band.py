"""What is not to be built says so on every sheet: a band beside the title, and the status in the title block.

In: findings. Out: words, which are empty where none of them says stop; shapes in paper millimetres. Whoever is handed
one sheet of a set sees by it that the set is not for construction (common practice, no source).
"""

from collections.abc import Iterable

from planner.drawing import words
from planner.drawing.labels import Heights, box_ring
from planner.drawing.lettering import clean, text_width
from planner.drawing.place import Place
from planner.drawing.roles import Role
from planner.drawing.schedules import ORDER_OF_WORK
from planner.drawing.shapes import Outline, Shape, Text
from planner.drawing.wrapping import shortened
from planner.findings import Finding
from planner.gathering import gathered
from planner.geometry import Box, Point

#: Between the letters of the band and its inner line, and between its lines; in heights of the letters, millimetres.
_AIR = 0.45
_LINES_MM = 0.9
#: Of a heading the band takes at most this share; its letters become smaller rather than more.
_MOST = 0.6


def stops(findings: Iterable[Finding]) -> bool:
    """Whether a finding says stop."""
    return any(finding.severity == "stop" for finding in findings)


def stop_said(findings: Iterable[Finding], place: Place) -> str:
    """What the band of a sheet of one room says: the numbers of the findings, and where they stand in full."""
    numbers = [str(n) for n, told in enumerate(gathered(findings), 1) if told.severity == "stop"]
    if not numbers:
        return ""
    return place.pointed(words.say("stop.findings", count=len(numbers), numbers=", ".join(numbers)), ORDER_OF_WORK)


def status_of(project: tuple[tuple[str, str], ...], stopped: bool) -> tuple[tuple[str, str], ...]:
    """The title block's fields; the status is filled in where nothing is to be built and nobody gave one."""
    given = any(key.strip().lower() == "status" and value for key, value in project)
    return (*project, ("status", words.say("stop.status"))) if stopped and not given else project


def band_width(said: str, box: Box, heights: Heights) -> float:
    """What the band takes of a heading; nothing where there is nothing to say."""
    if not said:
        return 0.0
    role, text = _lettered(said, box.width, heights)
    return text_width(text, heights[role]) + 2 * _AIR * heights[role] + 2 * _LINES_MM


def stop_band(said: str, right: Point, box: Box, heights: Heights) -> tuple[Shape, ...]:
    """Two lines round large letters, ending at `right`, the height of whose middle is that of the letters' middle."""
    if not said:
        return ()
    role, text = _lettered(said, box.width, heights)
    half = (0.5 + _AIR) * heights[role]
    wide, (x, y) = band_width(said, box, heights), right
    outer = Box(x - wide, y - half - _LINES_MM, x, y + half + _LINES_MM)
    inner = Box(outer.left + _LINES_MM, y - half, x - _LINES_MM, y + half)
    return (
        Outline(Role.FINDING, box_ring(outer)),
        Outline(Role.FINDING, box_ring(inner)),
        Text(role, (x - wide / 2, y), text, "centre", "middle"),
    )


def _lettered(said: str, width: float, heights: Heights) -> tuple[Role, str]:
    text, most = clean(said), _MOST * width
    roles = (Role.SHEET_TITLE, Role.HEADING, Role.NOTE)
    role = next((role for role in roles if text_width(text, heights[role]) <= most), Role.NOTE)
    return role, shortened(text, most, heights[role])
