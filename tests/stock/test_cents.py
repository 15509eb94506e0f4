"""Bills are in whole hundredths, and a half hundredth goes up."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.stock.model import Bill, Work


@pytest.mark.parametrize(
    ("subtotal", "share", "tax", "total"),
    [
        (12.50, 0.05, 0.63, 13.13),  # 0.625: a half goes up
        (2.50, 0.05, 0.13, 2.63),  # 0.125, where rounding to the even would give 0.12
        (4.50, 0.07, 0.32, 4.82),  # 0.315
        (10.00, 0.0333, 0.33, 10.33),
        (19.99, 0.2, 4.00, 23.99),  # 3.998
    ],
)
def test_tax_to_the_cent(subtotal: float, share: float, tax: float, total: float) -> None:
    bill = Bill(material=subtotal, tax_share=share)
    assert (bill.subtotal, bill.tax, bill.total) == (subtotal, tax, total)


@given(st.integers(0, 10_000_000), st.integers(0, 1000))
def test_tax_is_what_decimal_arithmetic_makes_it(hundredths: int, per_mille: int) -> None:
    exact = Decimal(hundredths) / 100 * Decimal(per_mille) / 1000
    bill = Bill(material=hundredths / 100, tax_share=per_mille / 1000)
    assert bill.tax == float(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))


def test_hours_times_their_price_to_the_cent() -> None:
    """10 panels at 3.1 min are 31 min; at 45.00 an hour 23.25. One at 1 min and 40.30 is 0.67166, so 0.67."""
    assert Bill(labour=(Work("panel", 10, 3.1),), hour=45.0).labour_cost == 23.25
    assert Bill(labour=(Work("panel", 1, 1.0),), hour=40.3).labour_cost == 0.67
    assert Bill(labour=(Work("panel", 1, 1.0),), hour=0.3).labour_cost == 0.01  # 0.005


def test_a_sum_of_cents_is_one() -> None:
    """0.1 + 0.2 is 0.30000000000000004 where floats add up."""
    bill = Bill(material=0.1, labour=(Work("room", 1, 60.0),), hour=0.2, tax_share=0.0)
    assert (bill.subtotal, bill.total) == (0.3, 0.3)


def test_tax_on_the_material_leaves_labour_untaxed() -> None:
    bill = Bill(material=2.5, labour=(Work("room", 1, 60.0),), hour=100.0, tax_share=0.05, tax_on="material")
    assert (bill.subtotal, bill.tax, bill.total) == (102.5, 0.13, 102.63)


def test_where_nothing_has_a_price_nothing_comes_to_anything() -> None:
    bill = Bill(tax_share=0.05)
    assert (bill.subtotal, bill.tax, bill.total) == (None, None, None)


def test_amounts_beyond_all_cents_stay_what_they_are() -> None:
    assert Bill(material=1e300, tax_share=0.5).tax == 5e299
    assert Bill(material=9e14 + 0.25, tax_share=1.0).tax == 9e14 + 0.25
