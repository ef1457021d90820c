"""Checks that every name used in one sheet is defined in another."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.model.house import Part
from takeoff.model.problem import Origin, WorkbookProblem, at
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.nearest import nearest
from takeoff.workbook.tables import Record

Names = Mapping[str, set[str]]


def defined_names(
    tables: Mapping[str, list[Record] | None], sheets: Mapping[str, Sheet]
) -> dict[str, set[str]]:
    """Return the names that each column `Sheet.Title` defines; a sheet that is missing defines none."""
    names: dict[str, set[str]] = {}
    for title, records in tables.items():
        if records is None:
            continue
        for field in sheets[title].fields:
            column = f"{title}.{field.title}"
            names[column] = {str(r.values[field.name]) for r in records if r.values.get(field.name)}
    return names


def unknown_name(origin: Origin, cell: str, name: str, expected: str, known: set[str]) -> WorkbookProblem:
    """Return the problem of a name that nothing defines, with the nearest one that is."""
    meant = nearest(name, known)
    mend = f"Did you mean {meant!r}?" if meant else "Add a row for it or correct the name"
    return at(origin, cell, found=f"{name!r} is not defined", expected=expected, mend=mend)


def check_references(sheet: Sheet, records: list[Record] | None, names: Names) -> list[WorkbookProblem]:
    """Return a problem for each name in a table that its target column does not list."""
    problems: list[WorkbookProblem] = []
    for record in records or []:
        for field in sheet.fields:
            value = record.values.get(field.name)
            if field.refers_to and value is not None:
                problems += check_name(field, str(value), record.origin, field.name, names)
    return problems


def check_name(field: Field, value: str, origin: Origin, cell: str, names: Names) -> list[WorkbookProblem]:
    """Return a problem where one value is not in any of the columns it refers to."""
    targets = [target for target in field.refers_to if target in names]
    if not targets or any(value in names[target] for target in targets):
        return []
    sheet, _, title = field.refers_to[0].partition(".")
    known = set().union(*(names[target] for target in targets))
    return [unknown_name(origin, cell, value, f"a name from the column {title} of the sheet {sheet}", known)]


def check_parts(
    sheet: Sheet, records: list[Record], parts: Mapping[str, str] | None
) -> list[WorkbookProblem]:
    """Return a problem for each build-up named in a table that is missing or of another part."""
    problems: list[WorkbookProblem] = []
    for record in records:
        for field in sheet.fields:
            value = record.values.get(field.name)
            if field.part and value is not None and value != field.or_else:
                problems += check_part(str(value), field.part, parts, record.origin, field.name)
    return problems


def check_part(
    value: str, part: Part, parts: Mapping[str, str] | None, origin: Origin, cell: str
) -> list[WorkbookProblem]:
    """Return a problem where a name is not that of a build-up of the part wanted."""
    if parts is None or parts.get(value) == part:
        return []
    known = {name for name, its_part in parts.items() if its_part == part}
    if value in parts:
        return [
            at(
                origin,
                cell,
                found=f"{value!r} is a build-up of the part {parts[value]}",
                expected=f"a build-up of the part {part}",
            )
        ]
    return [unknown_name(origin, cell, value, f"a build-up of the part {part} on the sheet Build-ups", known)]
