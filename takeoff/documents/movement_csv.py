"""A movement between two issues as a plain list: one row a line of the bill, one a step of the ladder."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.line_movement import MEASURES, LineMovement, amount_of
from takeoff.compare.movement import Movement, StepMovement
from takeoff.documents.movement_words import reason_text
from takeoff.documents.quantities_csv import csv_text, exact

if TYPE_CHECKING:
    from pandas import DataFrame

LADDER = "cost ladder"
COLUMNS: dict[str, str] = {
    "id": "stable id of the line; blank: a step of the cost ladder",
    "element": f"element of the line; {LADDER}: a step of it",
    "item": "short name of the line, or name of the step",
    "location": "where it is",
    "unit_old": "unit in the old bill; blank: no such line",
    "unit_new": "unit in the new bill; blank: no such line",
    "net_old": "net quantity in the old bill",
    "net_new": "net quantity in the new bill",
    "rate_old": "rate for one unit of net in the old bill",
    "rate_new": "rate for one unit of net in the new bill",
    **{
        f"{name}_{part}": words
        for name, what in (
            ("money", "money"),
            ("upfront", "carbon A1-A5 [kgCO2e]"),
            ("life_cycle", "life-cycle carbon [kgCO2e]"),
        )
        for part, words in (
            ("old", f"{what} in the old bill"),
            ("new", f"{what} in the new bill"),
            ("quantity", f"quantity movement in {what}"),
            ("rate", f"rate movement in {what}"),
            ("added", f"{what} added"),
            ("omitted", f"{what} omitted, negative"),
            ("ladder", f"ladder effect in {what}"),
            ("difference", f"all of these; the column adds up to the difference of the totals in {what}"),
        )
        if (name, part) not in (("upfront", "ladder"), ("life_cycle", "ladder"))
    },
    "reasons": "why it moved",
}


def movement_csv(movement: Movement) -> str:
    """Return the movement as CSV: every line of both bills, then the steps of the ladder."""
    return csv_text(_table(movement), exact)


def _table(movement: Movement) -> DataFrame:
    """Return the rows with the columns of `COLUMNS`."""
    from pandas import DataFrame

    rows = [*map(_line, movement.lines), *map(_step, movement.ladder)]
    return DataFrame(rows, columns=list(COLUMNS))


def _line(line: LineMovement) -> dict[str, object]:
    """Return the row of one line."""
    row: dict[str, object] = {
        "id": line.id,
        "element": line.shown.element,
        "item": line.shown.item,
        "location": line.shown.location,
        "reasons": reason_text(line),
    }
    for side, own in (("old", line.old), ("new", line.new)):
        if own is not None:
            row |= {f"unit_{side}": own.unit, f"net_{side}": own.net, f"rate_{side}": own.rate}
    for measure in MEASURES:
        name, shift = measure.replace(" ", "_"), line.shifts[measure]
        row |= {
            f"{name}_old": amount_of(line.old, measure),
            f"{name}_new": amount_of(line.new, measure),
            f"{name}_quantity": shift.quantity,
            f"{name}_rate": shift.rate,
            f"{name}_added": shift.added,
            f"{name}_omitted": shift.omitted,
            f"{name}_difference": shift.difference,
        }
    return row


def _step(step: StepMovement) -> dict[str, object]:
    """Return the row of one step of the ladder."""
    return {
        "element": LADDER,
        "item": step.name,
        "money_old": step.old,
        "money_new": step.new,
        "money_ladder": step.change,
        "money_difference": step.change,
        "reasons": "ladder",
    }
