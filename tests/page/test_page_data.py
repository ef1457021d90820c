"""What the script of the page is given: figures of the results in full, in words that can't break out of the page."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.figures import figures_of
from takeoff.compare.parity import shortfalls_of_all
from takeoff.compare.uncertainty import draw
from takeoff.documents.page_contents import Entry, contents_of
from takeoff.documents.page_data import page_data, page_json
from takeoff.documents.page_verdicts import verdicts_between
from takeoff.documents.template_files import template_folder
from takeoff.workbook.reading import read_job

AMOUNTS = ("total_inc_tax", "a1a3_kgco2e", "upfront_kgco2e", "life_cycle_kgco2e", "d_kgco2e", "stored_kgco2")
SCRIPT = (template_folder() / "comparison.js").read_text()


@pytest.fixture(scope="module")
def cottage(demo_folder):
    job = read_job(demo_folder / "heron_bank.xlsx")
    results = evaluate_all(job, planned=False)
    return job, results, draw(job, results), shortfalls_of_all(job, results)


def test_figures_are_those_of_the_results_to_the_last_digit(cottage):
    job, results, _, _ = cottage
    data = json.loads(page_json(*cottage))
    assert len(data["options"]) == len(job.options)
    for option, result in zip(data["options"], results, strict=True):
        figures = figures_of(result)
        assert {key: option["figures"][key] for key in AMOUNTS} == {key: figures[key] for key in AMOUNTS}
        areas = result.measured.areas
        assert option["areas"] == {
            "outside": areas.outside,
            "inside": areas.inside,
            "rooms": areas.rooms or None,
        }


def test_an_option_whose_fabric_falls_short_says_by_how_much(cottage):
    data = page_data(*cottage)
    short = {option["name"]: option["short"] for option in data["options"] if option["short"]}
    assert list(short) == ["Plant-fibre insulation †"]
    assert [words.split(" +")[0] for words in short["Plant-fibre insulation †"]] == [
        "external walls",
        "heat loss",
    ]


def test_places_are_those_of_the_report(cottage):
    columns = {column["key"]: column for column in page_data(*cottage)["columns"]}
    places = {key: (column["places"], column.get("places_m2")) for key, column in columns.items()}
    assert places["total_inc_tax"] == (0, 0)
    assert places["upfront_kgco2e"] == (0, 1)
    assert places["mean_u"] == (3, None)
    assert places["heat_loss_w_per_k"] == (1, None)
    assert columns["total_inc_tax"]["unit_m2"] == "AUD/m²"


def test_sums_of_nothing_assessed_are_null(cottage):
    job, results, ranges, missed = cottage
    nothing = {module: replace(each, amount=None) for module, each in results[0].totals.modules.items()}
    base = replace(results[0], totals=replace(results[0].totals, modules=nothing, mass=0.0), life_cycle=None)
    figures = page_data(job, [base, *results[1:]], ranges, missed)["options"][0]["figures"]
    assert [figures[key] for key in ("a1a3_kgco2e", "upfront_kgco2e", "life_cycle_kgco2e")] == [None] * 3
    assert figures["mass_kg"] is None


def test_rooms_are_offered_only_where_every_option_has_some(cottage):
    job, results, ranges, missed = cottage
    bare = replace(results[1].measured, areas=replace(results[1].measured.areas, rooms=0.0))
    some = [results[0], replace(results[1], measured=bare), *results[2:]]
    keys = [basis["key"] for basis in page_data(job, results, ranges, missed)["bases"]]
    assert keys == ["total", "outside", "inside", "rooms"]
    assert [basis["key"] for basis in page_data(job, some, ranges, missed)["bases"]] == keys[:3]


def test_words_of_the_workbook_can_not_end_the_script_element(cottage):
    job, results, ranges, missed = cottage
    awkward = "</script><!-- <script>alert(1)</script>"
    first = replace(results[0], option=replace(results[0].option, description=awkward))
    text = page_json(job, [first, *results[1:]], ranges, missed)
    assert "<" not in text
    assert json.loads(text)["options"][0]["description"] == awkward


def test_findings_against_the_base_are_those_of_the_report(cottage):
    _, _, ranges, _ = cottage
    for figure in ("total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e"):
        found = verdicts_between(ranges, figure)
        assert [row[0] for row in found[1:]] == [
            option.differences[figure].verdict for option in ranges.options[1:]
        ]


def test_findings_between_two_options_turn_round_with_them(cottage):
    _, _, ranges, _ = cottage
    found = verdicts_between(ranges, "upfront_kgco2e")
    other_way = {"lower": "higher", "higher": "lower"}
    count = len(found)
    assert all(
        found[b][a] == other_way.get(found[a][b], found[a][b]) for a in range(count) for b in range(count)
    )
    # all steel has more than all timber, which differs by more than any range: 16998 less 15761
    assert found[2][1] == "higher"


def test_an_option_that_is_another_over_again_is_the_same(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    twin = replace(job.options[1], name="Twin")
    job = replace(job, options=(job.options[0], job.options[1], twin))
    ranges = draw(job, evaluate_all(job, planned=False))
    assert verdicts_between(ranges, "total_inc_tax")[2][1] == "the same"


def test_contents_are_the_sections_with_a_heading():
    page = (
        "<section id='a'><p>x</p><h2>One &amp;\n two</h2><h3>no</h3></section><section><h2>no id</h2></section>"
        "<section id='b' hidden><h2>Shown later</h2><h2>no second</h2></section>"
    )
    assert contents_of(page) == [
        Entry("a", "One & two", is_hidden=False),
        Entry("b", "Shown later", is_hidden=True),
    ]


def test_the_script_is_small_and_plain():
    assert len(SCRIPT.encode()) < 20_000
    assert "</script" not in SCRIPT
    assert not re.search(
        r"\beval\b|new Function|innerHTML|document\.write|fetch\(|import\(|https?:",
        SCRIPT.replace("http://www.w3.org/2000/svg", ""),
    )
