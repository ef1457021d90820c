"""UK Defra/DECC greenhouse gas conversion factors 2011 and 2012, freight (Crown copyright, read).

HGV all, UK average load, with well-to-tank: 0.15399 kgCO2e per tonne-km (2011). 2012: 0.12366 direct and 0.02627
indirect give the printed 0.14993. Products are derived; tolerance the last digit.
"""

import shutil
from dataclasses import replace

import openpyxl
import pytest

from takeoff.assess.carbon import transport_per_kg
from takeoff.units import factor_between
from takeoff.workbook.reading import read_job

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


@pytest.mark.parametrize(("distance_km", "expected"), [(50, 7.6995), (300, 46.197)])
@pytest.mark.parametrize(
    ("factor_unit", "factor", "distance_unit", "per_km"),
    [("kgCO2e/(t km)", 0.15399, "km", 1), ("gCO2e/tkm", 153.99, "m", 1000)],
)
def test_one_tonne_read_from_the_workbook(
    demo_folder, tmp_path, distance_km, expected, factor_unit, factor, distance_unit, per_km
):
    """The factor and the distance as typed, in the units that stand over their columns."""
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    book = openpyxl.load_workbook(tmp_path / "factors.xlsx")
    put(book["Transport"], "Lorry, average load", {"Factor": factor}, {"Factor": factor_unit})
    put(
        book["Carbon factors"],
        "Concrete 25 MPa",
        {"Transport": "Lorry, average load", "Distance": distance_km * per_km},
        {"Distance": distance_unit},
    )
    for row in book["Transport"].iter_rows(min_row=7):
        row[1].value = row[1].value and row[1].value * factor / 0.15399
    for row in book["Carbon factors"].iter_rows(min_row=6):
        if row[0].value != "Concrete 25 MPa" and row[6].value is not None:
            row[6].value *= per_km
    book.save(tmp_path / "factors.xlsx")
    library = read_job(tmp_path / "heron_bank.xlsx").library
    per_kg = transport_per_kg(library.carbon["Concrete 25 MPa"], library)
    assert per_kg is not None
    assert 1000 * per_kg == pytest.approx(expected, abs=0.00005)


def put(sheet, key, values, units):
    """Set cells of the row of a key, and the units in the row under the titles, by title."""
    rows = list(sheet.iter_rows())
    titles = next(index for index, row in enumerate(rows) if any(cell.value in values for cell in row))
    row = next(row for row in rows[titles + 1 :] if row[0].value == key)
    for column, title in enumerate(rows[titles]):
        if title.value in values:
            row[column].value = values[title.value]
        if title.value in units:
            rows[titles + 1][column].value = units[title.value]


def test_the_2012_row_closes():
    parts = [factor_between("kgCO2e/(t km)", "kgCO2e/(kg m)") * part for part in (0.12366, 0.02627)]
    assert 1000 * 1000 * sum(parts) == pytest.approx(0.14993)


def test_spellings_of_tonne_kilometres_agree():
    assert factor_between("kgCO2e/tkm", "kgCO2e/(kg m)") == pytest.approx(1e-6)


@pytest.mark.parametrize(("distance_km", "expected"), [(50, 7.6995), (300, 46.197)])
def test_one_tonne_of_a_bill_on_its_way_there_and_away(bill_item, distance_km, expected):
    factor = HGV_2011 * factor_between("kgCO2e/(t km)", "kgCO2e/(kg m)")
    distance = distance_km * factor_between("km", "m")
    line = bill_item(
        amount=1000.0,
        factor={"mode": "lorry", "distance": distance},
        end=[{"mode": "lorry", "distance": distance}],
        modes={"lorry": factor},
    )
    assert line.carbon.a4 == pytest.approx(expected, abs=0.00005)
    assert line.carbon.c2 == pytest.approx(expected, abs=0.00005)
    assert line.carbon.c1 is None


@pytest.mark.parametrize(
    ("mode", "factor"),
    [
        ("Lorry, average load", 0.15399),
        ("Rigid lorry, all sizes", 0.31204),
        ("Articulated lorry, over 33 t", 0.10327),
        ("Van, to 3.5 t", 0.64473),
        ("Rail", 0.03694),
        ("Container ship", 0.01875),
    ],
)
def test_ways_of_the_new_workbooks_are_those_read(job, mode, factor):
    stated = job.library.transport[mode]
    assert stated.factor == pytest.approx(factor * 1e-6)
    assert (stated.source, stated.standing) == ("DEFRA11", "read")
