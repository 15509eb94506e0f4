"""Lines of letters that are no wider than there is room for: broken between words, or shortened with an ellipsis.

In: a text, a width, the height of its capitals; paper millimetres. Out: lines. No length and no size is broken as long
as that can be.
"""

import re

from planner.drawing.lettering import text_width

#: Where a line may end: not within a length (1' 9 1/2", 1219 mm) nor a size (600 × 600).
SPACE = re.compile(r"(?<![×Ø])\s+(?!×)(?!\d+/\d+)(?!(?:mm|cm|m|ft|lb|kg|N)\b)")
#: And where it may end in need: in a size, behind the sign between its sides.
IN_NEED = re.compile(rf"(?<=×)\s+|{SPACE.pattern}")


def shortened(text: str, width: float, height: float) -> str:
    """Text that is at most `width` wide, with an ellipsis for what had to go."""
    if text_width(text, height) <= width:
        return text
    fitting, cut = 0, len(text)  # so many letters fit with an ellipsis; so many do not
    while cut - fitting > 1:
        middle = (fitting + cut) // 2
        if text_width(text[:middle].rstrip() + "…", height) <= width:
            fitting = middle
        else:
            cut = middle
    return text[:fitting].rstrip() + "…" if fitting else ""


def wrapped(text: str, width: float, height: float) -> tuple[str, ...]:
    """Lines of at most `width`, broken between words where there is a choice."""
    lines: list[str] = []
    line = ""
    for word in _words(text, width, height):
        longer = f"{line} {word}" if line else word
        if text_width(longer, height) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _broken(word, width, height)
        lines += whole
    return (*lines, line) if line else tuple(lines)


def _words(text: str, width: float, height: float) -> list[str]:
    """What a line may end between; a length in the other system, in brackets, stays behind its own if that will do."""
    words: list[str] = []
    for word in SPACE.split(text.strip()):
        if word.startswith("[") and words and text_width(f"{words[-1]} {word}", height) <= width:
            words[-1] += f" {word}"
        else:
            words.append(word)
    return words


def _broken(word: str, width: float, height: float) -> list[str]:
    """A word cut into parts that each fit: a size between its sides, if that will do."""
    sides = IN_NEED.split(word)
    if len(sides) > 1 and all(text_width(side, height) <= width for side in sides):
        lines = [sides[0]]
        for side in sides[1:]:
            longer = f"{lines[-1]} {side}"
            lines[-1:] = [longer] if text_width(longer, height) <= width else [lines[-1], side]
        return lines
    parts = [""]
    for letter in word:
        if parts[-1] and text_width(parts[-1] + letter, height) > width:
            parts.append("")
        parts[-1] += letter
    return parts
