"""What fastens a ceiling: wire and what holds it above, fixings of the wall angle, screws of a grid on joists.

In: a ceiling. Out: `Item`s for the take-off. Every hanger is counted as planned, wire by its length where the heights
are known. Wall angle is fixed every 24 in, with one fixing at each end (NAVEDTRA 14044 p. 5-17, masonry).
"""

import math
from collections.abc import Iterator

from planner.ceiling.model import Ceiling, Hanger
from planner.stock.takeoff import Item

#: Between fixings of the wall angle (NAVEDTRA 14044 p. 5-17).
FIXINGS_APART_MM = 24 * 25.4

WIRE = "hanger wire"
ANCHOR = "hanger anchor"
ANGLE_FIXING = "wall angle fixing"

_MM_PER_FOOT = 304.8


def fasteners(ceiling: Ceiling) -> Iterator[Item]:
    """Each kind with its count; wire in whole feet or metres, or in pieces where the heights are not known."""
    wires = [hanger for hanger in ceiling.hangers if hanger.kind != "screw"]
    screws = len(ceiling.hangers) - len(wires)
    if ceiling.system.direct is not None:
        yield from (Item(name, screws) for name in ceiling.system.screws()[:1])
        return
    yield _wire(wires, ceiling.system.imperial)
    yield Item(ANCHOR, len(wires))
    lengths = [member.length for member in ceiling.members if member.kind == "wall angle"]
    yield Item(ANGLE_FIXING, sum(map(fixings_for, lengths)))


def fixings_for(length: float) -> int:
    """Fixings of one length of wall angle: one at each end, and no further apart than `FIXINGS_APART_MM`."""
    return math.ceil(length / FIXINGS_APART_MM - 1e-9) + 1


def _wire(wires: list[Hanger], imperial: bool) -> Item:
    lengths = [wire.length for wire in wires if wire.length is not None]
    if len(lengths) < len(wires):
        return Item(WIRE, len(wires))
    unit, per = ("ft", _MM_PER_FOOT) if imperial else ("m", 1000.0)
    return Item(WIRE, math.ceil(sum(lengths) / per - 1e-9), unit=unit)
