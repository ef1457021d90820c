"""Drop-downs and limits: each field has those it asks for, and they stay open where they must."""

from __future__ import annotations

import io

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from takeoff.model.house import PARTS
from takeoff.model.measuring_ways import WAYS
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.fields import Field, Sheet, WorkbookLayout
from takeoff.workbook.house_sheets import HOUSE, HOUSE_WORKBOOK
from takeoff.workbook.lists_sheet import LISTS
from takeoff.workbook.sheet_plan import SPARE_ROWS
from takeoff.workbook.starter_content import (
    StarterBook,
    factors_starter,
    house_starter,
)
from takeoff.workbook.validations import LONGEST_LIST, LONGEST_MESSAGE, validation_of
from takeoff.workbook.writing import (
    workbook_bytes,
)

HEADER, UNITS_ROW, FIRST_RECORD, FIRST_SETTING = 4, 5, 6, 5
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


def column_of(paper: Worksheet, title: str) -> str:
    return next(cell.column_letter for cell in paper[HEADER] if cell.value == title)


def row_of(paper: Worksheet, setting: str) -> int:
    return next(cell.row for cell in paper["A"] if cell.value == setting)


def validations_at(paper: Worksheet, cell: str) -> list[object]:
    return [rule for rule in paper.data_validations.dataValidation if cell in rule.sqref]


def the_validation(paper: Worksheet, cell: str) -> object:
    (rule,) = validations_at(paper, cell)
    return rule


@pytest.mark.parametrize(("layout", "sheet"), DECLARED)
def test_each_field_has_the_validation_it_asks_for(
    books: dict[str, Workbook], layout: WorkbookLayout, sheet: Sheet
) -> None:
    paper = books[layout.title][sheet.title]
    for field in sheet.fields:
        if sheet.layout == "table":
            cell = f"{column_of(paper, field.title)}{FIRST_RECORD}"
        else:
            cell = f"B{row_of(paper, field.title)}"
        kinds = [rule.type for rule in validations_at(paper, cell)]
        assert kinds == expected_kinds(layout, sheet, field), f"{sheet.title}.{field.title}"


def expected_kinds(layout: WorkbookLayout, sheet: Sheet, field: Field) -> list[str]:
    if field.kind == "yes_no" or field.choices:
        return ["list"]
    if field.part:
        return ["list"]
    if field.refers_to:
        target = field.refers_to[0].split(".")[0]
        here = {one.title for one in layout.sheets if not one.shared}
        return ["list"] if target in here else []
    if field.kind in ("number", "rate") and field.low is not None:
        return ["whole" if field.whole else "decimal"]
    return ["date"] if field.kind == "date" else []


def test_a_drop_down_covers_the_blank_rows_too(books: dict[str, Workbook]) -> None:
    paper = books["House workbook"]["Openings"]
    rows = UNITS_ROW + len(house_starter().content["Openings"]) - 2 + SPARE_ROWS
    rule = the_validation(paper, "B6")
    assert str(rule.sqref) == f"B6:B{rows}"
    assert rule.formula1 == '"low,high,left,right,N,NE,E,SE,S,SW,W,NW"'


def test_names_of_other_sheets_are_offered_as_far_as_they_are_filled_in(books: dict[str, Workbook]) -> None:
    paper = books["Factors workbook"]["Prices"]
    last = UNITS_ROW + len(factors_starter().content["Materials"]) - 2 + SPARE_ROWS
    rule = the_validation(paper, "A6")
    assert rule.formula1 == f"OFFSET('Materials'!$A$6,0,0,MAX(1,COUNTA('Materials'!$A$6:$A${last})),1)"
    # only a warning: the material may be added afterwards
    assert rule.errorStyle == "warning"


def test_names_of_the_other_workbook_are_not_offered(books: dict[str, Workbook]) -> None:
    paper = books["House workbook"]["Build-ups"]
    assert validations_at(paper, f"{column_of(paper, 'Material')}{FIRST_RECORD}") == []


def test_settings_offer_the_build_ups_of_their_part(books: dict[str, Workbook]) -> None:
    house, lists = books["House workbook"]["House"], books["House workbook"][LISTS]
    named = [field for field in HOUSE.fields if field.part]
    assert {"external wall", "internal wall", "party wall", "roof", "floor"} <= {f.part for f in named}
    for field in named:
        letter = column_of(lists, field.part)
        formula = the_validation(house, f"B{row_of(house, field.title)}").formula1
        assert formula.startswith(f"OFFSET(Lists!${letter}$6,")


def test_the_ways_of_measuring_are_offered_from_the_sheet_lists(books: dict[str, Workbook]) -> None:
    paper, lists = books["House workbook"]["Build-ups"], books["House workbook"][LISTS]
    rule = the_validation(paper, f"{column_of(paper, 'Measured by')}{FIRST_RECORD}")
    assert rule.formula1 == f"Lists!$A$6:$A${5 + len(WAYS)}"
    assert [lists[f"A{row}"].value for row in range(6, 6 + len(WAYS))] == list(WAYS)


def test_lists_hold_every_build_up_once_with_stored_values() -> None:
    stored = openpyxl.load_workbook(io.BytesIO(made(house_starter())), data_only=True)[LISTS]
    rows = house_starter().content["Build-ups"][2:]
    for part in PARTS:
        letter = column_of(stored, part)
        names = [cell.value for cell in stored[letter][FIRST_RECORD - 1 :] if cell.value]
        assert names == list(dict.fromkeys(row[0] for row in rows if row[1] == part))


def test_an_option_offers_what_its_setting_offers_and_refuses_nothing(books: dict[str, Workbook]) -> None:
    paper = books["House workbook"]["Options"]
    rule = the_validation(paper, f"D{row_of(paper, 'palette')}")
    assert rule.formula1.startswith("OFFSET('Palettes'!$A$6,")
    assert not rule.showErrorMessage
    settings = the_validation(paper, "A5")
    assert settings.formula1.startswith("OFFSET('House'!$A$5,")
    assert f"$A${FIRST_SETTING + len(HOUSE.fields) - 1}" in settings.formula1


def test_quantities_refuse_nothing_since_a_unit_may_be_typed(books: dict[str, Workbook]) -> None:
    house = books["House workbook"]["House"]
    assert validations_at(house, f"B{row_of(house, 'stud depth')}") == []
    units = the_validation(house, f"C{row_of(house, 'stud depth')}")
    assert units.formula1 == '"m,mm,cm,km,ft,in"'
    assert not units.showErrorMessage


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_lists_and_messages_keep_within_what_a_cell_can_hold(
    books: dict[str, Workbook], layout: WorkbookLayout
) -> None:
    rules = [rule for paper in books[layout.title] for rule in paper.data_validations.dataValidation]
    assert len(rules) > 30
    for rule in rules:
        assert len(rule.formula1 or "") <= LONGEST_LIST + len('""')
        assert len(rule.error or "") <= LONGEST_MESSAGE
        assert len(rule.errorTitle or "") <= 32


def test_a_message_too_long_for_a_cell_is_cut_to_a_plain_one() -> None:
    # 31 choices of 7 letters make 31 x 7 + 30 = 247 characters: a list a cell can hold, too long to quote
    field = Field(
        name="x", title="Layer", help="", kind="choice", choices=tuple(f"way {n:03}" for n in range(31))
    )
    validation = validation_of(field, HOUSE, {})
    assert validation is not None
    assert validation["error_message"] == "Layer: choose from the list."
