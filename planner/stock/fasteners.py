"""What fastens a ceiling: wire and what holds it above, fixings of the wall angle, screws of a grid on joists.

In: a ceiling. Out: `Item`s for the take-off. Every hanger is counted as planned, wire by its length where the heights
are known, and the blocking between joists that some of them need. Furring has two nails at each joist. Wall angle is
fixed every 24 in, with one fixing at each end (NAVEDTRA 14044 p. 5-17, masonry). A brace against earthquakes has a post
and four splayed wires (`planner.ceiling.holding.bracing`), each with an anchor of its own, which must hold more than a
hanger's: 200 lb (building department's handout, Daly City CA). What a post is fixed with comes with the post.
"""

import math
from collections.abc import Iterator, Sequence

from planner.ceiling.model import Brace, Ceiling
from planner.sayings import joined, said
from planner.stock.takeoff import Item

#: Between fixings of the wall angle (NAVEDTRA 14044 p. 5-17).
FIXINGS_APART_MM = 24 * 25.4

WIRE = "hanger wire"
ANCHOR = "hanger anchor"
BLOCKING = "blocking between joists"
ANGLE_FIXING = "wall angle fixing"
FURRING_NAIL = "furring nail"
BRACE_POST = "bracing post"
BRACE_WIRE = "bracing wire"
BRACE_ANCHOR = "bracing anchor"

_MM_PER_FOOT = 304.8
#: Of hangers and braces (building departments' handouts, Daly City and Everett; the diameter from memory).
_GAUGE = "12 gauge (2.7 mm) or thicker"


def fasteners(ceiling: Ceiling) -> Iterator[Item]:
    """Each kind with its count; wire in whole feet or metres, or in pieces where the heights are not known."""
    wires = [hanger for hanger in ceiling.hangers if hanger.kind != "screw"]
    screws = len(ceiling.hangers) - len(wires)
    if ceiling.system.direct is not None:
        yield from (Item(name, screws) for name in ceiling.system.screws()[:1])
        yield Item(FURRING_NAIL, ceiling.nails)
        return
    yield _wire(WIRE, [wire.length for wire in wires], ceiling.system.imperial)
    yield Item(ANCHOR, len(wires))
    yield Item(BLOCKING, len({wire.block for wire in wires if wire.block}))
    yield from _bracing(ceiling)
    lengths = [member.length for member in ceiling.members if member.kind == "wall angle"]
    yield Item(ANGLE_FIXING, sum(map(fixings_for, lengths)))


def fixings_for(length: float) -> int:
    """Fixings of one length of wall angle: one at each end, and no further apart than `FIXINGS_APART_MM`."""
    return math.ceil(length / FIXINGS_APART_MM - 1e-9) + 1


def _bracing(ceiling: Ceiling) -> Iterator[Item]:
    count = len(ceiling.braces)
    if not count:
        return
    each = None if ceiling.brace is None else ceiling.brace.wire
    yield Item(BRACE_POST, count)
    yield _wire(BRACE_WIRE, [each] * (Brace.WIRES * count), ceiling.system.imperial)
    yield Item(BRACE_ANCHOR, Brace.WIRES * count)


def _wire(name: str, lengths: Sequence[float | None], imperial: bool) -> Item:
    """Wire by its length; by pieces where not every length is known."""
    known = [length for length in lengths if length is not None]
    if len(known) < len(lengths):
        pieces = said("pieces, whose length is not known")
        return Item(name, len(lengths), sort=joined([said(_GAUGE), pieces], "; "))
    unit, per = ("ft", _MM_PER_FOOT) if imperial else ("m", 1000.0)
    return Item(name, math.ceil(sum(known) / per - 1e-9), unit=unit, sort=said(_GAUGE))
