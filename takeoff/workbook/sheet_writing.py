"""Writes one planned sheet: tables, settings and options, with styles, comments and drop-downs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING

from xlsxwriter.utility import xl_rowcol_to_cell

from takeoff.workbook.cell_styles import ACCENT, GREY_LINE, PALE_FILL, TYPEFACE, Style
from takeoff.workbook.field_words import comment_words
from takeoff.workbook.fields import Field, Kind
from takeoff.workbook.page_layout import LINE, fitted_width, row_height, set_up_page, write_heading
from takeoff.workbook.sheet_plan import HEADER_ROW, OPTIONS_TITLES, PlannedSheet
from takeoff.workbook.validations import filled_rows, offered_list, offered_units, validation_of

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    Styles = Mapping[Style, Format]

NUMERIC: tuple[Kind, ...] = ("number", "quantity", "rate", "positions")
OWN_ROWS_HELP = (
    "Leave this sheet blank, or add rows for this house alone: they win over all rows of the same name in the "
    "factors workbook."
)
_SETTINGS_WIDTHS = (24.0, 40.0, 9.0, 76.0)
_OPTIONS_WIDTHS = (24.0, 9.0)
_OPTION_WIDTH = 24.0
_LEAST_WIDTH = 12.0


def write_sheet(
    book: Workbook, styles: Styles, planned: PlannedSheet, sheets: Mapping[str, PlannedSheet], footer: str
) -> None:
    """Add one sheet to a workbook, filled in as planned, with blank rows to go on in."""
    paper = book.add_worksheet(planned.sheet.title)
    paper.set_tab_color(GREY_LINE if planned.sheet.optional else ACCENT)
    widths = _widths(planned)
    help = f"{planned.sheet.help} {OWN_ROWS_HELP}" if planned.sheet.shared else planned.sheet.help
    write_heading(paper, styles, title=planned.sheet.title, help=help, widths=widths)
    paper.set_row(HEADER_ROW, (row_height(planned.header, widths) or LINE) + 4)
    for row, record in enumerate(planned.records, start=planned.first_row):
        paper.set_row(row, row_height(record, widths))
    match planned.sheet.layout:
        case "table":
            _write_table(paper, styles, planned, sheets)
        case "settings":
            _write_settings(paper, styles, planned, sheets)
        case "options":
            _write_options(paper, styles, planned, sheets)
    frozen = len(OPTIONS_TITLES) if planned.sheet.layout == "options" else 1
    paper.freeze_panes(planned.first_row, frozen)
    first_input = xl_rowcol_to_cell(planned.first_row, 1 if planned.sheet.layout == "settings" else 0)
    paper.set_selection(first_input)
    # A year or a mark that looks like a number is text on purpose.
    paper.ignore_errors({"number_stored_as_text": f"A1:XFD{planned.last_row + 1}"})
    set_up_page(
        paper,
        widths=widths,
        last_row=planned.last_row,
        footer=footer,
        repeat=(HEADER_ROW, planned.first_row - 1),
        one_page=planned.sheet.layout == "settings",
    )


def write_cell(paper: Worksheet, row: int, column: int, text: str, kind: Kind, style: Format) -> None:
    """Write content as its kind asks: a number, a date, or text, which is never taken for a formula."""
    if not text:
        paper.write_blank(row, column, None, style)
        return
    if kind in NUMERIC:
        number = _number(text)
        if number is not None:
            paper.write_number(row, column, number, style)
            return
    if kind == "date":
        try:
            paper.write_datetime(row, column, datetime.fromisoformat(text), style)
        except ValueError:
            paper.write_string(row, column, text, style)
        return
    paper.write_string(row, column, text, style)


def _write_table(
    paper: Worksheet, styles: Styles, planned: PlannedSheet, sheets: Mapping[str, PlannedSheet]
) -> None:
    """Write a table: titles, units, records, and blank rows in the same style."""
    for column, field in enumerate(planned.sheet.fields):
        numeric = field.kind in NUMERIC
        header: Style = (
            ("header_number" if field.required else "header_number_optional")
            if numeric
            else ("header" if field.required else "header_optional")
        )
        paper.write_string(HEADER_ROW, column, field.title, styles[header])
        _comment(paper, HEADER_ROW, column, comment_words(field, planned.sheet))
        units = styles["units_number" if numeric else "units"]
        write_cell(paper, HEADER_ROW + 1, column, planned.units[column], "text", units)
        if field.has_unit:
            _validate(paper, (HEADER_ROW + 1, column), offered_units(field.unit))
        for row in range(planned.first_row, planned.last_row + 1):
            place = row - planned.first_row
            text = planned.records[place][column] if place < len(planned.records) else ""
            write_cell(paper, row, column, text, field.kind, styles[_table_style(field)])
        validation = validation_of(field, planned.sheet, sheets)
        _validate(paper, (planned.first_row, column, planned.last_row, column), validation)


def _write_settings(
    paper: Worksheet, styles: Styles, planned: PlannedSheet, sheets: Mapping[str, PlannedSheet]
) -> None:
    """Write settings: one a row, its value and unit to fill in, a note beside."""
    for column, title in enumerate(planned.header):
        paper.write_string(HEADER_ROW, column, title, styles["header"])
    for row, (field, record) in enumerate(
        zip(planned.sheet.fields, planned.records, strict=True), start=planned.first_row
    ):
        title, value, unit, note = record
        paper.write_string(row, 0, title, styles["setting" if field.required else "setting_optional"])
        _comment(paper, row, 0, comment_words(field, planned.sheet))
        write_cell(paper, row, 1, value, field.kind, styles[_value_style(field)])
        _validate(paper, (row, 1), validation_of(field, planned.sheet, sheets))
        write_cell(paper, row, 2, unit, "text", styles["unit" if field.has_unit else "note"])
        if field.has_unit:
            _validate(paper, (row, 2), offered_units(field.unit))
        write_cell(paper, row, 3, note, "text", styles["note"])


def _write_options(
    paper: Worksheet, styles: Styles, planned: PlannedSheet, sheets: Mapping[str, PlannedSheet]
) -> None:
    """Write options: settings of the House sheet down the side, options across the top."""
    house = sheets.get("House")
    fields = {field.title: field for field in house.sheet.fields} if house else {}
    comments = {
        0: "A setting of the House sheet, spelt as there, or description: what the option is, in one line.",
        1: "The unit of the row, where the setting has one.",
        2: "The base: the house as the other sheets give it. Every other option is compared with it.",
    }
    for column, title in enumerate(planned.header):
        write_cell(paper, HEADER_ROW, column, title, "text", styles["header"])
        words = comments.get(column, "An option: its name here, its changes below. Blank: as the base.")
        _comment(paper, HEADER_ROW, column, words)
    last_column = len(planned.header) - 1
    for row in range(planned.first_row, planned.last_row + 1):
        place = row - planned.first_row
        record = planned.records[place] if place < len(planned.records) else ("",) * len(planned.header)
        field = fields.get(record[0])
        style = styles[_value_style(field) if field else "value"]
        write_cell(paper, row, 0, record[0], "text", styles["text"])
        write_cell(paper, row, 1, record[1], "text", styles["unit"])
        for column in range(2, last_column + 1):
            write_cell(paper, row, column, record[column], field.kind if field else "text", style)
        if field and house:
            _validate(paper, (row, 1), offered_units(field.unit) if field.has_unit else None)
            _validate(paper, (row, 2, row, last_column), offered_list(field, house.sheet, sheets))
    if house:
        settings = {"validate": "list", "source": filled_rows(house, "Setting"), "show_error": False}
        _validate(paper, (planned.first_row, 0, planned.last_row, 0), settings)


def _widths(planned: PlannedSheet) -> tuple[float, ...]:
    """Return the widths of the columns (characters): as declared, a little more where that saves wrapping."""
    match planned.sheet.layout:
        case "settings":
            return _SETTINGS_WIDTHS
        case "options":
            options = len(planned.header) - len(_OPTIONS_WIDTHS)
            return (*_OPTIONS_WIDTHS, *[_OPTION_WIDTH] * options)
        case _:
            columns = zip(*planned.records, strict=True) if planned.records else [()] * len(planned.header)
            return tuple(
                fitted_width(_width(field), column)
                for field, column in zip(planned.sheet.fields, columns, strict=True)
            )


def _width(field: Field) -> float:
    """Return the width of a column by its declaration: no word of its title is broken."""
    longest = max(len(word) for word in field.title.split())
    return max(field.width or _LEAST_WIDTH, longest + 3.0)


def _is_note(field: Field) -> bool:
    """Whether a column is for remarks, which nothing is worked out from."""
    return field.name == "note"


def _table_style(field: Field) -> Style:
    """Return the style of the cells of a column."""
    if _is_note(field):
        return "note"
    if field.kind in NUMERIC:
        return "number"
    return "date" if field.kind == "date" else "text"


def _value_style(field: Field) -> Style:
    """Return the style of the value of a setting: numbers may be typed with their unit."""
    if field.kind in NUMERIC:
        return "value"
    return "date" if field.kind == "date" else "text"


def _number(text: str) -> float | None:
    """Return text as a number, or None where it is none (`145 mm`, `3.6; 5.4`)."""
    try:
        number = float(text)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _validate(
    paper: Worksheet,
    cells: tuple[int, int] | tuple[int, int, int, int],
    validation: Mapping[str, object] | None,
) -> None:
    """Put a validation on a cell or a range, if there is one."""
    if validation is not None:
        paper.data_validation(*cells[:2], *cells[-2:], dict(validation))


def _comment(paper: Worksheet, row: int, column: int, text: str) -> None:
    """Put a comment on a cell, as large as its text needs."""
    characters, line = 46, 15
    lines = sum(max(1, math.ceil(len(part) / characters)) for part in text.split("\n"))
    look = {
        "author": "",
        "color": PALE_FILL,
        "font_name": TYPEFACE,
        "font_size": 9,
        "width": 270,
        "height": line * lines + 14,
    }
    paper.write_comment(row, column, text, look)
