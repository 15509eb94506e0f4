"""Paper for templates: any that a printer takes, with a margin that every printer leaves.

In: a name or a size. Out: a `Paper`, upright; and of it the part that shows the template. Rules: 10 mm all round stay
free, which is more than the printers read about need (3 to 6.35 mm; from memory); the bars to measure stand beside and
below the window. Legal is 8.5 by 14 in (from memory); other names are those of `planner.drawing.papers`.
"""

import re

from planner.drawing.papers import find_paper
from planner.drawing.shapes import Paper
from planner.errors import LengthError, PlannerError
from planner.geometry import Box
from planner.lengths import format_mm, parse_length

#: Free all round the paper, millimetres.
SAFE = 10.0
#: Beside and below the window, for the bars and what is said of the page.
SIDE = 9.0
FOOT = 20.0
#: A window is at least so wide and high, so that the bars stand beside it.
_LEAST = 116.0
#: A PDF page can be 14,400 points long (ISO 32000-1, annex C, from memory).
_LONGEST = 5080.0

_MORE = {"LEGAL": (8.5 * 25.4, 14 * 25.4)}
_SIZE = re.compile(r"\s*(\S.*?)\s*[x×]\s*(\S.*?)\s*", re.IGNORECASE)
_UNIT = re.compile(r"(mm|cm|m|in|inch|inches|\"|ft)\s*$", re.IGNORECASE)


def template_paper(name: str) -> Paper:
    """The paper of that name or size (210x297, 8.5x14in), upright; PlannerError for none, and for too small a one."""
    plain = name.strip().upper()
    if plain in _MORE:
        found = Paper(plain.title(), *_MORE[plain])
    elif sized := _SIZE.fullmatch(name):
        found = _of_size(name, sized[1], sized[2])
    else:
        found = find_paper(name, portrait=True)
    width, height = sorted((found.width, found.height))
    paper = Paper(found.name, width, height, (SAFE, SAFE, SAFE, SAFE))
    _check(paper)
    return paper


def turned(paper: Paper) -> Paper:
    """The same paper lying."""
    return Paper(paper.name, paper.height, paper.width, paper.margins)


def window_of(paper: Paper) -> Box:
    """The part of a paper that shows the template."""
    return Box(SAFE + SIDE, SAFE + FOOT, paper.width - SAFE, paper.height - SAFE)


def _of_size(name: str, first: str, second: str) -> Paper:
    unit = _UNIT.search(second)
    if unit and not _UNIT.search(first):
        first += unit[1]
    try:
        width, height = (parse_length(side, "mm") for side in (first, second))
    except LengthError as error:
        mend = "Name it (letter, a4, a3 ...) or give its size, e.g. 210x297 or 8.5x14in."
        raise PlannerError(f'"{name[:40]}" is no paper.', where="--paper", mend=mend) from error
    return Paper(f"{format_mm(width, step=0.1)} × {format_mm(height, step=0.1)} mm", width, height)


def _check(paper: Paper) -> None:
    window = window_of(paper)
    if min(window.width, window.height) < _LEAST:
        least = _LEAST + 2 * SAFE
        raise PlannerError(
            f"of paper {paper.width:.0f} × {paper.height:.0f} mm the margins of {SAFE:.0f} mm and the bars that prove "
            f"the print leave {max(window.width, 0):.0f} × {max(window.height, 0):.0f} mm, too little for a template.",
            where="--paper",
            mend=f"Take paper of at least {least + SIDE:.0f} × {least + FOOT:.0f} mm, e.g. letter or A4.",
        )
    if max(paper.width, paper.height) > _LONGEST:
        raise PlannerError(
            f"{paper.name} is longer than a PDF page can be ({_LONGEST / 1000:g} m).",
            where="--paper",
            mend="Take shorter paper; a template goes over as many pages as it needs.",
        )
