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
    "unit": "unit of net, required and order",
    "net": "as fixed in position, measured from dimensions",
    "required": "net with laps, cover and pieces cut from whole width",
    "order": "what is bought: required with the wastage allowance",
    "order_rule": "how order follows from required",
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
    """Return the table as CSV text; a text that a spreadsheet would take for a formula is quoted off."""
    table = quantities_table(results)
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(as_text)
    return table.to_csv(index=False, lineterminator="\n", float_format="%.6f")


def as_text(value: object) -> object:
    """Return a text with an apostrophe before it where it begins like a formula."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return f"'{value}"
    return value
