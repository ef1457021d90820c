"""The sheets of the movement that have a row for every line of the bill: money, and carbon in two measures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.compare.line_movement import LineMovement, Measure, amount_of, known_amount, unit_amount
from takeoff.compare.movement import Movement
from takeoff.documents.movement_table import Column, Looks, Sheets, Value, write_lines
from takeoff.documents.movement_words import (
    AS_MEASURED,
    OVERRIDDEN,
    measure_title,
    one_sided_text,
    reason_text,
)
from takeoff.workbook.page_layout import set_up_page, write_heading
from takeoff.workbook.sheet_plan import HEADER_ROW

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.worksheet import Worksheet

LINES = "Lines"
CARBON_SHEETS: dict[Measure, str] = {"upfront": "Upfront carbon", "life cycle": "Life-cycle carbon"}
# The names of ranges begin with these.
PREFIX: dict[Measure, str] = {"money": "money", "upfront": "upfront", "life cycle": "life_cycle"}
ALL_LINES = "All lines"

_MEETS, _PARTS = "([unit_old]=[unit_new])", "([unit_old]<>[unit_new])"
_RATE_PARTS = ("material", "labour", "plant", "stated")


def _amounts(name: str, formulas: dict[str, str]) -> tuple[Column, ...]:
    """Return the columns of what moved, with their names and formulas."""
    titles = {
        "quantity": "Quantity movement",
        "rate": "Rate movement",
        "material": "of which material",
        "labour": "of which labour",
        "plant": "of which plant",
        "stated": "of which stated rates",
        "added": "Added",
        "omitted": "Omitted",
        "difference": "Difference",
    }
    return tuple(
        Column(
            key=key,
            title=titles[key],
            width=12,
            look="change",
            formula=formula,
            name=f"{name}_{key}",
            summed=True,
        )
        for key, formula in formulas.items()
    )


def _rates(side: str) -> tuple[Column, ...]:
    """Return the columns of a rate and its parts in one bill."""
    parts = [
        Column(key=f"{part}_{side}", title=f"{title}, {side}", width=10, look="amount")
        for part, title in zip(_RATE_PARTS, ("Material", "Labour", "Plant", "Stated rate"), strict=True)
    ]
    total = f"SUM([material_{side}]:[stated_{side}])"
    return (
        *parts,
        Column(key=f"rate_{side}", title=f"Rate, {side}", width=10, look="amount", formula=total),
    )


_LINE_COLUMNS: tuple[Column, ...] = (
    Column(key="id", title="Id", width=40),
    Column(key="element", title="Element", width=15, name="line_element"),
    Column(key="item", title="Item", width=26),
    Column(key="location", title="Location", width=20),
    Column(key="unit_old", title="Unit, old", width=7),
    Column(key="unit_new", title="Unit, new", width=7),
    Column(key="net_old", title="Net, old", width=10, look="net"),
    Column(key="net_new", title="Net, new", width=10, look="net"),
    *_rates("old"),
    *_rates("new"),
    *(
        Column(
            key=f"cost_{side}",
            title=f"Cost, {side}",
            width=12,
            look="amount",
            formula=f"[net_{side}]*[rate_{side}]",
            name=f"money_{side}",
            summed=True,
        )
        for side in ("old", "new")
    ),
    *_amounts(
        "money",
        {
            "quantity": f"{_MEETS}*([net_new]-[net_old])*[rate_old]",
            "rate": f"{_MEETS}*([rate_new]-[rate_old])*[net_new]",
            **{part: f"{_MEETS}*([{part}_new]-[{part}_old])*[net_new]" for part in _RATE_PARTS},
            "added": f"{_PARTS}*[cost_new]",
            "omitted": f"-{_PARTS}*[cost_old]",
            "difference": "[quantity]+[rate]+[added]+[omitted]",
        },
    ),
    Column(key="basis", title="Measured or overridden", width=12, name="line_basis"),
    Column(key="reasons", title="Reasons", width=24),
)
_HELP = (
    "Every line of both bills, matched on its id. Quantity movement: (new net - old net) x old rate. Rate movement: "
    "(new rate - old rate) x new net. A line of one bill only is added or omitted; one whose unit changed is both."
)


def write_money(
    book: Workbook, paper: Worksheet, looks: Looks, sheets: Sheets, movement: Movement, *, footer: str
) -> None:
    """Write the sheet of the lines in money."""
    title = f"{LINES}: {measure_title(movement, 'money')}"
    rows = [_money_row(line) for line in movement.lines]
    _write(book, paper, looks, sheets, _LINE_COLUMNS, rows, (title, _HELP, footer))


def _money_row(line: LineMovement) -> dict[str, Value]:
    """Return the values of one line in money."""
    row: dict[str, Value] = {
        "id": line.id,
        "element": line.shown.element,
        "item": line.shown.item,
        "location": line.shown.location,
        "basis": OVERRIDDEN if line.overridden else AS_MEASURED,
        "reasons": reason_text(line),
        **_moves(line, "money"),
        **{part: getattr(line.rates, part) for part in _RATE_PARTS},
    }
    for side, own in (("old", line.old), ("new", line.new)):
        row |= {f"cost_{side}": amount_of(own, "money"), f"rate_{side}": own.rate if own else 0.0}
        if own is not None:
            row |= {f"unit_{side}": own.unit, f"net_{side}": own.net}
            row |= {f"{part}_{side}": getattr(own, part) for part in _RATE_PARTS}
    return row


def _moves(line: LineMovement, measure: Measure) -> dict[str, Value]:
    """Return what one line moved by."""
    shift = line.shifts[measure]
    return {
        "quantity": shift.quantity,
        "rate": shift.rate,
        "added": shift.added,
        "omitted": shift.omitted,
        "difference": shift.difference,
    }


def _carbon_columns(measure: Measure) -> tuple[Column, ...]:
    """Return the columns of a sheet of carbon; units and net quantities are those of the sheet Lines."""
    name = PREFIX[measure]
    meets, parts = (text.replace("[", f"[{LINES}!") for text in (_MEETS, _PARTS))
    return (
        Column(key="id", title="Id", width=40),
        Column(key="item", title="Item", width=30),
        *(
            Column(
                key=f"net_{side}",
                title=f"Net, {side}",
                width=11,
                look="net",
                formula=f"[{LINES}!net_{side}]",
            )
            for side in ("old", "new")
        ),
        *(
            Column(
                key=side,
                title=f"kgCO2e, {side}",
                width=12,
                look="amount",
                name=f"{name}_{side}",
                summed=True,
            )
            for side in ("old", "new")
        ),
        *(
            Column(
                key=f"unit_{side}",
                title=f"kgCO2e for one unit, {side}",
                width=12,
                look="amount",
                formula=f"IF([net_{side}],[{side}]/[net_{side}],[net_{side}])",
            )
            for side in ("old", "new")
        ),
        *_amounts(
            name,
            {
                "quantity": f"{meets}*([net_new]-[net_old])*[unit_old]",
                "rate": f"{meets}*([unit_new]-[unit_old])*[net_new]",
                "added": f"{parts}*[new]",
                "omitted": f"-{parts}*[old]",
                "difference": "[quantity]+[rate]+[added]+[omitted]",
            },
        ),
        Column(key="assessed", title="Assessed", width=22),
    )


_CARBON_HELP = (
    "The lines of the sheet Lines in its order, kgCO2e for one unit of net in the place of the rate. A blank is not "
    "assessed and counts as nothing."
)


def write_carbon(
    book: Workbook,
    paper: Worksheet,
    looks: Looks,
    sheets: Sheets,
    movement: Movement,
    measure: Measure,
    *,
    footer: str,
) -> None:
    """Write the sheet of the lines in one measure of carbon."""
    rows: list[dict[str, Value]] = []
    for line in movement.lines:
        row: dict[str, Value] = {"id": line.id, "item": line.shown.item, **_moves(line, measure)}
        for side, own in (("old", line.old), ("new", line.new)):
            row |= {
                side: known_amount(own, measure),
                f"net_{side}": own.net if own else 0.0,
                f"unit_{side}": unit_amount(own, measure) if own else 0.0,
            }
        rows.append({**row, "assessed": one_sided_text(line, measure)})
    title = measure_title(movement, measure)
    _write(book, paper, looks, sheets, _carbon_columns(measure), rows, (title, _CARBON_HELP, footer))


def _write(
    book: Workbook,
    paper: Worksheet,
    looks: Looks,
    sheets: Sheets,
    columns: Sequence[Column],
    rows: Sequence[dict[str, Value]],
    words: tuple[str, str, str],
) -> None:
    """Write a sheet with a row a line: heading, table, totals, paper; `words` are its title, help and footer."""
    title, help, footer = words
    widths = [column.width for column in columns]
    write_heading(paper, looks.styles, title=title, help=help, widths=widths)
    total: dict[str, Value] = {
        column.key: sum(value for row in rows if isinstance(value := row.get(column.key), float))
        for column in columns
        if column.summed
    }
    last = write_lines(
        book, paper, looks, sheets, columns, rows, header=HEADER_ROW, total={"id": ALL_LINES, **total}
    )
    paper.freeze_panes(HEADER_ROW + 1, 1)
    set_up_page(paper, widths=widths, last_row=last, footer=footer, repeat=(HEADER_ROW, HEADER_ROW))
