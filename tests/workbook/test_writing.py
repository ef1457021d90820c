"""New workbooks: content as numbers, dates and text, and files that are whole or not there at all."""

from __future__ import annotations

import datetime
import io
import re
import zipfile
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from takeoff.workbook import writing
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.fields import WorkbookLayout
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK
from takeoff.workbook.reading import read_job
from takeoff.workbook.sheet_plan import SPARE_ROWS, ContentError
from takeoff.workbook.starter_content import (
    StarterBook,
    factors_starter,
    file_name,
    house_starter,
    read_content,
)
from takeoff.workbook.writing import (
    WorkbookExistsError,
    WorkbookNameError,
    workbook_bytes,
    write_starter,
    write_workbook,
)

HEADER, UNITS_ROW, FIRST_RECORD = 4, 5, 6
LAYOUTS = [HOUSE_WORKBOOK, FACTORS_WORKBOOK]


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


def test_numbers_are_numbers_and_dates_are_dates(books: dict[str, Workbook]) -> None:
    house, project = books["House workbook"]["House"], books["House workbook"]["Project"]
    assert house[f"B{row_of(house, 'length')}"].value == 12
    assert house[f"B{row_of(house, 'rafter blocking')}"].value == "yes"
    date = project[f"B{row_of(project, 'date')}"]
    assert date.value == datetime.datetime(2026, 9, 1)
    assert date.number_format == "yyyy-mm-dd"


def test_text_that_looks_like_a_number_stays_text(books: dict[str, Workbook]) -> None:
    paper = books["Factors workbook"]["Carbon factors"]
    year = paper[f"{column_of(paper, 'Year')}{FIRST_RECORD}"]
    assert year.value == "2011"
    assert year.number_format == "@"


@pytest.mark.parametrize("text", ["=1+1", "+1 on top", "-", "@home", "http://example.invalid/a", "{=A1}"])
def test_text_that_begins_like_a_formula_stays_text(text: str) -> None:
    rows = [["Setting", "Value", "Unit", "Note"], ["name", text, "", text], ["date", text, "", ""]]
    table = [["Mark", "Width"], ["", "m"], [text, text]]
    options = [["Setting", "Unit", text], ["pitch", "deg", text]]
    content = {"Project": rows, "Openings": table, "Options": options}
    book = opened(workbook_bytes(HOUSE_WORKBOOK, content, title="t"))
    cells = [book["Project"][place] for place in ("B5", "D5", "B11")]
    cells += [book["Openings"]["A6"], book["Openings"]["D6"], book["Options"]["C4"], book["Options"]["C5"]]
    assert [cell.value for cell in cells] == [text] * 7
    assert {cell.data_type for cell in cells} == {"s"}


def test_a_quantity_may_bring_its_unit_and_an_odd_number_stays_text() -> None:
    table = [["Mark", "Width", "Height"], ["", "mm", ""], ["W01", "1800", "145 mm"], ["W02", "nan", "1e999"]]
    book = opened(workbook_bytes(HOUSE_WORKBOOK, {"Openings": table}, title="t"))
    paper = book["Openings"]
    assert [paper[place].value for place in ("D5", "E5", "D6", "E6")] == ["mm", "m", 1800, "145 mm"]
    assert [paper[place].value for place in ("D7", "E7")] == ["nan", "1e999"]


def test_columns_of_the_content_may_stand_in_any_order() -> None:
    table = [["Width", "Mark"], ["mm", ""], ["1800", "W01"]]
    paper = opened(workbook_bytes(HOUSE_WORKBOOK, {"Openings": table}, title="t"))["Openings"]
    assert (paper["A6"].value, paper["D6"].value) == ("W01", 1800)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        ({"Storeys": [["Storey"]]}, "House workbook: no such sheet: Storeys"),
        ({"Openings": [["Mark", "Colour"], ["", ""]]}, "Openings: not declared: Colour"),
        ({"House": [["Setting", "Value"], ["storeys", "2"]]}, "House: not declared: storeys"),
        ({"Options": [["Setting", "As drawn"]]}, "Options: the first columns have to be Setting and Unit"),
    ],
)
def test_content_that_is_not_declared_is_refused(content: dict[str, list[list[str]]], message: str) -> None:
    with pytest.raises(ContentError, match=f"^{re.escape(message)}$"):
        workbook_bytes(HOUSE_WORKBOOK, content, title="t")


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda layout: layout.title)
def test_a_workbook_without_content_has_all_sheets_and_blank_rows(layout: WorkbookLayout) -> None:
    book = opened(workbook_bytes(layout, {}, title="t"))
    for sheet in layout.sheets:
        if sheet.layout == "table":
            paper = book[sheet.title]
            assert paper.max_row == UNITS_ROW + SPARE_ROWS
            assert all(cell.value is None for row in paper.iter_rows(min_row=FIRST_RECORD) for cell in row)


def test_every_sheet_of_its_own_has_starter_content() -> None:
    for book in (house_starter(), factors_starter()):
        needed = {sheet.title for sheet in book.layout.sheets if not sheet.shared}
        assert set(book.content) == needed


def test_the_content_of_a_sheet_is_found_by_its_title() -> None:
    assert file_name("Carbon factors") == "carbon_factors.csv"
    assert file_name("Build-ups") == "build_ups.csv"
    assert read_content(FACTORS_WORKBOOK, "factors")["Gangs"][0] == ["Gang", "Rate", "Source", "Note"]


def test_rows_to_go_on_in_look_like_the_rows_above(books: dict[str, Workbook]) -> None:
    paper = books["House workbook"]["Openings"]
    filled = len(house_starter().content["Openings"]) - 2
    last = UNITS_ROW + filled
    assert paper[f"A{last}"].value is not None
    spare = range(last + 1, last + SPARE_ROWS + 1)
    for cell in paper[last]:
        fills = {paper[f"{cell.column_letter}{row}"].fill.fgColor.rgb for row in spare}
        assert fills == {cell.fill.fgColor.rgb}
        assert all(paper[f"{cell.column_letter}{row}"].value is None for row in spare)


def test_two_runs_give_the_same_bytes() -> None:
    for book in (house_starter(), factors_starter()):
        assert made(book) == made(book)


def test_a_new_project_gets_both_workbooks_and_they_can_be_read(tmp_path: Path) -> None:
    files = write_starter(tmp_path / "mine.xlsx")
    assert (files.house, files.factors) == (tmp_path / "mine.xlsx", tmp_path / "factors.xlsx")
    assert not files.factors_kept
    job = read_job(files.house)
    assert job.project.name == "Heron Bank"
    assert job.design.house.stud_depth == 0.170
    assert sorted(path.name for path in tmp_path.iterdir()) == ["factors.xlsx", "mine.xlsx"]


def test_an_existing_house_workbook_is_never_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(b"years of work")
    with pytest.raises(WorkbookExistsError) as caught:
        write_starter(path)
    assert str(caught.value) == f"{path} exists already and is left as it is; choose another name."
    assert path.read_bytes() == b"years of work"
    assert [file.name for file in tmp_path.iterdir()] == ["mine.xlsx"]


def test_an_existing_factors_workbook_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "factors.xlsx").write_bytes(b"prices of a practice")
    files = write_starter(tmp_path / "mine.xlsx")
    assert files.factors_kept
    assert (tmp_path / "factors.xlsx").read_bytes() == b"prices of a practice"
    assert (tmp_path / "mine.xlsx").exists()


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("mine.ods", "mine.ods: the name of a workbook has to end in .xlsx."),
        ("Factors.xlsx", "Factors.xlsx is the name of the factors workbook; choose another one."),
    ],
)
def test_names_that_will_not_do_are_refused(tmp_path: Path, name: str, message: str) -> None:
    with pytest.raises(WorkbookNameError) as caught:
        write_starter(tmp_path / name)
    assert str(caught.value) == message
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError) as caught:
        write_starter(tmp_path / "away" / "mine.xlsx")
    assert str(caught.value) == f"There is no folder {tmp_path / 'away'}; make it first."


def test_a_failed_write_leaves_the_old_file_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(b"before")

    def fail(self: Path, target: Path) -> Path:
        raise OSError("the disk is full")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match=r"^the disk is full$"):
        write_workbook(path, HOUSE_WORKBOOK, {}, title="t")
    assert path.read_bytes() == b"before"
    assert [file.name for file in tmp_path.iterdir()] == ["mine.xlsx"]


def test_a_workbook_that_is_there_is_replaced_when_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "mine.xlsx"
    path.write_bytes(b"before")
    write_workbook(path, HOUSE_WORKBOOK, {}, title="t")
    assert zipfile.is_zipfile(path)


def test_the_demo_workbooks_are_those_that_are_made_now() -> None:
    # compared unpacked: another machine may pack the same parts into other bytes
    demos = Path(writing.__file__).parents[2] / "demo_projects"
    for name, book in (("heron_bank.xlsx", house_starter()), ("factors.xlsx", factors_starter())):
        assert parts((demos / name).read_bytes()) == parts(made(book)), "run demo_projects/make_demos.py"


def parts(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        return {name: packed.read(name) for name in packed.namelist()}
