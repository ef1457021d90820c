"""Overrides as every document tells them: in words, as a table of the report, as data."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import change, number, percent, rate, unit_text
from takeoff.model.bill import AppliedOverride, Override

OVERRIDES_COLUMN = (
    "overrides",
    "figures of the quantity surveyor in the place of ours, with what they were, reason, who and when; blank: none",
)


def overrides_text(line: Line) -> str:
    """Return the overrides of an item in words, nothing where it has none."""
    return "; ".join(_words(applied) for applied in line.overrides)


def override_lines(results: Iterable[Result]) -> list[str]:
    """Return a line for each override, with the figures of the first option that has its item."""
    return [
        f"{result.option.name}: {line.quantity.id}: {_words(applied)}"
        for result, line, applied in _each_once(results)
    ]


def overrides_table(results: Sequence[Result], currency: str) -> ReportTable | None:
    """Return the overrides, each with the figures of the first option that has its item; None without any."""
    rows = [_row(result, line, applied) for result, line, applied in _each_once(results)]
    if not rows:
        return None
    return ReportTable(
        id="overrides-table",
        caption="Overrides by the quantity surveyor",
        columns=(
            Column(title="Item", figures=False),
            Column(title="Holds for", figures=False),
            Column(title="Figure", figures=False),
            Column(title="Unit", figures=False),
            Column(title="As worked out"),
            Column(title="Overridden"),
            Column(title="Effect on cost", unit=currency),
            Column(title="Figures of", figures=False),
        ),
        rows=tuple(rows),
        note="Figures that stand in the place of measured or built-up ones, in all that follows from them. Wastage is "
        "what is bought beyond the required quantity. The effect on the cost of the item is before the cost ladder. "
        "Those of every option are in quantities.csv and results.json.",
    )


def overrides_data(result: Result) -> list[dict[str, Any]]:
    """Return the overrides of an option as plain data; wastage is a share, the effect before the cost ladder."""
    return [
        {
            "id": line.quantity.id,
            "figure": applied.override.figure,
            "unit": _unit(applied.override) or "share",
            "was": applied.was,
            "value": applied.override.value,
            "reason": applied.override.reason,
            "who": applied.override.who,
            "date": applied.override.date,
            "effect_on_cost": applied.effect,
        }
        for line in result.lines
        for applied in line.overrides
    ]


def _each_once(results: Iterable[Result]) -> list[tuple[Result, Line, AppliedOverride]]:
    """Return each override with the first option and item that it is applied to."""
    found: list[tuple[Result, Line, AppliedOverride]] = []
    seen: list[Override] = []
    for result in results:
        for line in result.lines:
            for applied in line.overrides:
                if applied.override not in seen:
                    seen.append(applied.override)
                    found.append((result, line, applied))
    return found


def _row(result: Result, line: Line, applied: AppliedOverride) -> Row:
    """Return the row of one override, its item's id and why below."""
    override = applied.override
    return Row(
        cells=(
            line.quantity.item,
            override.option or "all options",
            override.figure,
            unit_text(_unit(override)),
            _figure(applied.was, override),
            _figure(override.value, override),
            change(applied.effect),
            result.option.name,
        ),
        below=f"{line.quantity.id} · {_why(override)}",
    )


def _words(applied: AppliedOverride) -> str:
    """Return one override in words: what, instead of what, why, who and when."""
    override = applied.override
    unit = f" {unit}" if (unit := _unit(override)) else ""
    value, was = _figure(override.value, override), _figure(applied.was, override)
    return f"{override.figure} {value}{unit} instead of {was}: {_why(override)}"


def _why(override: Override) -> str:
    """Return the reason, who and when; a full stop at its end gives way to them."""
    return f"{override.reason.rstrip('. ')} ({override.who}, {override.date})"


def _unit(override: Override) -> str:
    """Return the unit of an override, that of a rate with per; nothing for wastage."""
    return f"per {override.unit}" if override.figure == "rate" else override.unit


def _figure(value: float, override: Override) -> str:
    """Return the figure of an override, wastage as per cent."""
    if override.figure == "wastage":
        return percent(value)
    return rate(value) if override.figure == "rate" else number(value, 2)
