"""UK Defra/DECC greenhouse gas conversion factors 2011, waste to landfill (Crown copyright, read).

One tonne to landfill: plasterboard 71.95, plastics 34.08, metals 20.24, rubble 0, wood 792.33 kgCO2e. The wood figure
is that of an older model with much decay; it is tried here as C4 as it stands, without decay of our own on top.
Combustion of wood, -817.02 kgCO2e/t, is net of energy saved: a credit beyond the system, so never C3. Tolerance: the
last digit printed.
"""

import pytest

from takeoff.assess.totals import total


@pytest.mark.parametrize(
    ("family", "per_tonne"),
    [("gypsum", 71.95), ("plastic", 34.08), ("steel", 20.24), ("cement", 0.0), ("softwood", 792.33)],
)
def test_one_tonne_to_landfill(bill_item, family, per_tonne):
    line = bill_item(
        amount=1000.0, factor={}, family=family, end=[{"family": family, "c4": per_tonne / 1000}]
    )
    assert line.carbon.c4 == pytest.approx(per_tonne, abs=0.005)
    # rubble is assessed and nought; what the row leaves blank is not assessed
    assert line.carbon.c3 is None
    assert total([line]).of("C4") == pytest.approx(per_tonne, abs=0.005)
    assert total([line]).of("C1") is None


@pytest.mark.parametrize(
    ("family", "per_tonne"), [("gypsum", 71.95), ("plastic", 34.08), ("plastic foam", 34.08)]
)
def test_rows_of_the_new_workbooks_are_those_read(job, family, per_tonne):
    row = job.library.end_of_life["usual", family]
    assert row.c4 == pytest.approx(per_tonne / 1000)
    assert (row.source, row.standing) == ("DEFRA11", "read")


def test_burning_wood_is_a_credit_beyond_the_system(job):
    """-817.02 kgCO2e/t is C3 and D together, so D is that less the C3 of the row."""
    row = job.library.end_of_life["wood burnt for energy", "softwood"]
    assert row.c3 + row.d == pytest.approx(-0.81702)
    assert row.c3 > 0
