"""The first page of the report: the leading figures of the base, and what can be said of the options in a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.range_tables import printed, verdict_words
from takeoff.documents.wording import change, number, percent, to_nearest
from takeoff.model.job import Job
from takeoff.model.life_cycle import module_words

# Costs are shown to the nearest 1,000 in running text: an early estimate knows no more.
_ABOUT = to_nearest(1000)
# A difference below this share of the base is called small: no early decision hangs on it. Common practice, no source.
_SMALL = 0.01


def glance(job: Job, base: Result, ranges: Uncertainty) -> list[tuple[str, str, str]]:
    """Return the leading figures of the base: what, figure, remark."""
    currency, areas = job.project.currency, base.measured.areas
    total = base.ladder.total_inc_tax
    accuracy = job.library.accuracy.get(job.project.stage)
    between = (
        ""
        if accuracy is None
        else f"between {number(_ABOUT(total * (1 + accuracy.low)))} and "
        f"{number(_ABOUT(total * (1 + accuracy.high)))} at the stage {accuracy.stage} "
        f"({change(accuracy.low * 100)} / {change(accuracy.high * 100)} %)"
    )
    upfront = base.totals.upfront
    return [
        (
            "Cost, including tax",
            f"{number(_ABOUT(total))} {currency}",
            f"{between}; {number(total / areas.outside)} {currency}/m² outside, "
            f"{number(total / areas.inside)} {currency}/m² inside",
        ),
        (
            "Upfront carbon, A1-A5",
            f"{number(upfront / 1000, 1)} tCO₂e",
            f"{number(upfront / areas.outside)} kgCO₂e/m² outside, "
            f"{number(upfront / areas.inside)} kgCO₂e/m² inside, of what is assessed; "
            f"{_between(job, ranges, 'upfront_kgco2e')}",
        ),
        (
            f"Life-cycle carbon, {job.study.period:g} years",
            f"{number((base.life_cycle or 0.0) / 1000, 1)} tCO₂e",
            f"{module_words(job.study.modules)} of what is assessed; {_between(job, ranges, 'life_cycle_kgco2e')}",
        ),
        (
            f"Upkeep, {job.study.period:g} years",
            f"{number(_ABOUT(base.upkeep))} {currency}",
            f"renewals in money of the price date, discounted at {job.study.discount_rate * 100:g} % a year; assessed "
            f"for {percent(base.totals.upkeep_cover or 0.0, 0)} of the cost of items with material",
        ),
        (
            "Stored carbon, apart",
            f"{number(base.totals.stored / 1000, 1)} tCO₂",
            _let_go(job, base),
        ),
        (
            "Floor area",
            f"{number(areas.outside, 1)} m²",
            f"to the outside face of the frame; {number(areas.inside, 1)} m² to the inside faces"
            + (f", {number(areas.rooms, 1)} m² in the rooms, net of walls" if base.design.rooms else ""),
        ),
        (
            "Framing timber",
            f"{number(sum(m.volume for m in base.measured.timber), 2)} m³",
            f"{number(len(base.measured.members))} pieces; framing fraction of the external walls "
            f"{percent(base.measured.framing_fraction)}",
        ),
        (
            "Mass built in",
            f"{number(base.totals.mass / 1000, 1)} t",
            f"and {number(base.totals.mass_wastage / 1000, 1)} t lost as wastage"
            + (", of the items whose mass is known" if base.totals.mass_not_known else ""),
        ),
    ]


def _let_go(job: Job, base: Result) -> str:
    """Return what becomes of the stored carbon in the scenario of the study."""
    kept, scenario = base.totals.kept, job.study.end_of_life
    if kept is None:
        return f"in wood built in; its end of life is not assessed in full in the scenario {scenario}"
    if abs(kept) < 0.5:
        return f"in wood built in, released at its end of life in the scenario {scenario}"
    return (
        f"in wood built in; {number(-kept / 1000, 1)} t, with what renewals store, stays in a landfill for good in the "
        f"scenario {scenario}"
    )


def _between(job: Job, ranges: Uncertainty, key: DrawnFigure) -> str:
    """Return the range of a figure of the base in tonnes."""
    within = ranges.options[0].figures[key]
    span = f"P10 to P90 {printed(within.p10)} to {printed(within.p90)} t, P50 {printed(within.p50)} t"
    if within.p10 <= within.central <= within.p90:
        return span
    if within.central > within.p90:
        return f"{span}, for many ranges reach further down than up"
    whole = key == "life_cycle_kgco2e" and job.study.replacements == "whole"
    more = ", and shorter lives bring whole renewals" if whole else ""
    return f"{span}, for many ranges reach further up than down{more}"


def sentence(results: Sequence[Result], ranges: Uncertainty, currency: str) -> str:
    """Return in a sentence or two which options cost least and emit least, and how sure that is."""
    base = results[0]
    if len(results) == 1:
        return "There is one option only, so nothing to compare it with."
    cheapest = min(results, key=lambda r: r.ladder.total_inc_tax)
    leanest = min(results, key=lambda r: r.totals.upfront)
    cost = cheapest.ladder.total_inc_tax - base.ladder.total_inc_tax
    carbon = leanest.totals.upfront - base.totals.upfront
    lowest = min(results, key=lambda r: r.life_cycle or 0.0)
    first = (
        "No option costs less than the base"
        if cheapest is base
        else f"{cheapest.option.name} costs least, {change(_ABOUT(cost))} {currency} against the base, "
        + _how_sure(ranges, cheapest, "total_inc_tax", currency)
    )
    second = (
        "none has less upfront carbon"
        if leanest is base
        else f"{leanest.option.name} has the least upfront carbon, {_tonnes(carbon)}, "
        + _how_sure(ranges, leanest, "upfront_kgco2e", currency)
    )
    third = (
        "none has less life-cycle carbon"
        if lowest is base
        else f"{lowest.option.name} has the least life-cycle carbon, "
        f"{_tonnes((lowest.life_cycle or 0.0) - (base.life_cycle or 0.0))}, "
        + _how_sure(ranges, lowest, "life_cycle_kgco2e", currency)
    )
    return f"{first}; {second}; {third}."


def _tonnes(amount: float) -> str:
    """Return a difference in tonnes, with two places where it is small."""
    return f"{change(amount / 1000, 1 if abs(amount) >= 950 else 2)} tCO₂e"


def _how_sure(ranges: Uncertainty, result: Result, key: DrawnFigure, currency: str) -> str:
    """Return in words how sure the difference of an option from the base is, and whether it is small."""
    difference = ranges.option(result.option.name).differences[key]
    words = verdict_words(key, difference, currency)
    whole = ranges.options[0].figures[key].central
    small = whole and abs(difference.range.central) < _SMALL * abs(whole)
    return f"{words}, under {percent(_SMALL, 0)} of the base" if small else words
