"""What a field asks for, in words: one wording for cell comments, messages and the reference page."""

from __future__ import annotations

from decimal import Decimal

from takeoff.model.house import SIDES
from takeoff.model.life_cycle import LIFE_CYCLE
from takeoff.units import factor_between
from takeoff.workbook.fields import Field, Sheet

# A comment with more choices than this would hide the cells; the drop-down shows them.
MOST_CHOICES_IN_A_COMMENT = 20


def plain_number(value: float) -> str:
    """Return a number to six figures, without exponent or trailing zeros: 30000000 gives `30,000,000`."""
    return _written_out(value, 6)


def message_number(value: float) -> str:
    """Return a number as a message quotes it, near enough as typed: 1000000 gives `1,000,000`, 7200 `7200`.

    The digits are set off from 10,000 up; what is too big or too small to write out keeps its exponent.
    """
    size = abs(value)
    if size != 0 and not 1e-9 <= size < 1e15:
        return f"{value:g}"
    text = _written_out(value, 12)
    return text.replace(",", "") if size < 10000 else text


def _written_out(value: float, figures: int) -> str:
    """Return a number to so many figures, without exponent or trailing zeros."""
    text = f"{Decimal(f'{value:.{figures}g}'):,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def in_shown_unit(field: Field, value: float) -> float:
    """Return a value of a field, kept in its SI unit, in the unit that a new workbook shows."""
    if field.has_unit and field.unit and field.shown:
        return value * factor_between(field.unit, field.shown)
    return value


def unit_words(field: Field, sheet: Sheet) -> str:
    """Return the unit of a field as shown, the column that holds it, or nothing."""
    if field.kind == "rate" and field.unit_in:
        return f"in the column {sheet.field(field.unit_in).title}"
    return field.shown or field.unit or "" if field.has_unit else ""


def default_words(field: Field) -> str:
    """Return the value that a blank stands for, in the shown unit, or nothing where it stands for none."""
    default = field.default
    if isinstance(default, bool):
        return "yes" if default else "no"
    if isinstance(default, int | float):
        number = plain_number(in_shown_unit(field, float(default)))
        return f"{number} {field.shown}" if field.has_unit and field.shown else number
    if isinstance(default, tuple):
        return "; ".join(map(str, default))
    return str(default) if default else ""


def need_words(field: Field) -> str:
    """Return whether a field has to be filled in, and what a blank stands for."""
    if field.required:
        return "Required"
    default = default_words(field)
    return f"Blank: {default}" if default else "May be blank"


def choice_words(field: Field) -> str:
    """Return the choices, the sheet to choose from, or the limits of a field; nothing for free text."""
    if field.choices:
        return f"One of: {', '.join(field.choices)}" if len(field.choices) > 1 else field.choices[0]
    if field.part:
        return f"From the sheet Build-ups, part {field.part}" + (
            f", or {field.or_else}" if field.or_else else ""
        )
    if field.refers_to:
        return " or ".join(_column_words(reference) for reference in field.refers_to)
    match field.kind:
        case "yes_no":
            return "yes or no"
        case "date":
            return "A date, such as 2026-09-01"
        case "sides":
            return f"Out of {', '.join(SIDES)}, separated by semicolons"
        case "modules":
            return f"Out of {', '.join(LIFE_CYCLE)}, separated by semicolons"
        case "positions":
            return "Distances, separated by semicolons"
        case "number" | "quantity" | "rate":
            return limit_words(field)
        case _:
            return ""


def limit_words(field: Field) -> str:
    """Return the limits of a number in the shown unit: `From 0.2 to 8 m`."""
    noun = "whole number" if field.whole else "number"
    if field.low is None and field.high is None:
        return f"A {noun}"
    unit = f" {field.shown}" if field.has_unit and field.shown else ""
    low, high = (
        None if limit is None else plain_number(in_shown_unit(field, limit))
        for limit in (field.low, field.high)
    )
    if high is None:
        words = f"{low}{unit} or more"
    elif low is None:
        words = f"Up to {high}{unit}"
    else:
        words = f"From {low} to {high}{unit}"
    return f"{words}, {noun}" if field.whole else words


def comment_words(field: Field, sheet: Sheet) -> str:
    """Return the comment on the title of a field: help, unit, choices or limits, whether required."""
    choices = choice_words(field)
    if len(field.choices) > MOST_CHOICES_IN_A_COMMENT:
        choices = "Choose from the list in the cell"
    elif field.refers_to and all(reference.split(".")[0] in field.help for reference in field.refers_to):
        choices = ""
    unit = unit_words(field, sheet)
    lines = (field.help, f"Unit: {unit}." if unit else "", f"{choices}." if choices else "")
    return "\n".join([*filter(None, lines), f"{need_words(field)}."])


def _column_words(reference: str) -> str:
    """Return where a reference such as `Materials.Material` leads, in words."""
    sheet, column = reference.split(".", 1)
    return f"From the sheet {sheet}, column {column}"
