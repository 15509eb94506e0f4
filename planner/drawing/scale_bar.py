"""A scale bar in metres and one in feet, so that a sheet printed at another size can still be measured.

In: the scale and the width there is. Out: a stack of two bars in paper millimetres; the longest round length that fits.
"""

from planner.drawing import words
from planner.drawing.labels import Heights
from planner.drawing.lettering import text_width
from planner.drawing.roles import Role
from planner.drawing.shapes import Line, Outline, Shape, Text
from planner.drawing.tables import Row, Stack, drawn_rows

_FOOT = 304.8
_METRE = 1000.0
#: Whole lengths and into how many equal parts each is divided.
_STEPS = ((1, 5), (2, 4), (5, 5))
_THICK = 1.2


def scale_bar(scale: float, width: float, heights: Heights) -> Stack:
    """Both bars at 1:`scale` on at most `width` millimetres of paper."""
    rows = (_bar(_METRE, "m", scale, width, heights), _bar(_FOOT, "ft", scale, width, heights))
    return drawn_rows(words.say("sheets.scale bar"), rows, width, heights)


def bar_length(unit: float, scale: float, width: float) -> tuple[float, int]:
    """The longest round number of units that fits a width on paper, and its parts: (5.0, 5), (0.2, 4) ..."""
    fitting = [
        (number * 10.0**power, parts)
        for power in range(-3, 5)
        for number, parts in _STEPS
        if number * 10.0**power * unit / scale <= width
    ]
    return max(fitting)


def _bar(unit: float, name: str, scale: float, width: float, heights: Heights) -> Row:
    height = heights[Role.SCALE_BAR]
    last = f" {name}"
    length, parts = bar_length(unit, scale, width - text_width(f"1000{last}", height))
    part = length * unit / scale / parts
    top, foot = -2.1 * height, -2.1 * height - _THICK
    end = part * parts
    left = text_width("0", height) / 2  # the first number stands over the end of the bar
    shapes: list[Shape] = [
        Outline(
            Role.SCALE_BAR,
            tuple(
                (left + x, y)
                for x, y in ((k * part, foot), ((k + 1) * part, foot), ((k + 1) * part, top), (k * part, top))
            ),
            fill=True,
        )
        for k in range(0, parts, 2)
    ]
    shapes += [Line(Role.SCALE_BAR, (left, y), (left + end, y)) for y in (top, foot)]
    shapes += [Line(Role.SCALE_BAR, (left + x, foot), (left + x, top)) for x in (0.0, end)]
    for k in (0, 1, parts):
        number = f"{length * k / parts:g}"
        at = (left + k * part, top + 0.6 * height)
        if k < parts:
            shapes.append(Text(Role.SCALE_BAR, at, number, "centre"))
        else:
            shapes.append(Text(Role.SCALE_BAR, (at[0] - text_width(number, height) / 2, at[1]), number + last))
    return Row(2.1 * height + _THICK + 1.2 * height, tuple(shapes))
