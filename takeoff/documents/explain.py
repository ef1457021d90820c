"""One figure walked back to the cells it came from: dimensions, order, rate and carbon of one item."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.explain_carbon import carbon_section
from takeoff.documents.explain_dimensions import dimensions_section
from takeoff.documents.explain_identity import identity_section, layers_of, where_section
from takeoff.documents.explain_ids import find_id
from takeoff.documents.explain_order import order_section, overrides_section, required_section
from takeoff.documents.explain_parts import Section
from takeoff.documents.explain_rate import rate_section
from takeoff.documents.explain_settings import SettingsBehind, settings_behind
from takeoff.documents.schedule.bill_rows import BillRow, bill_rows
from takeoff.model.allowance import Allowance
from takeoff.model.job import Job


def explanation(
    job: Job,
    result: Result,
    id: str,
    *,
    behind: SettingsBehind | None = None,
    rows: Sequence[BillRow] | None = None,
) -> tuple[Section, ...]:
    """Return how the figures of one item follow, section by section, with the workbook cells they came from.

    `id` is that of an item, or the beginning of that of one item alone, upper and lower case alike. `behind` are the
    settings that move the dimensions, `rows` those of the bill, both found here if not given. Raises NoSuchItemError
    where no item goes by it, or several do.
    """
    found = find_id([line.quantity.id for line in result.lines], id, result.option.name)
    line = next(line for line in result.lines if line.quantity.id == found)
    allowance = _allowance(result, found)
    made_of = layers_of(result, line.quantity)
    layer = made_of[0][1] if made_of else None
    material = job.library.materials.get(line.quantity.material)
    return tuple(
        section
        for section in (
            identity_section(job, result, line, made_of, allowance),
            dimensions_section(result, line, behind or settings_behind(job, result), layer, allowance),
            required_section(line, material),
            order_section(job, result, line, material),
            overrides_section(job, line),
            rate_section(job, result, line, layer, allowance),
            carbon_section(job, line, layer, allowance),
            where_section(result, line, rows or bill_rows(job, result)),
        )
        if section is not None
    )


def _allowance(result: Result, id: str) -> Allowance | None:
    """Return the allowance that an item is of, None for measured items."""
    for each in result.allowances:
        if any(line.quantity.id == id for line in each.lines):
            return each.allowance
    return None
