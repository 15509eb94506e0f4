"""Published instances of one-dimensional bin packing: the optimum is met and proven on each.

Sources stand in published_bins.json, with a warning about two stale figures.
"""

import json
from collections import Counter
from pathlib import Path

import pytest
from stock.saws import most_on_a_bar

from planner.stock.bars import cut_bars

INSTANCES = json.loads(Path(__file__).with_name("published_bins.json").read_text("utf-8"))["instances"]


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda instance: instance["name"])
def test_the_published_optimum_is_met_and_proven(instance: dict) -> None:
    capacity, items = instance["capacity"], instance["items"]
    answer = cut_bars(capacity, items, budget_s=60)
    assert (answer.bought, answer.lower_bound) == (instance["optimum"], instance["optimum"])
    assert Counter(length for bar in answer.bars for length in bar) == Counter(items)
    assert max(map(sum, answer.bars)) <= capacity


@pytest.mark.parametrize("instance", INSTANCES[:3], ids=lambda instance: instance["name"])
def test_the_proof_needs_no_trust_in_the_solver(instance: dict) -> None:
    """The pieces' values are summed here, and the most a bar can hold is worked out anew."""
    certificate = cut_bars(instance["capacity"], instance["items"], budget_s=60).certificate
    assert certificate is not None
    asked = Counter(instance["items"])
    assert {piece.length: piece.count for piece in certificate.pieces} == {10 * size: n for size, n in asked.items()}
    worth = sum(asked[piece.length // 10] * piece.value for piece in certificate.pieces)
    assert -(-worth // most_on_a_bar(certificate)) == instance["optimum"]


def test_a_false_value_would_be_noticed() -> None:
    """Doubling the values of all but one piece, most left as it is, must not pass the re-check."""
    certificate = cut_bars(150, INSTANCES[0]["items"], budget_s=60).certificate
    assert certificate is not None
    assert certificate.holds()
    forged = type(certificate)(certificate.stock, certificate.kerf, certificate.pieces, certificate.most - 1)
    assert not forged.holds()
