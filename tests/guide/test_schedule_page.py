"""The page on the schedule says what is in it."""

from __future__ import annotations

import io

import openpyxl
import pytest

from takeoff.documents.schedule import schedule_workbook
from takeoff.guide import page_text
from takeoff.model.bill import OVERRIDDEN_FIGURES


@pytest.fixture(scope="module")
def book(job, base):
    return openpyxl.load_workbook(io.BytesIO(schedule_workbook(job, base)), data_only=True)


def test_every_sheet_stands_in_the_page(book, table_headed):
    listed = [
        name for row in table_headed("schedule", "sheet", "what it holds") for name in row[0].split(", ")
    ]
    # the one that only some projects ask for
    listed.remove("Schedule by trade")
    assert listed == book.sheetnames


def test_every_figure_that_can_be_overridden_stands_in_the_page(table_headed):
    assert [row[0] for row in table_headed("schedule", "figure", "value")] == list(OVERRIDDEN_FIGURES)


def test_the_figures_shown_are_those_of_the_demo(base):
    words = " ".join(page_text("schedule").split())
    works, total = base.ladder.measured_works, base.ladder.total_inc_tax
    assert f"come to {works:,.0f} AUD, the total including tax to {total:,.0f} AUD" in words
