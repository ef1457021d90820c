"""The sheet Rates: each rate built up from price, conversion, laps, wastage, sundries, labour and plant."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.documents.schedule.price_base import PriceBase
from takeoff.model.library import Library

TITLE = "Rates"
HELP = (
    "Rates for one unit of net as measured, in {currency}: price x conversion x laps x wastage + sundries + hours x "
    "gang rate + plant. Laps: required by net. Wastage: what is bought beyond the required quantity, from cutting plan "
    "or allowance; it counts once, so not where the price allows for it. Columns material, labour, plant and stated "
    "are the parts of the composite rate; a rate that is overridden or allowed is stated whole."
)
_OVERRIDDEN = "COUNTIFS(Over_item,[item],Over_figure,{word})"
_OVERRIDE = "SUMIFS(Over_value,Over_item,[item],Over_figure,{word})"
COLUMNS = (
    Column(key="item", title="Item", width=6, look="count", name="Rate_item"),
    Column(key="id", title="Id", width=34, look="small"),
    Column(key="description", title="Item, in short", width=34),
    Column(key="unit", title="Unit", width=6),
    Column(key="price_number", title="Price, number", width=8, look="count"),
    Column(
        key="price",
        title="Price",
        width=11,
        look="rate",
        role="computed",
        formula="=SUMIFS(Price_used,Price_number,[price_number])",
    ),
    Column(key="per", title="Per", width=6),
    Column(key="conversion", title="Conversion", width=11, look="factor", role="input"),
    Column(key="laps", title="Laps", width=9, look="factor", role="input", name="Rate_laps"),
    Column(key="wastage", title="Wastage", width=9, look="share", role="input"),
    Column(
        key="used",
        title="Wastage used",
        width=9,
        look="share",
        role="computed",
        formula=f"=[wastage]*(Whole-{_OVERRIDDEN})+{_OVERRIDE}".format(word="Word_wastage"),
        name="Rate_wastage",
    ),
    Column(key="paid", title="Wastage paid besides", width=10, look="share", role="input"),
    Column(
        key="supply",
        title="Supply",
        width=11,
        look="rate",
        role="computed",
        formula="=[price]*[conversion]*[laps]*(Whole+[used]*[paid])",
    ),
    Column(
        key="sundries",
        title="Sundries",
        width=10,
        look="rate",
        role="computed",
        formula="=[supply]*SUMIFS(Price_sundries,Price_number,[price_number])",
    ),
    Column(key="work_number", title="Work, number", width=8, look="count"),
    Column(key="work_conversion", title="Conversion", width=11, look="factor", role="input"),
    Column(
        key="hours",
        title="Hours",
        width=9,
        look="factor",
        role="computed",
        formula="=SUMIFS(Work_hours,Work_number,[work_number])*[work_conversion]",
    ),
    Column(
        key="work",
        title="Work",
        width=10,
        look="rate",
        role="computed",
        formula="=[hours]*SUMIFS(Work_gang_rate,Work_number,[work_number])",
    ),
    Column(
        key="built",
        title="Built up",
        width=9,
        look="share",
        role="computed",
        formula=f"=Whole-{_OVERRIDDEN}".format(word="Word_rate"),
    ),
    Column(
        key="material",
        title="Material",
        width=11,
        look="rate",
        role="computed",
        formula="=([supply]+[sundries])*[built]",
        name="Rate_material",
    ),
    Column(
        key="labour",
        title="Labour",
        width=11,
        look="rate",
        role="computed",
        formula="=[work]*[built]",
        name="Rate_labour",
    ),
    Column(
        key="plant",
        title="Plant",
        width=10,
        look="rate",
        role="computed",
        formula="=SUMIFS(Work_plant,Work_number,[work_number])*[work_conversion]*[built]",
        name="Rate_plant",
    ),
    Column(
        key="stated",
        title="Stated",
        width=11,
        look="rate",
        role="computed",
        formula=f"=SUMIFS(Allow_rate,Allow_item,[item])*[built]+{_OVERRIDE}".format(word="Word_rate"),
        name="Rate_stated",
    ),
    Column(
        key="rate",
        title="Composite rate",
        width=12,
        look="rate",
        role="computed",
        formula="=SUM([material],[labour],[plant],[stated])",
        name="Rate_total",
    ),
)


def write_rates(
    paper: Paper,
    rows: Sequence[BillRow],
    base: PriceBase,
    library: Library,
    *,
    currency: str,
    footer: str,
) -> None:
    """Write the sheet."""
    sheet = new_sheet(paper, TITLE, HELP.format(currency=currency), COLUMNS)
    lines = [_line(row, base, library) for row in rows]
    placed = write_table(paper, sheet, HEADER_ROW, COLUMNS, lines)
    finish(sheet, COLUMNS, footer=footer, last=placed.last, frozen=2, filtered=True)


def wastage_of(row: BillRow) -> float:
    """Return what is bought beyond the required quantity, as a share of that, before any override of it."""
    for applied in row.line.overrides:
        if applied.override.figure == "wastage":
            return applied.was
    ordered = row.line.ordered
    required = ordered.quantity.required
    return ordered.charged / required - 1 if required else 0.0


def _line(row: BillRow, base: PriceBase, library: Library) -> Line:
    """Return the row of one item."""
    line = row.line
    rate, build_up, quantity = line.rate, line.rate.build_up, line.quantity
    used = line.ordered.charged / quantity.required - 1 if quantity.required else 0.0
    laps = quantity.required / quantity.net if quantity.net else 1.0
    supply = build_up.price * build_up.conversion * build_up.counted
    price = library.prices.get(quantity.material)
    # a price that allows for wastage is paid on what is required only
    is_paid = build_up.is_of_stock or price is None or not price.wastage_in_price
    hours = build_up.constant * build_up.labour_conversion
    overridden = any(applied.override.figure == "rate" for applied in line.overrides)
    values: dict[str, str | float | None] = {
        "item": row.number,
        "id": row.id,
        "description": quantity.item,
        "unit": quantity.unit,
        "price_number": base.prices[row.id],
        "price": build_up.price,
        "per": build_up.per,
        "conversion": build_up.conversion,
        "laps": laps,
        "wastage": wastage_of(row),
        "used": used,
        "paid": 1.0 if is_paid else 0.0,
        "supply": supply,
        "sundries": supply * build_up.sundries,
        "work_number": base.works[row.id],
        "work_conversion": build_up.labour_conversion,
        "hours": hours,
        "work": hours * build_up.gang_rate,
        "built": 0.0 if overridden else 1.0,
        "material": rate.material + rate.sundries,
        "labour": rate.labour,
        "plant": rate.plant,
        "stated": rate.stated,
        "rate": rate.total,
    }
    return Line(values)
