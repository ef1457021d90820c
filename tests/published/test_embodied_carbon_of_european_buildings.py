"""*Embodied Carbon of European Buildings* database (Röck and Sørensen 2022, doi 10.5281/zenodo.6671558, CC BY-SA 4.0).

Read, kgCO2e/m2 of floor. House DH_P1_EPB-timber, Belgium, over 60 years: A1-A3 194.92749, A4-A5 18.47264, B1-B4
175.56287, B5 none, C1-C2 6.78884, C3-C4 9.65786; total published 405.40970. House Lankkukatu 4, Finland, over 50 years:
total published 350.0, D -105 outside of it. The modules of the Finnish house are not repeated here: only that D
stays outside is checked. Modules published together are put into the first of ours. Tolerance: the last digit.
"""

import pytest

from takeoff.assess.by_year import by_year
from takeoff.assess.totals import total
from takeoff.model.life_cycle import LIFE_CYCLE
from takeoff.model.per_unit import PerUnit
from takeoff.model.study import Study

BELGIAN = {"A1-A3": 194.92749, "A5 site": 18.47264, "B2": 175.56287, "C1": 6.78884, "C3": 9.65786}
PUBLISHED = 405.40970


@pytest.fixture
def belgian(bill_item):
    """One m2 of floor as one item; the use stage is stated for one year."""
    return bill_item(
        unit="m2",
        factor={
            "a1a3": PerUnit(BELGIAN["A1-A3"], "m2"),
            "a5": BELGIAN["A5 site"],
            "b2": BELGIAN["B2"] / 60,
            "c1": BELGIAN["C1"],
            "c3": BELGIAN["C3"],
            "d": -50.0,
        },
        study=Study(period=60.0),
    )


def test_modules_of_the_belgian_house(belgian):
    totals = total([belgian])
    for module, value in BELGIAN.items():
        assert totals.of(module) == pytest.approx(value, abs=0.000005), module
    assert totals.of("D") == pytest.approx(-50)


def test_total_of_the_belgian_house(belgian):
    totals = total([belgian])
    assert totals.life_cycle() == pytest.approx(PUBLISHED, abs=0.000005)
    assert totals.life_cycle((*LIFE_CYCLE, "D")) == pytest.approx(PUBLISHED, abs=0.000005)
    assert totals.upfront == pytest.approx(194.92749 + 18.47264)


def test_years_of_the_belgian_house_add_up_to_the_same(belgian):
    years = by_year([belgian], Study(period=60.0))
    assert sum(year.carbon for year in years) == pytest.approx(PUBLISHED, abs=0.000005)
    assert years[0].carbon == pytest.approx(194.92749 + 18.47264)
    assert years[30].carbon == pytest.approx(175.56287 / 60)
    assert years[60].carbon == pytest.approx(175.56287 / 60 + 6.78884 + 9.65786)


def test_as_a_house_that_is_replaced_in_part(bill_item):
    """The use stage as one replacement: an item whose A1-A3 and C1 are that of B1-B4 in half and half."""
    line = bill_item(
        unit="m2",
        factor={"a1a3": PerUnit(175.56287 / 2, "m2"), "c1": 175.56287 / 2},
        life={"years": 30.0},
    )
    assert total([line]).of("B4") == pytest.approx(175.56287)


def test_credits_of_the_finnish_house_stay_outside(bill_item):
    line = bill_item(unit="m2", factor={"a1a3": PerUnit(350.0, "m2"), "d": -105.0}, study=Study(period=50.0))
    assert total([line]).life_cycle() == pytest.approx(350.0)
    assert total([line]).of("D") == pytest.approx(-105.0)
    assert sum(year.carbon for year in by_year([line], Study(period=50.0))) == pytest.approx(350.0)


def test_benchmark_of_new_workbooks_is_the_published_total(job):
    row = next(b for b in job.library.benchmarks if "DH_P1_EPB-timber" in b.covers)
    assert row.value == pytest.approx(PUBLISHED, abs=0.05)
    assert (row.modules, row.study_period) == ("A-C", 60)
