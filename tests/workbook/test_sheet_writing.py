"""Sheets of a new workbook: every declared column and setting, its help and unit, paper and looks."""

from __future__ import annotations

import io
import re
import zipfile

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from takeoff.units import factor_between, per_unit_factor
from takeoff.workbook.about_sheet import ABOUT, ORDER_OF_WORK, UNITS
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.fields import Sheet, WorkbookLayout
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK
from takeoff.workbook.lists_sheet import LISTS
from takeoff.workbook.page_layout import fitted_width, wrapped_lines
from takeoff.workbook.starter_content import (
    StarterBook,
    factors_starter,
    house_starter,
)
from takeoff.workbook.validations import UNITS_OFFERED
from takeoff.workbook.writing import (
    workbook_bytes,
)

HEADER, UNITS_ROW, FIRST_SETTING = 4, 5, 5
LAYOUTS = [HOUSE_WORKBOOK, FACTORS_WORKBOOK]
DECLARED = [
    pytest.param(layout, sheet, id=f"{layout.title}: {sheet.title}")
    for layout in LAYOUTS
    for sheet in layout.sheets
]


def opened(content: bytes) -> Workbook:
    return openpyxl.load_workbook(io.BytesIO(content))


def made(book: StarterBook) -> bytes:
    return workbook_bytes(book.layout, book.content, title=book.title, example=book.example)


@pytest.fixture(scope="module")
def books() -> dict[str, Workbook]:
    return {book.layout.title: opened(made(book)) for book in (house_starter(), factors_starter())}


def titles(paper: Worksheet) -> list[object]:
    return [cell.value for cell in paper[HEADER] if cell.value is not None]


def column_of(paper: Worksheet, title: str) -> str:
    return next(cell.column_letter for cell in paper[HEADER] if cell.value == title)


def row_of(paper: Worksheet, setting: str) -> int:
    return next(cell.row for cell in paper["A"] if cell.value == setting)


@pytest.mark.parametrize(("layout", "sheet"), DECLARED)
def test_every_declared_column_and_setting_is_there(
    books: dict[str, Workbook], layout: WorkbookLayout, sheet: Sheet
) -> None:
    paper = books[layout.title][sheet.title]
    declared = [field.title for field in sheet.fields]
    if sheet.layout == "table":
        assert titles(paper) == declared
    elif sheet.layout == "settings":
        assert titles(paper) == ["Setting", "Value", "Unit", "Note"]
        assert [cell.value for cell in paper["A"][FIRST_SETTING - 1 :]] == declared
    else:
        assert titles(paper)[:3] == ["Setting", "Unit", "As drawn"]


@pytest.mark.parametrize(("layout", "sheet"), DECLARED)
def test_every_title_has_its_help_in_a_comment(
    books: dict[str, Workbook], layout: WorkbookLayout, sheet: Sheet
) -> None:
    paper = books[layout.title][sheet.title]
    for field in sheet.fields:
        if sheet.layout == "table":
            cell = paper[f"{column_of(paper, field.title)}{HEADER}"]
        else:
            cell = paper[f"A{row_of(paper, field.title)}"]
        assert cell.comment is not None
        assert cell.comment.text.startswith(field.help)
        assert cell.comment.text.rstrip().endswith(".")
    if sheet.layout == "options":
        assert all(cell.comment is not None for cell in paper[HEADER])


def test_a_comment_says_unit_limits_and_what_a_blank_stands_for(books: dict[str, Workbook]) -> None:
    house = books["House workbook"]["House"]
    assert house[f"A{row_of(house, 'outrigger depth')}"].comment.text == (
        "Depth of the outriggers at the verges.\nUnit: mm.\nFrom 40 to 400 mm.\nBlank: 90 mm."
    )
    assert house[f"A{row_of(house, 'pitch')}"].comment.text == (
        "Slope of the roof.\nUnit: deg.\nFrom 1 to 35 deg.\nRequired."
    )
    prices = books["Factors workbook"]["Prices"]
    assert prices["B4"].comment.text == (
        "Price of one unit.\nUnit: in the column Unit.\nFrom 0 to 1,000,000.\nRequired."
    )


@pytest.mark.parametrize(("layout", "sheet"), DECLARED)
def test_panes_are_frozen_below_header_and_units(
    books: dict[str, Workbook], layout: WorkbookLayout, sheet: Sheet
) -> None:
    frozen = {"table": "B6", "settings": "B5", "options": "C5"}
    assert books[layout.title][sheet.title].freeze_panes == frozen[sheet.layout]


@pytest.mark.parametrize(("layout", "sheet"), DECLARED)
def test_quantities_have_a_unit_and_nothing_else_has(
    books: dict[str, Workbook], layout: WorkbookLayout, sheet: Sheet
) -> None:
    paper = books[layout.title][sheet.title]
    for field in sheet.fields:
        if sheet.layout == "table":
            unit = paper[f"{column_of(paper, field.title)}{UNITS_ROW}"].value
        else:
            unit = paper[f"C{row_of(paper, field.title)}"].value
        assert (unit is not None) == field.has_unit
        if unit is not None:
            assert factor_between(unit, field.unit or "") > 0


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_about_is_first_and_all_sheets_are_linked_from_it(
    books: dict[str, Workbook], layout: WorkbookLayout
) -> None:
    book = books[layout.title]
    extra = [LISTS] if layout is HOUSE_WORKBOOK else []
    assert book.sheetnames == [ABOUT, *(sheet.title for sheet in layout.sheets), *extra]
    links = {cell.hyperlink.location for cell in book[ABOUT]["A"] if cell.hyperlink}
    assert links == {f"'{title}'!A1" for title in book.sheetnames[1:]}


def test_the_order_of_work_names_sheets_of_the_workbook() -> None:
    for layout in LAYOUTS:
        known = {sheet.title for sheet in layout.sheets}
        steps = [name for name, _ in ORDER_OF_WORK[layout.title]]
        assert steps[-1] == "takeoff check"
        assert set(steps[:-1]) <= known
        # every sheet that has to be filled in is named in a step or in its text
        told = " ".join(f"{name} {text}" for name, text in ORDER_OF_WORK[layout.title])
        assert all(sheet.title in told for sheet in layout.sheets if not sheet.optional)


def test_the_units_explained_are_understood() -> None:
    lengths = dict(UNITS)["Lengths to volumes"].split(". ")[0]
    for unit in re.split(r"[,;] ", lengths):
        assert factor_between(unit, {"2": "m2", "3": "m3"}.get(unit[-1], "m")) > 0
    for unit in ("kg", "t"):
        assert factor_between(unit, "kg") > 0
    examples = dict(UNITS)["Amounts per unit"].split(": ")[1].rstrip(".")
    for unit in examples.split(", "):
        numerator = "currency" if unit.startswith("per") else unit.split("/")[0]
        assert per_unit_factor(unit, numerator)[0] > 0


@pytest.mark.parametrize(("unit", "offered"), UNITS_OFFERED.items())
def test_the_units_offered_are_understood(unit: str, offered: tuple[str, ...]) -> None:
    assert all(factor_between(one, unit) > 0 for one in offered)


def test_units_are_offered_for_every_declared_quantity() -> None:
    units = {
        field.unit
        for layout in LAYOUTS
        for sheet in layout.sheets
        for field in sheet.fields
        if field.has_unit
    }
    assert units == set(UNITS_OFFERED)


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_sheets_print_on_a4_landscape_with_repeating_headings(
    books: dict[str, Workbook], layout: WorkbookLayout
) -> None:
    for paper in books[layout.title]:
        assert (paper.page_setup.paperSize, paper.page_setup.orientation) == (9, "landscape")
        # 0 stands for as many pages as it takes; what is not stored is 1
        wide, high = (
            1 if fit is None else fit for fit in (paper.page_setup.fitToWidth, paper.page_setup.fitToHeight)
        )
        assert high == (1 if paper.title in ("Project", "House", "Study", "Fabric") else 0)
        # these alone are too wide for one page
        too_wide = ("Materials", "Stock", "Carbon factors", "Framing", "Lists")
        assert (paper.title, wide) == (paper.title, 2 if paper.title in too_wide else 1)
        assert paper.oddFooter.center.text == "&A"
        assert paper.oddFooter.right.text == "Page &P of &N"
        if paper.title != ABOUT:
            assert paper.print_title_rows in ("$4:$5", "$4:$4")


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_nothing_is_hidden_and_nothing_leads_outside(layout: WorkbookLayout) -> None:
    content = made(house_starter() if layout is HOUSE_WORKBOOK else factors_starter())
    names = zipfile.ZipFile(io.BytesIO(content)).namelist()
    assert not [name for name in names if "externalLink" in name or "vbaProject" in name]
    for paper in opened(content):
        assert paper.sheet_state == "visible"
        assert not [row for row, look in paper.row_dimensions.items() if look.hidden]
        assert not [letter for letter, look in paper.column_dimensions.items() if look.hidden]
        assert not paper.protection.sheet


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_one_typeface_throughout(books: dict[str, Workbook], layout: WorkbookLayout) -> None:
    fonts = {cell.font.name for paper in books[layout.title] for row in paper.iter_rows() for cell in row}
    assert fonts == {"Calibri"}


def test_wrapped_lines_are_counted_by_words() -> None:
    # 12 characters of width hold 1.17 x 12 - 2.5 = 11.5 letters: `Roof width` (10) and `carried` (7)
    assert wrapped_lines("Roof width carried", 12) == 2
    assert wrapped_lines("Roof width", 12) == 1
    assert wrapped_lines("one\ntwo", 12) == 2


def test_a_column_is_widened_only_where_a_little_more_saves_wrapping() -> None:
    # 24 letters ask for (24 + 3) / 1.17 = 23.1 of width: from 18 it is less than a third more
    assert fitted_width(18, ["x" * 24]) == pytest.approx(27 / 1.17)
    assert fitted_width(18, ["x" * 60]) == 18
    assert fitted_width(18, ["x"]) == 18
    assert fitted_width(18, []) == 18
