"""EN 15978, number of replacements: ceil(study period / service life) - 1, not below 0.

Standing: the rule is from memory, the counts derived from it by hand. The other way of counting, study period /
service life - 1, stands beside it as quoted from Francart et al. 2021, Int J LCA (second-hand). Tolerance: none for
whole counts, that of floating point for the others.
"""

import pytest

from takeoff.assess.renewal import whole_renewals
from takeoff.model.per_unit import PerUnit
from takeoff.model.study import Study

# study period, service life, replacements
COUNTS = [
    (60, 10, 5),
    (60, 15, 3),
    (60, 20, 2),
    (60, 25, 2),
    (60, 30, 1),
    (60, 35, 1),
    (60, 40, 1),
    (60, 50, 1),
    (60, 60, 0),
    (60, 110, 0),
    (50, 36, 1),
    (50, 15, 3),
]


@pytest.mark.parametrize(("period", "life", "count"), COUNTS)
def test_count_by_itself(period, life, count):
    assert whole_renewals(life, period) == count


@pytest.mark.parametrize(("period", "life", "count"), COUNTS)
def test_count_of_an_item_of_a_bill(bill_item, period, life, count):
    """One t, invented: each replacement is A1-A5 of the new and C1 to C4 of the old, D never.

    A1-A3 200, wastage 10 % on net of it and of C3 = 0.1 x (200 + 15) = 21.5, C1 6, C3 15: 242.5 each.
    """
    line = bill_item(
        amount=1000.0,
        factor={"a1a3": PerUnit(0.2, "kg")},
        end=[{"c1": 0.006, "c3": 0.015, "d": -0.1}],
        life={"years": float(life)},
        wastage=0.1,
        study=Study(period=float(period)),
    )
    assert line.renewal.whole == count
    assert [year for year, *_ in line.renewal.years] == [life * (n + 1) for n in range(count)]
    assert line.carbon.b4 == pytest.approx(242.5 * count)
    assert line.carbon.d == pytest.approx(-100)


@pytest.mark.parametrize(("period", "life", "count"), COUNTS)
def test_annualised_count_of_an_item_of_a_bill(bill_item, period, life, count):
    study = Study(period=float(period), replacements="annualised")
    line = bill_item(factor={}, life={"years": float(life)}, study=study)
    expected = max(period / life - 1, 0)
    assert line.renewal.annualised == pytest.approx(expected)
    assert line.carbon.b4 == pytest.approx(expected)
    assert line.renewal.whole == count


@pytest.mark.parametrize(("share", "b2"), [(1.0, 5.0), (0.67, 3.35), (0.5, 2.5)])
def test_a_share_renewed_at_a_time_weights_the_count(bill_item, share, b2):
    """Life 10 over 60 years: five times the share of 1 kgCO2e; counted as maintenance, B2."""
    line = bill_item(factor={}, life={"years": 10.0, "module": "B2", "share": share})
    assert line.carbon.b2 == pytest.approx(b2)
    assert line.carbon.b4 == 0.0
    assert line.carbon.b3 is None


def test_what_has_no_service_life_is_not_assessed(bill_item):
    line = bill_item(factor={})
    assert line.renewal is None
    assert line.carbon.b4 is None
