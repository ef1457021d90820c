"""The tables of ranges: what the draws of every option come to, and its differences from the base."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.uncertainty import DRAWN_FIGURES, Difference, DrawnFigure, Range, Uncertainty
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import change, number, percent

FIGURE_WORDS: dict[DrawnFigure, str] = {
    "total_inc_tax": "Cost inc tax",
    "upfront_kgco2e": "Upfront carbon, A1-A5",
    "life_cycle_kgco2e": "Life-cycle carbon",
    "upkeep": "Upkeep",
    "whole_life_cost": "Cost and upkeep",
}
# Upkeep alone is within cost and upkeep, so the tables leave it to results.json.
_SHOWN: tuple[DrawnFigure, ...] = tuple(key for key in DRAWN_FIGURES if key != "upkeep")
_MONEY: tuple[DrawnFigure, ...] = ("total_inc_tax", "upkeep", "whole_life_cost")
_PERCENTILES = ("P10", "P50", "P90")


def shown_figures() -> tuple[DrawnFigure, ...]:
    """Return the figures that the tables show, in their order."""
    return _SHOWN


def unit_of(figure: DrawnFigure, currency: str) -> str:
    """Return the unit that a range is printed in: thousands of money, tonnes of carbon."""
    return f"thousand {currency}" if figure in _MONEY else "tCO₂e"


def printed(value: float) -> str:
    """Return an amount of currency or kgCO2e in thousands or tonnes, as a range prints it."""
    return number(value / 1000, 1)


def printed_change(value: float, figure: DrawnFigure) -> str:
    """Return a difference of currency or kgCO2e in thousands or tonnes, of carbon with one more place."""
    return change(value / 1000, 1 if figure in _MONEY else 2)


def ranges_table(ranges: Uncertainty, currency: str) -> ReportTable:
    """Return P10, P50 and P90 of the totals of every option."""
    rows = [
        Row(
            cells=(
                option.name,
                *(printed(value) for key in _SHOWN for value in _percentiles(option.figures[key])),
            ),
            chosen=place == 0,
        )
        for place, option in enumerate(ranges.options)
    ]
    return ReportTable(
        id="ranges",
        caption=f"Ranges of the totals, {number(ranges.draws)} draws",
        columns=(
            Column(title="Option", figures=False),
            *(
                Column(title=f"{FIGURE_WORDS[key]}, {name}", unit=unit_of(key, currency))
                for key in _SHOWN
                for name in _PERCENTILES
            ),
        ),
        rows=tuple(rows),
        note="One draw in ten lies below P10, half below P50, nine in ten below P90. Where many ranges reach further "
        "up than down, the totals do so together: P50 lies above the central figure. Drawn are carbon factors, "
        "prices, labour, quantities, allowances and service lives within their stated ranges; the accuracy of the "
        "stage and the allowances on carbon stand apart and are not in these ranges. Inputs of different names are "
        "drawn independently, so that a total of many varies less than the estimate as a whole: the accuracy of the "
        "stage is the range to quote.",
    )


def _percentiles(figures: Range) -> tuple[float, float, float]:
    """Return the three percentiles."""
    return figures.p10, figures.p50, figures.p90


def differences_table(ranges: Uncertainty, currency: str) -> ReportTable | None:
    """Return the differences of every option from the base with what can be said of them; None for one option."""
    rows = [
        _difference_row(option.name if key == _SHOWN[0] else "", key, option.differences[key], currency)
        for option in ranges.options[1:]
        for key in _SHOWN
    ]
    if not rows:
        return None
    return ReportTable(
        id="differences",
        caption=f"Differences from {ranges.options[0].name}, draw by draw",
        columns=(
            Column(title="Option", figures=False),
            Column(title="Figure", figures=False),
            Column(title="Central"),
            Column(title="P10"),
            Column(title="P50"),
            Column(title="P90"),
            Column(title="Lower in", unit="% of draws"),
            Column(title="Finding", figures=False),
            Column(title="If drawn apart, P10 to P90"),
        ),
        rows=tuple(rows),
        note="What two options share is drawn once for both, so that it cancels; the last column shows what would come "
        "out if it were drawn twice. Too close to call: P10 to P90 of the difference spans nought.",
    )


def _difference_row(option: str, key: DrawnFigure, difference: Difference, currency: str) -> Row:
    """Return the difference of one figure."""
    within = difference.range
    return Row(
        cells=(
            option,
            f"{FIGURE_WORDS[key]}, {unit_of(key, currency)}",
            *(printed_change(value, key) for value in (within.central, within.p10, within.p50, within.p90)),
            percent(difference.share_lower, 0).removesuffix(" %"),
            difference.verdict,
            f"{printed_change(difference.unpaired_p10, key)} to {printed_change(difference.unpaired_p90, key)}",
        )
    )


def share_words(difference: Difference) -> str:
    """Return in how many draws an option is lower, or higher where that is what can be said."""
    if difference.verdict == "higher":
        return f"higher in {percent(difference.share_higher, 0)}"
    return f"lower in {percent(difference.share_lower, 0)}"


def verdict_words(key: DrawnFigure, difference: Difference, currency: str) -> str:
    """Return in words how sure the difference in a figure is."""
    if difference.verdict == "the same":
        return "the same in every draw"
    within = difference.range
    ends = f"{printed_change(within.p10, key)} to {printed_change(within.p90, key)} {unit_of(key, currency)}"
    span = f"{ends}, {share_words(difference)} of draws"
    return (
        f"too close to call ({span})" if difference.verdict == "too close to call" else f"P10 to P90 {span}"
    )


def inputs_without_range(ranges: Uncertainty) -> str:
    """Return in a sentence for which inputs no range is stated; empty where there is none."""
    names: Sequence[str] = [known.label for known in ranges.without_range]
    if not names:
        return ""
    shown = ", ".join(names[:12])
    more = f" and {len(names) - 12} more" if len(names) > 12 else ""
    return f"No range is stated for {shown}{more}: they stay at their central values."
