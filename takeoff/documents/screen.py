"""Tables for the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.compare.figures import FIGURES, differences, figures_of
from takeoff.compare.uncertainty import Uncertainty
from takeoff.documents.parity_words import Missed, marked_name
from takeoff.documents.range_tables import (
    FIGURE_WORDS,
    printed_change,
    share_words,
    shown_figures,
    unit_of,
)
from takeoff.documents.wording import figure, figure_change, number, quantity, unit_text
from takeoff.model.job import Job

if TYPE_CHECKING:
    from rich.table import Table

_ON_SCREEN = (
    "total_inc_tax",
    "total_inc_tax_per_m2_outside",
    "upfront_kgco2e",
    "upfront_kgco2e_per_m2_outside",
    "life_cycle_kgco2e",
    "stored_kgco2",
    "whole_life_cost",
    "mass_kg",
    "wastage_share",
    "frame_timber_m3",
    "frame_pieces",
    "framing_fraction",
    "heat_loss_w_per_k",
    "wall_gross_m2",
)


def quantities_screen(result: Result) -> Table:
    """Return the quantities of one option, by element."""
    from rich.table import Table

    table = Table(title=f"{result.option.name}: quantities", title_justify="left", pad_edge=False, box=None)
    for title, right in (
        ("id", False),
        ("item", False),
        ("unit", False),
        ("net", True),
        ("required", True),
        ("order", True),
    ):
        table.add_column(title, justify="right" if right else "left", overflow="fold", no_wrap=right)
    element = ""
    for line in result.lines:
        item = line.quantity
        if item.element_name != element:
            element = item.element_name
            table.add_row(f"[bold]{element}[/bold]", end_section=False)
        table.add_row(
            item.id,
            f"{item.item} ({line.sum_kind})" if line.sum_kind else item.item,
            item.unit,
            quantity(item.net, item.unit),
            quantity(item.required, item.unit),
            quantity(line.ordered.order, item.unit),
        )
    return table


def options_screen(job: Job, results: Sequence[Result], missed: Missed) -> Table:
    """Return the options side by side: the base in full, the others with their difference from it."""
    from rich.table import Table

    table = Table(title=f"{job.project.name}: options", title_justify="left", pad_edge=False)
    table.add_column("option", overflow="fold")
    figures = [f for f in FIGURES if f.key in _ON_SCREEN]
    for shown in figures:
        table.add_column(
            f"{_short(shown.key)}\n{unit_text(shown.unit, job.project.currency)}", justify="right"
        )
    base = results[0]
    for result in results:
        values, change = figures_of(result), differences(result, base)
        cells = [
            figure(values[f.key], f.unit)
            if result is base
            else f"{figure(values[f.key], f.unit)}\n{figure_change(change[f.key], f.unit)}"
            for f in figures
        ]
        table.add_row(marked_name(result.option.name, missed), *cells)
    return table


def differences_screen(job: Job, ranges: Uncertainty, missed: Missed) -> Table:
    """Return how sure the differences from the base are: P10 to P90 of each, and what can be said."""
    from rich.table import Table

    table = Table(
        title=f"Differences from {ranges.options[0].name}: P10 to P90 of {number(ranges.draws)} draws",
        title_justify="left",
        pad_edge=False,
    )
    table.add_column("option", overflow="fold")
    for key in shown_figures():
        table.add_column(f"{FIGURE_WORDS[key]}\n{unit_of(key, job.project.currency)}", justify="right")
    for option in ranges.options[1:]:
        cells = []
        for key in shown_figures():
            difference = option.differences[key]
            within = difference.range
            span = f"{printed_change(within.p10, key)} to {printed_change(within.p90, key)}"
            said = share_words(difference)
            if difference.verdict == "too close to call":
                said = f"too close to call, {said}"
            cells.append(difference.verdict if difference.verdict == "the same" else f"{span}\n{said}")
        table.add_row(marked_name(option.name, missed), *cells)
    return table


def _short(key: str) -> str:
    """Return a column title that fits a screen."""
    return {
        "total_inc_tax": "cost inc tax",
        "total_inc_tax_per_m2_outside": "cost",
        "upfront_kgco2e": "upfront A1-A5",
        "upfront_kgco2e_per_m2_outside": "upfront",
        "life_cycle_kgco2e": "life cycle",
        "stored_kgco2": "stored",
        "whole_life_cost": "cost and upkeep",
        "mass_kg": "mass",
        "wastage_share": "wastage",
        "frame_timber_m3": "framing",
        "frame_pieces": "pieces",
        "framing_fraction": "framing fraction",
        "heat_loss_w_per_k": "heat loss",
        "wall_gross_m2": "gross wall",
    }[key]
