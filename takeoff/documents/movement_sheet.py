"""A movement between two issues as a workbook (.xlsx) whose every figure is a formula that can be followed."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from takeoff.compare.movement import Movement
from takeoff.documents.made_here import MADE_HERE, MADE_ON
from takeoff.documents.movement_lines import CARBON_SHEETS, LINES, write_carbon, write_money
from takeoff.documents.movement_summary import write_summary
from takeoff.documents.movement_table import Column, Looks, Sheets, Value, looks_of, put, write_lines
from takeoff.documents.movement_words import AS_MEASURED, MOVEMENT_WORDS, OVERRIDDEN, REASON_WORDS, notes
from takeoff.workbook.page_layout import row_height, set_up_page, write_heading
from takeoff.workbook.sheet_plan import HEADER_ROW

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

LADDER = "Ladder"
GLOSSARY = "Glossary"
_LADDER_COLUMNS = (
    Column(key="step", title="Step", width=44),
    Column(key="old", title="Old", width=18, look="amount", name="ladder_old", summed=True),
    Column(key="new", title="New", width=18, look="amount", name="ladder_new", summed=True),
    Column(
        key="effect",
        title="Ladder effect",
        width=18,
        look="change",
        formula="[new]-[old]",
        name="ladder_effect",
        summed=True,
    ),
)


def movement_sheet(movement: Movement) -> bytes:
    """Return the workbook of a movement as bytes."""
    from xlsxwriter import Workbook

    made = io.BytesIO()
    settings = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    title = f"Movement, {movement.old.title} to {movement.new.title}"
    with Workbook(made, settings) as book:
        book.set_properties({"title": title, "category": MADE_HERE, "created": MADE_ON})
        looks, sheets = looks_of(book), Sheets()
        names = ("Summary", LINES, *CARBON_SHEETS.values(), LADDER, GLOSSARY)
        papers = {name: book.add_worksheet(name) for name in names}
        write_money(book, papers[LINES], looks, sheets, movement, footer=title)
        for measure, name in CARBON_SHEETS.items():
            write_carbon(book, papers[name], looks, sheets, movement, measure, footer=title)
        _write_ladder(book, papers[LADDER], looks, sheets, movement, footer=title)
        write_summary(book, papers["Summary"], looks, movement, footer=title)
        _write_glossary(book, papers[GLOSSARY], looks, movement, footer=title)
    return made.getvalue()


def _write_ladder(
    book: Workbook, paper: Worksheet, looks: Looks, sheets: Sheets, movement: Movement, *, footer: str
) -> None:
    """Write the steps of the cost ladder in both bills, and below them what they lead to."""
    widths = [column.width for column in _LADDER_COLUMNS]
    write_heading(
        paper,
        looks.styles,
        title=f"Cost ladder, {movement.new.currency}",
        help="Each step as it was and as it is. Sums of allowances are lines of the sheet Lines and no steps here.",
        widths=widths,
    )
    rows: list[dict[str, Value]] = [
        {"step": step.name, "old": step.old, "new": step.new, "effect": step.change}
        for step in movement.ladder
    ] or [{"step": "no steps", "effect": 0.0}]
    old, new = (sum(step.amount for step in bill.steps) for bill in (movement.old, movement.new))
    total: dict[str, Value] = {
        "step": "All steps",
        "old": float(old),
        "new": float(new),
        "effect": movement.ladder_effect,
    }
    last = write_lines(book, paper, looks, sheets, _LADDER_COLUMNS, rows, header=HEADER_ROW, total=total)
    works = (movement.old.works_and_sums, movement.new.works_and_sums)
    rowed = (
        ("Works and sums (sheet Lines)", ("=SUM(money_old)", "=SUM(money_new)"), works),
        (
            "Total including tax",
            tuple(f"={letter}{last + 1}+{letter}{last + 2}" for letter in "BC"),
            (works[0] + old, works[1] + new),
        ),
    )
    for row, (text, formulas, values) in enumerate(rowed, last + 1):
        put(paper, row, 0, text, looks.totals["text"])
        for column, (formula, value) in enumerate(zip(formulas, values, strict=True), 1):
            put(paper, row, column, value, looks.totals["amount"], formula=formula)
        put(
            paper,
            row,
            3,
            values[1] - values[0],
            looks.totals["change"],
            formula=f"=C{row + 1}-B{row + 1}",
        )
    paper.freeze_panes(HEADER_ROW + 1, 1)
    set_up_page(paper, widths=widths, last_row=last + 2, footer=footer, repeat=(HEADER_ROW, HEADER_ROW))


def _write_glossary(
    book: Workbook, paper: Worksheet, looks: Looks, movement: Movement, *, footer: str
) -> None:
    """Write what the words mean, and what to know of this movement."""
    widths = (34.0, 100.0)
    write_heading(
        paper, looks.styles, title=GLOSSARY, help="What the words on the other sheets mean.", widths=widths
    )
    basis = {
        AS_MEASURED: "no override in either bill, or the line stands in one bill only",
        OVERRIDDEN: "the quantity surveyor put a figure in the place of another in one of the two bills",
    }
    row = HEADER_ROW
    headings: tuple[tuple[str, dict[str, str]], ...] = (
        ("Movement", MOVEMENT_WORDS),
        ("Reason", {str(reason): words for reason, words in REASON_WORDS.items()}),
        ("Measured or overridden", basis),
    )
    for heading, words in headings:
        for column, text in enumerate((heading, "Meaning")):
            paper.write_string(row, column, text, looks.styles["header"])
        for place, (term, meaning) in enumerate(words.items(), row + 1):
            put(paper, place, 0, term, looks.cells["text"])
            put(paper, place, 1, meaning, looks.cells["text"])
            paper.set_row(place, row_height((term, meaning), widths))
            if heading == "Measured or overridden":
                book.define_name(term.replace(" ", "_"), f"='{GLOSSARY}'!$A${place + 1}")
        row += len(words) + 2
    for text in notes(movement):
        paper.merge_range(row, 0, row, 1, "", looks.cells["text"])
        put(paper, row, 0, text, looks.cells["text"])
        paper.set_row(row, row_height((text,), (sum(widths),)))
        row += 1
    paper.freeze_panes(HEADER_ROW, 0)
    set_up_page(paper, widths=widths, last_row=row, footer=footer, repeat=(0, 0))
