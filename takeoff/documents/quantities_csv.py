"""The plain table of quantities: one row an item and option."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import TYPE_CHECKING

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.documents.option_flags import FLAGS_COLUMN, NO_FLAGS, FlagTexts
from takeoff.documents.overrides_shown import OVERRIDES_COLUMN, overrides_text

if TYPE_CHECKING:
    from pandas import DataFrame

COLUMNS: dict[str, str] = {
    "option": "name of the option",
    "id": "stable id of the item",
    "element": "element it belongs to",
    "trade": "trade that does it",
    "kind": "measured (in the measured works), provisional sum or prime-cost sum",
    "item": "short name",
    "material": "material as on the sheet Materials; blank: none",
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
    "rate_material": "material of the rate, with conversion and wastage",
    "rate_sundries": "fixings and sundries of the rate",
    "rate_labour": "labour of the rate",
    "rate_plant": "plant of the rate",
    "rate_stated": "rate that is stated whole, that of an allowance or an override; nothing of it is known but its sum",
    "cost": "net times rate, in the project's currency",
    "a1a3": "product stage [kgCO2e]; blank: not assessed",
    "a4": "transport to site [kgCO2e]; blank: not assessed",
    "a5_wastage": "wastage [kgCO2e]; blank: not assessed",
    "a5_site": "site work [kgCO2e]; blank: not assessed",
    "stored_co2": "biogenic carbon stored in what is built in, as CO2, negative [kgCO2]",
    "land_use": "land use and its change in A1-A3 [kgCO2e]; blank: not assessed",
    "b2": "maintenance over the study period, recoating among it [kgCO2e]; blank: not assessed",
    "b3": "repair over the study period [kgCO2e]; blank: not assessed",
    "b4": "replacement over the study period [kgCO2e]; blank: not assessed",
    "c1": "taking down [kgCO2e]; blank: not assessed",
    "c2": "transport at end of life [kgCO2e]; blank: not assessed",
    "c3": "processing of waste [kgCO2e]; blank: not assessed",
    "c4": "disposal [kgCO2e]; blank: not assessed",
    "d": "beyond the life of the house, never added [kgCO2e]; blank: not assessed",
    "released_co2": "stored carbon that leaves at the end of life, as CO2 [kgCO2]; blank: not assessed",
    "exposure": "exposure that its service life is for; blank: no service life",
    "service_life": "service life [years]; blank: none of its own",
    "renewed_with": "id of the item it is renewed with; blank: none",
    "renewals_whole": "renewals over the study period as they fall due, the share renewed at a time weighted",
    "renewals_annualised": "renewals by period / life - 1, the share renewed at a time weighted",
    "renewal_cost": "cost of one renewal of all of it, in the project's currency",
    "renewal_carbon": "carbon of one renewal of all of it [kgCO2e]; blank: not assessed",
    OVERRIDES_COLUMN[0]: OVERRIDES_COLUMN[1],
    FLAGS_COLUMN[0]: FLAGS_COLUMN[1],
}


def quantities_table(results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> DataFrame:
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
            line.quantity.material,
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
            line.rate.material,
            line.rate.sundries,
            line.rate.labour,
            line.rate.plant,
            line.rate.stated,
            line.cost,
            line.carbon.a1a3,
            line.carbon.a4,
            line.carbon.a5_wastage,
            line.carbon.a5_site,
            line.carbon.stored,
            line.carbon.land_use,
            line.carbon.b2,
            line.carbon.b3,
            line.carbon.b4,
            line.carbon.c1,
            line.carbon.c2,
            line.carbon.c3,
            line.carbon.c4,
            line.carbon.d,
            line.carbon.released,
            *_renewal(line),
            overrides_text(line),
            flags.get(result.option.name, ""),
        )
        for result in results
        for line in result.lines
    ]
    return DataFrame(rows, columns=list(COLUMNS))


def _renewal(line: Line) -> tuple[object, ...]:
    """Return the cells that say how an item is renewed, blank where it has no life and no layer it goes with."""
    renewal = line.renewal
    if renewal is None:
        return (None,) * 7
    return (
        renewal.exposure,
        renewal.life if math.isfinite(renewal.life) else None,
        renewal.host,
        renewal.whole,
        renewal.annualised,
        renewal.cost_each,
        renewal.carbon_each,
    )


def quantities_csv(results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> str:
    """Return the table as CSV text; `flags` are those of each option by name."""
    return csv_text(quantities_table(results, flags), exact)


def csv_text(table: DataFrame, number: Callable[[object], str] | None = None) -> str:
    """Return a table as CSV, numbers with up to six places unless `number` writes them otherwise.

    A text that a spreadsheet would take for a formula is quoted off.
    """
    for column in table.select_dtypes(exclude="number"):
        table[column] = table[column].map(as_text)
    return table.to_csv(index=False, lineterminator="\n", float_format=number or _plain)


def _plain(value: object) -> str:
    """Return a number with up to six places, without noughts at its end.

    >>> _plain(4.8), _plain(62.0), _plain(-0.0)
    ('4.8', '62', '0')
    """
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def exact(value: object) -> str:
    """Return a number with 15 significant digits, so that sums hold, without exponent or noughts at its end.

    >>> exact(4.8), exact(62.0), exact(-0.0), exact(1 / 30_000), exact(2e16)
    ('4.8', '62', '0', '0.0000333333333333333', '20000000000000000')
    """
    text = f"{Decimal(f'{value:.15g}'):f}"
    return "0" if text == "-0" else text


def as_text(value: object) -> object:
    """Return a text with an apostrophe before it where it begins like a formula."""
    if isinstance(value, str) and value[:1] in ("=", "+", "-", "@"):
        return f"'{value}"
    return value
