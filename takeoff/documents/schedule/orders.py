"""The sheets Order list and Cutting list: what is bought, and how lengths and sheets are cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, cast

from takeoff.compare.evaluate import Result
from takeoff.documents.cutting_list_csv import cutting_list_table
from takeoff.documents.order_list_csv import order_list_table
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, Total, Value, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.job import Job

ORDER, CUTTING = "Order list", "Cutting list"
ORDER_HELP = (
    "What is bought, in {currency}: count x price, delivered, excluding tax, sundries and labour apart. Rests of the "
    "last roll or pack are bought but left for other work; the bill does not pay for them. A changed count or price "
    "changes the rates of items whose sizes have prices of their own; the count does not follow a changed dimension, "
    "for which the cutting plan has to be made anew."
)
CUTTING_HELP = (
    "How lengths and sheets are cut: pieces of one pattern are cut alike. Sizes in m. Total: length of the piece times "
    "how many are cut alike. The last column takes part in the controls."
)
_ORDER = (
    Column(key="plan", title="Plan", width=6, look="count", name="Order_plan"),
    Column(key="material", title="Material", width=36),
    Column(key="section", title="Section", width=13, look="small"),
    Column(key="sold_by", title="Sold by", width=12),
    Column(key="length", title="Length", width=8, look="dimension"),
    Column(key="width", title="Width", width=8, look="dimension"),
    Column(key="contents", title="Contents", width=10, look="small"),
    Column(key="count", title="Count", width=9, look="quantity", role="input"),
    Column(key="count_unit", title="", width=5),
    Column(key="each", title="Each holds", width=9, look="quantity", role="input"),
    Column(
        key="amount",
        title="Amount",
        width=10,
        look="quantity",
        role="computed",
        formula="=[count]*[each]",
        name="Order_amount",
    ),
    Column(key="unit", title="Unit", width=5),
    Column(key="price", title="Price of one", width=10, look="rate", role="input"),
    Column(
        key="cost",
        title="Cost",
        width=11,
        look="money",
        role="computed",
        formula="=[count]*[price]",
        name="Order_cost",
    ),
    Column(key="basis", title="Basis", width=14, look="small"),
    Column(key="rule", title="How it follows", width=36, look="small"),
    Column(key="items", title="For items", width=18, look="small"),
)
_CUTTING = (
    Column(key="plan", title="Plan", width=6, look="count"),
    Column(key="material", title="Material", width=34),
    Column(key="stock_length", title="From, length", width=8, look="dimension"),
    Column(key="stock_width", title="From, width", width=8, look="dimension"),
    Column(key="pattern", title="Pattern", width=8, look="count"),
    Column(key="alike", title="Cut alike", width=7, look="count", role="input"),
    Column(key="sheets", title="Sheets", width=10, look="small"),
    Column(key="marks", title="Piece marks", width=30, look="small"),
    Column(key="part", title="Part", width=8, look="small"),
    Column(key="length", title="Length", width=8, look="dimension", role="input"),
    Column(key="width", title="Width", width=8, look="dimension"),
    Column(
        key="total",
        title="Total",
        width=9,
        look="quantity",
        role="computed",
        formula="=[alike]*[length]",
        name="Cut_total",
    ),
    Column(key="face", title="Face", width=20, look="small"),
    Column(key="offcut", title="Offcut of each", width=8, look="dimension"),
    Column(key="item", title="Item", width=6, look="count", name="Cut_item"),
    Column(key="id", title="Id", width=30, look="small"),
)


def plain(value: Any) -> Value:
    """Return a cell of a table as a plain value, None for what is missing."""
    if isinstance(value, str):
        return value
    return None if value is None or not _is_number(value) else float(value)


def _is_number(value: Any) -> bool:
    """Whether a cell of a table holds a number."""
    try:
        return math.isfinite(float(value))
    except (TypeError, ValueError):
        return False


def write_order_list(paper: Paper, job: Job, result: Result, rows: Sequence[BillRow], *, footer: str) -> None:
    """Write the sheet Order list."""
    numbers = {row.id: row.number for row in rows}
    lines: list[Line | Total] = []
    records = cast("list[dict[str, Any]]", order_list_table(job, [result]).to_dict("records"))
    for record in records:
        values = {column.key: plain(record.get(column.key)) for column in _ORDER}
        count = values["count"]
        assert isinstance(count, float)
        amount = values["amount"]
        values["each"] = float(amount) / count if isinstance(amount, float) and count else 0.0
        price = values["price"]
        values["cost"] = price * count if isinstance(price, float) else 0.0
        values["items"] = ", ".join(str(numbers[id]) for id in str(record["items"]).split())
        lines.append(Line(values))
    cost = sum(float(line.values["cost"] or 0.0) for line in lines if isinstance(line, Line))
    lines.append(Total("All that is bought", {"cost": "cost"}, {"cost": cost}, whole=True))
    sheet = new_sheet(paper, ORDER, ORDER_HELP.format(currency=job.project.currency), _ORDER)
    placed = write_table(paper, sheet, HEADER_ROW, _ORDER, lines)
    finish(sheet, _ORDER, footer=footer, last=placed.last, frozen=2, filtered=True)


def write_cutting_list(paper: Paper, result: Result, rows: Sequence[BillRow], *, footer: str) -> None:
    """Write the sheet Cutting list."""
    numbers = {row.id: row.number for row in rows}
    records = cast("list[dict[str, Any]]", cutting_list_table([result]).to_dict("records"))
    sheet = new_sheet(paper, CUTTING, CUTTING_HELP, _CUTTING)
    placed = write_table(paper, sheet, HEADER_ROW, _CUTTING, [_cut(record, numbers) for record in records])
    finish(sheet, _CUTTING, footer=footer, last=placed.last, frozen=2, filtered=True)


def _cut(record: dict[str, Any], numbers: dict[str, int]) -> Line:
    """Return the row of one piece."""
    values = {column.key: plain(record.get(column.key)) for column in _CUTTING}
    alike, length = values["alike"], values["length"]
    assert isinstance(alike, float)
    assert isinstance(length, float)
    id = str(record["item"])
    return Line({**values, "total": alike * length, "item": numbers[id], "id": id})
