"""Reads a declared sheet into records, each value in SI units and each row with its origin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from dataclasses import field as dataclass_field

from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.grid import Book, Cell, SheetCells
from takeoff.workbook.nearest import nearest
from takeoff.workbook.parsing import FaultError, parse

_HEADER_SEARCH_ROWS = 15


@dataclass(slots=True)
class Record:
    """One row: its values by field name, where it was typed, and whether all of it could be read."""

    values: dict[str, object]
    origin: Origin
    complete: bool = True
    typed: dict[str, str] = dataclass_field(default_factory=dict)


@dataclass(slots=True)
class Reading:
    """What has been read so far and everything found wrong."""

    problems: list[WorkbookProblem] = dataclass_field(default_factory=list)

    def add(self, origin: Origin, name: str | None, fault: FaultError) -> None:
        """Keep the fault of a cell."""
        bad = fault.fault
        self.problems.append(at(origin, name, found=bad.found, expected=bad.expected, mend=bad.mend))


def missing_sheet(book: Book, sheet: Sheet) -> WorkbookProblem:
    """Return the problem of a sheet that is not there."""
    near = nearest(sheet.title, book.sheets, likeness=0.7)
    mend = f"Rename the sheet {near!r}" if near else "Add it; a new workbook shows how it looks"
    return WorkbookProblem(
        sheet.title, "", "the sheet is missing", f"a sheet named {sheet.title!r}", mend, book.name
    )


def find_header(cells: SheetCells, titles: Iterable[str]) -> tuple[int, dict[str, str]] | None:
    """Return the index of the header row and the column letters of the titles it holds."""
    wanted = {title.lower(): title for title in titles}
    best: tuple[int, dict[str, str]] | None = None
    for index, row in enumerate(cells.rows[:_HEADER_SEARCH_ROWS]):
        found: dict[str, str] = {}
        for cell in row:
            title = wanted.get(str(cell.value).strip().lower()) if cell.value is not None else None
            if title and title not in found:
                found[title] = cell.column
        if found and (best is None or len(found) > len(best[1])):
            best = (index, found)
    return best


def cells_by_letter(row: tuple[Cell, ...]) -> Mapping[str, Cell]:
    """Return the cells of a row by column letter."""
    return {cell.column: cell for cell in row}


def read_table(book: Book, sheet: Sheet, reading: Reading) -> list[Record] | None:
    """Read a table sheet; None where the sheet or its header is missing.

    Every problem is added to `reading`; a row with one is kept but marked incomplete.
    """
    cells = book.sheets.get(sheet.title)
    if cells is None:
        if not sheet.optional:
            reading.problems.append(missing_sheet(book, sheet))
        return None
    header = find_header(cells, [f.title for f in sheet.fields])
    if header is None or len(header[1]) < min(2, len(sheet.fields)):
        if not sheet.optional or has_rows(cells):
            reading.problems.append(no_header(book, sheet, [f.title for f in sheet.fields]))
        return None
    index, letters = header
    _report_missing_columns(book, sheet, index, letters, reading)
    columns = {f.name: letters[f.title] for f in sheet.fields if f.title in letters}
    rows = cells.rows[index + 1 :]
    units, rows = _split_units(sheet, columns, rows)
    units_origin = Origin(book.name, sheet.title, index + 2, tuple(columns.items()))
    records: list[Record] = []
    for row in rows:
        by_letter = cells_by_letter(row)
        if all(by_letter[letter].blank for letter in columns.values() if letter in by_letter):
            continue
        records.append(_record(book, sheet, columns, by_letter, units, units_origin, reading))
    _report_duplicates(sheet, records, reading)
    return records


def has_rows(cells: SheetCells) -> bool:
    """Whether anything but single cells, such as a heading, was typed in a sheet."""
    return any(sum(not cell.blank for cell in row) > 1 for row in cells.rows)


def no_header(book: Book, sheet: Sheet, titles: list[str]) -> WorkbookProblem:
    """Return the problem of a sheet without its header row."""
    return WorkbookProblem(
        sheet.title,
        "A1",
        "no row with the column titles",
        f"a row with {', '.join(titles[:4])} and so on",
        "Copy the header from a new workbook",
        book.name,
    )


def _report_missing_columns(
    book: Book, sheet: Sheet, index: int, letters: Mapping[str, str], reading: Reading
) -> None:
    """Add a problem for each declared column that the header lacks."""
    for missing in (f for f in sheet.fields if f.title not in letters):
        reading.problems.append(
            WorkbookProblem(
                sheet.title,
                f"A{index + 1}",
                f"the column {missing.title!r} is missing",
                f"a column titled {missing.title!r} in the header row",
                "Add it; it may stay blank" if not missing.required else "Add it",
                book.name,
            )
        )


def _report_missing_units(
    sheet: Sheet, columns: Mapping[str, str], units_origin: Origin, reading: Reading
) -> None:
    """Add, once for a sheet, the problem of numbers that want units and a row of units that holds none."""
    first = next(f for f in sheet.fields if f.has_unit and f.name in columns)
    problem = at(
        units_origin,
        first.name,
        found="no units in the row below the column titles",
        expected=f"the unit of each column of numbers there, such as {first.shown} for {first.title}",
        mend="Insert a row below the titles and write the units in it",
    )
    if problem not in reading.problems:
        reading.problems.append(problem)


def _split_units(
    sheet: Sheet, columns: Mapping[str, str], rows: tuple[tuple[Cell, ...], ...]
) -> tuple[dict[str, str], tuple[tuple[Cell, ...], ...]]:
    """Return the units by field and the rows below them: the row under the header has no key."""
    if not rows:
        return {}, rows
    first = cells_by_letter(rows[0])
    start = columns.get(sheet.start)
    has_units = any(f.has_unit for f in sheet.fields)
    start_field = sheet.field(sheet.start)
    start_cell = first.get(start) if start else None
    is_units = (
        start_cell is None
        or start_cell.blank
        or (
            start_field.has_unit
            and isinstance(start_cell.value, str)
            and not any(c.isdigit() for c in start_cell.value)
        )
    )
    unit_cells = [first[columns[f.name]] for f in sheet.fields if f.has_unit and columns.get(f.name) in first]
    typed = [cell.value for cell in unit_cells if not cell.blank]
    if not is_units or (typed and all(isinstance(value, int | float) for value in typed)):
        return {}, rows
    units = {
        f.name: str(first[columns[f.name]].value).strip()
        for f in sheet.fields
        if f.has_unit and f.name in columns and columns[f.name] in first and not first[columns[f.name]].blank
    }
    all_blank = all(first[letter].blank for letter in columns.values() if letter in first)
    return units, rows[1:] if (has_units or all_blank) else rows


def _record(
    book: Book,
    sheet: Sheet,
    columns: Mapping[str, str],
    cells: Mapping[str, Cell],
    units: Mapping[str, str],
    units_origin: Origin,
    reading: Reading,
) -> Record:
    """Read one row."""
    number = next(iter(cells.values())).row
    origin = Origin(book.name, sheet.title, number, tuple(columns.items()))
    record = Record({}, origin)
    for declared in sheet.fields:
        letter = columns.get(declared.name)
        cell = cells.get(letter) if letter else None
        if cell is None or cell.blank:
            record.values[declared.name] = declared.default
            if declared.required:
                record.complete = False
                if letter:
                    reading.problems.append(_blank(declared, origin))
            continue
        unit = units.get(declared.name)
        if declared.unit_in:
            unit_cell = cells.get(columns.get(declared.unit_in, ""))
            unit = None if unit_cell is None or unit_cell.blank else str(unit_cell.value)
        record.typed[declared.name] = str(cell.value).strip()
        try:
            record.values[declared.name] = parse(declared, cell, unit)
        except FaultError as error:
            place = declared.unit_in if error.fault.in_unit and declared.unit_in else declared.name
            # a wrong unit of the whole column is one problem, at the head of the column
            of_column = error.fault.in_unit and declared.name in units
            if error.fault.in_unit and declared.has_unit and not units:
                _report_missing_units(sheet, columns, units_origin, reading)
            else:
                reading.add(units_origin if of_column else origin, place, error)
            record.values[declared.name] = declared.default
            record.complete = False
    return record


def _blank(declared: Field, origin: Origin) -> WorkbookProblem:
    """Return the problem of a cell that must not be blank."""
    if declared.wanted:
        expected = declared.wanted
    elif declared.kind == "choice" and declared.choices:
        expected = f"one of {', '.join(declared.choices)}"
    elif declared.part:
        expected = f"a build-up of the part {declared.part}"
    elif declared.refers_to:
        expected = f"a name from the column {declared.refers_to[0].replace('.', ', ')}"
    elif declared.kind in ("text", "choice"):
        expected = "a name" if declared.required else "text"
    else:
        expected = f"a number in {declared.shown}" if declared.shown else "a number"
    return at(origin, declared.name, found=f"{declared.title} is blank", expected=expected)


def _report_duplicates(sheet: Sheet, records: list[Record], reading: Reading) -> None:
    """Add a problem for each row whose key stands in an earlier row."""
    if not sheet.key:
        return
    seen: dict[tuple[object, ...], int] = {}
    for record in records:
        key = tuple(record.values.get(name) for name in sheet.key)
        if None in key:
            continue
        if key in seen:
            names = ", ".join(str(part) for part in key)
            reading.problems.append(
                at(
                    record.origin,
                    sheet.key[-1],
                    found=f"{names!r} stands in row {seen[key]} already",
                    expected="each one once",
                    mend="Rename or delete one of the rows",
                )
            )
        seen.setdefault(key, record.origin.row)
