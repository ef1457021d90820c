"""What to buy for one option, as tables for the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.compare.order_cautions import order_cautions
from takeoff.documents.order_words import NO_BOUND, bought_text, bound_text, gap_text, names_of
from takeoff.documents.wording import change, figure, percent, quantity, unit_text
from takeoff.model.job import Job

if TYPE_CHECKING:
    from rich.console import Group
    from rich.table import Table


_BELOW = (
    "Wastage: share of what money and carbon count. The rest of the last roll or pack is left for other work."
)


def order_screen(job: Job, result: Result) -> Group:
    """Return what is bought for one option, the totals against those by allowance, and cautions if any."""
    from rich.console import Group
    from rich.text import Text

    parts: list[Table | Text] = [_orders(job, result), Text(_BELOW), Text(), _totals(job, result)]
    cautions = order_cautions(result)
    if cautions:
        lines = [f"{caution.about}: {caution.text}." for caution in cautions]
        parts += [Text(), *map(Text, lines)]
    return Group(*parts)


def _orders(job: Job, result: Result) -> Table:
    """Return the plans by number, then the items without a plan, those of one material together."""
    from rich.table import Table

    table = Table(title=f"{result.option.name}: what to buy", title_justify="left", pad_edge=False, box=None)
    for title, right in (
        ("no.", True),
        ("material", False),
        ("to buy", False),
        ("unit", False),
        ("required", True),
        ("order", True),
        ("wastage", True),
        ("by allowance", True),
        ("at least", True),
        ("gap", True),
    ):
        table.add_column(title, justify="right" if right else "left", overflow="fold", no_wrap=right)
    names = names_of(result.plans)
    for plan in result.plans:
        table.add_row(
            str(plan.number),
            names[plan.number],
            bought_text(plan),
            plan.unit,
            quantity(plan.required, plan.unit),
            quantity(plan.order, plan.unit),
            percent(plan.wastage_share),
            percent(plan.allowed_share),
            bound_text(plan),
            gap_text(plan),
        )
    for (material, unit), (required, order) in _unplanned(job, result).items():
        share = percent(1 - required / order)
        table.add_row(
            "",
            material,
            f"{quantity(order, unit)} {unit}",
            unit,
            quantity(required, unit),
            quantity(order, unit),
            share,
            share,
            NO_BOUND,
            NO_BOUND,
        )
    return table


def _unplanned(job: Job, result: Result) -> dict[tuple[str, str], tuple[float, float]]:
    """Return required and order of what is bought without a plan, by material and unit."""
    found: dict[tuple[str, str], tuple[float, float]] = {}
    for line in result.lines:
        item, ordered = line.quantity, line.ordered
        if (
            ordered.plan is None
            and ordered.order
            and line.needs_carbon
            and item.material in job.library.materials
        ):
            required, order = found.get((item.material, item.unit), (0.0, 0.0))
            found[item.material, item.unit] = (required + item.required, order + ordered.order)
    return found


def _totals(job: Job, result: Result) -> Table:
    """Return money and carbon as planned, by the wastage allowances alone, and the difference."""
    from rich.table import Table

    own, other = result.totals, result.by_allowance.totals
    ladder, allowed = result.ladder, result.by_allowance.ladder
    table = Table(title="Totals", title_justify="left", pad_edge=False, box=None)
    for title in ("", "unit", "planned", "by allowance", "difference"):
        table.add_column(title, justify="left" if title in ("", "unit") else "right", no_wrap=True)
    for words, unit, planned, by_allowance in (
        ("Cost, total including tax", "currency", ladder.total_inc_tax, allowed.total_inc_tax),
        ("Measured works", "currency", ladder.measured_works, allowed.measured_works),
        ("Upfront carbon, A1-A5", "kgCO2e", own.upfront, other.upfront),
        ("of which wastage, A5", "kgCO2e", own.a5_wastage or 0.0, other.a5_wastage or 0.0),
        ("Mass lost as wastage", "kg", own.mass_wastage, other.mass_wastage),
    ):
        table.add_row(
            words,
            unit_text(unit, job.project.currency),
            figure(planned, unit),
            figure(by_allowance, unit),
            change(planned - by_allowance),
        )
    return table
