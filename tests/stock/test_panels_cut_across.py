"""Cuts right across small panels, against looking at every cut there is, on a raster of whole steps."""

from collections import Counter
from functools import cache
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.stock.certificate import PanelCertificate, ValuedPanel
from planner.stock.covering.cover import Counts
from planner.stock.panelwork.guillotine import Box, Guillotine, Placed, Size, placed
from planner.stock.panelwork.plain import PlainBench
from planner.stock.panelwork.raster import Raster

SIDE = st.integers(1, 6)
SIZE = st.builds(Size, SIDE, SIDE)
PANEL = st.builds(Size, st.integers(3, 9), st.integers(3, 9))


def lies(size: Size, width: int, height: int, turns: bool) -> bool:
    return (size.width <= width and size.height <= height) or (turns and size.height <= width and size.width <= height)


def best_by_every_cut(panel: Size, sizes: list[Size], values: list[int], turns: bool) -> int:
    """The greatest value of a panel, any number of each piece: it is one piece, or it is cut in two somewhere."""

    @cache
    def worth(width: int, height: int) -> int:
        best = max((v for s, v in zip(sizes, values, strict=True) if lies(s, width, height, turns)), default=0)
        for x in range(1, width // 2 + 1):
            best = max(best, worth(x, height) + worth(width - x, height))
        for y in range(1, height // 2 + 1):
            best = max(best, worth(width, y) + worth(width, height - y))
        return best

    return worth(*panel)


def can_be_cut(panel: Size, pieces: list[Size], turns: bool) -> bool:
    """Whether these pieces come off a panel: its first cut parts them in two heaps, somewhere."""

    @cache
    def fits(width: int, height: int, heap: tuple[int, ...]) -> bool:
        if len(heap) <= 1:
            return all(lies(pieces[k], width, height, turns) for k in heap)
        for count in range(1, len(heap)):
            for one in combinations(heap, count):
                other = tuple(k for k in heap if k not in one)
                if any(fits(x, height, one) and fits(width - x, height, other) for x in range(1, width)):
                    return True
                if any(fits(width, y, one) and fits(width, height - y, other) for y in range(1, height)):
                    return True
        return False

    return fits(*panel, tuple(range(len(pieces))))


def counts_of(kinds: list[int]) -> Counts:
    return tuple(sorted(Counter(kinds).items()))


def assert_lie_well(panel: Size, sizes: list[Size], kerf: int, laid: list[Placed], turns: bool) -> None:
    """Inside the panel, of their own sizes, and a saw's cut from each other; sizes and panel have the kerf added."""
    for piece in laid:
        width, height = sizes[piece.kind]
        assert piece.size == (Size(height - kerf, width - kerf) if piece.turned else Size(width - kerf, height - kerf))
        assert turns or not piece.turned
        assert piece.x >= 0 and piece.y >= 0
        assert piece.x + piece.size.width + kerf <= panel.width and piece.y + piece.size.height + kerf <= panel.height
    for a, b in combinations(laid, 2):
        beside = a.x + a.size.width + kerf <= b.x or b.x + b.size.width + kerf <= a.x
        above = a.y + a.size.height + kerf <= b.y or b.y + b.size.height + kerf <= a.y
        assert beside or above


@settings(deadline=None, max_examples=80)
@given(PANEL, st.lists(st.tuples(SIZE, st.integers(1, 9)), min_size=1, max_size=3), st.booleans())
def test_the_raster_finds_the_most_valuable_panel(panel: Size, priced: list[tuple[Size, int]], turns: bool) -> None:
    sizes, values = [size for size, _ in priced], [value for _, value in priced]
    enough = [panel.width * panel.height] * len(sizes)
    worth, box = Raster(panel, sizes, enough, turns=turns).best(values)
    assert worth == best_by_every_cut(panel, sizes, values, turns)
    laid = list(placed(box, 0)) if box else []
    assert sum(values[piece.kind] for piece in laid) == worth
    assert_lie_well(panel, sizes, 0, laid, turns)


@settings(deadline=None, max_examples=60)
@given(PANEL, st.lists(SIZE, min_size=2, max_size=4), st.booleans())
def test_pieces_come_off_one_panel_where_any_cuts_do_it(panel: Size, pieces: list[Size], turns: bool) -> None:
    kinds = list(dict.fromkeys(pieces))
    counts = counts_of([kinds.index(piece) for piece in pieces])
    boxes = Guillotine(panel, kinds, turns=turns).boxes(counts)
    assert bool(boxes) == can_be_cut(panel, pieces, turns)
    for box in boxes:
        laid = list(placed(box, 0))
        assert counts_of([piece.kind for piece in laid]) == counts
        assert_lie_well(box.size, kinds, 0, laid, turns)


@settings(deadline=None, max_examples=60)
@given(
    PANEL,
    st.lists(SIZE, min_size=1, max_size=3, unique=True),
    st.lists(st.integers(1, 3), min_size=3, max_size=3),
    st.lists(st.integers(0, 9), min_size=3, max_size=3),
    st.booleans(),
)
def test_patterns_of_a_bench_hold_no_more_than_is_wanted_and_lie_well(
    panel: Size, sizes: list[Size], wanted: list[int], priced: list[int], turns: bool
) -> None:
    sizes = [size for size in sizes if lies(size, *panel, turns)]
    if not sizes:
        return
    demand, values = wanted[: len(sizes)], priced[: len(sizes)]
    bench = PlainBench(panel, sizes, demand, turns=turns, kerf=0)
    (fill,) = bench.best(values, demand)
    best = 0
    kinds = [kind for kind, n in enumerate(demand) for _ in range(min(n, 2))]
    for count in range(1, len(kinds) + 1):
        for some in combinations(kinds, count):
            if can_be_cut(panel, [sizes[kind] for kind in some], turns):
                best = max(best, sum(values[kind] for kind in some))
    assert fill.value >= best
    assert all(n <= demand[kind] for kind, n in fill.counts)
    assert sum(values[kind] * n for kind, n in fill.counts) == fill.value
    worthy = bench.near(values, [best], demand)
    assert worthy is not None  # so few patterns are listed
    for column in worthy:
        assert sum(values[kind] * n for kind, n in column.counts) >= best
        assert_lie_well(panel, sizes, 0, bench.placed(column.counts), turns)
    if fill.counts:
        assert fill.counts in [column.counts for column in worthy]
        laid = bench.placed(fill.counts)
        assert counts_of([piece.kind for piece in laid]) == fill.counts
        assert_lie_well(panel, sizes, 0, laid, turns)
    got: Counter[int] = Counter()
    for column, times in bench.greedy(demand, [None]):
        got.update({kind: n * times for kind, n in column.counts})
        assert_lie_well(panel, sizes, 0, bench.placed(column.counts), turns)
    assert all(got[kind] >= n for kind, n in enumerate(demand))


def test_a_knife_takes_its_cut_between_pieces() -> None:
    """Two of 290 side by side in a panel of 600 with a kerf of 3: the second begins at 293."""
    kerf = 30
    bench = PlainBench(Size(6030, 3030), [Size(2930, 3030)], [2], turns=False, kerf=kerf)
    one, other = bench.placed(((0, 2),))
    assert (one.x, other.x, other.size) == (0, 2930, Size(2900, 3000))
    assert_lie_well(Size(6030, 3030), [Size(2930, 3030)], kerf, [one, other], False)


def test_pieces_round_a_gap_like_the_arms_of_a_mill_are_not_cut_from_one_panel() -> None:
    """Four of 3 x 2 round the middle of 5 x 5: no cut goes right across. Three of them are cut easily."""
    assert Guillotine(Size(5, 5), [Size(3, 2)], turns=True).boxes(((0, 4),)) == ()
    assert Guillotine(Size(5, 5), [Size(3, 2)], turns=True).boxes(((0, 3),)) != ()


@pytest.mark.parametrize(("turns", "fits"), [(True, True), (False, False)])
def test_patterned_panels_are_not_turned(turns: bool, fits: bool) -> None:
    """A piece of 2 x 5 comes off a panel of 5 x 2 only where the pattern allows it to be turned."""
    boxes = Guillotine(Size(5, 2), [Size(2, 5)], turns=turns).boxes(((0, 1),))
    assert boxes == ((Box(Size(5, 2), kind=0, turned=True),) if fits else ())


@pytest.mark.parametrize(("counts", "panels"), [((2, 1), 1), ((3, 1), 2), ((4, 0), 2), ((0, 0), 0)])
def test_what_is_wanted_over_what_a_panel_holds_is_the_least_number_of_panels(
    counts: tuple[int, int], panels: int
) -> None:
    """Pieces worth 40 and 20, a panel at most 100: 2 · 40 + 20 = 100 is one panel, 140 and 160 are two."""
    large, small = ValuedPanel((3_000, 6_000), counts[0], 40), ValuedPanel((1_500, 6_000), counts[1], 20)
    assert PanelCertificate((large, small), 100).bound == panels
