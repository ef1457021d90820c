"""The sections of the report about the thermal fabric, as everything the template shows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from takeoff.compare.evaluate import Result
from takeoff.documents.fabric_tables import (
    conductivities_table,
    envelope_table,
    framing_cost_table,
    heat_loss_table,
    layers_table,
    u_text,
)
from takeoff.documents.member_tables import (
    flags_table,
    grades_table,
    members_table,
    practices_table,
)
from takeoff.documents.parity_words import Missed, parity_table
from takeoff.documents.wording import change, number, percent
from takeoff.model.fabric import FABRIC_ELEMENTS
from takeoff.model.job import Job


def fabric_section(job: Job, results: Sequence[Result], missed: Missed) -> dict[str, Any]:
    """Return tables and sentences about the fabric: `results` carry marked names, `missed` plain ones."""
    base = results[0]
    return {
        "sentence": _sentence(job, results, missed),
        "parity": parity_table(missed),
        "options": (heat_loss_table(results), envelope_table(results)),
        "framing": framing_cost_table(base),
        "layers": layers_table(base),
        "conductivities": conductivities_table(job, results),
        "not_assessed": list(base.fabric.not_assessed),
        "flags": flags_table(results),
        "members": members_table(base),
        "practices": practices_table(results),
        "grades": grades_table(job),
    }


def _sentence(job: Job, results: Sequence[Result], missed: Missed) -> str:
    """Return in two sentences how many options fall short, and what the sticks cost in the base."""
    base = results[0]
    short = sum(1 for falls in missed.values() if falls)
    fabric = job.fabric
    targets = [fabric.target(element) for element in FABRIC_ELEMENTS]
    if fabric.heat_loss_limit is None and targets == [None] * len(targets):
        first = "No target is set in the sheet Fabric, so no option can fall short."
    elif not short and any(result.fabric.not_assessed for result in results):
        first = "No option is known to fall short, but some U-values are not assessed."
    elif not short:
        every = "The one option meets" if len(results) == 1 else f"All {len(results)} options meet"
        first = f"{every} the targets of the sheet Fabric."
    else:
        verb = "falls" if short == 1 else "fall"
        first = f"{short} of {len(results)} options {verb} short of the targets of the sheet Fabric."
    cost = base.fabric.cost_of_framing
    if cost is None:
        return first
    walls = base.fabric.u_value("external walls")
    return (
        f"{first} In the base, {base.option.name}, the external walls are "
        f"{percent(base.measured.framing_fraction)} timber and have a U-value of {u_text(walls)} W/(m²K); against the "
        f"shares usually assumed, the sticks of the whole house cost {change(cost, 1)} W/K of "
        f"{number(base.fabric.transmission or 0.0, 1)}."
    )
