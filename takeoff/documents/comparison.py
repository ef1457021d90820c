"""The comparison report for the architect: one page for screen and paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.compare.parity import shortfalls_of_all
from takeoff.compare.savings import Savings, savings
from takeoff.compare.uncertainty import Uncertainty
from takeoff.documents.charts import grouping_words
from takeoff.documents.cutting_appendix import cutting_appendix
from takeoff.documents.decisions import decisions_table, findings
from takeoff.documents.fabric_sections import fabric_section
from takeoff.documents.fonts import TYPE_HERE, with_type
from takeoff.documents.glance import glance, sentence
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
from takeoff.documents.page_contents import contents_of
from takeoff.documents.page_data import page_json
from takeoff.documents.palettes import palettes_shown
from takeoff.documents.parity_words import MARK, Missed, noted, short_note, with_marks
from takeoff.documents.report_charts import carbon_by_element, cost_against_carbon, cost_by_element
from takeoff.documents.report_drawings import report_drawings
from takeoff.documents.report_notes import (
    assumptions,
    caution_groups,
    factors_table,
    not_covered,
    sources_list,
    used_materials,
)
from takeoff.documents.report_tables import (
    ReportTable,
    allowances_table,
    elements_table,
    framing_table,
    ladder_table,
    options_table,
    per_m2_table,
)
from takeoff.documents.room_tables import internal_walls_table, rooms_table
from takeoff.documents.savings_section import ORDER_WORDS, savings_shown
from takeoff.documents.template_files import environment
from takeoff.model.job import Job

_PAPER_WIDTH = 180.0
_CONTENTS_HERE = "<!-- contents -->"


def comparison_page(
    job: Job, results: Sequence[Result], ranges: Uncertainty, saved: Savings | None = None
) -> str:
    """Return the comparison report as one HTML page that needs nothing else.

    `saved` are the savings of the job, found here where they are not given.
    """
    missed = shortfalls_of_all(job, results)
    saved = saved or savings(job, results, ranges)
    shown = savings_shown(saved, job.project.currency, missed, paper_width_mm=_PAPER_WIDTH)
    page_data = page_json(job, results, ranges, missed)
    results, ranges = with_marks(results, ranges, missed)
    note = short_note(missed)
    context = noted(
        {
            **_context(job, results, ranges, missed),
            "savings": shown,
            "savings_order": ORDER_WORDS,
            "page_data": page_data,
            "parity_mark": MARK,
            "parity_note": note,
        },
        note,
    )
    page = (
        environment()
        .get_template("comparison.html")
        .render(**context, type_here=TYPE_HERE, contents_here=_CONTENTS_HERE)
    )
    contents = environment().get_template("page_contents.html").render(contents=contents_of(page))
    return with_type(page.replace(_CONTENTS_HERE, contents, 1))


def _context(job: Job, results: Sequence[Result], ranges: Uncertainty, missed: Missed) -> dict[str, Any]:
    """Return everything the template shows, as ready text and pictures."""
    base = results[0]
    currency = job.project.currency
    materials = used_materials(results)
    return {
        "project": job.project,
        "title": f"{job.project.name}: comparison of options",
        "glance": glance(job, base, ranges),
        "sentence": sentence(results, ranges, currency),
        "decisions": decisions_table(results, ranges, currency),
        "findings": findings(results, ranges),
        "palettes": palettes_shown(results, currency, paper_width_mm=_PAPER_WIDTH),
        "options": options_table(results, currency),
        "figures": per_m2_table(results, currency),
        "fabric": fabric_section(job, results, missed),
        "drawings": report_drawings(job, base, paper_width_mm=_PAPER_WIDTH),
        "cost_by_element": cost_by_element(results, currency, paper_width_mm=_PAPER_WIDTH),
        "carbon_by_element": carbon_by_element(results, paper_width_mm=_PAPER_WIDTH),
        "scatter": cost_against_carbon(results, currency, paper_width_mm=_PAPER_WIDTH),
        "grouping": grouping_words(),
        "by_element": elements_table(base, currency),
        "ladder": ladder_table(base, currency),
        "allowances": allowances_table(base, currency),
        "framing": framing_table(base),
        "rooms": rooms_table(base),
        "internal_walls": internal_walls_table(base),
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
        "sources": sources_list(job, results),
        "base_name": base.option.name,
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
