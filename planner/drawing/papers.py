"""Papers by name, lying or upright, with the margins of their frames.

In: a name as people say it ("A3", "ansi b", "letter"). Out: a `Paper`.
Sizes: A0 to A4 by ISO 216; ANSI A to E by ANSI/ASME Y14.1; ARCH A to E1 as plan printers list them.
Margins: ISO 5457:1999, 20 mm at the filing edge and 10 mm elsewhere; US sheets 3/4 in and 1/2 in (common practice,
no source).
"""

from dataclasses import replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from planner.drawing.shapes import Paper
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError

if TYPE_CHECKING:
    from planner.drawing.stylebook import Style  # which asks here whether its paper is known

_INCH = 25.4

#: Short side, long side, millimetres; smallest first within each series.
_ISO = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "A2": (420.0, 594.0),
    "A1": (594.0, 841.0),
    "A0": (841.0, 1189.0),
}
_ANSI = {
    name: (short * _INCH, long * _INCH)
    for name, short, long in (
        ("ANSI A", 8.5, 11),
        ("ANSI B", 11, 17),
        ("ANSI C", 17, 22),
        ("ANSI D", 22, 34),
        ("ANSI E", 34, 44),
    )
}
_ARCH = {
    name: (short * _INCH, long * _INCH)
    for name, short, long in (
        ("ARCH A", 9, 12),
        ("ARCH B", 12, 18),
        ("ARCH C", 18, 24),
        ("ARCH D", 24, 36),
        ("ARCH E1", 30, 42),
        ("ARCH E", 36, 48),
    )
}
_SERIES = (_ISO, _ANSI, _ARCH)
_ALIASES = {"LETTER": "ANSI A", "LEDGER": "ANSI B", "TABLOID": "ANSI B"}

_ISO_MARGINS = (20.0, 10.0, 10.0, 10.0)
_US_MARGINS = (0.75 * _INCH, 0.5 * _INCH, 0.5 * _INCH, 0.5 * _INCH)


def paper_names() -> tuple[str, ...]:
    """Every name, series by series, smallest first; other names that people use for them come last."""
    return (*(name for series in _SERIES for name in series), *(alias.title() for alias in _ALIASES))


def find_paper(name: str, *, portrait: bool = False) -> Paper:
    """The paper called `name`, lying unless `portrait`; PlannerError with the nearest name when there is none."""
    known = _known(name)
    short, long = _sizes()[known]
    width, height = (short, long) if portrait else (long, short)
    return Paper(known, width, height, _ISO_MARGINS if known in _ISO else _US_MARGINS)


def paper_for(style: "Style", wish: SheetWish) -> Paper:
    """The paper that is wished, or the style's own, with the style's border; PlannerError when it is not known."""
    return replace(find_paper(wish.paper or style.paper, portrait=wish.portrait), border=style.frame)


def larger_papers(name: str) -> tuple[str, ...]:
    """The papers of the same series that are larger, smallest first."""
    known = _known(name)
    names = list(next(series for series in _SERIES if known in series))
    return tuple(names[names.index(known) + 1 :])


def _sizes() -> dict[str, tuple[float, float]]:
    return _ISO | _ANSI | _ARCH


def _known(name: str) -> str:
    plain = " ".join(name.replace("-", " ").replace("_", " ").split()).upper()
    spaced = _ALIASES.get(plain, plain)
    if spaced in _sizes():
        return spaced
    near = get_close_matches(spaced, [*_sizes(), *_ALIASES], n=1, cutoff=0.5)
    hint = f'Did you mean "{near[0]}"? ' if near else ""
    raise PlannerError(
        f'"{name[:40]}" is no paper that is known here.',
        where="paper",
        mend=f"{hint}Papers: {', '.join(paper_names())}.",
    )
