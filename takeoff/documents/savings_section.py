"""The savings of a job in the report: taken up one upon another, as waterfalls and as a table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from takeoff.compare.savings import Savings, SavingStep
from takeoff.documents.charts import WaterfallStep, waterfall
from takeoff.documents.drawings import Picture
from takeoff.documents.parity_words import Missed, marked_name
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import change, number

ORDER_WORDS = (
    "Options that save in cost or upfront carbon without being higher in the other, in the order of the cost they save "
    "by themselves, the greatest first. Each is added to those above it and the house measured, planned and priced "
    "anew, for savings overlap."
)
NO_SAVINGS = (
    "No option saves in cost or upfront carbon without costing more of the other, changing the size of the house or "
    "falling short in its fabric."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SavingsShown:
    """What the report shows of savings: a sentence, charts with their table, what is left out and why."""

    sentence: str
    charts: tuple[Picture, ...]
    table: ReportTable | None
    left_out: tuple[tuple[str, str], ...]


def savings_shown(saved: Savings, currency: str, missed: Missed, *, paper_width_mm: float) -> SavingsShown:
    """Return the savings of a job as ready text and pictures."""
    left_out = tuple((marked_name(each.name, missed), each.reason) for each in saved.left_out)
    if not saved.steps:
        return SavingsShown(sentence=NO_SAVINGS, charts=(), table=None, left_out=left_out)
    base, end = saved.base, saved.together
    cost = end.ladder.total_inc_tax - base.ladder.total_inc_tax
    carbon = end.totals.upfront - base.totals.upfront
    how_many = "One option saves" if len(saved.steps) == 1 else f"{len(saved.steps)} options together change"
    sentence = (
        f"{how_many} {change(cost / 1000, 1)} thousand {currency} and {change(carbon / 1000, 2)} tCO₂e upfront against "
        f"{base.option.name}."
    )
    return SavingsShown(
        sentence=sentence,
        charts=(
            _chart(
                saved,
                title=f"Savings in cost, thousand {currency}",
                figure="cost including tax",
                unit=f"thousand {currency}",
                value=base.ladder.total_inc_tax,
                steps=[(each.cost, each.result.ladder.total_inc_tax) for each in saved.steps],
                places=1,
                paper_width_mm=paper_width_mm,
                id_prefix="savings-cost",
            ),
            _chart(
                saved,
                title="Savings in upfront carbon, tCO₂e",
                figure="upfront carbon A1-A5",
                unit="tCO₂e",
                value=base.totals.upfront,
                steps=[(each.upfront, each.result.totals.upfront) for each in saved.steps],
                places=2,
                paper_width_mm=paper_width_mm,
                id_prefix="savings-carbon",
            ),
        ),
        table=_table(saved, currency),
        left_out=left_out,
    )


def _chart(
    saved: Savings,
    *,
    title: str,
    figure: str,
    unit: str,
    value: float,
    steps: Sequence[tuple[float, float]],
    places: int,
    paper_width_mm: float,
    id_prefix: str,
) -> Picture:
    """Return the waterfall of one figure, in thousands or tonnes."""
    return waterfall(
        title=title,
        desc=f"What each option changes in {figure} after those above it, and all of them together.",
        unit_label=f"{figure}, change in {unit}",
        base_name=saved.base.option.name,
        base_value=value / 1000,
        steps=[
            WaterfallStep(name=each.name, change=moved / 1000, after=after / 1000)
            for each, (moved, after) in zip(saved.steps, steps, strict=True)
        ],
        total_name="All together",
        change_format=lambda amount: change(amount, places),
        value_format=lambda amount: number(amount, places),
        value_heading=f"then, {unit}",
        paper_width_mm=paper_width_mm,
        id_prefix=id_prefix,
    )


def _table(saved: Savings, currency: str) -> ReportTable:
    """Return every step with what it changes by itself and after those before it."""
    base, end = saved.base, saved.together
    rows = [
        Row(
            cells=(
                base.option.name,
                "",
                "",
                number(base.ladder.total_inc_tax / 1000, 1),
                "",
                "",
                number(base.totals.upfront / 1000, 2),
            ),
            chosen=True,
        ),
        *(_step_row(step) for step in saved.steps),
        Row(
            cells=(
                "All together",
                change(sum(step.cost_alone for step in saved.steps) / 1000, 1),
                change((end.ladder.total_inc_tax - base.ladder.total_inc_tax) / 1000, 1),
                number(end.ladder.total_inc_tax / 1000, 1),
                change(sum(step.upfront_alone for step in saved.steps) / 1000, 2),
                change((end.totals.upfront - base.totals.upfront) / 1000, 2),
                number(end.totals.upfront / 1000, 2),
            ),
            total=True,
        ),
    ]
    money, carbon = f"thousand {currency}", "tCO₂e"
    return ReportTable(
        id="savings-table",
        caption="Savings, by themselves and one upon another",
        columns=(
            Column(title="Option", figures=False),
            Column(title="Cost, by itself", unit=money),
            Column(title="Cost, after those above", unit=money),
            Column(title="Cost inc tax then", unit=money),
            Column(title="Upfront carbon, by itself", unit=carbon),
            Column(title="Upfront carbon, after those above", unit=carbon),
            Column(title="Upfront carbon then", unit=carbon),
        ),
        rows=tuple(rows),
        note="In the last row the columns of each by itself are added up, to show how far that is from what they save "
        "together.",
    )


def _step_row(step: SavingStep) -> Row:
    """Return the row of one step."""
    return Row(
        cells=(
            step.name,
            change(step.cost_alone / 1000, 1),
            change(step.cost / 1000, 1),
            number(step.result.ladder.total_inc_tax / 1000, 1),
            change(step.upfront_alone / 1000, 2),
            change(step.upfront / 1000, 2),
            number(step.result.totals.upfront / 1000, 2),
        )
    )


def savings_data(saved: Savings) -> dict[str, Any]:
    """Return the savings as plain data for results.json."""
    return {
        "steps": [
            {
                "option": step.name,
                "total_inc_tax_change": step.cost,
                "total_inc_tax_change_alone": step.cost_alone,
                "total_inc_tax_then": step.result.ladder.total_inc_tax,
                "upfront_kgco2e_change": step.upfront,
                "upfront_kgco2e_change_alone": step.upfront_alone,
                "upfront_kgco2e_then": step.result.totals.upfront,
            }
            for step in saved.steps
        ],
        "left_out": [{"option": each.name, "reason": each.reason} for each in saved.left_out],
    }
