"""Words that send the reader to another sheet lead there: "see sheet 4" in any sentence on the paper.

In: the shapes on a sheet's paper, the numbers of the sheets of a set by their keys. Out: the same shapes; letters that
say where to look bear the key of that sheet. Such words may go over the end of a line, since a paragraph is one text
for each line, one after the other.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.drawing import words
from planner.drawing.shapes import Shape, Text


def lead_on(shapes: Sequence[Shape], numbers: Mapping[str, int]) -> tuple[Shape, ...]:
    """The shapes, with links; what leads somewhere already is left alone."""
    lines = [k for k, shape in enumerate(shapes) if isinstance(shape, Text) and not shape.angle_deg]
    starts: list[int] = []
    whole = ""
    for k in lines:
        starts.append(len(whole))
        whole += f"{shapes[k].text} "  # type: ignore[union-attr]
    led = {k: key for key, number in numbers.items() for k in _lines_that_say(number, whole, starts, lines)}
    return tuple(
        replace(shape, link=led[k]) if k in led and isinstance(shape, Text) and not shape.link else shape
        for k, shape in enumerate(shapes)
    )


def _lines_that_say(number: int, whole: str, starts: Sequence[int], lines: Sequence[int]) -> list[int]:
    """Which texts hold a part of the words that send the reader to a number."""
    phrase = re.escape(words.say("sheets.see", n=number))
    found: list[int] = []
    for said in re.finditer(rf"{phrase}(?!\d)", whole, re.IGNORECASE):
        ends = [*starts[1:], len(whole)]
        reached = zip(lines, starts, ends, strict=True)
        found += [k for k, start, end in reached if start < said.end() and said.start() < end - 1]
    return found
