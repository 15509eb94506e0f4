"""Wall angle and the like that may be spliced anywhere: what is proven of how few bars will do.

In: a cutting of parts, and these parts with the members they make up. Out: the same cutting with a bound over every way
to splice: total length over stock length, as NAVEDTRA 14044 p. 5-16 counts, and a kerf for each part that a length
needs at least. Parts are chosen by `planner.runs.splices`.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from planner.stock.barwork.wanted import Wanted
from planner.stock.certificate import BarCertificate, ValuedPiece
from planner.stock.model import Cutting
from planner.stock.saw import kerf_tenths, tenths


def over_splices(cutting: Cutting, wanted: Iterable[Wanted]) -> Cutting:
    """Bound a cutting over every way to splice its members.

    The certificate takes each as whole bars and a rest, the fewest parts; a tenth of a millimetre is worth 1, the kerf
    included, and no bar is worth more than its length and a kerf. More parts are worth more.
    """
    stock, kerf = tenths(cutting.stock_length), kerf_tenths(cutting.kerf)
    lengths: Counter[str] = Counter()
    for piece in wanted:
        lengths[piece.member] += tenths(piece.length) * piece.count
    parts = Counter(part for length in lengths.values() for part in (*[stock] * (length // stock), length % stock))
    whole = parts.pop(stock, 0)
    pieces = tuple(
        ValuedPiece(length, parts[length], length + kerf) for length in sorted(parts, reverse=True) if length
    )
    proof = BarCertificate(stock, kerf, pieces, stock + kerf, whole=whole)
    return replace(cutting, lower_bound=proof.bound, certificate=proof, over="splices")
