"""The page on movement shows what moves from one option of the demo to another."""

from __future__ import annotations

import io

import openpyxl
import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.compare.line_movement import MEASURES, REASONS
from takeoff.compare.movement import Movement, bill_of, movement
from takeoff.documents.movement_csv import COLUMNS
from takeoff.documents.movement_sheet import movement_sheet
from takeoff.guide import page_text


@pytest.fixture(scope="module")
def moved(job, base) -> Movement:
    return movement(bill_of(job, base), bill_of(job, evaluate(job, job.option("All timber"))))


def whole(amount: float) -> str:
    return f"{amount:,.0f}".replace("-0", "0") if abs(amount) < 0.5 else f"{amount:,.0f}"


def test_the_movement_shown_is_that_of_the_demo(moved, table_headed):
    rows = table_headed("movement", "measure", "old")
    for row, measure in zip(rows, MEASURES, strict=True):
        (old, new), shift = moved.totals(measure), moved.sums(measure).shift
        ladder = whole(moved.ladder_effect) if measure == "money" else ""
        parts = [whole(part) for part in (shift.quantity, shift.rate, shift.added, shift.omitted)]
        assert row[1:] == [whole(old), *parts, ladder, whole(moved.difference(measure)), whole(new)]


def test_the_boards_shown_stay_and_move_in_rate_alone(moved):
    (boards,) = (line for line in moved.lines if line.id.startswith("EW.CL.low.shiplap-board"))
    assert boards.old.net == boards.new.net
    words = f"as they are, {boards.new.net:.1f} m2, and yet move by {whole(boards.shifts['money'].difference)} AUD"
    assert words in " ".join(page_text("movement").split())


def test_every_reason_stands_on_the_page(table_headed):
    named = [name for row in table_headed("movement", "reason") for name in row[0].split(", ")]
    assert named == list(REASONS)


def test_the_sheets_and_the_column_named_are_those_written(moved, table_headed):
    sheets = openpyxl.load_workbook(io.BytesIO(movement_sheet(moved)), read_only=True).sheetnames
    assert [name for row in table_headed("movement", "page of it") for name in row[0].split(", ")] == sheets
    assert "money_difference" in COLUMNS
