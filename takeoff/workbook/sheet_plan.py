"""Where everything will stand in a new workbook: content laid against the declared sheets and columns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from takeoff.workbook.fields import Sheet, WorkbookLayout

# Rows and columns count from 0, as XlsxWriter does. Title, help and a blank row stand above the header.
TITLE_ROW, HELP_ROW, HEADER_ROW = 0, 1, 3
SPARE_ROWS = 15
SPARE_OPTIONS = 2
SETTINGS_TITLES = ("Setting", "Value", "Unit", "Note")
OPTIONS_TITLES = ("Setting", "Unit")


class ContentError(ValueError):
    """Content for a new workbook that does not fit the declared sheets and columns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSheet:
    """A sheet with its content: header, units below it (tables), records, and where they stand."""

    sheet: Sheet
    header: tuple[str, ...]
    units: tuple[str, ...]
    records: tuple[tuple[str, ...], ...]

    @property
    def first_row(self) -> int:
        """The row of the first record: below the units row in tables, else below the header."""
        return HEADER_ROW + (2 if self.sheet.layout == "table" else 1)

    @property
    def last_row(self) -> int:
        """The last row meant for input: spare rows included, but for settings, which are a closed list."""
        spare = 0 if self.sheet.layout == "settings" else SPARE_ROWS
        return self.first_row + len(self.records) + spare - 1

    def column(self, title: str) -> int:
        """Return the column of a title."""
        return self.header.index(title)


def plan_sheets(layout: WorkbookLayout, content: Mapping[str, list[list[str]]]) -> dict[str, PlannedSheet]:
    """Return every sheet of a layout with its content, by title; a sheet without content is left blank.

    Raises ContentError where the content names a sheet, column or setting that is not declared.
    """
    unknown = set(content) - {sheet.title for sheet in layout.sheets}
    if unknown:
        raise ContentError(f"{layout.title}: no such sheet: {', '.join(sorted(unknown))}")
    plans = {"table": _plan_table, "settings": _plan_settings, "options": _plan_options}
    return {sheet.title: plans[sheet.layout](sheet, content.get(sheet.title, [])) for sheet in layout.sheets}


def _plan_table(sheet: Sheet, rows: list[list[str]]) -> PlannedSheet:
    """Return a table with the columns in the declared order; units not given are those usually shown."""
    header = tuple(field.title for field in sheet.fields)
    shown = tuple((field.shown or "") if field.has_unit else "" for field in sheet.fields)
    titles = rows[0] if rows else []
    _refuse_unknown(sheet, titles, header)
    records = [_by_title(titles, header, row) for row in rows[1:]]
    given = records[0] if records else shown
    return PlannedSheet(
        sheet=sheet,
        header=header,
        units=tuple(unit or usual for unit, usual in zip(given, shown, strict=True)),
        records=tuple(records[1:]),
    )


def _plan_settings(sheet: Sheet, rows: list[list[str]]) -> PlannedSheet:
    """Return a settings sheet with every declared setting in order, those without content left blank."""
    given = {row[0]: _by_title(rows[0], SETTINGS_TITLES, row) for row in rows[1:]}
    _refuse_unknown(sheet, list(given), tuple(field.title for field in sheet.fields))
    records = []
    for field in sheet.fields:
        _, value, unit, note = given.get(field.title, ("", "", "", ""))
        usual = (field.shown or "") if field.has_unit else ""
        records.append((field.title, value, unit or usual, note))
    return PlannedSheet(sheet=sheet, header=SETTINGS_TITLES, units=(), records=tuple(records))


def _plan_options(sheet: Sheet, rows: list[list[str]]) -> PlannedSheet:
    """Return an options sheet with its options and some columns for more of them."""
    named = tuple(rows[0]) if rows else OPTIONS_TITLES
    if named[:2] != OPTIONS_TITLES:
        raise ContentError(f"{sheet.title}: the first columns have to be {' and '.join(OPTIONS_TITLES)}")
    header = (*named, *[""] * SPARE_OPTIONS)
    records = tuple(tuple(row) + ("",) * (len(header) - len(row)) for row in rows[1:])
    return PlannedSheet(sheet=sheet, header=header, units=(), records=records)


def _by_title(titles: list[str], header: tuple[str, ...], row: list[str]) -> tuple[str, ...]:
    """Return the values of a row in the order of the header, blank where the content has no such column."""
    values = dict(zip(titles, row, strict=False))
    return tuple(values.get(title, "") for title in header)


def _refuse_unknown(sheet: Sheet, found: list[str], declared: tuple[str, ...]) -> None:
    """Raise ContentError where something found is not declared, so that no content is lost in silence."""
    unknown = [title for title in found if title not in declared]
    if unknown:
        raise ContentError(f"{sheet.title}: not declared: {', '.join(unknown)}")
