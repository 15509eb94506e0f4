"""Pieces that begin a run with pieces that end one: as many pairs either way; `tight` takes the longest that fits."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.stock.barwork.pairing import Pairs, pair_any, pair_two, values_of_any

BAR = 100


def fits(long: int, short: int) -> bool:
    assert long >= short, "the longer one comes first"
    return long + short <= BAR


lengths = st.lists(st.integers(1, BAR), max_size=6).map(lambda found: sorted(found, reverse=True))


def most_pairs(begins: list[int], ends: list[int]) -> int:
    """By trying every way of matching."""
    few, many = sorted((begins, ends), key=len)
    return max(sum(a + b <= BAR for a, b in zip(few, way, strict=False)) for way in permutations(many))


def sums(begins: list[int], ends: list[int], pairs: Pairs) -> list[int]:
    every = [*begins, *ends]
    assert sorted(place for pair in pairs for place in pair) == list(range(len(every)))
    for pair in pairs:
        assert len(pair) == 1 or (pair[0] < len(begins) <= pair[1] and sum(every[k] for k in pair) <= BAR)
    return [sum(every[k] for k in pair) for pair in pairs if len(pair) == 2]


def test_tight_takes_the_longest_end_that_fits_and_plain_the_shortest() -> None:
    """With 60 to begin and ends of 50, 40, 10 only 40 and 10 fit: 40 leaves nothing, 10 leaves 30."""
    assert pair_two([60], [50, 40, 10], fits, tight=True) == [(0, 2), (1,), (3,)]
    assert pair_two([60], [50, 40, 10], fits) == [(0, 3), (1,), (2,)]


def test_one_piece_alone_is_a_bar_and_never_pairs_with_itself() -> None:
    assert pair_any([50], fits) == pair_any([50], fits, tight=True) == [(0,)]


@settings(max_examples=200, deadline=None)
@given(lengths, lengths)
def test_both_ways_make_as_many_pairs_as_can_be(begins: list[int], ends: list[int]) -> None:
    plain = sums(begins, ends, pair_two(begins, ends, fits))
    tight = sums(begins, ends, pair_two(begins, ends, fits, tight=True))
    assert len(plain) == len(tight) == most_pairs(begins, ends)


@settings(max_examples=200, deadline=None)
@given(lengths.filter(bool))
def test_the_values_prove_as_much_as_any_of_their_kind_could(found: list[int]) -> None:
    """Tried for every length t by the rule as it is told: 2 where nothing of t or longer fits, else 1, 0 if shorter."""
    values, most = values_of_any(found, fits)
    proofs = []
    for shortest in found:
        kept = [length for length in found if length >= shortest]
        proofs.append(sum(2 if length + shortest > BAR else 1 for length in kept))
    assert most == 2
    assert sum(values) == max(proofs)
