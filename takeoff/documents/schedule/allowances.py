"""The sheet Allowances: what is allowed for and not measured from the plan, each with the rate it is allowed at."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, Total, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet

TITLE = "Allowances"
HELP = (
    "What is allowed for and not measured from the plan, in {currency}. A provisional sum is supply and work, a "
    "prime-cost sum supply only: its fixing by the builder stands in a row of its own, among the measured works."
)
COLUMNS = (
    Column(key="item", title="Item", width=6, look="count", name="Allow_item"),
    Column(key="id", title="Id", width=30, look="small"),
    Column(key="name", title="Allowance", width=30),
    Column(key="description", title="Description", width=40),
    Column(key="kind", title="Kind", width=15),
    Column(
        key="quantity",
        title="Quantity",
        width=10,
        look="quantity",
        role="computed",
        formula="=SUMIFS(Bill_net,Bill_item,[item])",
    ),
    Column(key="unit", title="Unit", width=6),
    Column(key="rate", title="Rate", width=12, look="rate", role="input", name="Allow_rate"),
    Column(
        key="used",
        title="Rate used",
        width=12,
        look="rate",
        role="computed",
        formula="=SUMIFS(Rate_total,Rate_item,[item])",
    ),
    Column(
        key="amount",
        title="Amount",
        width=13,
        look="money",
        role="computed",
        formula="=SUMIFS(Bill_amount,Bill_item,[item])",
    ),
    Column(key="source", title="Source", width=22, look="small"),
    Column(key="note", title="Note", width=30, look="small"),
)


def write_allowances(
    paper: Paper, rows: Sequence[BillRow], result: Result, *, currency: str, footer: str
) -> None:
    """Write the sheet."""
    numbered = {row.id: row for row in rows}
    lines: list[Line | Total] = []
    amount = 0.0
    for each in result.allowances:
        for line in each.lines:
            row = numbered[line.quantity.id]
            stated = next(
                (a.was for a in row.line.overrides if a.override.figure == "rate"), row.line.rate.stated
            )
            amount += row.line.cost
            lines.append(
                Line(
                    {
                        "item": row.number,
                        "id": row.id,
                        "name": line.quantity.item,
                        "description": line.quantity.description,
                        "kind": row.kind if row.line.sum_kind else "firm",
                        "quantity": row.line.quantity.net,
                        "unit": line.quantity.unit,
                        "rate": stated,
                        "used": row.line.rate.total,
                        "amount": row.line.cost,
                        "source": each.allowance.source,
                        "note": each.allowance.note,
                    }
                )
            )
    lines.append(Total("Allowances", {"amount": "amount"}, {"amount": amount}, whole=True))
    sheet = new_sheet(paper, TITLE, HELP.format(currency=currency), COLUMNS)
    placed = write_table(paper, sheet, HEADER_ROW, COLUMNS, lines)
    finish(sheet, COLUMNS, footer=footer, last=placed.last, frozen=2)
