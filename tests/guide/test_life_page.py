"""The page on the whole life: its figures are those of the demo, its sums come out, its rules are those of the code."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.by_year import discount_factor, year_of
from takeoff.assess.end_of_life import end_of_kg
from takeoff.assess.stored_carbon import stored_per_kg
from takeoff.compare.benchmarks import drawn, figure_for
from takeoff.compare.carbon_allowances import carbon_allowances
from takeoff.compare.claddings import distinct_claddings
from takeoff.compare.scenarios import by_scenario
from takeoff.guide import page_text
from takeoff.model.exposure import exposure_of
from takeoff.model.geometry import COMPASS_POINTS, compass_of, overhang_over, wall_face
from takeoff.model.house import SIDES
from takeoff.model.life_cycle import AREA_BASES, END, MODULE_SCOPES, MODULES
from takeoff.workbook.study_sheet import STUDY

TRIMS = ("corner-trim", "vented-base-trim", "opening-trim")


def test_the_settings_of_the_study_are_those_of_its_sheet(table_headed):
    rows = table_headed("life", "setting", "what it does")
    assert [row[0] for row in rows] == [f"`{field.title}`" for field in STUDY.fields]


def test_the_modules_shown_are_those_of_the_demo(base, table_headed):
    rows = table_headed("life", "module", "what is in it")
    shown = {row[0]: (row[3], row[4]) for row in rows}
    for module in MODULES:
        total = base.totals.modules[module]
        known = "not assessed" if total.amount is None else f"{total.amount:,.0f}"
        assert shown.pop(module) == (known, f"{total.cover_mass:.1%}"[:-1] + " %"), module
    assert shown == {"life cycle": (f"{base.life_cycle:,.0f}", "")}


def test_the_exposure_of_a_wall_follows_as_the_tables_say(bare_house, table_headed):
    """The low side faces every compass point in turn; overhangs shelter nothing unless they are deep."""
    (near, *_), (square, *_), (away, *_), (nowhere, *_) = table_headed("life", "the wall faces")
    assert (near, square, away) == (
        "`weather from`, or 45 degrees beside it",
        "90 degrees from it",
        "135 or 180 degrees from it",
    )
    assert nowhere == "no `weather from` is given"
    stated = [row[1] for row in table_headed("life", "the wall faces")]
    by_degrees = dict(zip((0, 45, 90, 135, 180), (stated[0], *stated[:3], stated[2]), strict=True))
    house = bare_house(sheltering_overhang=5.0, site_exposure="moderate").house
    facing = COMPASS_POINTS.index(compass_of(house, "low"))
    for eighths in range(8):
        weather = COMPASS_POINTS[(facing + eighths) % 8]
        degrees = 45 * min(eighths, 8 - eighths)
        assert exposure_of(replace(house, weather_from=weather), "low") == by_degrees[degrees]
    assert exposure_of(replace(house, weather_from=None), "low") == stated[3]

    steps = [row[1] for row in table_headed("life", "then")]
    assert steps == ["one less", "one less", "one more", "as stated there"]
    open_to_all = replace(house, weather_from=None)
    assert exposure_of(replace(open_to_all, sheltering_overhang=0.2), "low") == "sheltered"
    assert exposure_of(replace(open_to_all, site_exposure="sheltered"), "low") == "sheltered"
    assert exposure_of(replace(open_to_all, site_exposure="exposed"), "low") == "exposed"
    assert exposure_of(replace(open_to_all, exposure_low="exposed"), "low") == "exposed"


def test_the_exposures_shown_are_those_of_the_demo(base, table_headed):
    house = base.design.house
    expected = []
    for side in SIDES:
        over, height = overhang_over(house, side), wall_face(house, side).mean_height
        sum_text = f"{over:.2f} / {height:.2f} = {over / height:.0%}"[:-1] + " %"
        expected.append([side, compass_of(house, side), sum_text, base.exposures[side]])
    assert table_headed("life", "side", "faces") == expected


def test_the_renewals_shown_are_those_of_the_demo(all_timber, base, table_headed, amount, holds):
    """One side with its coat, battens, nails and trims: sums come out, and are what the program has."""
    lines = {
        line.quantity.id.removeprefix("EW.CL.high."): line
        for line in all_timber.lines
        if line.quantity.id.startswith("EW.CL.high.")
    }
    layers = {
        "oil": ["timber-oil"],
        "boards": ["shiplap-board"],
        "battens": ["cavity-batten"],
        "nails": ["cladding-nails"],
        "trims": list(TRIMS),
    }
    rows = table_headed("life", "layer", "counts in")
    assert [row[0] for row in rows] == [*layers, "all"]
    for cell in (cell for row in rows for cell in row if "=" in cell):
        assert holds(*cell.split("=")), cell
    used, upkeep, carbon = set(), 0.0, 0.0
    for (_, module, *cells), starts in zip(rows, layers.values(), strict=False):
        found = [line for id, line in lines.items() if id.startswith(tuple(starts))]
        assert len(found) == len(starts)
        used |= {line.quantity.id for line in found}
        each = [line.renewal for line in found]
        modules = {", with the boards ".join(dict.fromkeys(module for module, _ in r.counts)) for r in each}
        assert modules == {module}
        assert {(r.whole, r.annualised) for r in each} == {(amount(cells[0]), amount(cells[1]))}
        money, emitted = sum(r.cost_each for r in each), sum(r.carbon_each for r in each)
        whole = each[0].whole
        assert amount(cells[2]) == pytest.approx(money, abs=0.006)
        assert amount(cells[3]) == pytest.approx(money * whole, abs=0.5)
        assert amount(cells[4]) == pytest.approx(emitted, abs=0.006)
        assert amount(cells[5]) == pytest.approx(emitted * whole, abs=0.051)
        upkeep, carbon = upkeep + money * whole, carbon + emitted * whole
    assert used == {line.quantity.id for line in lines.values()}
    assert (amount(rows[-1][5]), amount(rows[-1][7])) == (round(upkeep), round(carbon, 1))

    oil, boards = (
        next(line for id, line in lines.items() if id.startswith(start))
        for start in ("timber-oil", "shiplap-board")
    )
    # 40 years: every two years up to 38; then 20 years to the end: 42 to 58; half of the oil at a time
    halves = [*range(2, 40, 2), *range(42, 60, 2)]
    assert len(halves) == 19 + 9
    assert oil.renewal.years == tuple(sorted([*((year, 0.5, "B2") for year in halves), (40, 1.0, "B4")]))
    one = boards.carbon
    parts = (one.a1a3, one.a4, one.a5_wastage, one.sum_of(END), boards.renewal.carbon_each)
    assert (
        "A1-A3 {:.1f}, A4 {:.1f}, A5 wastage {:.1f}, C1 to C4 of the old ones {:.1f}, together {:.1f}".format(
            *parts
        )
        in page_text("life").replace("\n", " ")
    )


def test_the_claddings_shown_are_those_of_the_demo(base, all_timber, job, table_headed):
    from takeoff.compare.evaluate import evaluate

    results = [base, all_timber, evaluate(job, job.option("All steel"))]
    known = {(c.build_up, c.exposure): c for c in distinct_claddings(results)}
    rows = table_headed("life", "cladding", "exposure")
    assert len(rows) == 4
    for name, exposure, *cells in rows:
        c = known[name, exposure]
        money = [f"{value / c.area:,.0f}" for value in (c.cost, c.upkeep_whole, c.upkeep_annualised)]
        carbon = (c.upfront, c.renewal_carbon_whole, c.renewal_carbon_annualised, c.end)
        assert cells == [*money, *(f"{value / c.area:.1f}" for value in carbon)]


def test_the_years_shown_are_those_of_the_demo(base, table_headed):
    slope = base.slopes.works
    spent, emitted, known = base.ladder.total_inc_tax, 0.0, {}
    for year in base.years:
        spent += year.upkeep
        emitted += year.carbon
        known[str(year.year)] = [
            f"{year.upkeep:,.0f}",
            f"{spent:,.0f}",
            f"{year.carbon:,.0f}",
            f"{emitted:,.0f}",
        ]
    known["0"][0] = ""
    for year, *cells in table_headed("life", "year", "upkeep, AUD"):
        assert cells == known[year]
    text = page_text("life").replace("\n", " ")
    assert f"one AUD more of measured works is {slope:.3f} AUD more of the total" in text
    assert "7.5 in year 8" in text
    assert year_of(7.5) == 8
    assert "1,000 in year 10 at 3 % is 744" in text
    assert round(1000 / 1.03**10) == round(1000 * discount_factor(10, 0.03)) == 744


def test_the_scenarios_shown_are_those_of_the_demo(job, base, table_headed):
    known = {
        name: [
            f"{value:,.0f}".replace("-0", "0")
            for value in (
                totals.stored,
                totals.renewed_stored,
                totals.renewed_released,
                totals.released,
                totals.kept,
                totals.sum_of(END),
            )
        ]
        for name, totals in by_scenario(job, base).items()
    }
    assert {row[0]: row[1:] for row in table_headed("life", "scenario", "stored, A1-A3, kgCO2")} == known


def test_the_methane_of_a_landfill_is_as_worked_out(job, table_headed, amount, holds):
    rows = table_headed("life", "what", "sum")
    for _, sum_text, result in rows:
        assert holds(sum_text, result), sum_text
    row = job.library.end_of_life["wood to landfill, IPCC decay", "softwood"]
    stored = stored_per_kg(moisture=0.12, carbon_fraction=0.5)
    added = end_of_kg(row, stored=stored, library=job.library)["C4"] - row.c4
    assert (amount(rows[0][2]), amount(rows[-1][2])) == (round(stored, 3), round(added, 3))
    assert row.methane == pytest.approx(0.5 * 0.25 * 0.9)


def test_the_allowances_on_carbon_shown_are_those_of_the_demo(job, base, table_headed):
    allowances = carbon_allowances(base.lines, job.library, job.project.stage)
    amounts = (base.totals.upfront, base.life_cycle)
    added = [allowances.on(amount) for amount in amounts]
    expected = [["base, as assessed", "", *(f"{amount:,.0f}" for amount in amounts)]]
    for (name, on_upfront), (_, on_whole) in zip(*added, strict=True):
        share = f"{on_upfront / amounts[0]:.1%}"[:-1] + " %"
        expected.append([name, share, f"{on_upfront:,.0f}", f"{on_whole:,.0f}"])
    sums = (amount + sum(a for _, a in on) for amount, on in zip(amounts, added, strict=True))
    expected.append(["with allowances", "", *(f"{total:,.0f}" for total in sums)])
    assert table_headed("life", "allowance", "share") == expected
    most = job.library.accuracy[job.project.stage].data_allowance
    words = f"{most:.0%} x ({allowances.score:.2f} - 1) / (5 - 1) = {allowances.data:.1%}"
    assert words.replace("%", " %") in page_text("life")


def test_published_figures_are_drawn_where_the_page_says(job, base, table_headed):
    choices = dict(table_headed("life", "what", "choices"))
    assert choices["modules"].replace(" (in the table only)", "") == ", ".join(MODULE_SCOPES)
    assert choices["floor area"] == "; ".join(AREA_BASES)
    expected = [
        [scope, basis, f"{figure_for(base, scope, basis):,.0f}", str(len(same))]
        for scope, basis, same in drawn(job)
    ]
    assert table_headed("life", "modules", "floor area") == expected
