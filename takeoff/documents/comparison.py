"""The comparison report for the architect: one page for screen and paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.compare.parity import shortfalls_of_all
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.documents.charts import PARTS, by_part, grouping_words, scatter, stacked_bars
from takeoff.documents.cutting_appendix import cutting_appendix
from takeoff.documents.drawings import common_scale, elevation, plan
from takeoff.documents.fabric_sections import fabric_section
from takeoff.documents.fonts import FAMILY, embedded_fonts
from takeoff.documents.life_cycle_charts import benchmark_charts
from takeoff.documents.life_cycle_notes import benchmarks_table, end_of_life_table, lives_table
from takeoff.documents.life_cycle_sections import how_sure, whole_life
from takeoff.documents.order_tables import (
    both_ways_table,
    made_to_length_table,
    offcuts_table,
    order_list_table,
    planned_table,
)
from takeoff.documents.overrides_shown import overrides_table
from takeoff.documents.parity_words import MARK, Missed, noted, short_note, with_marks
from takeoff.documents.range_tables import printed, verdict_words
from takeoff.documents.report_notes import (
    assumptions,
    caution_groups,
    factors_table,
    not_covered,
    prices_table,
    sources_list,
    used_materials,
)
from takeoff.documents.report_tables import (
    ReportTable,
    allowances_table,
    changes_table,
    framing_table,
    groups_table,
    ladder_table,
    options_table,
    per_m2_table,
    quantities_tables,
)
from takeoff.documents.room_tables import internal_walls_table, rooms_table
from takeoff.documents.template_files import environment
from takeoff.documents.wording import change, number, percent, to_nearest
from takeoff.measure.floor_areas import cladding_depths
from takeoff.measure.walls import wall_inset
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.model.life_cycle import module_words

_PAPER_WIDTH = 180.0
# Costs are shown to the nearest 1,000 in running text: an early estimate knows no more.
_ABOUT = to_nearest(1000)
# A difference below this share of the base is called small: no early decision hangs on it. Common practice, no source.
_SMALL = 0.01


def comparison_page(job: Job, results: Sequence[Result], ranges: Uncertainty) -> str:
    """Return the comparison report as one HTML page that needs nothing else."""
    missed = shortfalls_of_all(job, results)
    results, ranges = with_marks(results, ranges, missed)
    note = short_note(missed)
    context = noted(
        {**_context(job, results, ranges, missed), "parity_mark": MARK, "parity_note": note}, note
    )
    template = environment().get_template("comparison.html")
    # set once without the fonts, to know which signs they need
    signs = template.render(**context, fonts=[], font_family=FAMILY)
    return template.render(**context, fonts=embedded_fonts(signs), font_family=FAMILY)


def _context(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> dict[str, Any]:
    """Return everything the template shows, as ready text and pictures."""
    base = results[0]
    currency = job.project.currency
    materials = used_materials(results)
    return {
        "project": job.project,
        "title": f"{job.project.name}: comparison of options",
        "glance": _glance(job, base, ranges),
        "sentence": _sentence(results, ranges, currency),
        "changes": changes_table(results),
        "options": options_table(results, currency),
        "figures": per_m2_table(results, currency),
        "fabric": fabric_section(job, results, missed),
        "drawings": _drawings(job, base),
        "charts": _charts(results, currency),
        "grouping": grouping_words(),
        "by_element": groups_table(base, "element", currency),
        "by_trade": groups_table(base, "trade", currency),
        "ladder": ladder_table(base, currency),
        "allowances": allowances_table(base, currency),
        "framing": framing_table(base),
        "rooms": rooms_table(base),
        "internal_walls": internal_walls_table(base),
        "quantities": quantities_tables(base, currency),
        "ordering": _ordering(job, base),
        "overrides": overrides_table(results, currency),
        "cutting": cutting_appendix(base, job.library, paper_width_mm=_PAPER_WIDTH),
        "made_to_length": made_to_length_table(base),
        "offcuts": offcuts_table(base),
        "assumptions": assumptions(job, base),
        "exclusions": not_covered(job, base),
        "cautions": caution_groups(results, list(missed.values())),
        "sure": how_sure(job, ranges, paper_width_mm=_PAPER_WIDTH),
        "whole_life": whole_life(job, results, paper_width_mm=_PAPER_WIDTH),
        "beside": benchmark_charts(job, results, ranges, paper_width_mm=_PAPER_WIDTH),
        "benchmarks": benchmarks_table(job, base),
        "factors": factors_table(job, results),
        "lives": lives_table(job, materials),
        "end_of_life": end_of_life_table(job, materials),
        "prices": prices_table(job, results),
        "sources": sources_list(job, results),
        "base_name": base.option.name,
    }


def _glance(job: Job, base: Result, ranges: Uncertainty) -> list[tuple[str, str, str]]:
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


def _sentence(results: Sequence[Result], ranges: Uncertainty, currency: str) -> str:
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


def _drawings(job: Job, base: Result) -> dict[str, Any]:
    """Return the plan and the four elevations of the base."""
    design, library, name = base.design, job.library, job.project.name
    cladding = cladding_depths(design, library)
    scale = common_scale(design, paper_width_mm=_PAPER_WIDTH)
    return {
        "plan": plan(
            design,
            library,
            wall_thickness_in=wall_inset(design, library),
            cladding_thickness=cladding,
            paper_width_mm=_PAPER_WIDTH,
            id_prefix="plan",
            name=name,
            inside=base.measured.inside,
        ),
        "elevations": [
            elevation(
                design,
                library,
                side,
                paper_width_mm=_PAPER_WIDTH,
                id_prefix=f"elevation-{side}",
                name=name,
                scale=scale,
            )
            for side in SIDES
        ],
        "palette": design.palette.name,
    }


def _ordering(job: Job, base: Result) -> list[ReportTable]:
    """Return the tables of what is bought; none where nothing is sold in known sizes."""
    if not base.plans:
        return []
    tables = (
        both_ways_table(base, job.project.currency),
        planned_table(base, job.library, job.project.currency),
        order_list_table(base),
    )
    return [table for table in tables if table is not None]


def _charts(results: Sequence[Result], currency: str) -> dict[str, Any]:
    """Return the charts: cost and carbon by element, and cost against carbon."""
    base = results[0].option.name
    costs = [
        (r.option.name, by_part({name: t.cost / 1000 for name, t in r.by_element.items()})) for r in results
    ]
    carbon = [
        (r.option.name, by_part({name: t.upfront / 1000 for name, t in r.by_element.items()}))
        for r in results
    ]
    # the same parts in both charts, though the carbon of some may not be assessed
    parts = [part for part in PARTS if any(values.get(part) for _, values in (*costs, *carbon))]
    return {
        "cost": stacked_bars(
            title=f"Works and sums by element, thousand {currency}",
            desc="Cost of the measured works and allowances of each option, stacked by element.",
            unit_label=f"works and sums before the percentages of the cost ladder, thousand {currency}",
            rows=costs,
            parts=parts,
            number_format=lambda value: number(value, 1),
            chosen=base,
            paper_width_mm=_PAPER_WIDTH,
            id_prefix="cost-bars",
        ),
        "carbon": stacked_bars(
            title="Upfront carbon A1-A5 by element, tCO₂e",
            desc="Upfront carbon of each option, stacked by element.",
            unit_label="upfront carbon A1-A5, tCO₂e",
            rows=carbon,
            parts=parts,
            number_format=lambda value: number(value, 1),
            chosen=base,
            paper_width_mm=_PAPER_WIDTH,
            id_prefix="carbon-bars",
        ),
        "scatter": scatter(
            title="Cost against upfront carbon",
            desc="Each option by its total cost and its upfront carbon; those that no other beats in both are "
            "joined.",
            points=[(r.option.name, r.ladder.total_inc_tax / 1000, r.totals.upfront / 1000) for r in results],
            x_label=f"cost including tax, thousand {currency}",
            y_label="upfront carbon A1-A5, tCO₂e",
            x_format=lambda value: number(value),
            y_format=lambda value: number(value, 1),
            chosen=base,
            paper_width_mm=_PAPER_WIDTH,
            id_prefix="scatter",
        ),
    }
