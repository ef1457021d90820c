"""Habits that buy a spreadsheet trust (common practice, no source), held for the schedule of every demo house."""

from __future__ import annotations

import re
import zipfile
from dataclasses import replace
from io import BytesIO

import pytest
from openpyxl.formula import Tokenizer

from takeoff.compare.evaluate import evaluate
from takeoff.documents.schedule import bill_csv, schedule_workbook
from takeoff.model.bill import Override
from takeoff.workbook.reading import read_job

SHEETS = [
    "About",
    "Summary",
    "Schedule",
    "Dimensions",
    "Rates",
    "Prices",
    "Labour",
    "Order list",
    "Cutting list",
    "Carbon",
    "Allowances",
    "To take",
    "Queries",
    "Overrides",
    "Checks",
    "Issues",
    "Glossary",
]
# sheets whose rows are lines of the bill, and the first row below their header
LINES = {"Schedule": 5, "Rates": 5, "Carbon": 6, "Dimensions": 5, "Prices": 5, "Order list": 5}
LONGEST = 135
FUNCTIONS = {
    *("SUM", "SUMIFS", "COUNTIFS", "COUNT", "SUMPRODUCT", "PRODUCT", "AVERAGE", "MIN", "MAX", "ABS", "ROUND"),
    *("IF", "AND", "ISNUMBER", "INDEX", "MATCH", "TAN", "COS", "RADIANS"),
}
# printed on two pages side by side
WIDE = ("Rates", "Carbon")


@pytest.fixture(scope="module", params=["heron_bank", "dune_studio", "wharf_pair"])
def demo(request, demo_folder):
    job = read_job(demo_folder / f"{request.param}.xlsx")
    result = evaluate(job, job.base)
    return job, result, schedule_workbook(job, result)


@pytest.fixture(scope="module")
def book(demo, opened):
    return opened(demo[2])


def formulas_of(book):
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    yield sheet.title, cell


def test_sheets_stand_in_reading_order(book):
    assert book.sheetnames == SHEETS


def test_no_number_and_no_text_stands_inside_a_formula(book):
    for sheet, cell in formulas_of(book):
        for token in Tokenizer(cell.value).items:
            constant = token.type == "OPERAND" and token.subtype in ("NUMBER", "TEXT")
            assert not constant, (sheet, cell.coordinate, cell.value)


def test_functions_are_as_old_as_the_file_format(book):
    """All are in ECMA-376 Part 1 of 2006, 18.17.7 (from memory): younger ones are stored by longer names."""
    used = {
        token.value.rstrip("(")
        for _, cell in formulas_of(book)
        for token in Tokenizer(cell.value).items
        if token.type == "FUNC" and token.subtype == "OPEN"
    }
    assert {"SUM", "IF"} <= used <= FUNCTIONS


def test_formulas_are_short(book):
    longest = max(len(cell.value) for _, cell in formulas_of(book))
    assert longest <= LONGEST


def relative(formula, row):
    """Return a formula with the rows of its references counted from its own."""
    return re.sub(
        r"(?<![A-Za-z_$])(\$?[A-Z]{1,3})(\d+)", lambda found: f"{found[1]}[{int(found[2]) - row}]", formula
    )


@pytest.mark.parametrize("title", LINES)
def test_a_column_has_one_formula(book, title):
    sheet = book[title]
    for column in sheet.iter_cols(min_row=LINES[title]):
        found = {
            relative(cell.value, cell.row)
            for cell in column
            if isinstance(cell.value, str) and cell.value.startswith("=")
        }
        # totals of sections and items add up what stands above them; dimensions may come of a side calculation
        own = {
            formula for formula in found if not formula.startswith("=SUM(") and not is_side(title, formula)
        }
        assert len(own) <= 1, (title, column[0].column_letter, own)


def is_side(title, formula):
    """Whether a formula is a side calculation, or a dimension that takes its result."""
    return title == "Dimensions" and bool(
        re.match(r"=(AVERAGE\(M|M\[0\]\+N\[0\]\*TAN|SUM\(M\[0\]|Q\[0\]$)", formula)
    )


def test_nothing_is_hidden_protected_or_outside(demo, book):
    for sheet in book:
        assert sheet.sheet_state == "visible"
        assert not sheet.protection.sheet
        assert not any(dimension.hidden for dimension in sheet.row_dimensions.values())
        assert not any(dimension.hidden for dimension in sheet.column_dimensions.values())
    names = zipfile.ZipFile(BytesIO(demo[2])).namelist()
    assert not [name for name in names if "external" in name.lower() or "vba" in name.lower()]
    assert all("[" not in cell.value for _, cell in formulas_of(book))


def test_every_computed_cell_holds_a_figure(demo, book, opened):
    stored = opened(demo[2], stored=True)
    for sheet, cell in formulas_of(book):
        value = stored[sheet][cell.coordinate].value
        assert value is not None, (sheet, cell.coordinate)
        assert not (isinstance(value, str) and value.startswith("#")), (sheet, cell.coordinate, value)


def test_sheets_are_set_up_for_a4_landscape(book):
    for sheet in book:
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.page_setup.paperSize == 9
        # one page wide is what is meant where nothing is said
        assert (sheet.page_setup.fitToWidth or 1) == (2 if sheet.title in WIDE else 1)
        assert sheet.page_setup.fitToHeight == 0
        assert "&P" in sheet.oddFooter.right.text
    for title in ("Schedule", "Dimensions", "Rates", "Carbon", "Order list", "Cutting list"):
        assert book[title].print_title_rows, title
        assert book[title].freeze_panes, title
        assert book[title].auto_filter.ref, title


def test_each_section_of_the_bill_begins_a_page(demo, book):
    elements = {line.quantity.element for line in demo[1].lines}
    assert len(book["Schedule"].row_breaks.brk) == len(elements) - 1
    assert len(book["Dimensions"].row_breaks.brk) == len(elements) - 1


def test_all_controls_are_satisfied(demo, opened):
    stored = opened(demo[2], stored=True)["Checks"]
    results = [row[6].value for row in stored.iter_rows(min_row=5, max_row=26)]
    assert results == ["satisfied"] * 22


def test_the_same_figures_give_the_same_bytes(demo):
    assert schedule_workbook(demo[0], demo[1]) == demo[2]


def test_an_option_whose_fabric_falls_short_says_so_on_every_sheet(demo_folder, opened):
    job = read_job(demo_folder / "dune_studio.xlsx")
    base, slab = evaluate(job, job.base), evaluate(job, job.option("Slab on ground"))
    book = opened(schedule_workbook(job, slab, base))
    assert all("Slab on ground \u2020" in sheet.oddFooter.left.text for sheet in book)
    told = [row[2].value for row in book["About"].iter_rows() if row[0].value == "This option"]
    assert len(told) == 1
    assert told[0].startswith("\u2020 fabric falls short: floor +0.199")
    assert "fabric falls short" in bill_csv(job, slab, base)
    assert "fabric falls short" not in bill_csv(job, base, base)


def test_the_bill_by_trade_regroups_the_same_items(demo_folder, opened):
    job = read_job(demo_folder / "dune_studio.xlsx")
    both = replace(job, project=replace(job.project, bill_order="both"))
    data = schedule_workbook(both, evaluate(both, both.base))
    book, stored = opened(data), opened(data, stored=True)
    assert book.sheetnames == [*SHEETS[:3], "Schedule by trade", *SHEETS[3:]]
    bill = {row[0].value: row[9].value for row in stored["Schedule"].iter_rows(min_row=5) if row[0].value}
    regrouped = {
        row[0].value: row[8].value for row in stored["Schedule by trade"].iter_rows(min_row=5) if row[0].value
    }
    assert regrouped == pytest.approx(bill)
    assert len(bill) == len(evaluate(both, both.base).lines)
    by_trade = replace(job, project=replace(job.project, bill_order="trade"))
    sections = [
        row[2].value
        for row in opened(schedule_workbook(by_trade, evaluate(by_trade, by_trade.base)))[
            "Schedule"
        ].iter_rows(min_row=5)
        if row[0].value is None and row[2].value and "total" not in row[2].value
    ]
    assert sections[:4] == ["Groundworks", "Concrete", "Carpentry", "Roofing"]


def test_the_measurement_profile_bills_in_its_own_unit_and_step(demo_folder, opened, columns, row_of):
    job = read_job(demo_folder / "dune_studio.xlsx")
    profile = {
        **job.library.measurement,
        "frame": replace(job.library.measurement["frame"], unit="m3", rounding=0.05),
        "cladding": replace(job.library.measurement["cladding"], rounding=0.5, sort_code="1"),
    }
    job = replace(job, library=replace(job.library, measurement=profile))
    result = evaluate(job, job.base)
    data = schedule_workbook(job, result)
    letters, sheet = columns(data, "Schedule"), opened(data, stored=True)["Schedule"]
    studs = next(line for line in result.lines if line.quantity.id.startswith("EW.FR.studs"))
    row = row_of(data, "Schedule", letters["Id"], studs.quantity.id)
    volume = studs.quantity.net * 0.17 * 0.045
    assert sheet[f"{letters['Unit']}{row}"].value == "m3"
    assert sheet[f"{letters['Quantity']}{row}"].value == pytest.approx(round(volume / 0.05) * 0.05)
    # the rate is for one m3, the amount is that of the full quantity
    assert sheet[f"{letters['Rate']}{row}"].value == pytest.approx(studs.rate.total / (0.17 * 0.045))
    assert sheet[f"{letters['Amount']}{row}"].value == pytest.approx(studs.cost)
    # what the class is sorted before comes first in its section
    walls = [r[1].value for r in sheet.iter_rows(min_row=5) if str(r[1].value).startswith("EW.")]
    assert walls[0].startswith("EW.CL.")


def test_sort_codes_go_by_their_numbers_and_tonnes_are_a_unit(demo_folder, opened, columns):
    job = read_job(demo_folder / "dune_studio.xlsx")
    codes = {"frame": "2", "insulation": "10", "membranes": "9"}
    profile = {
        name: replace(rule, sort_code=codes.get(name, "20"), unit="t" if name == "frame" else None)
        for name, rule in job.library.measurement.items()
    }
    job = replace(job, library=replace(job.library, measurement=profile))
    result = evaluate(job, job.base, planned=False)
    data = schedule_workbook(job, result)
    letters, sheet = columns(data, "Schedule"), opened(data, stored=True)["Schedule"]
    ids = [row[1].value for row in sheet.iter_rows(min_row=5) if row[1].value]
    places = [
        ids.index(id)
        for id in ("EW.FR.plates.softwood-framing-structural.170x45", "EW.OUT.wall-wrap-vapour-open")
    ]
    assert places[0] < places[1] < ids.index("EW.IN.glass-wool-batts")
    plates = next(line for line in result.lines if line.quantity.id == ids[places[0]])
    row = next(row for row in sheet.iter_rows(min_row=5) if row[1].value == ids[places[0]])
    per_metre = plates.mass / plates.ordered.built_in / 1000
    assert row[6].value == "t"
    assert row[8].value == pytest.approx(plates.rate.total / per_metre)
    assert letters["Unit"] == "G"


def test_a_quantity_overridden_with_nothing_and_a_rate_of_nothing(demo_folder, opened, columns, row_of):
    job = read_job(demo_folder / "dune_studio.xlsx")
    door = Override(
        id="ED.d01", figure="quantity", value=0.0, unit="m2", reason="left out", who="A", date="2026-09-01"
    )
    window = Override(
        id="WN.w01", figure="rate", value=0.0, unit="m2", reason="a gift", who="A", date="2026-09-01"
    )
    power = replace(window, id="SV.electrical-installation", value=99.0, reason="quoted")
    job = replace(job, overrides=(door, window, power))
    result = evaluate(job, job.base)
    data = schedule_workbook(job, result)
    stored = opened(data, stored=True)
    letters = columns(data, "Schedule")
    row = row_of(data, "Schedule", letters["Id"], "ED.d01")
    assert stored["Schedule"][f"{letters['Amount']}{row}"].value == 0
    results = [line[6].value for line in stored["Checks"].iter_rows(min_row=5, max_row=26)]
    assert results == ["satisfied"] * 22
    # the allowance keeps the rate it was allowed at beside the one that counts
    letters = columns(data, "Allowances")
    row = row_of(data, "Allowances", letters["Id"], "SV.electrical-installation")
    line = next(line for line in result.lines if line.quantity.id == "SV.electrical-installation")
    assert stored["Allowances"][f"{letters['Rate']}{row}"].value == line.overrides[0].was
    assert stored["Allowances"][f"{letters['Rate used']}{row}"].value == 99.0
    assert stored["Allowances"][f"{letters['Amount']}{row}"].value == pytest.approx(99.0 * line.quantity.net)


@pytest.mark.filterwarnings("error")
def test_a_long_name_leaves_room_for_page_numbers(demo_folder, opened):
    job = read_job(demo_folder / "dune_studio.xlsx")
    job = replace(job, project=replace(job.project, name="A long name & more " * 20))
    book = opened(schedule_workbook(job, evaluate(job, job.base, planned=False)))
    assert all("&P" in sheet.oddFooter.right.text for sheet in book)


def test_the_plain_twin_holds_the_bill(demo):
    job, result, _ = demo
    import io

    import pandas as pd

    table = pd.read_csv(io.StringIO(bill_csv(job, result)), keep_default_na=False)
    assert list(table["item"]) == list(range(1, len(result.lines) + 1))
    assert table["amount"].sum() == pytest.approx(sum(line.cost for line in result.lines), abs=1e-6)
    parts = table[["material", "labour", "plant", "stated"]].sum(axis=1)
    assert parts.to_numpy() == pytest.approx(table["amount"].to_numpy())
