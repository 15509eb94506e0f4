"""How bars are sawn: in whole tenths of a millimetre, so that "does it fit" is `<=`, with no tolerance.

A cut is rounded down and the kerf up, but for float noise.
"""

from planner.records import dataclass
from planner.runs.tenths import NOISE_MM, kerf_tenths, tenths

__all__ = ["BUDGET_S", "NOISE_MM", "Saw", "kerf_tenths", "tenths"]

#: Seconds to search for a better way, for each stock item: the work of so long, see `planner.runs.effort`.
BUDGET_S = 5.0


@dataclass(frozen=True, slots=True)
class Saw:
    """How stock is sawn and off-cuts are used; millimetres, seconds."""

    kerf: float = 0.0
    reuse_from: float = 0.0  #: off-cuts shorter than this are thrown away, and no further piece is cut from them
    long_offcuts: bool = False  #: of equally few bars, those that leave few long off-cuts rather than many short ones
    budget_s: float = BUDGET_S
