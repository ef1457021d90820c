"""The sheet Schedule: the bill, its sections with their totals, and beside it what the formulas need of each item."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal

from takeoff.documents.schedule.bill_rows import BillRow, by_trade
from takeoff.documents.schedule.grid import Column, Line, Paper, Placed, Row, Section, Total, write_table
from takeoff.documents.schedule.looks import Look
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.documents.schedule.words import DIGITS

TITLE, TITLE_BY_TRADE = "Schedule", "Schedule by trade"
HELP = (
    "Quantities net as fixed in position, in {currency}, excluding tax. The quantity is rounded in this column alone: "
    "amounts come of the full net quantity and rate, so that they add up with everything else in this workbook. "
    "Columns right of the printed ones hold what the formulas use. To add an item, insert a row above the end of its "
    "section and copy the row above into it."
)
HELP_BY_TRADE = (
    "The same items regrouped by trade, in {currency}; each figure is fetched from the schedule by the number of "
    "its item."
)
_PARTS = ("material", "labour", "plant", "stated")


def _money(key: str, title: str, formula: str, name: str = "") -> Column:
    """Return a computed column of money."""
    return Column(key=key, title=title, width=12, look="money", role="computed", formula=formula, name=name)


COLUMNS = (
    Column(key="item", title="Item", width=6, look="count", name="Bill_item"),
    Column(key="id", title="Id", width=30, look="small", name="Bill_id"),
    Column(key="description", title="Description", width=46),
    Column(key="location", title="Location", width=18, look="small"),
    Column(key="group", title="Trade", width=13, look="small"),
    Column(key="status", title="Status", width=10, look="small"),
    Column(key="unit", title="Unit", width=6),
    Column(
        key="quantity",
        title="Quantity",
        width=10,
        look="quantity",
        role="computed",
        formula="=ROUND(ROUND([net]*[per_net]/[step],Digits),Nil)*[step]",
        name="Bill_quantity",
    ),
    Column(
        key="rate",
        title="Rate",
        width=11,
        look="rate",
        role="computed",
        formula="=[net_rate]/[per_net]",
        name="Bill_rate",
    ),
    _money("amount", "Amount", "=[net]*[net_rate]", "Bill_amount"),
    Column(key="section", title="Section", width=13, look="money", role="computed", name="Bill_section"),
    *(
        _money(
            key,
            title,
            f"=[net]*SUMIFS(Rate_{key},Rate_item,[item])",
            f"Bill_{key}",
        )
        for key, title in (
            ("material", "Material only"),
            ("labour", "Labour only"),
            ("plant", "Plant only"),
            ("stated", "Stated whole"),
        )
    ),
    Column(key="element", title="Element", width=18, look="small", name="Bill_element"),
    Column(key="trade", title="Trade", width=18, look="small", name="Bill_trade"),
    Column(key="kind", title="Kind", width=14, look="small", name="Bill_kind"),
    Column(key="by", title="Measured by", width=9, look="small"),
    Column(key="drawings", title="Drawing and revision", width=20, look="small"),
    Column(
        key="measured",
        title="Measured",
        width=11,
        look="quantity",
        role="computed",
        formula="=SUMIFS(Dim_squaring,Dim_item,[item])",
        name="Bill_measured",
    ),
    Column(
        key="net",
        title="Net",
        width=11,
        look="quantity",
        role="computed",
        formula="=[measured]*(Whole-COUNTIFS(Over_item,[item],Over_figure,Word_quantity))"
        "+SUMIFS(Over_value,Over_item,[item],Over_figure,Word_quantity)",
        name="Bill_net",
    ),
    Column(key="net_unit", title="Unit of net", width=7),
    Column(
        key="net_rate",
        title="Rate of net",
        width=11,
        look="rate",
        role="computed",
        formula="=SUMIFS(Rate_total,Rate_item,[item])",
        name="Bill_net_rate",
    ),
    Column(key="per_net", title="Billed by net", width=9, look="factor", role="input"),
    Column(key="step", title="Rounded to", width=9, look="factor", role="input"),
    Column(key="metres", title="Section, m2", width=9, look="factor", name="Bill_section_area"),
    Column(key="free", title="Costs nothing", width=9, look="count", role="input", name="Bill_free"),
    Column(key="control", title="For control", width=14, look="small", name="Bill_control"),
)
_PRINTED = 15
_FETCHED: tuple[tuple[str, str, Look], ...] = (
    ("quantity", "Quantity", "quantity"),
    ("rate", "Rate", "rate"),
    ("amount", "Amount", "money"),
)
BY_TRADE = (
    Column(key="item", title="Item", width=6, look="count"),
    Column(key="id", title="Id", width=30, look="small"),
    Column(key="description", title="Description", width=46),
    Column(key="location", title="Location", width=18, look="small"),
    Column(key="group", title="Element", width=13, look="small"),
    Column(key="unit", title="Unit", width=6),
    *(
        Column(
            key=key,
            title=title,
            width=12,
            look=look,
            role="computed",
            formula=f"=SUMIFS(Bill_{key},Bill_item,[item])",
            name="Trade_amount" if key == "amount" else "",
        )
        for key, title, look in _FETCHED
    ),
    Column(key="section", title="Section", width=13, look="money", role="computed"),
)


def write_bill(
    paper: Paper,
    rows: Sequence[BillRow],
    controls: dict[str, str],
    *,
    by_trade_first: bool,
    currency: str,
    footer: str,
) -> Placed:
    """Write the sheet; `controls` tag items by id for the sheet Checks."""
    title = next(i for i, column in enumerate(COLUMNS) if column.key == "group")
    columns = list(COLUMNS)
    if by_trade_first:
        columns[title] = Column(key="group", title="Element", width=13, look="small")
    section = _trade if by_trade_first else _element
    group = _element if by_trade_first else _trade
    sheet = new_sheet(paper, TITLE, HELP.format(currency=currency), columns)
    lines = _sections(
        rows,
        section,
        lambda row: {**bill_values(row), "group": group(row), "control": controls.get(row.id, "")},
    )
    placed = write_table(paper, sheet, HEADER_ROW, columns, list(lines))
    finish(sheet, columns, footer=footer, last=placed.last, printed=_PRINTED, frozen=3, filtered=True)
    return placed


def write_bill_by_trade(paper: Paper, rows: Sequence[BillRow], *, currency: str, footer: str) -> None:
    """Write the sheet that regroups the bill by trade."""
    sheet = new_sheet(paper, TITLE_BY_TRADE, HELP_BY_TRADE.format(currency=currency), BY_TRADE)
    lines = _sections(by_trade(rows), _trade, lambda row: {**bill_values(row), "group": row.element})
    placed = write_table(paper, sheet, HEADER_ROW, BY_TRADE, list(lines))
    finish(sheet, BY_TRADE, footer=footer, last=placed.last, frozen=3, filtered=True)


def _element(row: BillRow) -> str:
    """Return the element of a row."""
    return row.element


def _trade(row: BillRow) -> str:
    """Return the trade of a row."""
    return row.trade


def _sections(
    rows: Sequence[BillRow],
    section: Callable[[BillRow], str],
    values: Callable[[BillRow], dict[str, str | float | None]],
) -> Iterator[Row]:
    """Yield the bill section by section, each with its total, and the total of all at the end."""
    names = list(dict.fromkeys(section(row) for row in rows))
    for name in names:
        members = [row for row in rows if section(row) == name]
        yield Section(name.capitalize(), new_page=True)
        for row in members:
            yield Line(values(row))
        amount = sum(row.line.cost for row in members)
        parts = {key: sum(_part(row, key) for row in members) for key in _PARTS}
        yield Total(
            f"{name.capitalize()}, total",
            {"section": "amount", **{key: key for key in _PARTS}},
            {"section": amount, **parts},
        )
    total = sum(row.line.cost for row in rows)
    yield Total("All sections", {"section": "section"}, {"section": total}, whole=True)


def _part(row: BillRow, key: str) -> float:
    """Return one part of the amount of an item."""
    rate = row.line.rate
    parts = {
        "material": rate.material + rate.sundries,
        "labour": rate.labour,
        "plant": rate.plant,
        "stated": rate.stated,
    }
    return parts[key] * row.line.quantity.net


def rounded(value: float, step: float) -> float:
    """Return a quantity rounded to a step, halves away from nothing.

    It is rounded to six digits of a step first: office programs differ in where they see a half that binary figures
    miss by their last digit.

    >>> rounded(31.495, 0.01), rounded(2.5, 1.0)
    (31.5, 3.0)
    """
    steps = Decimal(str(round(value / step, DIGITS))).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    return float(steps) * step


def bill_values(row: BillRow) -> dict[str, str | float | None]:
    """Return the cells of one item, by the keys of the columns."""
    line = row.line
    quantity, rate = line.quantity, line.rate.total
    values: dict[str, str | float | None] = {
        "item": row.number,
        "id": row.id,
        "description": description(row),
        "location": quantity.location,
        "status": row.status,
        "unit": row.unit,
        "quantity": rounded(quantity.net * row.per_net, row.step),
        "rate": rate / row.per_net,
        "amount": line.cost,
        "element": row.element,
        "trade": row.trade,
        "kind": row.kind,
        "by": row.measured_by,
        "drawings": row.drawings,
        "measured": row.measured,
        "net": quantity.net,
        "net_unit": quantity.unit,
        "net_rate": rate,
        "per_net": row.per_net,
        "step": row.step,
        # a rate of nothing that is known to be one, of energy on site or of what somebody has priced so
        "free": 1 if not rate and line.priced else None,
        "metres": quantity.section if quantity.unit == "m" and ".FR." in row.id else None,
    }
    return values | {key: _part(row, key) for key in _PARTS}


def description(row: BillRow) -> str:
    """Return the bill description, with what the quantity surveyor put in the place of what."""
    told = "; ".join(
        f"{applied.override.figure} overridden: {applied.override.reason}" for applied in row.line.overrides
    )
    return (
        f"{row.line.quantity.description}. {told[:1].upper()}{told[1:]}"
        if told
        else row.line.quantity.description
    )
