"""Helpers of the stock tests: pieces, and re-checks that know nothing of how the planner cuts."""

from collections import Counter
from collections.abc import Iterable

from planner.stock.bars import Wanted
from planner.stock.certificate import BarCertificate
from planner.stock.model import Cutting
from planner.stock.saw import tenths

INCH = 25.4
KERF = 3.175
START, END, BOTH = ("cut", "factory"), ("factory", "cut"), ("cut", "cut")


def borders(*lengths: float) -> list[Wanted]:
    return [Wanted(f"T{k}", length, START) for k, length in enumerate(lengths, 1)]


def walls(*lengths: float) -> list[Wanted]:
    return [Wanted(f"W{k}", length) for k, length in enumerate(lengths, 1)]


def most_on_a_bar(certificate: BarCertificate) -> int:
    """The ten lines: one plain knapsack, each piece at most as often as it is wanted."""
    room = certificate.stock + certificate.kerf
    best = [0] * (room + 1)
    for piece in certificate.pieces:
        size = piece.length + certificate.kerf
        for _ in range(min(piece.count, room // size)):
            for filled in range(room, size - 1, -1):
                best[filled] = max(best[filled], best[filled - size] + piece.value)
    return best[room]


def assert_bars_hold(cutting: Cutting) -> None:
    """Pieces, a kerf between each two, and the offcut make no more than the bar; nothing is lost but kerfs."""
    for bar in cutting.bars:
        if bar.pieces:
            used = sum(p.length for p in bar.pieces) + cutting.kerf * (len(bar.pieces) - 1)
            assert used <= cutting.stock_length + 1e-6
            lost = cutting.stock_length - sum(p.length for p in bar.pieces) - bar.offcut
            assert -1e-6 <= lost <= len(bar.pieces) * (cutting.kerf + 0.1) + 1e-6


def assert_cut_once(cutting: Cutting, wanted: Iterable[Wanted]) -> None:
    """Every piece is cut once, for its member; those as long as the stock are bought whole."""
    full = tenths(cutting.stock_length)
    asked = Counter((w.member, tenths(w.length)) for w in wanted for _ in range(w.count) if tenths(w.length) < full)
    got: Counter[tuple[str, int]] = Counter()
    for bar in cutting.bars:
        for piece in bar.pieces:
            got[piece.member, tenths(piece.length)] += bar.count
    assert got == asked
    assert cutting.bought == sum(bar.count for bar in cutting.bars) >= cutting.lower_bound
