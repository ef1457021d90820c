"""Decay of wood in landfill, from almost none to half of its carbon.

Low end: Ximenes et al. 2018 (s13021-018-0115-3, abstract read): particleboard and fibreboard
lose 0.7 to 1.6 % of their carbon. High end: 50 %, default of the IPCC, as read in an abstract of O'Dwyer et al.
Stored carbon of 1 kg of wood at 12 %: 44/12 x 0.5 / 1.12 kgCO2 (EN 16449, from memory). Methane over 100 years warms
28 times as much as CO2 (IPCC Fifth Assessment Report, as quoted by designingbuildings.co.uk, read); its share is
invented here. Tolerance: floating point.
"""

import pytest

from takeoff.assess.totals import total
from takeoff.model.study import Study

STORED = 44 / 12 * 0.5 / 1.12
DECAY = [0.007, 0.016, 0.5]


def wood(bill_item, decay, *, methane=0.0, study=None, **others):
    rows = [
        {"route": "energy recovery", "c3": 0.0},
        {"scenario": "landfill", "c4": 0.013, "released": decay, "methane": methane},
    ]
    study = study or Study(end_of_life="landfill")
    return bill_item(factor={}, end=rows, wood_share=1.0, moisture=0.12, study=study, **others)


@pytest.mark.parametrize("decay", DECAY)
def test_what_does_not_decay_stays_stored(bill_item, decay):
    totals = total([wood(bill_item, decay)])
    assert totals.stored == pytest.approx(-STORED)
    assert totals.released == pytest.approx(decay * STORED)
    assert totals.kept == pytest.approx(-(1 - decay) * STORED)


@pytest.mark.parametrize("decay", DECAY)
def test_boards_renewed_in_between_decay_alike(bill_item, decay):
    """Renewed at 25 and 50 years: three times as much is stored, and as much of it stays."""
    totals = total([wood(bill_item, decay, life={"years": 25.0})])
    assert totals.renewed_stored == pytest.approx(-2 * STORED)
    assert totals.kept == pytest.approx(-3 * (1 - decay) * STORED)


@pytest.mark.parametrize("decay", DECAY)
def test_in_the_usual_scenario_nothing_stays(bill_item, decay):
    totals = total([wood(bill_item, decay, study=Study())])
    assert totals.kept == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("decay", DECAY)
@pytest.mark.parametrize("share", [0.1, 0.5])
def test_methane_warms_more_than_the_carbon_it_is_made_of(bill_item, decay, share):
    """Of 0.5/1.12 kg of carbon `decay` leaves: `share` of it as methane, 16/12 kg each kg, the rest as CO2."""
    carbon = 0.5 / 1.12 * decay
    warming = carbon * (1 - share) * 44 / 12 + carbon * share * 16 / 12 * 28
    line = wood(bill_item, decay, methane=share)
    assert line.carbon.released + line.carbon.c4 == pytest.approx(warming + 0.013)
    # the carbon itself still closes: what the methane is made of is not taken twice
    assert total([line]).kept == pytest.approx(-(1 - decay) * STORED)


def test_rows_of_new_workbooks_reach_from_one_end_to_the_other(job):
    rows = job.library.end_of_life
    assert 0.007 <= rows["wood to landfill, little decay", "wood board"].released <= 0.016
    assert rows["wood to landfill, IPCC decay", "wood board"].released == 0.5
    assert all(row.released == 1.0 for (scenario, _), row in rows.items() if scenario == "usual")
