"""Letters: which may be drawn, how wide they are. One font for every format, so that all three take the same room.

The font is metric-compatible with the sans-serif that most offices have, so a DXF opened there keeps its text widths.
Heights are heights of capitals, as drafters say them; `EM_PER_CAP` turns them into font sizes.
"""

import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path

#: The family as font menus know it, then families with the same widths, then whatever the reader has.
FAMILIES = ("Arimo", "Liberation Sans", "Arial", "Helvetica", "sans-serif")

#: Font size over height of capitals: 1409 of 2048 units in this font (its OS/2 table, sCapHeight).
EM_PER_CAP = 2048 / 1409

_MISSING = "□"
_SPACES = dict.fromkeys(map(ord, "\u00a0\u0085\u2028\u2029\t\n\r\v\f"), " ")
_UNHOLDABLE = frozenset(("Cc", "Cf", "Cs", "Co", "Cn"))  # control, format, surrogate, private, unassigned


def font_file() -> Path:
    """Find the regular face, as installed."""
    import fontpkg_arimo

    return Path(fontpkg_arimo.ROOT) / "files" / "Arimo[wght].ttf"


def safe(text: str) -> str:
    """Text that every format can hold: composed, one line, without control, format or surrogate characters."""
    composed = unicodedata.normalize("NFC", text).translate(_SPACES)
    if composed.isascii() and composed.isprintable():
        return composed
    return "".join(c for c in composed if unicodedata.category(c) not in _UNHOLDABLE)


@cache
def clean(text: str) -> str:
    """Text that every format can draw: `safe`, and what the font lacks shown as "□"."""
    advances = _advances()
    return "".join(c if ord(c) in advances else _MISSING for c in safe(text))


def lacking(texts: Iterable[str]) -> int:
    """How many different characters of some texts the font lacks; they are drawn as "□"."""
    advances = _advances()
    return len({c for text in texts for c in safe(text) if ord(c) not in advances})


@cache
def text_width(text: str, height: float) -> float:
    """Width of one line whose capitals are `height` tall, in the unit of `height`, from the font's advances."""
    advances = _advances()
    missing = advances[ord(_MISSING)]
    return sum(advances.get(ord(c), missing) for c in text) * height * EM_PER_CAP


@cache
def _advances() -> dict[int, float]:
    """Advance of each character over the em."""
    from fontTools.ttLib import TTFont

    with TTFont(font_file(), lazy=True) as font:
        font.setGlyphOrder([str(number) for number in range(font["maxp"].numGlyphs)])  # quicker than their real names
        per_em = font["head"].unitsPerEm
        metrics = font["hmtx"].metrics
        return {code: metrics[glyph][0] / per_em for code, glyph in font.getBestCmap().items()}
