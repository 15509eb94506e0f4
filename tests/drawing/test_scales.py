"""Standard scales, and the choice of the largest that fits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.drawing.scales import IMPERIAL, METRIC, largest_that_fits, scale_of, standard_scales


def test_metric_scales_are_the_reductions_of_iso_5455_and_one_more():
    """ISO 5455: 1:2, 1:5, 1:10 and ten times each; 1:25 is usual in building."""
    series = {n * 10**k for n in (1, 2, 5) for k in range(4)} - {1}
    assert {s.denominator for s in METRIC} - {25} == series & {s.denominator for s in METRIC}
    assert 25 in {s.denominator for s in METRIC}


@pytest.mark.parametrize(
    ("inches", "denominator"),
    # a foot is 12 in; drafting manuals print 96, 64, 48, 32, 24, 16, 12, 8 for these
    [("1/8", 96), ("3/16", 64), ("1/4", 48), ("3/8", 32), ("1/2", 24), ("3/4", 16), ("1", 12), ("1 1/2", 8)],
)
def test_architects_scales(inches, denominator):
    assert scale_of(denominator, imperial=True).imperial == f'{inches}" = 1\'-0"'


def test_every_imperial_scale_is_what_its_name_says():
    for scale in IMPERIAL:
        paper, room = scale.imperial.split(" = ")
        inches = sum(_number(part) for part in paper.rstrip('"').split())
        assert float(room.split("'")[0]) * 12 / inches == pytest.approx(scale.denominator)


def _number(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom or 1)


def test_a_ratio_has_no_feet_in_a_metric_job():
    assert scale_of(48.0, imperial=False).name == "1:48"
    assert scale_of(48.0, imperial=True).name == '1/4" = 1\'-0" (1:48)'


@pytest.mark.parametrize(
    ("room", "space", "expected"),
    [
        ((8000, 5000), (390, 277), 25),  # 8000 / 25 = 320, 5000 / 25 = 200
        ((8000, 5000), (390, 199), 50),  # 200 is too high now
        ((8000, 5000), (160, 100), 50),  # fits to the hair
        ((31000, 1950), (390, 277), 100),  # 310 long
    ],
)
def test_the_largest_scale_that_fits(room, space, expected):
    assert largest_that_fits(drawn(room), space, METRIC).denominator == expected


def drawn(room):
    """How large a bare room is on paper."""
    return lambda scale: (room[0] / scale.denominator, room[1] / scale.denominator)


def test_nothing_fits_a_stamp():
    assert largest_that_fits(drawn((1e9, 1e9)), (10, 10), METRIC) is None


@given(st.floats(100, 1e6), st.floats(100, 1e6), st.booleans())
def test_the_chosen_scale_fits_and_the_next_larger_does_not(width, depth, imperial):
    scales = standard_scales(imperial)
    found = largest_that_fits(drawn((width, depth)), (300, 200), scales)
    if found is None:
        return
    assert width / found.denominator <= 300 and depth / found.denominator <= 200
    k = scales.index(found)
    if k:
        before = scales[k - 1].denominator
        assert width / before > 300 or depth / before > 200
