"""Overrides in every document: which figure, what it was, why, who and when, and what it does to the cost."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from html import unescape

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.evaluate import Result, evaluate_all
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.overrides_shown import override_lines, overrides_data, overrides_table
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.report_tables import allowances_table
from takeoff.documents.results_json import results_data
from takeoff.model.bill import Override
from takeoff.model.job import Job

CLAIM = {"who": "J. Sedge", "date": "2026-09-02"}


@pytest.fixture(scope="module")
def overridden(job: Job) -> tuple[Job, list[Result]]:
    """Return the demo as drawn and all in timber, with an override of each figure, and one for timber alone."""
    studs = "EW.FR.studs.softwood-framing-structural.170x45"
    changed = replace(
        job,
        options=job.options[:2],
        study=replace(job.study, draws=1_000),
        overrides=(
            Override(
                id="WN.w01", figure="rate", value=1250, unit="m2", reason="As quoted.", option=None, **CLAIM
            ),
            Override(
                id="SB.sand-blinding",
                figure="quantity",
                value=95,
                unit="m2",
                reason="= 90 + 5 at the step",
                **CLAIM,
            ),
            Override(id=studs, figure="wastage", value=0.125, unit="", reason="Short lengths", **CLAIM),
            Override(
                id="SV.solar-panels",
                figure="quantity",
                value=6.6,
                unit="kW",
                reason="Roof takes more",
                option="All timber",
                **CLAIM,
            ),
        ),
    )
    return changed, evaluate_all(changed, planned=False)


def in_words(page: str) -> str:
    return " ".join(
        unescape(re.sub(r"<style>.*?</style>|<svg.*?</svg>|<[^>]+>", " ", page, flags=re.S)).split()
    )


def test_a_line_below_the_screen_tells_each_override_once(overridden):
    _, (base, timber) = overridden
    sand = next(line for line in base.lines if line.quantity.id == "SB.sand-blinding")
    window = next(line for line in base.lines if line.quantity.id == "WN.w01")
    assert override_lines([base, timber]) == [
        f"As drawn: SB.sand-blinding: quantity 95.00 m2 instead of {sand.overrides[0].was:.2f}: = 90 + 5 at the step "
        "(J. Sedge, 2026-09-02)",
        "As drawn: EW.FR.studs.softwood-framing-structural.170x45: wastage 12.5 % instead of 8.0 %: Short lengths "
        "(J. Sedge, 2026-09-02)",
        f"As drawn: WN.w01: rate 1\u202f250.00 per m2 instead of {window.overrides[0].was:.2f}: As quoted "
        "(J. Sedge, 2026-09-02)",
        "All timber: SV.solar-panels: quantity 6.60 kW instead of 5.00: Roof takes more (J. Sedge, 2026-09-02)",
    ]


def test_the_column_of_the_quantities_tells_them_with_their_items(overridden):
    _, (base, timber) = overridden
    rows = list(csv.DictReader(io.StringIO(quantities_csv([base, timber]))))
    told = {(row["option"], row["id"]): row for row in rows if row["overrides"]}
    assert {id for option, id in told if option == "As drawn"} == {
        "SB.sand-blinding",
        "EW.FR.studs.softwood-framing-structural.170x45",
        "WN.w01",
    }
    assert ("All timber", "SV.solar-panels") in told
    sand = told["As drawn", "SB.sand-blinding"]
    assert sand["overrides"].startswith("quantity 95.00 m2 instead of ")
    assert sand["overrides"].endswith(": = 90 + 5 at the step (J. Sedge, 2026-09-02)")
    assert float(sand["net"]) == 95
    window = told["As drawn", "WN.w01"]
    assert float(window["rate"]) == 1250
    assert float(window["cost"]) == pytest.approx(1250 * float(window["net"]))


def test_results_json_has_them_for_each_option_with_what_they_do_to_the_cost(overridden):
    job, (base, timber) = overridden
    data = results_data(job, [base, timber], draw(job, [base, timber]))
    assert data["format"] == 5
    drawn, in_timber = (option["overrides"] for option in data["options"])
    assert [(each["id"], each["figure"], each["unit"], each["value"]) for each in in_timber] == [
        ("SB.sand-blinding", "quantity", "m2", 95),
        ("EW.FR.studs.softwood-framing-structural.170x45", "wastage", "share", 0.125),
        ("WN.w01", "rate", "per m2", 1250),
        ("SV.solar-panels", "quantity", "kW", 6.6),
    ]
    assert len(drawn) == 3
    solar = in_timber[-1]
    # 1.6 kW more at 1480
    assert (solar["was"], solar["effect_on_cost"]) == pytest.approx((5.0, 1.6 * 1480))
    assert (solar["reason"], solar["who"], solar["date"]) == ("Roof takes more", "J. Sedge", "2026-09-02")
    allowance = next(each for each in data["options"][1]["allowances"] if each["id"] == "SV.solar-panels")
    assert (allowance["quantity"], allowance["rate"], allowance["cost"]) == pytest.approx((6.6, 1480, 9768))


def test_the_effects_are_the_whole_difference_of_the_cost(job, overridden):
    changed, (base, timber) = overridden
    plain = evaluate_all(replace(changed, overrides=()), planned=False)
    for before, after in zip(plain, (base, timber), strict=True):
        effects = sum(each["effect_on_cost"] for each in overrides_data(after))
        assert after.totals.cost - before.totals.cost == pytest.approx(effects)


def test_the_report_has_a_table_of_them_after_the_orders(overridden):
    job, (base, timber) = overridden
    table = overrides_table([base, timber], "AUD")
    assert table is not None
    window, solar = table.rows[2], table.rows[3]
    assert table.caption == "Overrides by the quantity surveyor"
    assert window.cells[:4] == ("Window W01", "all options", "rate", "per m²")
    assert (window.cells[5], window.cells[7]) == ("1\u202f250.00", "As drawn")
    assert window.below == "WN.w01 · As quoted (J. Sedge, 2026-09-02)"
    # 1.6 x 1480 = 2368
    assert solar.cells == (
        "Solar panels",
        "All timber",
        "quantity",
        "kW",
        "5.00",
        "6.60",
        "+2\u202f368",
        "All timber",
    )
    page = in_words(comparison_page(job, [base, timber], draw(job, [base, timber])))
    assert page.index(table.caption) < page.index("Window W01 all options")


def test_the_table_of_allowances_says_which_figures_are_overridden(overridden):
    _, (_, timber) = overridden
    allowances = allowances_table(timber, "AUD")
    solar = next(row for row in allowances.rows if row.cells[0] == "Solar panels")
    assert solar.cells[3] == "6.6"
    assert solar.below.endswith(" · quantity overridden")


def test_without_overrides_nothing_is_said_of_them(job, base):
    only = replace(job, options=job.options[:1], study=replace(job.study, draws=1_000))
    assert override_lines([base]) == overrides_data(base) == []
    assert overrides_table([base], "AUD") is None
    assert "Overrides" not in in_words(comparison_page(only, [base], draw(only, [base])))


@pytest.mark.parametrize("command", ["measure", "compare"])
def test_the_screens_print_them_below(demo_folder, command):
    ran = CliRunner().invoke(app, [command, str(demo_folder / "wharf_pair.xlsx")])
    assert ran.exit_code == 0, ran.stderr
    assert ran.stdout.splitlines()[-2:] == [
        "As drawn: ED.d01: rate 912.50 per m2 instead of 840.00: As quoted on 26 August for this door with laminated "
        "glass and a level threshold: 6,898.50 for 7.56 m2 (R. Fescue (invented), 2026-08-28)",
        "As drawn: FF.carpet.carpet-nylon-500-g-pile: wastage 29.0 % instead of 10.0 %: One drop of the roll, 3.66 m "
        "wide, in each bedroom: 3.9 + 3.0 + 2.4 + 3.0 = 12.3 m, so 45.0 m2 for 34.9 (R. Fescue (invented), 2026-08-28)",
    ]
