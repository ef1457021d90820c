"""Allowances in every document: named, of one kind, and with the same money in each."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from html import unescape

import pytest

from takeoff.compare.evaluate import Result, evaluate
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.report_notes import assumptions, not_covered, sources_list
from takeoff.documents.report_tables import (
    allowances_table,
    elements_table,
    ladder_table,
)
from takeoff.documents.results_json import results_data
from takeoff.documents.wording import NOT_ASSESSED, NOT_KNOWN, number
from takeoff.model.job import Job
from takeoff.model.library import LadderStep

NOTHING = (
    "services, kitchen, sanitary ware and site works are not in the figures, because the sheet Allowances has "
    "no rows"
)


@pytest.fixture(scope="module")
def base(job: Job) -> Result:
    return evaluate(job, job.base)


@pytest.fixture(scope="module")
def bare_job(job: Job) -> Job:
    return replace(job, allowances=())


@pytest.fixture(scope="module")
def bare(bare_job: Job) -> Result:
    return evaluate(bare_job, bare_job.base)


def words(page: str) -> str:
    return " ".join(
        unescape(re.sub(r"<style>.*?</style>|<svg.*?</svg>|<[^>]+>", " ", page, flags=re.S)).split()
    )


def test_money_is_the_same_in_every_table(base):
    works_and_sums = number(base.totals.cost)
    total = elements_table(base, "AUD").rows[-1]
    assert total.cells[:2] == ("works and sums", works_and_sums)
    ladder = {row.cells[0]: row.cells for row in ladder_table(base, "AUD").rows}
    assert ladder["Measured works"][1:3] == (
        "sum of all items but provisional and prime-cost sums",
        number(base.ladder.measured_works),
    )
    assert ladder["Prime-cost sums"][3] == works_and_sums
    table = allowances_table(base, "AUD")
    totals = {row.cells[0]: row.cells[5] for row in table.rows if row.total}
    assert set(totals) == {"measured works among them", "provisional sums", "prime-cost sums"}
    assert f"+{totals['provisional sums']}" == ladder["Provisional sums"][2]
    assert f"+{totals['prime-cost sums']}" == ladder["Prime-cost sums"][2]
    elements = [row.cells[1] for row in elements_table(base, "AUD").rows if not row.total]
    assert elements == [number(totals.cost) for totals in base.by_element.values()]


def test_the_table_of_allowances_names_each_with_its_fixing_below(base):
    rows = [row for row in allowances_table(base, "AUD").rows if not row.total]
    names = [row.cells[0] for row in rows]
    assert names[names.index("Kitchen") + 1] == "Kitchen, fix only"
    kitchen, fixing = rows[names.index("Kitchen")], rows[names.index("Kitchen") + 1]
    assert kitchen.cells[1:4] == ("prime-cost sum", "Item", "1")
    assert kitchen.cells[6] == NOT_ASSESSED
    assert kitchen.below.endswith("Source: invented")
    assert fixing.cells[1] == "firm, in the measured works"
    assert fixing.cells[6] == ""
    wardrobes = rows[names.index("Wardrobes")]
    assert wardrobes.cells[6] == "90.7"
    assert wardrobes.below.endswith("Source: invented; ICE2; TRADA · Carbon derived")
    assert rows[names.index("Electrical installation")].cells[2] == "m² of floor"


def test_what_nothing_is_known_of_is_never_0(base):
    (services,) = (r for r in elements_table(base, "AUD").rows if r.cells[0] == "services")
    assert services.cells[3:9] == (NOT_KNOWN, *[NOT_ASSESSED] * 5)


def test_the_report_says_what_is_allowed_for_and_what_is_missing(job, base, bare_job, bare):
    page = comparison_page(job, [base], draw(job, [base]))
    assert '<section id="allowances">' in page
    assert NOTHING not in words(page)
    without = comparison_page(bare_job, [bare], draw(bare_job, [bare]))
    assert '<section id="allowances">' not in without
    assert NOTHING in words(without)
    # the section stands even where the project names no exclusions
    silent = replace(bare_job, project=replace(bare_job.project, exclusions=()))
    assert NOTHING in words(comparison_page(silent, [bare], draw(silent, [bare])))
    assert not_covered(replace(job, project=silent.project), base) == []
    assert allowances_table(bare, "AUD") is None
    assert ladder_table(bare, "AUD").rows[0].cells[1] == "sum of all items"


def test_the_sentence_on_coverage_is_true(job, base, bare_job, bare):
    def coverage(of: Job, result: Result) -> str:
        return dict(assumptions(of, result))["Coverage"]

    assert coverage(job, base).endswith(
        "of the cost of the works and sums carry a carbon factor. Of 13 allowances 11 are without one; none has "
        "transport, wastage or site work assessed."
    )
    assert coverage(bare_job, bare).endswith("of the works and sums carry a carbon factor.")
    lump = LadderStep(name="Fee", kind="sum", value=1000, base=None, note="")
    own = replace(bare_job, library=replace(job.library, ladder=(lump, *job.library.ladder)))
    assert coverage(own, bare).endswith(
        "Sums that the cost ladder itself adds carry none and stand in no element or trade."
    )


def test_sources_of_allowances_are_listed(job, base):
    wardrobes = replace(job.allowances[0], source="invented; DEFRA11; nobody")
    only = evaluate(replace(job, allowances=(wardrobes,)), job.base)
    # these have sources of their own, whatever the house
    bare_library = replace(job.library, benchmarks=(), spreads={}, resistances=(), grades=(), load_cases=())
    listed = dict(sources_list(replace(job, library=bare_library), [replace(only, lines=())]))
    assert set(listed) == {"invented", "DEFRA11"}


def test_results_list_allowances_and_what_is_covered(job, base, bare_job, bare):
    (option,) = results_data(job, [base], draw(job, [base]))["options"]
    assert option["covers"]["allowances"] is True
    by_name = {each["name"]: each for each in option["allowances"]}
    kitchen = by_name["Kitchen"]
    assert kitchen["id"] == "FT.kitchen"
    assert (kitchen["cost"], kitchen["fixing_cost"], kitchen["a1a3_kgco2e"]) == (12000, 2600, None)
    assert by_name["Wardrobes"]["a1a3_kgco2e"] == 90.7
    sums = {rung["step"]: rung["amount"] for rung in option["cost_ladder"][:2]}
    for kind, step in (("provisional sum", "Provisional sums"), ("prime-cost sum", "Prime-cost sums")):
        allowed = sum(each["cost"] for each in option["allowances"] if each["kind"] == kind)
        assert allowed == pytest.approx(sums[step])
    assert option["by_element"]["services"]["upfront_kgco2e"] is None
    assert option["by_element"]["services"]["mass_kg"] is None
    (other,) = results_data(bare_job, [bare], draw(bare_job, [bare]))["options"]
    assert other["covers"] == {"rooms": bool(job.design.rooms), "allowances": False}
    assert other["allowances"] == []


def test_quantities_name_the_kind_of_every_item(base):
    rows = list(csv.DictReader(io.StringIO(quantities_csv([base]))))
    assert {row["kind"] for row in rows} == {"measured", "provisional sum", "prime-cost sum"}
    measured = sum(float(row["cost"]) for row in rows if row["kind"] == "measured")
    assert measured == pytest.approx(base.ladder.measured_works, abs=0.001)
    kinds = {row["id"]: row["kind"] for row in rows}
    assert kinds["FT.kitchen"] == "prime-cost sum"
    assert kinds["FT.kitchen.fixing"] == kinds["FT.wardrobes"] == "measured"
