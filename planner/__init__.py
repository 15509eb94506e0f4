"""Plan a grid ceiling: a room file in; a checked layout, framing, cutting list, take-off and drawings out.

What the command line does, a few lines of Python do too. A room file is read, and planned:

    >>> from planner import read_room, plan, draw, write
    >>> brief = read_room("kiln-room.yaml")
    >>> brief.room.name, len(brief.room.walls), brief.grid.system
    ('Kiln room', 4, 'lay-in-imperial')
    >>> ceiling = plan(brief)

A plan is plain data, frozen; lengths are millimetres, points lie in the room's frame. Where the grid falls, and why:

    >>> print(ceiling.ceiling.layout.rule)  # doctest: +ELLIPSIS
    Borders 1'-9 1/2" left and right, 1'-2" front and back: equal and as wide as possible (half-module rule)...
    >>> {border.wall: round(border.least, 1) for border in ceiling.ceiling.layout.borders}
    {'A-B': 355.6, 'B-C': 546.1, 'C-D': 355.6, 'D-A': 546.1}
    >>> ceiling.ceiling.layout.full_panels, len(ceiling.ceiling.layout.cut_panels)
    (20, 22)

Lengths are written as the trade writes them, each rounded the safe way:

    >>> from planner.lengths import Rounding, format_length
    >>> format_length(546.1, "ft-in"), format_length(546.1, "mm", Rounding.DOWN)
    ('1\\'-9 1/2"', '546 mm')

What to buy, and how sure the count is:

    >>> [(line.item, line.order) for line in ceiling.stock.takeoff[:3]]
    [('panel', 39), ('main tee', 4), ('cross tee 2 ft', 20)]
    >>> all(cutting.proven for cutting in ceiling.stock.cutting)
    True

What the planner has to say about it, the gravest first:

    >>> [finding.rule for finding in ceiling.findings if finding.severity == "stop"]
    []

Why a number is what it is:

    >>> from planner.explain import Job, explain
    >>> (answer,) = explain(Job(brief, ceiling), "cross tee 2 ft")
    >>> answer.steps[0].text, answer.steps[0].value
    ('Pieces of cross tee 2 ft: 19.', 19)

What another border would change:

    >>> from dataclasses import replace
    >>> from planner.compare import compare, record_from
    >>> full = replace(brief, grid=replace(brief.grid, borders=(("left", "full"),)))
    >>> changes = compare(record_from(ceiling), record_from(plan(full))).changes
    >>> [change.what for change in changes if change.group == "layout"][:3]
    ['origin', 'border B-C', 'border D-A']

Sheets are shapes on paper; `draw` makes them in any style and on any paper, `write` puts a whole set into a folder:

    >>> sheets = draw(ceiling, style="site-bold", paper="A3", date="2026-03-14")
    >>> sheets[0].key, sheets[0].paper.name
    ('ceiling-plan', 'A3')
    >>> written = write(ceiling, "kiln-room-plan", style="us-ncs")
    >>> written[0].as_posix()
    'kiln-room-plan/ceiling.dxf'

Whatever cannot be is refused with a `PlannerError` that says where it is, what is wrong and how to mend it:

    >>> from planner import PlannerError
    >>> try:
    ...     draw(ceiling, style="site-bald")
    ... except PlannerError as error:
    ...     print(error)
    --style: there is no style "site-bald".
        Did you mean "site-bold"?
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.errors import PlannerError
    from planner.face import draw, write
    from planner.planning import Plan, plan
    from planner.room.brief import Brief
    from planner.room.reader import read_room

__version__ = "0.1.0"

__all__ = ["Brief", "Plan", "PlannerError", "draw", "plan", "read_room", "write"]

#: Where each name lives; it is loaded when it is asked for, so that `import planner` costs nothing.
_HOMES = {
    "Brief": "planner.room.brief",
    "Plan": "planner.planning",
    "PlannerError": "planner.errors",
    "draw": "planner.face",
    "plan": "planner.planning",
    "read_room": "planner.room.reader",
    "write": "planner.face",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = globals()[name] = getattr(import_module(_HOMES[name]), name)
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
