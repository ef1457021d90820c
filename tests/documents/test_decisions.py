"""The decisions table and the chart tables: differences and findings as drawn, figures as in the charts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.savings import savings
from takeoff.compare.uncertainty import draw
from takeoff.documents.decisions import decisions_table, findings
from takeoff.documents.report_charts import carbon_by_element, cost_against_carbon, cost_by_element
from takeoff.documents.savings_section import NO_SAVINGS, savings_data, savings_shown


def value(text: str) -> float:
    return float(text.replace("\u202f", "").replace("−", "-").removesuffix(" %"))


@pytest.fixture(scope="module")
def studied(job):
    job = replace(job, study=replace(job.study, draws=1_000))
    results = evaluate_all(job, planned=False)
    return job, results, draw(job, results)


def test_options_that_change_the_same_settings_stand_under_one_decision(studied):
    _, results, ranges = studied
    rows = decisions_table(results, ranges, "AUD").rows
    headings = [row.heading for row in rows if row.heading]
    assert headings == [
        "Palette (Mixed in the base)",
        "Stud spacing (450 mm in the base)",
        "Stud spacing (450 mm in the base); framing practice (Usual in the base)",
        "External wall (Stud 170, glass wool in the base); roof (Steel roof, glass wool in the base)",
        "Pitch (5 deg in the base)",
    ]
    names = [row.cells[0] for row in rows if not row.heading]
    assert sorted(names) == sorted(result.option.name for result in results[1:])
    assert names[:3] == ["All timber", "All steel", "Brick and panel"]


def test_differences_and_findings_are_those_drawn(studied):
    _, results, ranges = studied
    base = results[0]
    for row in decisions_table(results, ranges, "AUD").rows:
        if row.heading:
            continue
        result = next(result for result in results if result.option.name == row.cells[0])
        cost = result.ladder.total_inc_tax - base.ladder.total_inc_tax
        assert value(row.cells[2]) == pytest.approx(cost / 1000, abs=0.051)
        upfront = result.totals.upfront - base.totals.upfront
        assert value(row.cells[3]) == pytest.approx(upfront / 1000, abs=0.0051)
        assert value(row.cells[5]) == pytest.approx(result.totals.mass - base.totals.mass, abs=0.51)
        assert value(row.cells[7]) == pytest.approx(result.fabric.mean_u - base.fabric.mean_u, abs=0.00051)
        drawn = ranges.option(result.option.name).differences
        assert row.second[2:5] == tuple(
            drawn[key].verdict for key in ("total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e")
        )


def test_each_option_stands_under_one_finding(studied):
    _, results, ranges = studied
    found = dict(findings(results, ranges))
    listed = [name for names in found.values() for name in names.split(", ")]
    assert sorted(listed) == sorted(result.option.name for result in results[1:])
    for words, names in found.items():
        for name in names.split(", "):
            drawn = ranges.option(name).differences
            verdicts = (drawn["total_inc_tax"].verdict, drawn["upfront_kgco2e"].verdict)
            if words == "Lower in cost and in upfront carbon":
                assert verdicts == ("lower", "lower")
            if words == "Less upfront carbon for more cost":
                assert verdicts == ("higher", "lower")


def test_one_option_leaves_nothing_to_decide(studied):
    job, results, _ = studied
    alone = replace(job, options=job.options[:1])
    ranges = draw(alone, results[:1])
    assert decisions_table(results[:1], ranges, "AUD") is None
    assert findings(results[:1], ranges) == []


def test_the_tables_of_charts_say_what_the_bars_add_up_to(studied):
    _, results, _ = studied
    for chart, amount in (
        (cost_by_element(results, "AUD", paper_width_mm=180), lambda r: r.totals.cost),
        (carbon_by_element(results, paper_width_mm=180), lambda r: r.totals.upfront),
    ):
        for row, result in zip(chart.table.rows, results, strict=True):
            assert value(row.cells[-1]) == pytest.approx(amount(result) / 1000, abs=0.051)
            parts = [value(cell) for cell in row.cells[1:-1]]
            assert sum(parts) == pytest.approx(amount(result) / 1000, abs=0.05 * len(parts))


def test_the_table_of_the_scatter_names_what_no_other_beats(studied):
    _, results, _ = studied
    rows = cost_against_carbon(results, "AUD", paper_width_mm=180).table.rows
    for row, result in zip(rows, results, strict=True):
        beaten = any(
            other.ladder.total_inc_tax <= result.ladder.total_inc_tax
            and other.totals.upfront <= result.totals.upfront
            and other is not result
            for other in results
        )
        assert row.cells[3] == ("by another" if beaten else "by none")


def test_savings_are_shown_as_found(studied):
    job, results, ranges = studied
    saved = savings(job, results, ranges)
    shown = savings_shown(saved, "AUD", {}, paper_width_mm=180)
    rows = shown.table.rows
    assert [row.cells[0] for row in rows] == ["As drawn", *(s.name for s in saved.steps), "All together"]
    for row, step in zip(rows[1:-1], saved.steps, strict=True):
        assert value(row.cells[2]) == pytest.approx(step.cost / 1000, abs=0.051)
        assert value(row.cells[5]) == pytest.approx(step.upfront / 1000, abs=0.0051)
    assert [name for name, _ in shown.left_out] == [left.name for left in saved.left_out]
    data = savings_data(saved)
    assert [step["total_inc_tax_change"] for step in data["steps"]] == [step.cost for step in saved.steps]


def test_without_savings_the_report_says_so(studied):
    job, results, _ = studied
    alone = replace(job, options=job.options[:1])
    saved = savings(alone, results[:1], draw(alone, results[:1]))
    shown = savings_shown(saved, "AUD", {}, paper_width_mm=180)
    assert (shown.sentence, shown.charts, shown.table) == (NO_SAVINGS, (), None)
