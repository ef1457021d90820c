"""Tables of the schedule: columns declared once, each computed one with a single formula for all its rows."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from xlsxwriter.utility import xl_cell_to_rowcol, xl_col_to_name, xl_rowcol_to_cell

from takeoff.documents.schedule.looks import Look, Looks, Role
from takeoff.workbook.page_layout import lines_of, wrapped_lines

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

Value = str | float | int | None

_OWN = re.compile(r"\[([a-z0-9_]+)(\^?)\]")
_LINE_HEIGHT, _GAP_HEIGHT = 13.5, 5.0
# what a cell can hold
LONGEST_TEXT = 32_767


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    `formula` is that of every row of a computed column: `[key]` stands for the cell of another column in the same row,
    `[key^]` for that of the row above. `name` is the defined name of the whole column.
    """

    key: str
    title: str
    width: float
    look: Look = "text"
    role: Role = "given"
    formula: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A row of a table: values by column, those of computed columns included.

    Columns in `typed` take their value instead of the formula of the column, those in `own` another formula, those in
    `looks` another look.
    """

    values: Mapping[str, Value]
    typed: frozenset[str] = frozenset()
    own: Mapping[str, str] = field(default_factory=dict)
    looks: Mapping[str, Look] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Section:
    """A heading across the table, with values of its own where a column needs them; a page may begin before it."""

    text: str
    values: Mapping[str, Value] = field(default_factory=dict)
    new_page: bool = False


@dataclass(frozen=True, slots=True)
class Total:
    """A total of the lines since the last section, `whole`: of the whole table.

    `sums` gives the column that is summed for each column of the total, `values` their figures.
    """

    text: str
    sums: Mapping[str, str]
    values: Mapping[str, float]
    whole: bool = False
    unit: tuple[str, str] | None = None


Row = Line | Section | Total


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a table came to stand: its sheet, first and last row (counted from 1), columns by key."""

    sheet: str
    first: int
    last: int
    columns: Mapping[str, str]

    def cell(self, key: str, row: int) -> str:
        """Return the absolute address of a cell, with its sheet."""
        return f"'{self.sheet}'!${self.columns[key]}${row}"


@dataclass(slots=True)
class Paper:
    """The workbook being written, its formats and the rows that lines came to stand in."""

    book: Workbook
    looks: Looks

    def name_range(self, name: str, sheet: str, column: str, first: int, last: int) -> None:
        """Give a range of a column a defined name."""
        self.book.define_name(name, f"='{sheet}'!${column}${first}:${column}${last}")

    def name_cell(self, name: str, sheet: str, cell: str) -> None:
        """Give a cell a defined name."""
        row, column = xl_cell_to_rowcol(cell)
        self.book.define_name(
            name, f"='{sheet}'!{xl_rowcol_to_cell(row, column, row_abs=True, col_abs=True)}"
        )


def write_value(sheet: Worksheet, row: int, column: int, value: Value, look: object) -> None:
    """Write a value as what it is; text from the user never becomes a formula, a link or a number."""
    if value is None or value == "":
        sheet.write_blank(row, column, None, look)
    elif isinstance(value, str):
        sheet.write_string(row, column, value[:LONGEST_TEXT], look)
    else:
        sheet.write_number(row, column, value, look)


def write_headers(paper: Paper, sheet: Worksheet, row: int, columns: Sequence[Column]) -> None:
    """Write the header row of a table, a thin one where no column has a title; `row` is counted from 0."""
    if not any(column.title for column in columns):
        sheet.set_row(row, _GAP_HEIGHT)
        return
    for place, column in enumerate(columns):
        text = column.look in ("text", "small")
        sheet.write_string(row, place, column.title, paper.looks.text("header" if text else "header_number"))
    lines = max(wrapped_lines(column.title, column.width) for column in columns)
    sheet.set_row(row, _LINE_HEIGHT * lines + 3)


def write_table(
    paper: Paper,
    sheet: Worksheet,
    first: int,
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    spare: int = 0,
) -> Placed:
    """Write a table from row `first` on (counted from 1): a header row, its rows, an empty row at its end.

    The named range of a column ends with the empty row, and so does each sum: rows inserted above it are counted.
    `spare` more rows hold the formulas of the table and nothing else, to be filled in by hand.
    """
    write_headers(paper, sheet, first - 1, columns)
    letters = {column.key: xl_col_to_name(place) for place, column in enumerate(columns)}
    here = first + 1
    start = here
    end = 0
    breaks = []
    for row in rows:
        if isinstance(row, Section):
            if row.new_page and here > first + 1:
                breaks.append(here - 1)
            _write_section(paper, sheet, here, columns, row)
            start = here
        elif isinstance(row, Total):
            _gap(sheet, here, columns, paper)
            if row.whole:
                # the total of the whole table stays out of the ranges that are added up by name
                end = here
            here += 1
            _write_total(paper, sheet, here, columns, letters, row, first + 1 if row.whole else start)
        else:
            _write_line(paper, sheet, here, columns, letters, row)
        here += 1
    empty = Line(dict.fromkeys(letters))
    for _ in range(spare):
        _write_line(paper, sheet, here, columns, letters, empty)
        here += 1
    _gap(sheet, here, columns, paper)
    if breaks:
        sheet.set_h_pagebreaks(breaks)
    for column in columns:
        if column.name:
            paper.name_range(column.name, sheet.get_name(), letters[column.key], first + 1, end or here)
    return Placed(sheet.get_name(), first + 1, here, letters)


def _gap(sheet: Worksheet, row: int, columns: Sequence[Column], paper: Paper) -> None:
    """Write the thin empty row that ends a run of lines."""
    sheet.set_row(row - 1, _GAP_HEIGHT)


def filled(template: str, letters: Mapping[str, str], row: int) -> str:
    """Return the formula of a column in one row (counted from 1).

    >>> filled("=[a]*[b^]", {"a": "C", "b": "D"}, 8)
    '=C8*D7'
    """
    return _OWN.sub(lambda found: f"{letters[found[1]]}{row - 1 if found[2] else row}", template)


def _write_line(
    paper: Paper,
    sheet: Worksheet,
    row: int,
    columns: Sequence[Column],
    letters: Mapping[str, str],
    line: Line,
) -> None:
    """Write one line."""
    lines = 1
    for place, column in enumerate(columns):
        value = line.values.get(column.key)
        formula = line.own.get(column.key, column.formula)
        computed = bool(formula) and column.key not in line.typed
        role: Role = "computed" if column.key in line.own else column.role
        look = paper.looks.of(role, line.looks.get(column.key, column.look))
        if computed:
            stored: str | float = 0.0 if value is None else value
            sheet.write_formula(row - 1, place, filled(formula, letters, row), look, stored)
        else:
            write_value(sheet, row - 1, place, value, look)
        if isinstance(value, str):
            lines = max(lines, lines_of(value, column.width * (1.12 if column.look == "small" else 1.05)))
    if lines > 1:
        sheet.set_row(row - 1, min(_LINE_HEIGHT * lines, 400))


def _write_section(
    paper: Paper, sheet: Worksheet, row: int, columns: Sequence[Column], section: Section
) -> None:
    """Write the heading of a section: its text in the first column of text, its own values where they belong."""
    placed = False
    for place, column in enumerate(columns):
        value = section.values.get(column.key)
        look = paper.looks.of("section", column.look)
        if section.text and value is None and not placed and column.look == "text":
            # a long heading runs on over the empty cells beside it
            value, placed = section.text, True
        write_value(sheet, row - 1, place, value, look)


def _write_total(
    paper: Paper,
    sheet: Worksheet,
    row: int,
    columns: Sequence[Column],
    letters: Mapping[str, str],
    total: Total,
    start: int,
) -> None:
    """Write a total: the sum of a column from the heading down to the empty row above it."""
    placed = False
    for place, column in enumerate(columns):
        look = paper.looks.of("total", column.look)
        if column.key in total.sums:
            summed = letters[total.sums[column.key]]
            formula = f"=SUM({summed}{start}:{summed}{row - 1})"
            sheet.write_formula(row - 1, place, formula, look, total.values[column.key])
        elif total.unit is not None and column.key == total.unit[0]:
            write_value(sheet, row - 1, place, total.unit[1], look)
        elif not placed and column.look == "text":
            write_value(sheet, row - 1, place, total.text, look)
            placed = True
        else:
            write_value(sheet, row - 1, place, None, look)
