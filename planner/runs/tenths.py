"""Lengths at the saw: whole tenths of a millimetre, so that "does it fit" is `<=`, with no tolerance.

A cut is rounded down and the kerf up, but for float noise.
"""

import math

#: Millimetres of float noise that must not cost a piece a tenth.
NOISE_MM = 1e-5


def tenths(mm: float) -> int:
    """Whole tenths of a millimetre, rounded down but for float noise."""
    return math.floor((mm + NOISE_MM) * 10)


def kerf_tenths(mm: float) -> int:
    """Whole tenths of a millimetre, rounded up but for float noise."""
    return math.ceil((mm - NOISE_MM) * 10)
