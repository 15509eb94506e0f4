"""A proof is shown where the bound rests on it; where it does not, nothing is left open."""

from hypothesis import given, settings
from hypothesis import strategies as st
from stock.saws import most_on_a_bar

from planner.stock.bars import cut_bars

LENGTHS = st.lists(st.integers(15, 75), min_size=4, max_size=16)


@settings(deadline=None, max_examples=40)
@given(LENGTHS, st.sampled_from([0.0, 1.0]))
def test_the_bound_is_that_of_the_proof_or_every_pattern_was_tried(lengths: list[int], budget_s: float) -> None:
    """With no time at all a gap may be left; then the proof shown is the one that the bound comes from."""
    answer = cut_bars(100, lengths, budget_s=budget_s)
    assert -(-sum(lengths) // 100) <= answer.lower_bound <= answer.bought <= len(lengths)
    if answer.certificate is None:
        assert answer.bought == answer.lower_bound
        return
    certificate = answer.certificate
    assert certificate.holds()
    assert certificate.bound == answer.lower_bound
    worth = sum(piece.count * piece.value for piece in certificate.pieces)
    assert certificate.whole + -(-worth // most_on_a_bar(certificate)) >= answer.lower_bound
