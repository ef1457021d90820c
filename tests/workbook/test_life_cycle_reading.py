"""Carbon over the whole life as typed: what is read of it, in which units, and what a blank stands for."""

from __future__ import annotations

import pytest
from openpyxl.workbook import Workbook

from takeoff.model.life_cycle import LIFE_CYCLE, Benchmark, EndOfLife, ServiceLife, Spread
from takeoff.model.problem import Origin
from takeoff.model.study import Study
from takeoff.workbook.life_cycle_reading import build_lives
from takeoff.workbook.reading import read_job
from takeoff.workbook.tables import Record

OPTIONAL = ("Service lives", "End of life", "Spreads", "Benchmarks")
WOOL = "Glass wool batts"


def library(spoiled):
    return read_job(spoiled.house).library


def add_row(spoiled, sheet: str, *, factors: bool = True, **cells: object) -> None:
    """Write a row below the last one of a sheet, by the titles of its columns."""

    def change(book: Workbook) -> None:
        rows = list(book[sheet].iter_rows())
        header = next(row for row in rows if any(cell.value == "Source" for cell in row))
        key = header[0].column
        last = max(row[0].row for row in rows[header[0].row :] if row[0].value is not None)
        titles = {cell.value: cell.column for cell in header}
        assert titles[next(iter(cells))] == key
        for title, value in cells.items():
            book[sheet].cell(last + 1, titles[title], value)

    spoiled.edit(change, factors=factors)


def lives_row(**values: object) -> Record:
    usual = {
        "material": "Boards",
        "module": "B4",
        "sheltered": 60.0,
        "moderate": None,
        "exposed": None,
        "low": None,
        "high": None,
        "share": 1.0,
        "taking_down": 0.0,
        "source": "common",
        "standing": "from memory",
        "note": "",
    }
    return Record({**usual, **values}, Origin())


@pytest.mark.parametrize(
    ("typed", "years"),
    [
        ({"exposed": 40.0}, (60.0, 50.0, 40.0)),
        ({}, (60.0, 60.0, 60.0)),
        ({"moderate": 60.0}, (60.0, 60.0, 60.0)),
        ({"moderate": 45.0, "exposed": 40.0}, (60.0, 45.0, 40.0)),
    ],
)
def test_a_life_that_is_not_typed_follows_from_the_others(typed, years):
    life = build_lives([lives_row(**typed)])["Boards"]
    assert (life.years("sheltered"), life.years("moderate"), life.years("exposed")) == years


def test_a_service_life_is_read_with_its_range_as_shares(spoiled):
    add_row(
        spoiled,
        "Service lives",
        **{
            "Material": "Cornice, plaster 55",
            "Renewal": "B3",
            "Sheltered": 24,
            "Exposed": "10 year",
            "Low": 60,
            "High": 140,
            "Share renewed": 50,
            "Taking down": 25,
            "Source": "invented",
            "Standing": "invented for the demo",
            "Note": "Invented.",
        },
    )
    assert library(spoiled).lives["Cornice, plaster 55"] == ServiceLife(
        material="Cornice, plaster 55",
        module="B3",
        sheltered=24,
        moderate=17,
        exposed=10,
        low=0.6,
        high=1.4,
        share=0.5,
        taking_down=0.25,
        source="invented",
        standing="invented for the demo",
        note="Invented.",
    )


def test_the_houses_own_service_lives_win(spoiled):
    before = library(spoiled).lives
    row = {
        "Material": WOOL,
        "Renewal": "B4",
        "Sheltered": 33,
        "Source": "invented",
        "Standing": "invented for the demo",
    }

    def change(book: Workbook) -> None:
        paper = book["Service lives"]
        header = next(r for r in paper.iter_rows() if r[0].value == "Material")
        for cell in header:
            paper.cell(cell.row + 2, cell.column, row.get(cell.value))

    spoiled.edit(change)
    after = library(spoiled).lives
    assert after[WOOL].years("exposed") == 33
    assert {name: life for name, life in after.items() if name != WOOL} == {
        name: life for name, life in before.items() if name != WOOL
    }


def test_modules_of_a_factor_are_in_its_unit(spoiled):
    """1350 kgCO2e/t is 1.35 kgCO2e/kg, and so with every other module of the row."""
    typed = {
        "A1-A3": 1350,
        "Unit": "kgCO2e/t",
        "Low": 1000,
        "High": 1540,
        "Land use": 3,
        "Biogenic": -40,
        "A5": 20,
        "B2": 1,
        "B3": 2,
        "C1": 4,
        "C2": 5,
        "C3": 6,
        "C4": 7,
        "D": -80,
        "Standard": "EN 15804+A2",
        "Reliability": 1,
        "Completeness": 2,
        "Time": 3,
        "Geography": 4,
        "Technology": 5,
    }
    for title, value in typed.items():
        spoiled.cell("Carbon factors", WOOL, title, value, factors=True)
    factor = library(spoiled).carbon[WOOL]
    assert (factor.a1a3.value, factor.a1a3.per) == (pytest.approx(1.35), "kg")
    assert (factor.low, factor.high, factor.land_use, factor.biogenic) == (1.0, 1.54, 0.003, -0.04)
    assert (factor.a5, factor.b2, factor.b3) == (0.02, 0.001, 0.002)
    assert (factor.c1, factor.c2, factor.c3, factor.c4, factor.d) == (0.004, 0.005, 0.006, 0.007, -0.08)
    assert factor.standard == "EN 15804+A2"
    assert factor.scores is not None
    assert factor.scores.values() == (1, 2, 3, 4, 5)


def test_a_factor_of_nothing_scales_its_range_all_the_same(spoiled):
    for title, value in {"A1-A3": 0, "Unit": "kgCO2e/t", "Low": -100, "High": 1540}.items():
        spoiled.cell("Carbon factors", WOOL, title, value, factors=True)
    factor = library(spoiled).carbon[WOOL]
    assert (factor.a1a3.value, factor.low, factor.high) == (0, -0.1, 1.54)


def test_modules_and_scores_left_blank_are_not_assessed(spoiled):
    for title in (
        "Low",
        "High",
        "Reliability",
        "Completeness",
        "Time",
        "Geography",
        "Technology",
        "Standard",
    ):
        spoiled.cell("Carbon factors", WOOL, title, None, factors=True)
    factor = library(spoiled).carbon[WOOL]
    assert factor.scores is None
    assert factor.standard == ""
    assert (factor.low, factor.high, factor.land_use, factor.biogenic, factor.a5, factor.b2) == (None,) * 6
    assert (factor.b3, factor.c1, factor.c2, factor.c3, factor.c4, factor.d) == (None,) * 6


def test_the_range_of_a_price_is_in_its_unit(spoiled):
    """8 200 a tonne is 8.20 a kg."""
    fixings = "Framing fixings, galvanised steel"
    for title, value in {"Price": 8200, "Unit": "per t", "Low": 7000, "High": 9900}.items():
        spoiled.cell("Prices", fixings, title, value, factors=True)
    price = library(spoiled).prices[fixings]
    assert (price.price.value, price.price.per, price.low, price.high) == (pytest.approx(8.2), "kg", 7.0, 9.9)
    assert library(spoiled).prices["Sand blinding"].low is None


def test_a_row_of_the_end_of_life_is_kept_for_one_kg(spoiled):
    add_row(
        spoiled,
        "End of life",
        **{
            "Scenario": "all to landfill",
            "Family": "steel",
            "Route": "landfill",
            "C1": 6,
            "Transport": "Rail",
            "Distance": 80,
            "C3": 0,
            "C4": "0.02024 kgCO2e/kg",
            "D": -120,
            "Released": 40,
            "Methane": 5,
            "Source": "DEFRA11",
            "Standing": "read",
        },
    )
    assert library(spoiled).end_of_life["all to landfill", "steel"] == EndOfLife(
        scenario="all to landfill",
        family="steel",
        route="landfill",
        c1=0.006,
        mode="Rail",
        distance=80000,
        c3=0,
        c4=0.02024,
        d=-0.12,
        released=0.4,
        methane=0.05,
        source="DEFRA11",
        standing="read",
    )


def test_blanks_of_the_end_of_life_are_not_assessed_and_release_in_full(spoiled):
    add_row(
        spoiled,
        "End of life",
        **{"Scenario": "bare", "Family": "glass", "Route": "recycling", "Source": "memory"},
        **{"Standing": "from memory"},
    )
    row = library(spoiled).end_of_life["bare", "glass"]
    assert (row.c1, row.mode, row.distance, row.c3, row.c4, row.d) == (None,) * 6
    assert (row.released, row.methane) == (1.0, 0.0)


def test_a_spread_is_read_as_shares(spoiled):
    add_row(
        spoiled,
        "Spreads",
        **{"Of": "gang rate", "Name": "Roofing", "Low": -5, "High": 12, "Source": "invented"},
        **{"Standing": "invented for the demo"},
    )
    assert library(spoiled).spreads["gang rate", "Roofing"] == Spread(
        of="gang rate",
        name="Roofing",
        low=-0.05,
        high=0.12,
        source="invented",
        standing="invented for the demo",
    )


def test_a_benchmark_is_read(spoiled):
    add_row(
        spoiled,
        "Benchmarks",
        **{
            "Benchmark": "Ours",
            "Value": "0.4 tCO2e/m2",
            "Low": 350,
            "High": 450,
            "Modules": "A1-A5",
            "Area basis": "outside of frame",
            "Covers": "Houses of the practice",
            "Version": "3",
            "Source": "invented",
            "Standing": "invented for the demo",
        },
    )
    assert library(spoiled).benchmarks[-1] == Benchmark(
        name="Ours",
        value=400,
        low=350,
        high=450,
        modules="A1-A5",
        area_basis="outside of frame",
        study_period=None,
        covers="Houses of the practice",
        version="3",
        source="invented",
        standing="invented for the demo",
    )


def test_allowances_on_carbon_are_read_as_shares_and_may_be_blank(spoiled):
    spoiled.cell("Accuracy", "brief", "Phase allowance", 15, factors=True)
    spoiled.cell("Accuracy", "brief", "Quantity allowance", None, factors=True)
    spoiled.cell("Accuracy", "brief", "Data allowance", 7, factors=True)
    stage = library(spoiled).accuracy["brief"]
    assert (stage.phase_allowance, stage.quantity_allowance, stage.data_allowance) == (0.15, None, 0.07)


def test_conductivity_and_carbon_fraction(spoiled):
    before = library(spoiled).materials
    spoiled.cell("Materials", WOOL, "Conductivity", 0.04, factors=True)
    spoiled.cell(
        "Materials", "Weatherboard, treated softwood 180 x 19", "Carbon fraction", 49.8, factors=True
    )
    after = library(spoiled).materials
    assert before["Framing fixings, galvanised steel"].conductivity is None
    assert after[WOOL].conductivity == 0.04
    assert before["Weatherboard, treated softwood 180 x 19"].carbon_fraction == 0.5
    assert after["Weatherboard, treated softwood 180 x 19"].carbon_fraction == 0.498


def test_settings_of_the_study(spoiled):
    for name, value in {
        "study period": 50,
        "replacements": "annualised",
        "discount rate": 3,
        "end of life": "wood reused",
        "modules": "C4; a1-a3 ;B4",
        "draws": 2000,
        "seed": 77,
    }.items():
        spoiled.setting(name, value, sheet="Study")
    assert read_job(spoiled.house).study == Study(
        period=50,
        replacements="annualised",
        discount_rate=0.03,
        end_of_life="wood reused",
        modules=("A1-A3", "B4", "C4"),
        draws=2000,
        seed=77,
    )


def test_settings_of_the_study_left_blank_are_the_usual_ones(spoiled):
    for name in ("study period", "replacements", "discount rate", "end of life", "modules", "draws", "seed"):
        spoiled.setting(name, None, sheet="Study")
    assert read_job(spoiled.house).study == Study()
    assert Study().modules == LIFE_CYCLE


def test_a_house_without_the_sheet_study_goes_by_the_usual_study(spoiled):
    spoiled.edit(lambda book: book.remove(book["Study"]))
    assert read_job(spoiled.house).study == Study()


def test_a_sheet_study_with_a_heading_alone_is_as_good_as_none(spoiled):
    def blank(book: Workbook) -> None:
        book["Study"].delete_rows(2, book["Study"].max_row)

    spoiled.edit(blank)
    assert read_job(spoiled.house).study == Study()


@pytest.mark.parametrize("title", OPTIONAL)
def test_the_sheets_of_the_whole_life_may_be_left_out(spoiled, title):
    spoiled.edit(lambda book: book.remove(book[title]), factors=True)
    found = library(spoiled)
    gone = {
        "Service lives": found.lives,
        "End of life": found.end_of_life,
        "Spreads": found.spreads,
        "Benchmarks": found.benchmarks,
    }
    assert not gone.pop(title)
    assert all(gone.values())


def test_exposure_is_set_in_the_house_and_changed_by_options(spoiled):
    spoiled.setting("weather from", "SE")
    spoiled.setting("site exposure", "exposed")
    spoiled.setting("sheltering overhang", 35)
    spoiled.setting("exposure left", "sheltered")

    def change(book: Workbook) -> None:
        paper = book["Options"]
        header = next(row for row in paper.iter_rows() if row[0].value == "Setting")
        row = paper.max_row + 1
        paper.cell(row, 1, "exposure high")
        paper.cell(row, header[3].column, "moderate")

    spoiled.edit(change)
    job = read_job(spoiled.house)
    house = job.design.house
    assert (house.weather_from, house.site_exposure, house.sheltering_overhang) == ("SE", "exposed", 0.35)
    assert (house.exposure_left, house.exposure_high) == ("sheltered", None)
    assert job.design_of(job.options[1]).house.exposure_high == "moderate"


def test_exposure_left_blank_is_the_usual_one(spoiled):
    for name in ("weather from", "site exposure", "sheltering overhang"):
        spoiled.setting(name, None)
    house = read_job(spoiled.house).design.house
    assert (house.weather_from, house.site_exposure, house.sheltering_overhang) == (None, "moderate", 0.2)


def test_a_layer_knows_what_it_is_renewed_with(job):
    layers = {layer.number: layer for layer in job.design.build_ups["Timber boards, vertical"].layers}
    assert layers[2].renewed_with is None
    assert {number for number, layer in layers.items() if layer.renewed_with == 2} == {1, 3, 4, 5, 6, 7}


def test_the_service_life_of_an_allowance(spoiled):
    spoiled.cell("Allowances", "Solar panels", "Service life", 22)
    spoiled.cell("Allowances", "Wardrobes", "Service life", None)
    lives = {a.name: a.service_life for a in read_job(spoiled.house).allowances}
    assert (lives["Solar panels"], lives["Wardrobes"]) == (22, None)
