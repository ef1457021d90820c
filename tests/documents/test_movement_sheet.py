"""The movement as a workbook: every formula recalculated by another program, and what a reader may rely on."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from formulas import ExcelModel
from openpyxl.workbook import Workbook

from takeoff.compare.movement import Movement, movement
from takeoff.documents.made_here import MADE_HERE, may_replace
from takeoff.documents.movement_sheet import movement_sheet
from takeoff.model.issued_bill import Bill, BillLine, LadderAmount
from takeoff.model.life_cycle import LIFE_CYCLE

FUNCTIONS = {"SUM", "SUMIFS", "IF", "ROUND", "ABS", "INDEX", "MATCH"}
SHEETS = ["Summary", "Lines", "Upfront carbon", "Life-cycle carbon", "Ladder", "Glossary"]


def line(id: str, element: str, **changes: object) -> BillLine:
    plain = BillLine(
        id=id,
        element=element,
        trade="carpentry",
        kind="measured",
        item=id.split(".")[-1],
        location="as drawn",
        unit="m2",
        net=30.0,
        material=80.25,
        labour=40.5,
        plant=5.0,
        upfront=150.0,
        life_cycle=300.0,
    )
    return replace(plain, **changes)


def bill(
    issue: str, lines: tuple[BillLine, ...], ladder: tuple[LadderAmount, ...], **changes: object
) -> Bill:
    steps = sum(step.amount for step in ladder if not step.of_allowances)
    made = Bill(
        source=f"{issue}.xlsx",
        project="=Invented",
        issue=issue,
        date="2026-01-01",
        option="As drawn",
        currency="AUD",
        modules=LIFE_CYCLE,
        period=60.0,
        lines=lines,
        ladder=ladder,
        total_inc_tax=sum(each.cost for each in lines) + steps,
        upfront=sum(each.upfront or 0.0 for each in lines),
        life_cycle=sum(each.life_cycle or 0.0 for each in lines),
    )
    return replace(made, **changes)


@pytest.fixture(scope="module")
def moved() -> Movement:
    """A movement with lines of every kind: same, moved, overridden, added, omitted, of another unit, not assessed."""
    same = line("SB.concrete", "substructure", net=13.1, material=341.25)
    boards = line("EW.CL.low.boards", "external walls")
    over = line(
        "EW.OUT.wrap", "external walls", net=94.0, material=3.79, labour=2.04, plant=0.0, upfront=20.0
    )
    battens = line("EW.CL.low.battens", "external walls", unit="m", net=65.6, material=1.6, labour=3.48)
    gone = line("RF.sheet", "roof", net=108.8)
    services = line(
        "SV.plumbing", "services", kind="provisional sum", unit="Item", net=1.0, upfront=None, life_cycle=None
    )
    services = replace(services, material=0.0, labour=0.0, plant=0.0, stated=9_000.0)
    overhead, tax = LadderAmount(name="Overhead", amount=1_275.125), LadderAmount(name="Tax", amount=1_402.5)
    sums = LadderAmount(name="Provisional sums", amount=9_000.0, of_allowances=True)
    old = bill("A", (same, boards, over, battens, gone, services), (sums, overhead, tax))
    new = bill(
        "B",
        (
            same,
            replace(boards, net=32.5, material=91.1, upfront=170.0, item="+Boards"),
            replace(over, net=96.0, material=0.0, labour=0.0, stated=6.1, overridden=True, life_cycle=None),
            replace(battens, unit="Nr", net=28.0, material=4.1),
            replace(services, stated=9_500.0),
            line("FF.vinyl", "floor finishes", net=11.25, upfront=None),
        ),
        (
            replace(sums, amount=9_500.0),
            replace(overhead, amount=1_311.9),
            LadderAmount(name="Escalation", amount=90.0),
        ),
        period=50.0,
    )
    return movement(old, new)


@pytest.fixture(scope="module")
def data(moved) -> bytes:
    return movement_sheet(moved)


@pytest.fixture(scope="module")
def book(data) -> Workbook:
    return openpyxl.load_workbook(io.BytesIO(data))


@pytest.fixture(scope="module")
def stored(data) -> Workbook:
    return openpyxl.load_workbook(io.BytesIO(data), data_only=True)


def formulas_of(book: Workbook) -> dict[tuple[str, str], str]:
    """Return every formula by sheet and cell."""
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


def recalculated(path: Path) -> dict[tuple[str, str], object]:
    """Return what another program makes of every cell, by sheet and cell in capitals."""
    solution = ExcelModel().loads(str(path)).finish().calculate()
    found = {}
    for key, cell in solution.items():
        name = re.fullmatch(r"'\[[^]]+\](.+)'!([A-Z]+\d+)", str(key))
        if name and hasattr(cell, "value"):
            found[name[1], name[2]] = cell.value[0, 0]
    return found


def differing(path: Path) -> list[str]:
    """Return the cells whose stored value is not what their formula comes to."""
    book, values = openpyxl.load_workbook(path), openpyxl.load_workbook(path, data_only=True)
    fresh = recalculated(path)
    wrong = []
    for (sheet, cell), formula in formulas_of(book).items():
        kept, made = values[sheet][cell].value, fresh[sheet.upper(), cell]
        same = (
            made == kept if isinstance(kept, str) else float(made) == pytest.approx(kept, abs=1e-9, rel=1e-12)
        )
        if not same:
            wrong.append(f"{sheet}!{cell} {formula}: stored {kept}, comes to {made}")
    return wrong


def test_every_stored_value_is_what_its_formula_comes_to(data, tmp_path):
    path = tmp_path / "movement.xlsx"
    path.write_bytes(data)
    assert len(formulas_of(openpyxl.load_workbook(path))) > 200
    assert differing(path) == []


def test_a_wrong_stored_value_would_be_found(data, tmp_path):
    path = tmp_path / "movement.xlsx"
    with zipfile.ZipFile(io.BytesIO(data)) as package, zipfile.ZipFile(path, "w") as spoilt:
        for name in package.namelist():
            text = package.read(name)
            if name == "xl/worksheets/sheet5.xml":
                # the ladder effect of the overhead: 1311.90 - 1275.125
                assert text.count(b"<v>36.775") == 1
                text = re.sub(rb"<v>36\.775\d*</v>", b"<v>37.5</v>", text)
            spoilt.writestr(name, text)
    assert [each.split()[0] for each in differing(path)] == ["Ladder!D5"]


def test_the_sheets_and_the_functions_are_those_that_every_program_knows(book):
    assert book.sheetnames == SHEETS
    used = {name for formula in formulas_of(book).values() for name in re.findall(r"([A-Z]+)\(", formula)}
    assert used <= FUNCTIONS


def test_no_number_stands_in_a_formula(book):
    for place, formula in formulas_of(book).items():
        bare = re.sub(r"\$?[A-Z]{1,3}\$?\d+|'[^']+'!|\"[^\"]*\"|[a-z_]+", "", formula)
        assert not re.search(r"\d", bare), (place, formula)


@pytest.mark.parametrize("sheet", ["Lines", "Upfront carbon", "Life-cycle carbon"])
def test_a_column_has_one_formula(book, moved, sheet):
    paper = book[sheet]
    first, last = 5, 4 + len(moved.lines)
    for column in paper.iter_cols(min_row=first, max_row=last):
        own = {re.sub(r"(?<=[A-Z])\d+", "", str(cell.value)) for cell in column if cell.data_type == "f"}
        kinds = {cell.data_type == "f" for cell in column}
        assert len(own) <= 1, column[0].coordinate
        assert len(kinds) == 1, column[0].coordinate


def test_the_movements_of_a_line_are_worked_by_hand(stored):
    """Boards: net 30 to 32.5, rate 80.25 + 40.50 + 5 = 125.75 to 136.60."""
    paper = stored["Lines"]
    titles = [cell.value for cell in paper[4]]
    row = next(row for row in paper.iter_rows() if row[0].value == "EW.CL.low.boards")
    cells = {title: cell.value for title, cell in zip(titles, row, strict=True)}
    assert cells["Quantity movement"] == pytest.approx(314.375)  # 2.5 x 125.75
    assert cells["Rate movement"] == pytest.approx(352.625)  # 10.85 x 32.5
    assert cells["of which material"] == pytest.approx(352.625)
    assert cells["Difference"] == pytest.approx(667.0)  # 32.5 x 136.60 - 30 x 125.75 = 4439.50 - 3772.50
    assert cells["Reasons"] == "quantity, material rate, carbon of one unit"


def test_the_check_agrees_in_every_measure(stored):
    paper = stored["Summary"]
    head = next(row for row in paper.iter_rows() if row[5].value == "Check")
    rows = list(paper.iter_rows(min_row=head[0].row + 1, max_row=head[0].row + 3))
    assert [row[5].value for row in rows] == ["agrees"] * 3
    for row in rows:
        assert row[2].value - row[1].value == pytest.approx(row[4].value, abs=1e-9)


def test_a_total_that_its_lines_do_not_come_to_does_not_agree(moved):
    wrong = replace(moved, new=replace(moved.new, total_inc_tax=moved.new.total_inc_tax + 1.0))
    paper = openpyxl.load_workbook(io.BytesIO(movement_sheet(wrong)), data_only=True)["Summary"]
    assert "does not agree" in {cell.value for row in paper.iter_rows() for cell in row}


def test_sheets_are_ready_to_print_and_nothing_is_hidden(book):
    for paper in book:
        assert paper.sheet_state == "visible"
        assert paper.freeze_panes
        assert (paper.page_setup.paperSize, paper.page_setup.orientation) == (9, "landscape")
        assert "&P" in paper.oddFooter.right.text
        assert paper.print_title_rows
        assert not any(shape.hidden for shape in paper.column_dimensions.values())
        assert not any(shape.hidden for shape in paper.row_dimensions.values())


def test_a_text_of_the_users_never_becomes_a_formula(book):
    texts = {
        cell.value: cell.data_type
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value
    }
    assert texts["=Invented"] == "s"
    assert texts["+Boards"] == "s"


def test_the_glossary_tells_carbon_that_one_bill_leaves_out_and_periods_that_differ(stored):
    texts = " ".join(str(cell.value) for row in stored["Glossary"].iter_rows() for cell in row if cell.value)
    assert (
        "Life-cycle carbon is assessed in one bill only, and counts as nothing in the other: EW.OUT.wrap."
        in texts
    )
    assert "The study periods differ: 60 years in the old bill, 50 in the new one." in texts


def test_the_same_movement_is_the_same_bytes(moved, data):
    assert movement_sheet(moved) == data


def test_a_document_made_here_may_be_replaced_and_nothing_else(data, tmp_path, demo_folder):
    made, other, torn = tmp_path / "made.xlsx", tmp_path / "other.xlsx", tmp_path / "torn.xlsx"
    made.write_bytes(data)
    other.write_text("mine")
    torn.write_bytes(data[: len(data) // 2])
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        properties = ElementTree.fromstring(package.read("docProps/core.xml"))
    assert MADE_HERE in [each.text for each in properties]
    assert may_replace(made)
    assert may_replace(tmp_path / "not there.xlsx")
    assert not may_replace(other)
    assert not may_replace(torn)
    assert not may_replace(tmp_path)
    # of another program, though made on the same day; and saved since
    for old, new in ((MADE_HERE, "Another document"), ("modified", "")):
        changed = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(data)) as package, zipfile.ZipFile(changed, "w") as copy:
            for name in package.namelist():
                part = package.read(name)
                if name == "docProps/core.xml":
                    text = part.decode()
                    text = (
                        text.replace(old, new)
                        if new
                        else re.sub(r"(modified[^>]*>)\d{4}", r"\g<1>2026", text)
                    )
                    assert text != part.decode()
                    part = text.encode()
                copy.writestr(name, part)
        other.write_bytes(changed.getvalue())
        assert not may_replace(other)
    assert not may_replace(demo_folder / "heron_bank.xlsx")


def test_two_empty_ladders_and_bills_are_a_sheet_too():
    alone = line("EW.CL.low.boards", "external walls")
    empty = bill("A", (), (), upfront=None, life_cycle=None)
    data = movement_sheet(movement(empty, bill("B", (alone,), ())))
    paper = openpyxl.load_workbook(io.BytesIO(data), data_only=True)["Ladder"]
    assert paper["A5"].value == "no steps"
