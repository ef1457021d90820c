"""Formulas without a stored result, as other programs leave them; openpyxl says which cells hold formulas."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

from takeoff.workbook.unsaved_results import formulas_without_result

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.xlsx"))


def as_read(path):
    """The same places as openpyxl tells them: a formula where it is typed, nothing where its result is."""
    typed, stored = openpyxl.load_workbook(path), openpyxl.load_workbook(path, data_only=True)
    places = {
        title: {
            (cell.row, cell.column)
            for row in typed[title].iter_rows()
            for cell in row
            if cell.data_type == "f" and stored[title].cell(cell.row, cell.column).value is None
        }
        for title in typed.sheetnames
    }
    return {title: found for title, found in places.items() if found}


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_a_demo_as_openpyxl_reads_it(path):
    assert formulas_without_result(path) == as_read(path)


def test_a_book_that_was_never_calculated(tmp_path):
    book = openpyxl.Workbook()
    book.active.title = "Sums & shares"
    book.active["AB3"] = "=1+1"
    book.active["C4"] = "typed"
    book.create_sheet("Empty")
    book.save(tmp_path / "made.xlsx")
    assert formulas_without_result(tmp_path / "made.xlsx") == {"Sums & shares": {(3, 28)}}


def test_cells_without_their_places_stand_side_by_side(tmp_path):
    """ISO/IEC 29500-1, 18.3.1.4 and 18.3.1.73: the place of a cell and of a row may be left out."""
    made = io.BytesIO()
    book = openpyxl.Workbook()
    book.active.title = "Rows"
    book.active["A1"] = 1
    book.save(made)
    sheet = (
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        "<row><c><v>1</v></c><c><f>1+1</f><v></v></c></row>"
        '<row r="4"><c r="C4"><f>2+2</f><v>4</v></c><c><f>3+3</f></c></row><row><c><f>4</f></c></row>'
        "</sheetData></worksheet>"
    )
    path = tmp_path / "bare.xlsx"
    with zipfile.ZipFile(made) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            new.writestr(name, sheet if name == "xl/worksheets/sheet1.xml" else old.read(name))
    assert formulas_without_result(path) == {"Rows": {(1, 2), (4, 4), (5, 1)}} == as_read(path)
