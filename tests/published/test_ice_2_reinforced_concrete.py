"""*Inventory of Carbon and Energy*, version 2.0 (Hammond and Jones, University of Bath, 2011): reinforced concrete.

Standing: the rule read: concrete RC 25/30 is 0.14006 kgCO2e/kg, and 0.077 more for every 100 kg of bars in 1 m3,
so 0.21706; bars at the world average 1.86 kgCO2e/kg read. Density 2400 kg/m3 from memory. We measure concrete and
steel as two items. Tolerance 0.001 kgCO2e/kg: the rule is printed to three decimals (100 x 1.86 / 2400 = 0.0775).
"""

from dataclasses import replace

import pytest

from takeoff.assess.items import assess_lines
from takeoff.assess.totals import total
from takeoff.cutting.order import order_quantities
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.model.per_unit import PerUnit


def item(material: str, unit: str, amount: float) -> Quantity:
    return Quantity(
        id=material,
        element="SB",
        trade="concrete",
        item=material,
        description=material,
        location="ground floor",
        unit=unit,
        material=material,
        net=amount,
        required=amount,
        dimensions=(Dimension(material, amount),),
    )


@pytest.fixture
def library(job):
    plain = next(iter(job.library.materials.values()))
    factor = next(iter(job.library.carbon.values()))
    materials = {
        name: replace(plain, name=name, density=density, mass=None, wastage=0.0, wood_share=0.0, work=None)
        for name, density in (("concrete", 2400.0), ("bars", 7850.0))
    }
    carbon = {
        name: replace(factor, material=name, a1a3=PerUnit(value, "kg"), mode=None, distance=None)
        for name, value in (("concrete", 0.14006), ("bars", 1.86))
    }
    return replace(job.library, materials=materials, carbon=carbon, prices={})


def test_one_m3_with_100_kg_of_bars(library):
    lines, problems = assess_lines(
        order_quantities([item("concrete", "m3", 1.0), item("bars", "kg", 100.0)], library), library
    )
    assert not problems
    concrete, bars = lines
    assert concrete.carbon.a1a3 == pytest.approx(2400 * 0.14006)
    assert bars.carbon.a1a3 == pytest.approx(2400 * 0.077, abs=2400 * 0.001)
    assert total(lines).a1a3 / concrete.mass == pytest.approx(0.14006 + 0.077, abs=0.001)
    assert pytest.approx(0.21706) == 0.14006 + 0.077


def test_not_assessed_is_not_nought(library):
    lines, _ = assess_lines(order_quantities([item("concrete", "m3", 1.0)], library), library)
    assert lines[0].carbon.a4 is None
    assert lines[0].carbon.a5_site is None
