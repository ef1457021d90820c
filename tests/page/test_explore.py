"""The reader sorts, filters and compares the options: order and figures are those of the results."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.select import Select

from takeoff.compare.evaluate import Result
from takeoff.compare.figures import figures_of
from takeoff.compare.parity import shortfalls
from takeoff.documents.wording import NOT_ASSESSED, figure, figure_change

AREAS = {"outside": "to the outside face of the frame", "inside": "to the inside faces"}
SCOPES = {"a1a3_kgco2e": "A1-A3", "upfront_kgco2e": "A1-A5", "life_cycle_kgco2e": "Life cycle"}
# Places of the columns of the table, the names of the options first.
COST, CARBON, D, STORED, MASS, WASTAGE, MEAN_U, HEAT_LOSS = range(1, 9)
COLUMNS = (
    (COST, "total_inc_tax", "currency"),
    (D, "d_kgco2e", "kgCO2e"),
    (STORED, "stored_kgco2", "kgCO2"),
    (MASS, "mass_kg", "kg"),
    (WASTAGE, "wastage_share", "share"),
    (MEAN_U, "mean_u", "W/(m2 K)"),
    (HEAT_LOSS, "heat_loss_w_per_k", "W/K"),
)
WHOLE = (WASTAGE, MEAN_U, HEAT_LOSS)

Show = Callable[..., Chrome]


def choose(browser: Chrome, id: str, value: str) -> None:
    Select(browser.find_element(By.ID, id)).select_by_value(value)


def heads(browser: Chrome) -> list[WebElement]:
    return browser.find_elements(By.CSS_SELECTOR, "#explore-table thead th")


def sort_by(browser: Chrome, column: int) -> None:
    heads(browser)[column].find_element(By.TAG_NAME, "button").click()


def shown_rows(browser: Chrome) -> list[WebElement]:
    rows = browser.find_elements(By.CSS_SELECTOR, "#explore-table tbody tr")
    return [row for row in rows if row.is_displayed()]


def name_of(row: WebElement) -> str:
    return row.find_element(By.CSS_SELECTOR, "label span").text.removesuffix(" †")


def shown_names(browser: Chrome) -> list[str]:
    return [name_of(row) for row in shown_rows(browser)]


def cell(row: WebElement, column: int) -> list[str]:
    """Return the lines of a cell: its figure, its difference, what can be said of it."""
    return row.find_elements(By.CSS_SELECTOR, "th, td")[column].text.split("\n")


def beside(browser: Chrome) -> dict[str, list[str]]:
    """Return the rows of the options side by side, by what they show, each cell in one line."""
    rows = browser.find_elements(By.CSS_SELECTOR, "#side-by-side tr")
    cells = [[cell.text for cell in row.find_elements(By.CSS_SELECTOR, "th, td")] for row in rows]
    return {first: rest for first, *rest in cells}


def area(result: Result, basis: str) -> float:
    areas = result.measured.areas
    return {"total": 1.0, "outside": areas.outside, "inside": areas.inside, "rooms": areas.rooms}[basis]


def expected(result: Result, key: str, unit: str, basis: str) -> str:
    """Return a figure as the report prints it: the amount over the area, rounded as its unit asks."""
    value = figures_of(result)[key]
    if value is None:
        return NOT_ASSESSED
    return figure(value / area(result, basis), unit if basis == "total" else f"{unit}/m2").removesuffix(" %")


@pytest.mark.parametrize(("column", "key"), [(COST, "total_inc_tax"), (CARBON, "upfront_kgco2e")])
def test_a_head_sorts_the_options_up_and_then_down(studio, show: Show, column, key):
    browser = show(studio)
    values = {result.option.name: figures_of(result)[key] for result in studio.results}
    assert shown_names(browser) == studio.names
    sort_by(browser, column)
    assert shown_names(browser) == sorted(studio.names, key=values.__getitem__)
    assert heads(browser)[column].get_attribute("aria-sort") == "ascending"
    sort_by(browser, column)
    assert shown_names(browser) == sorted(studio.names, key=values.__getitem__, reverse=True)
    assert [head.get_attribute("aria-sort") for head in heads(browser)] == [
        "descending" if place == column else None for place in range(10)
    ]
    browser.find_element(By.ID, "reset").click()
    assert shown_names(browser) == studio.names


def test_words_filter_the_options_by_name_description_and_settings(studio, show: Show):
    browser = show(studio)
    first, last = studio.results[0].option, studio.results[-1].option
    word = max(re.findall(r"\w+", last.description), key=len)
    browser.find_element(By.ID, "find").send_keys(word.upper())
    assert shown_names(browser) == [
        result.option.name
        for result in studio.results
        if word.lower()
        in f"{result.option.name} {result.option.description} {dict(result.option.shown)}".lower()
    ]
    assert last.name in shown_names(browser)
    assert first.name not in shown_names(browser)
    count = len(shown_names(browser))
    assert browser.find_element(By.ID, "shown").text == f"{count} of 6 options, in the order of the report."
    browser.find_element(By.ID, "find").send_keys(" no such word")
    assert shown_names(browser) == []
    browser.find_element(By.ID, "reset").click()
    assert shown_names(browser) == studio.names


@pytest.mark.parametrize("verdict", ["lower", "higher", "too close to call", "the same"])
@pytest.mark.parametrize(
    ("id", "figure_key"), [("cost-verdict", "total_inc_tax"), ("carbon-verdict", "upfront_kgco2e")]
)
def test_the_finding_against_the_base_filters_the_options(studio, show: Show, id, figure_key, verdict):
    browser = show(studio)
    choose(browser, id, verdict)
    assert shown_names(browser) == [
        option.name
        for option in studio.ranges.options[1:]
        if option.differences[figure_key].verdict == verdict
    ]


def test_only_options_whose_fabric_is_as_good_are_left(cottage, show: Show):
    browser = show(cottage)
    browser.find_element(By.ID, "as-good").click()
    good = [
        result.option.name
        for result in cottage.results
        if not shortfalls(cottage.job, result, cottage.results[0])
    ]
    assert shown_names(browser) == good
    assert len(good) < len(cottage.names)


@pytest.mark.parametrize("basis", ["total", "outside", "inside", "rooms"])
@pytest.mark.parametrize("scope", SCOPES)
def test_table_and_bars_show_the_figures_of_the_results_on_every_basis(cottage, show: Show, basis, scope):
    browser = show(cottage)
    choose(browser, "basis", basis)
    choose(browser, "scope", scope)
    columns = (*COLUMNS, (CARBON, scope, "kgCO2e"))
    base = cottage.results[0]
    for result, row in zip(cottage.results, shown_rows(browser), strict=True):
        assert name_of(row) == result.option.name
        for column, key, unit in columns:
            on = "total" if column in WHOLE else basis
            lines = cell(row, column)
            assert lines[0] == expected(result, key, unit, on), (result.option.name, key)
            value, other = figures_of(result)[key], figures_of(base)[key]
            if result is not base and value is not None:
                difference = value / area(result, on) - other / area(base, on)
                assert lines[1] == figure_change(difference, unit if on == "total" else f"{unit}/m2")
    bars = browser.find_elements(By.CSS_SELECTOR, "#bars .value")
    assert [bar.text for bar in bars] == [
        expected(result, scope, "kgCO2e", basis) for result in cottage.results
    ]


@pytest.mark.parametrize(
    ("cost", "of_the_base"),
    [(1_000_000.5, 2.5), (1_000_001.5, 0.5), (0.49999999999999994, 1.5), (-0.4, 1.0), (-1234.5, 0.0)],
)
def test_figures_are_rounded_as_in_the_report_to_the_last_half(
    studio, show: Show, tmp_path, cost, of_the_base
):
    start, end = '<script type="application/json" id="page-data">', "</script>"
    before, rest = studio.text.split(start)
    text, after = rest.split(end, 1)
    data = json.loads(text)
    for option, amount in zip(data["options"], (of_the_base, cost), strict=False):
        option["figures"]["total_inc_tax"] = amount
    path = tmp_path / "page.html"
    path.write_text(f"{before}{start}{json.dumps(data)}{end}{after}")
    browser = show(replace(studio, path=path))
    lines = cell(shown_rows(browser)[1], COST)
    assert lines[:2] == [figure(cost, "currency"), figure_change(cost - of_the_base, "currency")]


def test_a_house_without_rooms_has_no_figures_for_rooms(studio, show: Show):
    browser = show(studio)
    offered = [
        option.get_attribute("value") for option in Select(browser.find_element(By.ID, "basis")).options
    ]
    assert offered == ["total", "outside", "inside"] + ["rooms"] * bool(
        studio.results[0].measured.areas.rooms
    )


def test_what_is_not_assessed_is_said_and_never_nought(cottage, show: Show):
    browser = show(cottage)
    assert {result.totals.of("D") for result in cottage.results} == {None}
    assert {cell(row, D)[0] for row in shown_rows(browser)} == {"not assessed"}
    choose(browser, "bars-of", "d_kgco2e")
    assert {bar.text for bar in browser.find_elements(By.CSS_SELECTOR, "#bars .value")} == {"not assessed"}


def test_ticked_options_stand_beside_the_base_with_their_differences(studio, show: Show):
    browser = show(studio)
    for row in shown_rows(browser):
        box = row.find_element(By.TAG_NAME, "input")
        if box.is_selected() != (name_of(row) == studio.names[2]):
            box.click()
    base, other = studio.results[0], studio.results[2]
    panel = beside(browser)
    assert [head.split("\n")[0].removesuffix(" †") for head in panel["Figure"]] == [
        base.option.name,
        other.option.name,
    ]
    cost = panel[f"Cost inc tax {studio.job.project.currency}"]
    assert cost[0] == expected(base, "total_inc_tax", "currency", "total")
    difference = other.ladder.total_inc_tax - base.ladder.total_inc_tax
    assert cost[1].split("\n") == [
        expected(other, "total_inc_tax", "currency", "total"),
        figure_change(difference, "currency"),
        studio.ranges.options[2].differences["total_inc_tax"].verdict,
    ]


def test_another_option_can_be_the_reference(studio, show: Show):
    browser = show(studio)
    choose(browser, "reference", "3")
    base, reference = studio.results[0], studio.results[3]
    panel = beside(browser)
    assert [head.split("\n")[0].removesuffix(" †") for head in panel["Figure"]][:2] == [
        reference.option.name,
        base.option.name,
    ]
    upfront = panel["Upfront carbon, A1-A5 kgCO₂e"][1].split("\n")
    difference = base.totals.upfront - reference.totals.upfront
    assert upfront[:2] == [
        figure(base.totals.upfront, "kgCO2e"),
        figure_change(difference, "kgCO2e"),
    ]
    # what is said of the base against an option is the other way round than of the option against the base
    other_way = {"lower": "higher", "higher": "lower"}
    verdict = studio.ranges.options[3].differences["upfront_kgco2e"].verdict
    assert upfront[2] == other_way.get(verdict, verdict)
    assert cell(shown_rows(browser)[3], COST) == [expected(reference, "total_inc_tax", "currency", "total")]
