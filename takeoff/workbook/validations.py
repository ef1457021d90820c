"""Drop-downs and limits of the cells to fill in, made from the declared fields."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from xlsxwriter.utility import xl_range_abs, xl_rowcol_to_cell

from takeoff.workbook.field_words import choice_words, limit_words
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.lists_sheet import build_ups_source, ways_source
from takeoff.workbook.sheet_plan import PlannedSheet

Validation = dict[str, Any]

# The longest list a cell can hold by itself, and the longest message.
LONGEST_LIST = 255
LONGEST_MESSAGE = 255

# Units offered beside a value of each SI unit; any other unit of the same kind may be typed.
UNITS_OFFERED = {
    "m": ("m", "mm", "cm", "km", "ft", "in"),
    "m2": ("m2", "ft2"),
    "deg": ("deg",),
    "share": ("%", "share"),
    "kg/m3": ("kg/m3", "t/m3"),
    "W/(m K)": ("W/(m K)",),
    "W/(m2 K)": ("W/(m2 K)",),
    "m2 K/W": ("m2 K/W",),
    "K d": ("K d",),
    "1/h": ("1/h",),
    "Pa": ("kPa", "kN/m2", "psf", "MPa", "N/mm2", "GPa", "psi"),
    "year": ("year",),
    "kgCO2e/kg": ("kgCO2e/t", "kgCO2e/kg"),
    "kgCO2e/m2": ("kgCO2e/m2",),
    "kgCO2e/(kg m)": ("kgCO2e/(t km)", "kgCO2e/(kg km)"),
}


def validation_of(field: Field, sheet: Sheet, sheets: Mapping[str, PlannedSheet]) -> Validation | None:
    """Return the drop-down or the limits of a field, or None where anything may be typed.

    Quantities have none: `145 mm` is as good as a number. A name from another sheet only warns, since the
    row it names may not be there yet. The limits of a rate hold in whatever unit it is typed.
    """
    if field.kind == "yes_no":
        return _closed_list(field, ["yes", "no"])
    if field.choices:
        if len(",".join(field.choices)) <= LONGEST_LIST:
            return _closed_list(field, list(field.choices))
        return _closed_list(field, ways_source(), "Choose from the list; the sheet Lists explains each.")
    source = reference_source(field, sheet, sheets)
    if source:
        return _open_list(field, source)
    if field.kind in ("number", "rate") and field.low is not None and field.high is not None:
        return {
            "validate": "integer" if field.whole else "decimal",
            "criteria": "between",
            "minimum": field.low,
            "maximum": field.high,
            "error_title": "Outside the limits",
            "error_message": f"{field.title}: {limit_words(field)}.",
        }
    if field.kind == "date":
        return {
            "validate": "date",
            "criteria": ">=",
            "value": "=DATE(2000,1,1)",
            "error_type": "warning",
            "error_title": "Not a date",
            "error_message": f"{field.title}: {choice_words(field)}.",
        }
    return None


def offered_list(field: Field, sheet: Sheet, sheets: Mapping[str, PlannedSheet]) -> Validation | None:
    """Return the drop-down of a field as an offer that refuses nothing, or None where it has none."""
    validation = validation_of(field, sheet, sheets)
    if validation is None or validation["validate"] != "list":
        return None
    return {**validation, "show_error": False}


def offered_units(unit: str | None) -> Validation | None:
    """Return the units offered for a quantity of an SI unit; others may be typed."""
    units = UNITS_OFFERED.get(unit or "")
    return {"validate": "list", "source": list(units), "show_error": False} if units else None


def reference_source(field: Field, sheet: Sheet, sheets: Mapping[str, PlannedSheet]) -> str | None:
    """Return the formula of the names a field may hold, or None where they stand in another workbook.

    A shared sheet has the rest of its rows in the factors workbook.
    """
    if field.part:
        return build_ups_source(field.part)
    if len(field.refers_to) != 1:
        return None
    title, column = field.refers_to[0].split(".", 1)
    target = sheets.get(title)
    return None if target is None or target.sheet.shared else filled_rows(target, column)


def filled_rows(target: PlannedSheet, title: str) -> str:
    """Return the formula of a column as far as it is filled in, spare rows included once they are."""
    column = target.column(title)
    name = f"'{target.sheet.title}'!"
    first = name + xl_rowcol_to_cell(target.first_row, column, row_abs=True, col_abs=True)
    whole = name + xl_range_abs(target.first_row, column, target.last_row, column)
    return f"=OFFSET({first},0,0,MAX(1,COUNTA({whole})),1)"


def _closed_list(field: Field, source: list[str] | str, message: str | None = None) -> Validation:
    """Return a drop-down that refuses everything else."""
    text = message or f"{field.title}: {choice_words(field)}."
    if len(text) > LONGEST_MESSAGE:
        text = f"{field.title}: choose from the list."
    return {
        "validate": "list",
        "source": source,
        "error_title": "Not one of the choices",
        "error_message": text,
    }


def _open_list(field: Field, source: str) -> Validation:
    """Return a drop-down of names in another sheet, which warns of any other name."""
    sheet = field.refers_to[0].split(".")[0] if field.refers_to else "Build-ups"
    return {
        "validate": "list",
        "source": source,
        "error_type": "warning",
        "error_title": "No such row yet",
        "error_message": f"The sheet {sheet} has no such row. Choose from the list, or add the row there.",
    }
