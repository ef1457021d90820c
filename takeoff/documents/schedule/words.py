"""Words and figures that formulas of the schedule refer to by name, so that none stands inside a formula."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.documents.schedule.grid import Column, Line, Paper, Placed, write_table

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

# digits of a step that a quantity is rounded to before halves are told
DIGITS = 6
# name, what it is, value
NAMED: tuple[tuple[str, str, str | float], ...] = (
    ("Whole", "the whole, 100 %", 1.0),
    ("Nil", "nothing", 0.0),
    ("Digits", "digits that a quantity in steps is rounded to before halves are told", float(DIGITS)),
    ("Tolerance", "largest difference that a control lets pass, as a share of the larger figure", 1e-9),
    ("Word_measured", "items of the measured works", "measured"),
    ("Word_sum", "a step of the ladder that is an amount", "sum"),
    ("Word_schedule", "a sum that the ladder fetches from the schedule", "from the schedule"),
    ("Word_margin", "a step that is a share of the price after it", "margin"),
    ("Word_index", "a step that is the ratio of two index values", "index ratio"),
    ("Word_works", "percentages of the measured works", "measured works"),
    ("Word_with_sums", "percentages of the works and the sums", "works and sums"),
    ("Word_quantity", "an override of a quantity", "quantity"),
    ("Word_rate", "an override of a rate", "rate"),
    ("Word_wastage", "an override of a wastage", "wastage"),
    ("Word_deduction", "a deduction on dimension paper", "Ddt"),
    ("Word_satisfied", "a control whose two sides agree", "satisfied"),
    ("Word_not_satisfied", "a control whose two sides do not", "not satisfied"),
)
SIGNS: tuple[tuple[str, float, str], ...] = (
    ("add", 1.0, "counts"),
    ("Ddt", -1.0, "deducted"),
    ("nil", 0.0, "a void that the void rule leaves undeducted: written down and squared nil"),
)
COLUMNS = (
    Column(key="name", title="Name", width=22),
    Column(key="value", title="Value", width=16),
    Column(key="meaning", title="What it is", width=76),
)


def write_words(paper: Paper, sheet: Worksheet, first: int) -> int:
    """Write the tables of words and figures and name them; return the next free row (counted from 1)."""
    lines = [Line({"name": name, "value": value, "meaning": meaning}) for name, meaning, value in NAMED]
    placed = write_table(paper, sheet, first, COLUMNS, lines)
    for row, (name, _, _) in enumerate(NAMED, start=placed.first):
        paper.name_cell(name, placed.sheet, f"{placed.columns['value']}{row}")
    signs = [Line({"name": word, "value": sign, "meaning": meaning}) for word, sign, meaning in SIGNS]
    placed = write_table(paper, sheet, placed.last + 2, COLUMNS, signs)
    _name_signs(paper, placed)
    return placed.last + 2


def _name_signs(paper: Paper, placed: Placed) -> None:
    """Name the words of dimension paper and their signs."""
    for key, name in (("name", "Sign_words"), ("value", "Sign_values")):
        paper.name_range(name, placed.sheet, placed.columns[key], placed.first, placed.last)
