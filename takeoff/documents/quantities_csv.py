"""The plain table of quantities: one row an item and option."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result

if TYPE_CHECKING:
    from pandas import DataFrame

COLUMNS: dict[str, str] = {
    "option": "name of the option",
    "id": "stable id of the item",
    "element": "element it belongs to",
    "trade": "trade that does it",
    "kind": "measured (in the measured works), provisional sum or prime-cost sum",
    "item": "short name",
    "description": "description as in the bill",
    "location": "where it is",
    "unit": "unit of net, required, order and charged",
    "net": "as fixed in position, measured from dimensions",
    "required": "net with laps, cover and pieces cut from whole width",
    "order": "what is bought; where several items are bought together, by share of required",
    "charged": "part of the order that money and carbon count; rests of the last roll or pack are left for other work",
    "order_basis": "what order follows from: cutting plan, sheet layout, cut to length, roll layout, whole units, "
    "wastage allowance, or as required",
    "order_rule": "how order follows from required: how it is cut or laid, or the allowance",
    "mass_kg": "mass of what is built in [kg]; blank: no mass known",
    "rate": "rate for one unit of net, in the project's currency",
    "cost": "net times rate, in the project's currency",
    "a1a3": "product stage [kgCO2e]; blank: not assessed",
    "a4": "transport to site [kgCO2e]; blank: not assessed",
    "a5_wastage": "wastage [kgCO2e]; blank: not assessed",
    "a5_site": "site work [kgCO2e]; blank: not assessed",
    "stored_co2": "biogenic carbon stored in what is built in, as CO2, negative [kgCO2]",
}


def quantities_table(results: Iterable[Result]) -> DataFrame:
    """Return the items of all given options as a table with the columns of `COLUMNS`."""
    from pandas import DataFrame

    rows = [
        (
            result.option.name,
            line.quantity.id,
            line.quantity.element_name,
            line.quantity.trade,
            line.sum_kind or "measured",
            line.quantity.item,
            line.quantity.description,
            line.quantity.location,
            line.quantity.unit,
            line.quantity.net,
            line.quantity.required,
            line.ordered.order,
            line.ordered.charged,
            line.ordered.basis,
            line.ordered.rule,
            line.mass,
            line.rate.total,
            line.cost,
            line.carbon.a1a3,
            line.carbon.a4,
            line.carbon.a5_wastage,
            line.carbon.a5_site,
            line.carbon.stored,
        )
        for result in results
        for line in result.lines
    ]
    return DataFrame(rows, columns=list(COLUMNS))


def quantities_csv(results: Iterable[Result]) -> str:
    """Return the table as CSV text."""
    return csv_text(quantities_table(results))


def csv_text(table: DataFrame) -> str:
    """Return a table as CSV; a text that a spreadsheet would take for a formula is quoted off."""
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(as_text)
    return table.to_csv(index=False, lineterminator="\n", float_format=_plain)


def _plain(value: object) -> str:
    """Return a number with up to six places, without noughts at its end.

    >>> _plain(4.8), _plain(62.0), _plain(-0.0)
    ('4.8', '62', '0')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def as_text(value: object) -> object:
    """Return a text with an apostrophe before it where it begins like a formula."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return f"'{value}"
    return value
