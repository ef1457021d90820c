"""Biogenic carbon by EN 16449 and wastage factors of the upfront modules.

EN 16449: 44/12 x carbon fraction x density x volume / (1 + moisture/100), 0.5 and 12 % by default. The formula is from
memory, its ingredients read (catas.com, 23 Feb 2023); the values are derived from it. Wastage factor
WF = 1/(1 - WR) - 1, from memory, arithmetic derived. Tolerance: the last digit quoted.
"""

import pytest

from takeoff.assess.stored_carbon import stored_per_kg
from takeoff.cutting.allowance import order_factor


@pytest.mark.parametrize(("density", "stored"), [(500, 818.452), (450, 736.607)])
def test_stored_in_one_m3_at_12_per_cent(density, stored):
    assert density * stored_per_kg(moisture=0.12) == pytest.approx(stored, abs=0.0006)


def test_stored_in_one_kg_at_12_per_cent():
    assert stored_per_kg(moisture=0.12) == pytest.approx(1.63690, abs=0.000006)


def test_oven_dry_data_set_of_cross_laminated_timber():
    """428 oven-dry kg stand for 462 kg at 8 % (a published data set, read: 428 x 1.08 = 462.24)."""
    assert pytest.approx(462, abs=0.3) == 428 * 1.08
    assert 428 * stored_per_kg(moisture=0.0) == pytest.approx(784.67, abs=0.005)
    assert 462 * stored_per_kg(moisture=0.08) == pytest.approx(784.26, abs=0.005)


def test_published_product_line_without_moisture():
    """800 kg/m3 x 0.9 x 0.5 x 44/12 = 1,320 kgCO2/m3 (read; no moisture term)."""
    assert 800 * 0.9 * stored_per_kg(moisture=0.0) == pytest.approx(1320)


@pytest.mark.parametrize(
    ("rate", "factor"),
    [
        (0.01, 0.010101),
        (0.05, 0.052632),
        (0.10, 0.111111),
        (0.15, 0.176471),
        (0.20, 0.250000),
        (0.225, 0.290323),
    ],
)
def test_wastage_factor_of_what_is_delivered(rate, factor):
    assert order_factor(rate, "delivered") - 1 == pytest.approx(factor, abs=0.0000006)


def test_ten_per_cent_on_net_and_of_what_is_delivered():
    assert order_factor(0.10, "net") == pytest.approx(1.100)
    assert order_factor(0.10, "delivered") == pytest.approx(1.111, abs=0.0005)
