"""The tables, charts and JSON of the whole life say what the results hold, and name what is not assessed."""

import json
import re
from dataclasses import replace

import pytest

from takeoff.compare.carbon_allowances import carbon_allowances
from takeoff.compare.cautions import cautions_of
from takeoff.compare.evaluate import evaluate, evaluate_all
from takeoff.compare.uncertainty import DRAWN_FIGURES, draw
from takeoff.documents.life_cycle_charts import (
    benchmark_charts,
    carbon_by_module,
    carbon_over_time,
    cost_over_time,
    difference_charts,
    tornado_charts,
)
from takeoff.documents.life_cycle_notes import benchmarks_table, end_of_life_table, lives_table
from takeoff.documents.life_cycle_tables import (
    allowances_on_carbon_table,
    biogenic_table,
    claddings_table,
    coverage_table,
    exposure_table,
    materials_table,
    modules_table,
    years_table,
)
from takeoff.documents.range_tables import (
    differences_table,
    inputs_without_range,
    ranges_table,
    verdict_words,
)
from takeoff.documents.report_notes import used_materials
from takeoff.documents.results_json import results_json
from takeoff.documents.screen import differences_screen
from takeoff.documents.wording import MINUS, NOT_ASSESSED
from takeoff.model.life_cycle import LIFE_CYCLE, MODULES
from takeoff.workbook.reading import read_job


@pytest.fixture(scope="module")
def job(demo_folder):
    read = read_job(demo_folder / "heron_bank.xlsx")
    return replace(read, options=read.options[:3], study=replace(read.study, draws=1000))


@pytest.fixture(scope="module")
def results(job):
    return evaluate_all(job, planned=False)


@pytest.fixture(scope="module")
def ranges(job, results):
    return draw(job, results)


def value(text: str) -> float:
    """A printed number; what is not assessed adds nothing."""
    if text in ("", NOT_ASSESSED):
        return 0.0
    return float(text.replace("\u202f", "").replace(MINUS, "-").replace("+", ""))


def cells(table):
    return [row.cells for row in table.rows]


def test_modules_of_elements_add_up_down_and_across(job, results):
    table = modules_table(job, results[0])
    titles = [column.title for column in table.columns]
    *elements, total = cells(table)
    for place, title in enumerate(titles[1:], start=1):
        printed = sum(value(row[place]) for row in elements)
        assert printed == pytest.approx(value(total[place]), abs=len(elements) / 2), title
    whole = titles.index("Life cycle")
    for row in (*elements, total):
        assert sum(value(cell) for cell in row[1:whole]) == pytest.approx(value(row[whole]), abs=4), row[0]
    assert value(total[whole]) == pytest.approx(results[0].life_cycle, abs=0.5)


def test_d_has_a_column_only_where_any_of_it_is_assessed(job, results):
    assert "D, apart" not in [column.title for column in modules_table(job, results[0]).columns]
    burnt = replace(job, study=replace(job.study, end_of_life="wood burnt for energy"))
    base = evaluate(burnt, burnt.base, planned=False)
    table = modules_table(burnt, base)
    place = [column.title for column in table.columns].index("D, apart")
    assert value(table.rows[-1].cells[place]) == pytest.approx(base.totals.of("D"), abs=0.5) != 0
    assert base.life_cycle == pytest.approx(results[0].life_cycle)


def test_a_module_that_the_study_leaves_out_is_named_and_not_added(job):
    kept = tuple(module for module in LIFE_CYCLE if module != "B4")
    less = replace(job, study=replace(job.study, modules=kept))
    base = evaluate(less, less.base, planned=False)
    assert base.life_cycle == pytest.approx(base.totals.life_cycle() - base.totals.of("B4"))
    assert "without B4, which the study leaves out" in modules_table(less, base).note


def test_materials_with_the_rest_add_up_to_all_material(job, results):
    table = materials_table(job, results[0])
    assert re.fullmatch(r"\d+ others", table.rows[-1].cells[0])
    place = [column.title for column in table.columns].index("Life cycle")
    amounts = [value(row[place]) for row in cells(table)]
    work = results[0].by_element["preliminaries"].life_cycle()
    labour_only = sum(
        line.carbon.sum_of(LIFE_CYCLE) or 0.0 for line in results[0].lines if not line.needs_carbon
    )
    assert work == pytest.approx(labour_only, rel=0.1)
    assert sum(amounts) == pytest.approx(results[0].life_cycle - labour_only, abs=len(amounts))
    assert amounts[:-1] == sorted(amounts[:-1], reverse=True)


def test_every_module_has_its_coverage(results):
    rows = {row[0]: row for row in cells(coverage_table(results[0]))}
    assert list(rows) == [*MODULES, "Land use"]
    modules = results[0].totals.modules
    for module, row in list(rows.items())[:-1]:
        figures = modules[module]
        assert row[2] == (NOT_ASSESSED if figures.amount is None else row[2])
        assert value(row[3]) == pytest.approx(figures.cover_mass * 100, abs=0.05)
        assert value(row[5]) == len(figures.missing)
    assert rows["B3"][2] == rows["D"][2] == rows["Land use"][2] == NOT_ASSESSED


def test_the_exposure_of_a_stated_side_says_so(job):
    house = replace(job.design.house, exposure_low="exposed")
    stated = replace(job, design=replace(job.design, house=house))
    rows = {row[0]: row for row in cells(exposure_table(evaluate(stated, stated.base, planned=False)))}
    assert rows["low"][-2:] == ("exposed", "as stated")
    assert rows["high"][-1] == "from the rule"


def test_timber_costs_more_upkeep_and_carbon_on_the_weather_side(job, results):
    rows = {(row[0], row[1]): row for row in cells(claddings_table(results, "AUD"))}
    sheltered = rows["Timber boards, vertical", "sheltered"]
    exposed = rows["Timber boards, vertical", "exposed"]
    for place in (3, 4, 6, 7):
        assert value(exposed[place]) > value(sheltered[place]) > 0
    # steel of 37 years: once whole, 60 / 37 - 1 annualised
    steel = rows["Profiled steel, vertical", "exposed"]
    assert value(steel[4]) / value(steel[3]) == pytest.approx(60 / 37 - 1, rel=0.01)


def test_both_ends_of_the_decay_are_shown(job, results):
    rows = {row[0]: [value(cell) for cell in row[1:]] for row in cells(biogenic_table(job, results[0]))}
    kept = {name: row[4] for name, row in rows.items()}
    assert kept["usual"] == kept["wood reused"] == kept["wood burnt for energy"] == 0
    assert kept["wood to landfill, little decay"] < kept["wood to landfill, IPCC decay"] < 0
    for stored, renewed, renewed_out, released, a_to_c, _ in rows.values():
        assert stored + renewed + renewed_out + released == pytest.approx(a_to_c, abs=2)
    # the more decays, the more methane
    assert rows["wood to landfill, IPCC decay"][5] > rows["wood to landfill, little decay"][5]


def test_years_run_to_the_totals_of_the_period(job, results):
    base = results[0]
    last = years_table(job, base).rows[-1].cells
    assert last[0] == "60"
    assert value(last[3]) == pytest.approx(base.whole_life_cost, abs=1)
    assert value(last[5]) == pytest.approx(base.life_cycle, abs=1)


def test_annualised_renewals_have_no_table_of_years(job):
    annual = replace(job, study=replace(job.study, replacements="annualised", discount_rate=0.03))
    base = evaluate(annual, annual.base, planned=False)
    assert years_table(annual, base) is None
    even = {round(year.upkeep, 6) for year in base.years[1:]}
    assert len(even) == 1
    assert base.upkeep < sum(year.upkeep for year in base.years)


def test_allowances_on_carbon_stand_apart_and_add_up(job, results):
    base = results[0]
    table = allowances_on_carbon_table(job, base)
    amounts = [value(row[2]) for row in cells(table)]
    assert amounts[0] == pytest.approx(base.totals.upfront, abs=0.5)
    assert sum(amounts[:-1]) == pytest.approx(amounts[-1], abs=2)
    allowances = carbon_allowances(base.lines, job.library, job.project.stage)
    assert len(amounts) == 2 + len(allowances.on(1.0)) == 5
    bare = replace(job, library=replace(job.library, accuracy={}))
    assert allowances_on_carbon_table(bare, base) is None


def also(row):
    """The further names that a row stands for."""
    found = re.match(r"Also (.*?)\.( |$)", row.below)
    return found[1].split("; ") if found else []


def test_the_report_lists_the_lives_and_ends_it_used(job, results):
    materials = used_materials(results)
    lives = lives_table(job, materials)
    listed = [name for row in lives.rows for name in (row.cells[0], *also(row))]
    assert sorted(listed) == sorted(set(job.library.lives) & set(materials))
    assert "Plywood underlay 12" in lives.note
    ends = end_of_life_table(job, materials)
    rows = {family: row.cells for row in ends.rows for family in (row.cells[0], *also(row))}
    assert rows["cement"][1] == "landfill"
    bare = replace(job, library=replace(job.library, lives={}, end_of_life={}))
    assert lives_table(bare, materials) is None
    assert end_of_life_table(bare, materials) is None


def test_benchmarks_of_another_scope_are_listed_without_ours(job, results, ranges):
    rows = {row[0]: row for row in cells(benchmarks_table(job, results[0]))}
    assert rows["Single-family houses, timber frame, Finland"][6] == "not the same"
    belgium = rows["Single-family houses, timber frame, Belgium"]
    assert value(belgium[6]) == pytest.approx(results[0].life_cycle / results[0].gross_floor, abs=0.5)
    drawn = "".join(chart.picture.svg for chart in benchmark_charts(job, results, ranges, paper_width_mm=180))
    assert "Belgium" in drawn
    assert "Finland" not in drawn


def test_charts_have_every_option_and_input(job, results, ranges):
    for make in (carbon_by_module, carbon_over_time, cost_over_time):
        chart = make(job, results, paper_width_mm=180)
        for place, result in enumerate(results):
            assert result.option.name in chart.picture.svg
            assert chart.table.rows[place].cells[0] == result.option.name
    assert len(difference_charts(ranges, "AUD", paper_width_mm=180)) == 3
    tornadoes = tornado_charts(ranges, "AUD", paper_width_mm=180)
    assert len(tornadoes) == 3
    for influence in ranges.base_tornado["upfront_kgco2e"]:
        first = influence.source.label.split()[0]
        assert first in tornadoes[1].picture.svg


def test_ranges_and_differences_are_those_drawn(job, ranges):
    table = ranges_table(ranges, "AUD")
    for row, option in zip(cells(table), ranges.options, strict=True):
        within = option.figures["total_inc_tax"]
        assert [value(cell) for cell in row[1:4]] == pytest.approx(
            [within.p10 / 1000, within.p50 / 1000, within.p90 / 1000], abs=0.05
        )
    rows = cells(differences_table(ranges, "AUD"))
    assert len(rows) == 4 * (len(ranges.options) - 1)
    for row, (option, key) in zip(
        rows, [(o, k) for o in ranges.options[1:] for k in DRAWN_FIGURES if k != "upkeep"], strict=True
    ):
        assert row[7] == option.differences[key].verdict
        assert value(row[3]) == pytest.approx(option.differences[key].range.p10 / 1000, abs=0.051)


def test_an_option_like_the_base_is_the_same_in_words(job):
    twice = replace(job, options=(job.base, replace(job.base, name="As drawn again")))
    ranges = draw(twice, evaluate_all(twice, planned=False))
    difference = ranges.option("As drawn again").differences["upfront_kgco2e"]
    assert verdict_words("upfront_kgco2e", difference, "AUD") == "the same in every draw"
    assert all(row[7] == "the same" for row in cells(differences_table(ranges, "AUD")))


def test_one_option_has_no_differences(job):
    alone = replace(job, options=job.options[:1])
    ranges = draw(alone, evaluate_all(alone, planned=False))
    assert differences_table(ranges, "AUD") is None
    assert difference_charts(ranges, "AUD", paper_width_mm=180) == []


def test_the_screen_says_too_close_to_call(job, ranges):
    columns = [list(column.cells) for column in differences_screen(job, ranges, {}).columns]
    said = " ".join(cell for column in columns for cell in column)
    verdicts = {o.differences[k].verdict for o in ranges.options[1:] for k in DRAWN_FIGURES if k != "upkeep"}
    assert ("too close to call" in said) == ("too close to call" in verdicts)
    assert columns[0] == [option.name for option in ranges.options[1:]]


def test_inputs_without_a_range_are_told(job, results):
    bare = replace(job, library=replace(job.library, spreads={}))
    told = inputs_without_range(draw(bare, results))
    assert told.startswith("No range is stated for ")
    assert "more: they stay at their central values" in told
    assert inputs_without_range(draw(job, results)) == ""


def test_results_json_has_null_for_what_is_not_assessed_and_its_ranges(job, results, ranges):
    data = json.loads(results_json(job, results, ranges))
    base = data["options"][0]
    assert data["study"]["period_years"] == 60
    assert base["life_cycle"]["modules"]["D"]["kgco2e"] is None
    assert base["totals"]["d_kgco2e"] is None
    assert base["difference_from_base"]["d_kgco2e"] is None
    assert base["life_cycle"]["life_cycle_kgco2e"] == pytest.approx(
        sum(year["kgco2e"] for year in base["life_cycle"]["years"])
    )
    materials = base["life_cycle"]["by_material"].values()
    labour_only = sum(
        line.carbon.sum_of(LIFE_CYCLE) or 0.0 for line in results[0].lines if not line.needs_carbon
    )
    assert sum(m["life_cycle_kgco2e"] or 0.0 for m in materials) + labour_only == pytest.approx(
        base["life_cycle"]["life_cycle_kgco2e"]
    )
    drawn = data["ranges"]["options"]
    assert list(drawn) == [result.option.name for result in results]
    assert drawn["As drawn"]["differences"] == {}
    assert len(data["ranges"]["what_matters_most"]["upfront_kgco2e"]) == 8


def glance_of(job, results):
    from takeoff.documents.glance import glance

    return {what: remark for what, _, remark in glance(job, results[0], draw(job, results))}


def test_the_glance_names_the_modules_that_are_added_up(job, results):
    assert (
        "A1-A5, B2-B4 and C1-C4 of what is assessed" in glance_of(job, results)["Life-cycle carbon, 60 years"]
    )
    few = replace(job, study=replace(job.study, modules=("A1-A3", "C1")))
    remark = glance_of(few, [evaluate(few, few.base, planned=False)])["Life-cycle carbon, 60 years"]
    assert remark.startswith("A1-A3 and C1 of what is assessed")
    assert "B2-B4" not in remark


def test_the_glance_says_what_becomes_of_stored_carbon(job, results):
    assert (
        "released at its end of life in the scenario usual" in glance_of(job, results)["Stored carbon, apart"]
    )
    buried = replace(job, study=replace(job.study, end_of_life="wood to landfill, little decay"))
    base = evaluate(buried, buried.base, planned=False)
    remark = glance_of(buried, [base])["Stored carbon, apart"]
    assert f"{-base.totals.kept / 1000:.1f} t" in remark
    assert "stays in a landfill for good" in remark
    nothing = replace(job, library=replace(job.library, end_of_life={}))
    remark = glance_of(nothing, [evaluate(nothing, nothing.base, planned=False)])["Stored carbon, apart"]
    assert "not assessed in full" in remark


def test_shorter_lives_are_named_only_where_renewals_are_whole(job, results):
    words = "shorter lives bring whole renewals"
    assert words in glance_of(job, results)["Life-cycle carbon, 60 years"]
    annual = replace(job, study=replace(job.study, replacements="annualised"))
    base = evaluate(annual, annual.base, planned=False)
    assert words not in glance_of(annual, [base])["Life-cycle carbon, 60 years"]


def test_a_cladding_without_a_service_life_is_not_assessed_and_cautioned(job):
    boards = "Shiplap board, durable hardwood 135 x 20"
    lives = {name: life for name, life in job.library.lives.items() if name != boards}
    short = replace(job, library=replace(job.library, lives=lives))
    base = evaluate(short, short.base, planned=False)
    rows = {row.cells[0]: row for row in claddings_table([base], "AUD").rows}
    timber = rows["Timber boards, vertical"]
    assert timber.cells[3] == timber.cells[4] == timber.cells[6] == timber.cells[7] == NOT_ASSESSED
    assert f"No service life, so that no upkeep is counted: {boards}" in timber.below
    assert value(rows["Profiled steel, vertical"].cells[3]) > 0
    (caution,) = [c for c in cautions_of(base) if c.about == "Upkeep not assessed"]
    assert boards in caution.text
    # its own fixings and trims had no life but that of their boards
    assert "Cladding nails, stainless" in caution.text
    assert base.totals.upkeep_cover < 1


def test_nothing_is_cautioned_where_all_upkeep_is_known(job, results):
    assert not [c for c in cautions_of(results[0]) if c.about == "Upkeep not assessed"]
    assert results[0].totals.upkeep_cover == pytest.approx(1.0)


def test_a_small_difference_is_called_so(job, results):
    from takeoff.documents.glance import sentence

    ranges = draw(job, results)
    cost, upfront, whole = sentence(results, ranges, "AUD").split("; ")
    # 11 of 374 thousand AUD and 0.6 of 16.4 t are not small
    assert cost.startswith("All steel costs least")
    assert upfront.startswith("All timber has the least upfront carbon")
    assert "under 1 % of the base" not in cost + upfront
    least = min(results, key=lambda result: result.life_cycle)
    assert ("under 1 % of the base" in whole) == (least is not results[0])
    shorter = replace(job.options[1], name="A little shorter", changes={"length": 11.99})
    near = replace(job, options=(job.base, shorter))
    evaluated = [evaluate(near, option, planned=False) for option in near.options]
    assert "under 1 % of the base" in sentence(evaluated, draw(near, evaluated), "AUD")
