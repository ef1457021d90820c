"""Fabric, members and flags in the documents: tables, marks, CSV, JSON, screen."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.evaluate import evaluate
from takeoff.compare.parity import shortfalls_of_all
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.cutting_list_csv import cutting_list_csv
from takeoff.documents.fabric_sections import fabric_section
from takeoff.documents.fabric_tables import (
    conductivities_table,
    envelope_table,
    framing_cost_table,
    heat_loss_table,
    layers_table,
)
from takeoff.documents.member_tables import flags_table, grades_table, members_table, practices_table
from takeoff.documents.option_flags import flag_texts
from takeoff.documents.order_list_csv import order_list_csv
from takeoff.documents.parity_words import MARK, parity_table, short_note
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.results_json import results_json

SHORT = "Plant-fibre insulation"


@pytest.fixture(scope="module")
def results(job):
    names = ("As drawn", "Material-saving framing", SHORT)
    return [evaluate(job, job.option(name), planned=False) for name in names]


@pytest.fixture(scope="module")
def missed(job, results):
    return shortfalls_of_all(job, results)


@pytest.fixture(scope="module")
def ranges(job, results):
    few = replace(job, study=replace(job.study, draws=1000))
    return draw(few, results)


@pytest.fixture(scope="module")
def page(job, results, ranges):
    return comparison_page(job, results, ranges)


def cells(table, first: str) -> tuple[str, ...]:
    return next(row.cells for row in table.rows if row.cells and row.cells[0] == first)


def test_framing_by_wall_with_its_cost(results):
    table = framing_cost_table(results[0])
    assert cells(table, "high wall") == ("high wall", "27.4", "36.0", "15.0", "0.243", "0.196", "6.7", "+1.3")
    assert table.rows[-1].cells[-1] == "+2.9"


def test_heat_loss_adds_up_and_shows_its_difference(results):
    table = heat_loss_table(results)
    base = [float(text.replace("\u202f", "")) for text in cells(table, "As drawn")[1:]]
    # walls to junctions make up the envelope; with the air the total
    assert sum(base[:7]) == pytest.approx(base[7], abs=0.35)
    assert base[7] + base[9] == pytest.approx(base[10], abs=0.11)
    row = next(row for row in table.rows if row.cells[0] == SHORT)
    difference = results[2].fabric.transmission - results[0].fabric.transmission
    assert row.second[8] == f"+{difference:.1f}"
    assert "It is no prediction and no rating." in table.note


def test_without_degree_days_there_is_no_column_of_demand(job):
    plain = replace(job, fabric=replace(job.fabric, degree_days=None))
    table = heat_loss_table([evaluate(plain, plain.base, planned=False)])
    assert not any("degree" in column.title for column in table.columns)
    assert "degree" not in table.note


def test_the_envelope_names_the_sides_of_the_windows(results):
    table = envelope_table(results)
    assert cells(table, "As drawn")[9] == "8, 32, 7, 7"
    assert "sides low (S), high (N), left (W), right (E) in the base" in table.note


def test_layers_are_told_once_for_walls_of_one_make_up(results):
    headings = [row.heading for row in layers_table(results[0]).rows if row.heading]
    assert [heading for heading in headings if "wall" in heading] == ["low wall"]


def test_every_conductivity_used_has_its_source(job, results):
    table = conductivities_table(job, results)
    for row in table.rows:
        name, conductivity, declared, _, source, standing = row.cells
        material = job.library.materials[name]
        assert conductivity == ("" if material.conductivity is None else f"{material.conductivity:g}")
        assert bool(conductivity) or bool(declared)
        assert source in job.library.sources
        assert standing


def test_every_member_says_who_confirms(results):
    table = members_table(results[0])
    assert table is not None
    assert {row.cells[-1] for row in table.rows} == {"engineer to confirm"}
    assert "This is no structural design." in table.note


def test_flags_stand_beside_every_option(results):
    table = flags_table(results)
    assert cells(table, "As drawn")[2] == "walls over 3 m: high, left, right"
    assert "single top plate; no jack studs over lintels" in cells(table, "Material-saving framing")[2]


def test_practices_show_their_status(results):
    rows = practices_table(results).rows
    assert [row.heading for row in rows if row.heading] == [
        "Usual, in 2 of 3 options",
        "Material-saving, in 1 of 3 options",
    ]
    assert ("no jack studs over lintels", "engineer to confirm") in [row.cells for row in rows]


def test_grades_and_cases_are_told_with_their_sources(job):
    table = grades_table(job)
    assert table is not None
    sources = {row.cells[2] for row in table.rows if row.cells}
    assert sources == {"EN338", "memory", "EC5", "TGN19"}
    assert grades_table(replace(job, library=replace(job.library, grades=(), load_cases=()))) is None


def test_a_name_that_falls_short_is_marked_wherever_it_stands(page):
    body = re.sub(r"<style>.*?</style>", "", page, flags=re.S)
    after = [body[found.end() : found.end() + 2] for found in re.finditer(SHORT, body)]
    # in the note the name is followed by how much it falls short by
    assert set(after) == {f" {MARK}", " ("}
    assert after.count(f" {MARK}") > 20


def test_the_note_stands_below_everything_that_is_marked(page, missed):
    note = short_note(missed).replace("'", "&#39;")
    assert note.startswith(
        f"{MARK} The fabric falls short of its targets: {SHORT} (external walls +0.003 W/(m²K)"
    )
    sections = re.findall(r"<section.*?</section>", page, flags=re.S)
    marked = [
        section for section in sections if f"{SHORT} {MARK}" in section and "cautions" not in section[:40]
    ]
    assert len(marked) > 5
    assert all(note in section for section in marked)


def test_without_a_shortfall_nothing_is_marked(job, results, ranges):
    first = results[:2]
    whole = replace(ranges, options=ranges.options[:2])
    assert MARK not in re.sub(r"<style>.*?</style>", "", comparison_page(job, first, whole), flags=re.S)


@pytest.mark.parametrize(
    ("settings", "resistances", "words"),
    [
        ({}, True, "The one option meets the targets of the sheet Fabric."),
        ({}, False, "No option is known to fall short, but some U-values are not assessed."),
        (
            dict.fromkeys(
                (
                    "target_walls",
                    "target_roof",
                    "target_floor",
                    "target_windows",
                    "target_doors",
                    "heat_loss_limit",
                )
            ),
            True,
            "No target is set in the sheet Fabric, so no option can fall short.",
        ),
    ],
)
def test_the_sentence_says_what_is_known(job, settings, resistances, words):
    changed = replace(job, fabric=replace(job.fabric, **settings))
    if not resistances:
        changed = replace(changed, library=replace(job.library, resistances=()))
    alone = [evaluate(changed, changed.base, planned=False)]
    section = fabric_section(changed, alone, shortfalls_of_all(changed, alone))
    assert section["sentence"].startswith(words)


def test_the_parity_table_holds_every_remedy(missed):
    table = parity_table(missed)
    assert table is not None
    assert table.rows[0].cells[0] == f"{SHORT} {MARK}"
    assert [row.cells[6] for row in table.rows] == [
        "external walls: Cellulose, blown",
        "external walls: Cellulose, blown",
        "roof: Cellulose, blown",
        "floor: Insulation board, EPS",
    ]
    assert parity_table({"As drawn": ()}) is None


@pytest.mark.parametrize("document", ["quantities", "orders", "cutting"])
def test_every_csv_carries_the_flags_of_its_option(job, results, document):
    flags = flag_texts(job, results, results[0])
    text = {
        "quantities": lambda: quantities_csv(results, flags),
        "orders": lambda: order_list_csv(job, results, flags),
        "cutting": lambda: cutting_list_csv([evaluate(job, job.option("Material-saving framing"))], flags),
    }[document]()
    rows = list(csv.DictReader(io.StringIO(text)))
    assert rows
    for row in rows:
        assert row["option_flags"] == flags[row["option"]]
    assert "single top plate" in flags["Material-saving framing"]
    assert f"{MARK} fabric falls short: external walls +0.003 W/(m²K); heat loss +0.5 W/K" in flags[SHORT]


def test_results_json_tells_fabric_members_and_flags(job, results, ranges):
    data = json.loads(results_json(job, results, ranges))
    base, _, other = data["options"]
    assert data["fabric_settings"]["target_walls"] == 0.24
    assert base["fabric"]["falls_short"] == []
    assert [each["of"] for each in other["fabric"]["falls_short"]] == ["external walls", "heat loss"]
    assert base["fabric"]["heat_loss_w_per_k"]["total"] == results[0].fabric.total
    assert base["totals"]["heat_loss_w_per_k"] == results[0].fabric.transmission
    assert len(base["members"]["checked"]) == len(results[0].members)
    assert base["flags"] == ["engineer to confirm: walls over 3 m: high, left, right"]
    assert {"Fabric falls short"} == {
        c["about"] for c in other["cautions"] if c not in base["cautions"] and "short" in c["about"]
    }


def test_the_command_shows_fabric_members_and_flags(demo_folder):
    house = str(demo_folder / "dune_studio.xlsx")
    result = CliRunner().invoke(app, ["fabric", house, "--option", "Slab on ground"], env={"COLUMNS": "250"})
    assert result.exit_code == 0
    for words in (
        f"Slab on ground {MARK}: what the sticks cost in heat",
        "Heat loss coefficient by element",
        "Where the fabric falls short, and what would restore it",
        "indicative checks of members, engineer to confirm",
        "Slab on ground: † fabric falls short: floor +0.199",
    ):
        assert words in result.stdout


def test_the_command_does_not_know_an_option(demo_folder):
    result = CliRunner().invoke(app, ["fabric", str(demo_folder / "dune_studio.xlsx"), "--option", "No such"])
    assert result.exit_code == 2
    assert "There is no option 'No such'." in result.stderr


def test_measuring_an_option_that_falls_short_says_so(demo_folder):
    house = str(demo_folder / "dune_studio.xlsx")
    out = (
        CliRunner()
        .invoke(app, ["measure", house, "--option", "Slab on ground"], env={"COLUMNS": "200"})
        .stdout
    )
    assert out.startswith(f"Slab on ground {MARK}: quantities")
    assert "Slab on ground: † fabric falls short: floor +0.199 W/(m²K); heat loss +7.2 W/K" in out
