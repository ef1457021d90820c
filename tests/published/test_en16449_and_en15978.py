"""Biogenic carbon by EN 16449 and wastage factors of the upfront modules.

EN 16449: 44/12 x carbon fraction x density x volume / (1 + moisture/100), 0.5 and 12 % by default. The formula is from
memory, its ingredients read (catas.com, 23 Feb 2023); the values are derived from it. Wastage factor
WF = 1/(1 - WR) - 1, from memory, arithmetic derived. Tolerance: the last digit quoted.

Further carbon fractions, 0.498 of spruce and 0.45 as the cautious one, are a Dutch table quoted by the same page
(second-hand). The data set of cross-laminated timber (lcadata.tiangong.world, read) says: 428 oven-dry kg, 462 kg at
8 % moisture, resins 2.7 kg, 464.7 kg in all.
"""

import pytest

from takeoff.assess.stored_carbon import stored_per_kg
from takeoff.cutting.allowance import order_factor
from takeoff.model.per_unit import PerUnit


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
    ("of_material", "stored", "tolerance"),
    [
        ({"density": 500.0, "wood_share": 1.0, "moisture": 0.12}, 818.452, 0.0006),
        ({"density": 450.0, "wood_share": 1.0, "moisture": 0.12}, 736.607, 0.0006),
        # 1,000 kg at 1.63690 kgCO2/kg, both rounded up by one more digit
        ({"density": 1000.0, "wood_share": 1.0, "moisture": 0.12}, 1636.90, 0.006),
        # cross-laminated timber: of 464.7 kg, 462 kg are wood at 8 %
        ({"density": 464.7, "wood_share": 462 / 464.7, "moisture": 0.08}, 784.26, 0.005),
        # the same by its 428 oven-dry kg
        ({"density": 428.0, "wood_share": 1.0, "moisture": 0.0}, 784.67, 0.005),
        # published product line: nine tenths of 800 kg/m3, no moisture term
        ({"density": 800.0, "wood_share": 0.9, "moisture": 0.0}, 1320.0, 0.0005),
        # 500 / 1.12 x 0.498 x 44/12 and x 0.45 x 44/12
        ({"density": 500.0, "wood_share": 1.0, "moisture": 0.12, "carbon_fraction": 0.498}, 815.179, 0.0006),
        ({"density": 500.0, "wood_share": 1.0, "moisture": 0.12, "carbon_fraction": 0.45}, 736.607, 0.0006),
    ],
)
def test_stored_in_one_m3_of_a_bill(bill_item, of_material, stored, tolerance):
    line = bill_item(unit="m3", amount=1.0, factor={}, **of_material)
    assert line.carbon.stored == pytest.approx(-stored, abs=tolerance)
    # it stands beside the modules, never in them: 1 kgCO2e/kg is the whole of A1-A3
    assert line.carbon.a1a3 == pytest.approx(of_material["density"])


def test_moisture_and_carbon_fraction_that_are_not_stated_are_those_of_the_standard(bill_item):
    line = bill_item(unit="m3", density=500.0, wood_share=1.0)
    assert line.carbon.stored == pytest.approx(-818.452, abs=0.0006)


def test_what_a_source_declares_as_stored_counts_before_the_formula(bill_item):
    """A declared -1.5 kgCO2/kg, invented, against 1.6369 by the formula."""
    line = bill_item(unit="m3", density=500.0, wood_share=1.0, factor={"biogenic": -1.5})
    assert line.carbon.stored == pytest.approx(-1.5 * 500)


WASTAGE = [
    (0.01, 0.010101),
    (0.05, 0.052632),
    (0.10, 0.111111),
    (0.15, 0.176471),
    (0.20, 0.250000),
    (0.225, 0.290323),
]


@pytest.mark.parametrize(("rate", "factor"), WASTAGE)
def test_wastage_factor_of_what_is_delivered(rate, factor):
    assert order_factor(rate, "delivered") - 1 == pytest.approx(factor, abs=0.0000006)


@pytest.mark.parametrize(("rate", "factor"), WASTAGE)
def test_wastage_of_a_bill_is_the_factor_times_product_transport_and_disposal(bill_item, rate, factor):
    """WF x (A1-A3 + A4 + C2 + C3 + C4), from memory; C1 and D are not in it. All numbers of 1 t invented:

    A1-A3 200, A4 300 km at 0.1 kg/(t km) = 30, C1 6, C2 50 km = 5, C3 15, C4 13, D -100.
    """
    line = bill_item(
        amount=1000.0,
        factor={"a1a3": PerUnit(0.2, "kg"), "mode": "lorry", "distance": 300e3},
        end=[{"c1": 0.006, "mode": "lorry", "distance": 50e3, "c3": 0.015, "c4": 0.013, "d": -0.1}],
        modes={"lorry": 1e-7},
        wastage=rate,
        wastage_base="delivered",
    )
    carbon = line.carbon
    assert (carbon.a1a3, carbon.a4) == pytest.approx((200, 30))
    assert (carbon.c1, carbon.c2, carbon.c3, carbon.c4, carbon.d) == pytest.approx((6, 5, 15, 13, -100))
    assert carbon.a5_wastage == pytest.approx(factor * (200 + 30 + 5 + 15 + 13), abs=0.0002)
    assert line.mass == pytest.approx(1000)
    assert line.mass_wastage == pytest.approx(factor * 1000, abs=0.0006)


def test_ten_per_cent_on_net_and_of_what_is_delivered():
    assert order_factor(0.10, "net") == pytest.approx(1.100)
    assert order_factor(0.10, "delivered") == pytest.approx(1.111, abs=0.0005)
