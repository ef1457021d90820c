"""Reads a settings sheet: a setting a row, with its value and unit."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.grid import Book, Cell
from takeoff.workbook.nearest import nearest
from takeoff.workbook.parsing import FaultError, parse
from takeoff.workbook.tables import (
    Reading,
    Record,
    cells_by_letter,
    find_header,
    has_rows,
    missing_sheet,
    no_header,
)

SETTING_COLUMNS = ("Setting", "Value", "Unit", "Note")


def read_settings(book: Book, sheet: Sheet, reading: Reading) -> dict[str, Record] | None:
    """Read a settings sheet into a record a setting (value under `value`); None where it is missing.

    An optional sheet may be left out, or left blank but for a heading.
    """
    cells = book.sheets.get(sheet.title)
    if cells is None:
        if not sheet.optional:
            reading.problems.append(missing_sheet(book, sheet))
        return None
    header = find_header(cells, SETTING_COLUMNS)
    if header is None or "Setting" not in header[1] or "Value" not in header[1]:
        if not sheet.optional or has_rows(cells):
            reading.problems.append(no_header(book, sheet, list(SETTING_COLUMNS)))
        return None
    index, letters = header
    if "Unit" not in letters:
        reading.problems.append(
            WorkbookProblem(
                sheet.title,
                f"A{index + 1}",
                "the column 'Unit' is missing",
                "a column titled 'Unit'",
                "Add it",
                book.name,
            )
        )
    by_title = {f.title.lower(): f for f in sheet.fields}
    columns = tuple(
        (name, letters[title])
        for name, title in (("value", "Value"), ("unit", "Unit"), ("setting", "Setting"))
        if title in letters
    )
    records: dict[str, Record] = {}
    for row in cells.rows[index + 1 :]:
        by_letter = cells_by_letter(row)
        name_cell = by_letter.get(letters["Setting"])
        if name_cell is None or name_cell.blank:
            continue
        origin = Origin(book.name, sheet.title, name_cell.row, columns)
        declared = by_title.get(str(name_cell.value).strip().lower())
        if declared is None:
            reading.problems.append(
                unknown_setting(origin, str(name_cell.value).strip(), [f.title for f in sheet.fields])
            )
            continue
        if declared.name in records:
            reading.problems.append(
                at(
                    origin,
                    "setting",
                    found=f"{declared.title!r} stands here a second time",
                    expected="each setting once",
                )
            )
            continue
        records[declared.name] = _setting(declared, origin, by_letter, letters, reading)
    for declared in sheet.fields:
        if declared.name not in records:
            origin = Origin(book.name, sheet.title, index + 1, columns)
            records[declared.name] = Record({"value": declared.default}, origin, not declared.required)
            if declared.required:
                reading.problems.append(
                    at(
                        origin,
                        "setting",
                        found=f"the setting {declared.title!r} is missing",
                        expected="a row for it",
                    )
                )
    return records


def unknown_setting(origin: Origin, name: str, known: list[str]) -> WorkbookProblem:
    """Return the problem of a setting that no declaration knows."""
    meant = nearest(name, known)
    mend = f"Did you mean {meant!r}?" if meant else "See takeoff guide reference"
    sheet = "this sheet" if origin.sheet in ("Project", "Study") else "the sheet House"
    return at(
        origin, "setting", found=f"unknown setting {name!r}", expected=f"a setting of {sheet}", mend=mend
    )


def _setting(
    declared: Field, origin: Origin, cells: Mapping[str, Cell], letters: Mapping[str, str], reading: Reading
) -> Record:
    """Read the value of one setting."""
    record = Record({"value": declared.default}, origin)
    cell = cells.get(letters["Value"])
    unit_cell = cells.get(letters.get("Unit", ""))
    if cell is None or cell.blank:
        if declared.required:
            record.complete = False
            reading.problems.append(
                at(origin, "value", found=f"{declared.title!r} is blank", expected=_expected_value(declared))
            )
        return record
    unit = None if unit_cell is None or unit_cell.blank else str(unit_cell.value)
    record.typed["value"] = str(cell.value).strip()
    try:
        record.values["value"] = parse(declared, cell, unit)
    except FaultError as error:
        reading.add(origin, "unit" if error.fault.in_unit else "value", error)
        record.complete = False
    return record


def _expected_value(declared: Field) -> str:
    """Return in words what a setting wants."""
    if declared.choices:
        return f"one of {', '.join(declared.choices)}"
    return f"a value in {declared.shown}" if declared.shown else "a value"
