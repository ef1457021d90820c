"""The sections of the report about the whole life and about ranges, as everything the template shows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty import Uncertainty
from takeoff.documents.life_cycle_charts import (
    carbon_by_module,
    carbon_over_time,
    cost_over_time,
    difference_charts,
    tornado_charts,
)
from takeoff.documents.life_cycle_tables import (
    allowances_on_carbon_table,
    biogenic_table,
    claddings_table,
    coverage_table,
    exposure_table,
    materials_table,
    modules_table,
    years_table,
)
from takeoff.documents.range_tables import differences_table, inputs_without_range, ranges_table
from takeoff.documents.wording import number
from takeoff.model.job import Job


def whole_life(job: Job, results: Sequence[Result], *, paper_width_mm: float) -> dict[str, Any]:
    """Return charts and tables of carbon and upkeep over the study period."""
    base = results[0]
    tables = (
        modules_table(job, base),
        coverage_table(base),
        materials_table(job, base),
        exposure_table(base),
        claddings_table(results, job.project.currency),
        biogenic_table(job, base),
        years_table(job, base),
    )
    return {
        "modules": carbon_by_module(job, results, paper_width_mm=paper_width_mm),
        "over_time": (
            carbon_over_time(job, results, paper_width_mm=paper_width_mm),
            cost_over_time(job, results, paper_width_mm=paper_width_mm),
        ),
        "tables": [table for table in tables if table is not None],
        "allowances": allowances_on_carbon_table(job, base),
    }


def how_sure(job: Job, ranges: Uncertainty, *, paper_width_mm: float) -> dict[str, Any]:
    """Return charts and tables of the ranges of totals and differences."""
    return {
        "charts": difference_charts(ranges, job.project.currency, paper_width_mm=paper_width_mm),
        "tornadoes": tornado_charts(ranges, job.project.currency, paper_width_mm=paper_width_mm),
        "ranges": ranges_table(ranges, job.project.currency),
        "differences": differences_table(ranges, job.project.currency),
        "draws": number(ranges.draws),
        "without_range": inputs_without_range(ranges),
    }
