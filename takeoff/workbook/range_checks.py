"""Checks the two ends of a range against each other and against the value between them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from takeoff.model.problem import WorkbookProblem, at
from takeoff.units import per_unit_factor
from takeoff.workbook.field_words import message_number
from takeoff.workbook.fields import Sheet
from takeoff.workbook.tables import Record


def range_problems(
    record: Record, sheet: Sheet, name: str, numerator: str | None
) -> Iterator[WorkbookProblem]:
    """Yield the ends of a range that lie on the wrong side of the value between them.

    `numerator` is the unit that a rate is of; None where the value is a quantity of the shown unit.
    """
    values = cast("dict[str, Any]", record.values)
    if numerator is None:
        value, unit = values[name], f" {sheet.field(name).shown}"
    else:
        scale, _ = per_unit_factor(values["unit"], numerator)
        value, unit = float(f"{values[name].value / scale:.12g}"), ""
    title, key, low, high = sheet.field(name).title, values[sheet.start], values["low"], values["high"]
    between = f"{message_number(value)}{unit}"
    if low is not None and high is not None and high < value < low:
        below = ", which below 0 is the one further from 0" if low <= 0 else ""
        yield at(
            record.origin,
            "low",
            found=f"Low of {message_number(low)}{unit} and High of {message_number(high)}{unit} for {key!r}, the "
            f"wrong way round about its {title} of {between}",
            expected=f"the lower number in Low{below}",
            mend="Change them over",
        )
        return
    for end, limit, beyond, most in (("low", low, "above", "at most"), ("high", high, "below", "at least")):
        if limit is None or (limit <= value if end == "low" else limit >= value):
            continue
        yield at(
            record.origin,
            end,
            found=f"{end.capitalize()} of {message_number(limit)}{unit} for {key!r}, {beyond} its {title} of {between}",
            expected=f"{most} {between}",
        )


def half_range(record: Record, sheet: Sheet) -> Iterator[WorkbookProblem]:
    """Yield the end of a range that is blank where the other one is filled in: half a range counts for nothing."""
    low, high = record.values["low"], record.values["high"]
    if (low is None) == (high is None):
        return
    blank, given = ("low", "high") if low is None else ("high", "low")
    yield at(
        record.origin,
        blank,
        found=f"{blank.capitalize()} is blank for {record.values[sheet.start]!r}, but {given.capitalize()} is filled "
        "in",
        expected="both ends of the range, or neither",
    )
