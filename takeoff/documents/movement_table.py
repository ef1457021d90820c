"""Tables of the movement sheet: columns declared once, each computed one with a single formula for all its rows."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from takeoff.workbook.cell_styles import ACCENT, GREY_FILL, GREY_LINE, INK, TYPEFACE, add_styles
from takeoff.workbook.page_layout import LINE, lines_of, wrapped_lines

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from takeoff.workbook.cell_styles import Style

Look = Literal["text", "net", "amount", "change"]
Value = str | float | None
_SHAPES: dict[Look, dict[str, Any]] = {
    "text": {"text_wrap": True, "align": "left", "num_format": "@"},
    "net": {"align": "right", "num_format": '#,##0.00;-#,##0.00;"\u2013"'},
    "amount": {"align": "right", "num_format": '#,##0.00;-#,##0.00;"\u2013"'},
    "change": {"align": "right", "num_format": '+#,##0.00;-#,##0.00;"\u2013"'},
}
_OWN = re.compile(r"\[(?:(\w+)!)?(\w+)\]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    `formula` is that of every row of a computed column: `[key]` stands for the cell of another column in the same row,
    `[Lines!key]` for one on another sheet. `name` is the defined name of the whole column, `summed` whether it has a
    total.
    """

    key: str
    title: str
    width: float
    look: Look = "text"
    formula: str = ""
    name: str = ""
    summed: bool = False


@dataclass(frozen=True, slots=True)
class Looks:
    """The formats of one workbook: headings as in the input workbooks, cells, totals, the tolerance of the check."""

    styles: Mapping[Style, Format]
    cells: Mapping[Look, Format]
    totals: Mapping[Look, Format]
    tolerance: Format


def looks_of(book: Workbook) -> Looks:
    """Return the formats of a workbook."""
    base = {"font_name": TYPEFACE, "font_size": 10, "font_color": INK, "valign": "top"}
    line = {"bottom": 1, "bottom_color": GREY_LINE}
    total = {"bold": True, "top": 1, "top_color": ACCENT, "bg_color": GREY_FILL}
    return Looks(
        styles=add_styles(book),
        cells={look: book.add_format({**base, **line, **shape}) for look, shape in _SHAPES.items()},
        totals={look: book.add_format({**base, **total, **shape}) for look, shape in _SHAPES.items()},
        tolerance=book.add_format({**base, **line, "align": "right", "num_format": "0.000"}),
    )


@dataclass(frozen=True, slots=True)
class Sheets:
    """The letters of the columns of each sheet that formulas of other sheets refer to."""

    letters: dict[str, dict[str, str]] = field(default_factory=dict)

    def formula(self, template: str, own: Mapping[str, str], row: int) -> str:
        """Return a formula with the cells of its row, counted from 1, in the place of keys."""

        def cell(match: re.Match[str]) -> str:
            sheet, key = match.groups()
            if sheet is None:
                return f"{own[key]}{row}"
            return f"'{sheet}'!{self.letters[sheet][key]}{row}"

        return "=" + _OWN.sub(cell, template)


def put(paper: Worksheet, row: int, column: int, value: Value, look: Format, *, formula: str = "") -> None:
    """Write a cell: a formula with its value, a number, or a text that never becomes a formula or a link."""
    if formula:
        paper.write_formula(row, column, formula, look, "" if value is None else value)
    elif value is None or value == "":
        paper.write_blank(row, column, None, look)
    elif isinstance(value, str):
        paper.write_string(row, column, value, look)
    else:
        paper.write_number(row, column, value, look)


def write_header(paper: Worksheet, looks: Looks, row: int, columns: Sequence[Column]) -> None:
    """Write the titles of the columns of a table."""
    for place, column in enumerate(columns):
        style: Style = "header" if column.look == "text" else "header_number"
        paper.write_string(row, place, column.title, looks.styles[style])
    lines = max(wrapped_lines(column.title, column.width) for column in columns)
    paper.set_row(row, LINE * lines + 3)


def write_lines(
    book: Workbook,
    paper: Worksheet,
    looks: Looks,
    sheets: Sheets,
    columns: Sequence[Column],
    rows: Sequence[Mapping[str, Value]],
    *,
    header: int,
    total: Mapping[str, Value],
) -> int:
    """Write a table with its defined names and its totals; return the row of the totals, counted from 0.

    `rows` hold the values of all columns, those of computed ones included, `total` those of the totals with the text
    that begins the row.
    """
    from xlsxwriter.utility import xl_col_to_name

    sheet = paper.get_name()
    own = {column.key: xl_col_to_name(place) for place, column in enumerate(columns)}
    sheets.letters[sheet] = own
    write_header(paper, looks, header, columns)
    first = header + 1
    last = first + len(rows) - 1
    for row, values in enumerate(rows, first):
        for place, column in enumerate(columns):
            formula = sheets.formula(column.formula, own, row + 1) if column.formula else ""
            put(paper, row, place, values.get(column.key), looks.cells[column.look], formula=formula)
        texts = [
            lines_of(str(values.get(column.key) or ""), column.width)
            for column in columns
            if column.look == "text"
        ]
        if max(texts) > 1:
            paper.set_row(row, LINE * max(texts))
    for place, column in enumerate(columns):
        if column.name:
            letter = own[column.key]
            book.define_name(column.name, f"='{sheet}'!${letter}${first + 1}:${letter}${last + 1}")
        formula = f"=SUM({column.name})" if column.summed else ""
        put(paper, last + 1, place, total.get(column.key), looks.totals[column.look], formula=formula)
    return last + 1
