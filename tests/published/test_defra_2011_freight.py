"""UK Defra/DECC greenhouse gas conversion factors 2011 and 2012, freight (Crown copyright, read).

HGV all, UK average load, with well-to-tank: 0.15399 kgCO2e per tonne-km (2011). 2012: 0.12366 direct and 0.02627
indirect give the printed 0.14993. Products are derived; tolerance the last digit.
"""

from dataclasses import replace

import pytest

from takeoff.assess.lines import transport_per_kg
from takeoff.units import factor_between

HGV_2011 = 0.15399


@pytest.mark.parametrize(("distance_km", "expected"), [(50, 7.6995), (300, 46.197)])
def test_one_tonne_by_lorry(job, distance_km, expected):
    factor = HGV_2011 * factor_between("kgCO2e/(t km)", "kgCO2e/(kg m)")
    mode = replace(next(iter(job.library.transport.values())), name="lorry", factor=factor)
    library = replace(job.library, transport={"lorry": mode})
    carbon = replace(
        next(iter(library.carbon.values())), mode="lorry", distance=distance_km * factor_between("km", "m")
    )
    per_kg = transport_per_kg(carbon, library)
    assert per_kg is not None
    assert 1000 * per_kg == pytest.approx(expected, abs=0.00005)


def test_the_2012_row_closes():
    assert pytest.approx(0.14993) == 0.12366 + 0.02627


def test_spellings_of_tonne_kilometres_agree():
    assert factor_between("kgCO2e/tkm", "kgCO2e/(kg m)") == pytest.approx(1e-6)
