"""Reads the Options sheet: settings down the side, options across the top."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from dataclasses import field as dataclass_field

from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.grid import Book, Cell
from takeoff.workbook.parsing import FaultError, parse
from takeoff.workbook.settings import unknown_setting
from takeoff.workbook.tables import Reading, cells_by_letter, find_header, missing_sheet, no_header

_NAME = Field(name="name", title="Option", help="Name of an option.")


@dataclass(slots=True)
class OptionColumn:
    """One column of the Options sheet: a name, a description, changes by field with their cells."""

    name: str
    origin: Origin
    description: str = ""
    changes: dict[str, object] = dataclass_field(default_factory=dict)
    shown: list[tuple[str, str]] = dataclass_field(default_factory=list)
    cells: dict[str, Origin] = dataclass_field(default_factory=dict)


def read_options(book: Book, sheet: Sheet, settings: Sheet, reading: Reading) -> list[OptionColumn] | None:
    """Read the Options sheet: each column a named change of settings, the first the base."""
    cells = book.sheets.get(sheet.title)
    if cells is None:
        reading.problems.append(missing_sheet(book, sheet))
        return None
    header = find_header(cells, ("Setting", "Unit"))
    if header is None or "Setting" not in header[1] or "Unit" not in header[1]:
        reading.problems.append(no_header(book, sheet, ["Setting", "Unit", "the name of the base"]))
        return None
    index, letters = header
    fixed = set(letters.values())
    options: dict[str, OptionColumn] = {}
    names: dict[str, int] = {}
    for cell in cells.rows[index]:
        if cell.column in fixed or cell.blank:
            continue
        origin = Origin(book.name, sheet.title, cell.row, (("name", cell.column),))
        try:
            name = str(parse(_NAME, cell, None))
        except FaultError as error:
            reading.add(origin, "name", error)
            continue
        if name.lower() in names:
            reading.problems.append(
                at(origin, "name", found=f"a second option named {name!r}", expected="each name once")
            )
            continue
        names[name.lower()] = 1
        options[cell.column] = OptionColumn(name, origin)
    if not options:
        reading.problems.append(
            WorkbookProblem(
                sheet.title,
                f"C{index + 1}",
                "no option",
                "the name of the base in the header row",
                "",
                book.name,
            )
        )
        return None
    by_title = {f.title.lower(): f for f in settings.fields}
    unnamed = [cell for cell in cells.rows[index] if cell.blank]
    seen: set[str] = set()
    for row in cells.rows[index + 1 :]:
        by_letter = cells_by_letter(row)
        name_cell = by_letter.get(letters["Setting"])
        if name_cell is None or name_cell.blank:
            continue
        title = str(name_cell.value).strip().lower()
        if title in seen:
            origin = Origin(book.name, sheet.title, name_cell.row, (("setting", name_cell.column),))
            reading.problems.append(
                at(
                    origin,
                    "setting",
                    found=f"{title!r} stands here a second time",
                    expected="each setting once",
                )
            )
            continue
        seen.add(title)
        reading.problems += _values_without_a_name(book, sheet, unnamed, by_letter)
        if title == "description":
            for letter, option in options.items():
                if letter in by_letter and not by_letter[letter].blank:
                    option.description = str(by_letter[letter].value).strip()
            continue
        declared = by_title.get(title)
        if declared is None:
            origin = Origin(book.name, sheet.title, name_cell.row, (("setting", name_cell.column),))
            reading.problems.append(
                unknown_setting(origin, str(name_cell.value).strip(), [f.title for f in settings.fields])
            )
            continue
        unit_cell = by_letter.get(letters["Unit"])
        unit = None if unit_cell is None or unit_cell.blank else str(unit_cell.value)
        for letter, option in options.items():
            changed = by_letter.get(letter)
            if changed is None or changed.blank:
                continue
            origin = Origin(
                book.name, sheet.title, changed.row, (("value", letter), ("unit", letters["Unit"]))
            )
            try:
                option.changes[declared.name] = parse(declared, changed, unit)
            except FaultError as error:
                reading.add(origin, "unit" if error.fault.in_unit else "value", error)
                continue
            text = str(changed.value).strip()
            with_unit = f"{text} {unit}" if unit and declared.has_unit and text[-1:].isdigit() else text
            option.shown.append((declared.title, with_unit))
            option.cells[declared.name] = origin
    return list(options.values())


def _values_without_a_name(
    book: Book, sheet: Sheet, unnamed: Iterable[Cell], row: Mapping[str, Cell]
) -> Iterator[WorkbookProblem]:
    """Yield a problem for each column that changes a setting but whose option has no name."""
    for head in unnamed:
        if head.column in row and not row[head.column].blank:
            yield WorkbookProblem(
                sheet.title,
                head.place,
                "values below, but no name of an option",
                "a name in the header row",
                "Name the option or clear its column",
                book.name,
            )
