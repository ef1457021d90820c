"""The sheets Prices and Labour: what the rates are built up from, each price, constant and gang once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.assess.lines import Line as BillLine
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.library import Library, Price, Work

PRICES, LABOUR = "Prices", "Labour"
PRICES_HELP = (
    "Prices of materials, delivered, excluding tax, in {currency}. Where sizes on sale have prices of their own, the "
    "price is the mean of what the order buys (Order list: cost by amount). Change a price here and every rate follows."
)
LABOUR_HELP = (
    "Labour constants and what an hour of each gang costs, in {currency}. Change a constant or a gang here and every "
    "rate follows."
)
_PRICE = (
    Column(key="number", title="Price", width=7, look="count", name="Price_number"),
    Column(key="material", title="Material", width=40),
    Column(key="stated", title="Stated", width=11, look="rate", role="input"),
    Column(key="plan", title="Order plan", width=8, look="count"),
    Column(
        key="price",
        title="Price",
        width=11,
        look="rate",
        role="computed",
        formula="=IF([plan],SUMIFS(Order_cost,Order_plan,[plan])/SUMIFS(Order_amount,Order_plan,[plan]),[stated])",
        name="Price_used",
    ),
    Column(key="per", title="Per", width=6),
    Column(
        key="sundries",
        title="Fixings and sundries",
        width=12,
        look="share",
        role="input",
        name="Price_sundries",
    ),
    Column(key="wastage", title="Wastage in price", width=10, look="small"),
    Column(key="basis", title="Basis", width=11),
    Column(key="tax", title="Tax", width=9),
    Column(key="date", title="Date", width=11),
    Column(key="place", title="Place", width=22),
    Column(key="source", title="Source", width=26, look="small"),
)
_WORK = (
    Column(key="number", title="Work", width=7, look="count", name="Work_number"),
    Column(key="work", title="Labour constant", width=40),
    Column(key="constant", title="Hours", width=10, look="factor", role="input", name="Work_hours"),
    Column(key="per", title="Per", width=6),
    Column(key="gang", title="Gang", width=8, look="count"),
    Column(key="gang_name", title="Gang, by name", width=26),
    Column(
        key="rate",
        title="Gang rate",
        width=11,
        look="rate",
        role="computed",
        formula="=SUMIFS(Gang_rate,Gang_number,[gang])",
        name="Work_gang_rate",
    ),
    Column(key="plant", title="Plant", width=10, look="rate", role="input", name="Work_plant"),
    Column(key="source", title="Source", width=26, look="small"),
)
_GANG = (
    Column(key="number", title="Gang", width=7, look="count", name="Gang_number"),
    Column(key="gang", title="Gang", width=40),
    Column(key="rate", title="Rate per hour", width=10, look="rate", role="input", name="Gang_rate"),
    Column(key="source", title="", width=6),
)


@dataclass(frozen=True, slots=True)
class PriceBase:
    """The number under which each item finds its price and its labour constant, None where it has none."""

    prices: Mapping[str, int | None]
    works: Mapping[str, int | None]

    @classmethod
    def of(cls, rows: Sequence[BillRow], library: Library) -> PriceBase:
        """Number the prices and labour constants that items need, in the order in which they come."""
        keys = {row.id: _price_key(row.line) for row in rows}
        used = list(dict.fromkeys(key for key in keys.values() if key is not None))
        works = {row.id: work_of(row, library) for row in rows}
        names = list(dict.fromkeys(work.name for work in works.values() if work is not None))
        return cls(
            {id: None if key is None else used.index(key) + 1 for id, key in keys.items()},
            {id: None if work is None else names.index(work.name) + 1 for id, work in works.items()},
        )


def _price_key(line: BillLine) -> tuple[str, int | None] | None:
    """Return what a price is told by: its material, and the plan whose mean it is; None where there is no price."""
    build_up = line.rate.build_up
    if not build_up.per:
        return None
    plan = line.ordered.plan if build_up.is_of_stock else None
    return (line.quantity.material, plan.number if plan else None)


def write_prices(
    paper: Paper, rows: Sequence[BillRow], base: PriceBase, library: Library, *, currency: str, footer: str
) -> None:
    """Write the sheet Prices."""
    first = {number: row.line for row in reversed(rows) if (number := base.prices[row.id]) is not None}
    lines = [_price_line(number, first[number], library) for number in sorted(first)]
    sheet = new_sheet(paper, PRICES, PRICES_HELP.format(currency=currency), _PRICE)
    placed = write_table(paper, sheet, HEADER_ROW, _PRICE, lines)
    finish(sheet, _PRICE, footer=footer, last=placed.last, frozen=2, filtered=True)


def _price_line(number: int, line: BillLine, library: Library) -> Line:
    """Return the row of one price, from the first item that needs it."""
    price = library.prices.get(line.quantity.material)
    build_up = line.rate.build_up
    # a mean of several sizes belongs to its plan, even where the order list can't give it
    mean = line.ordered.plan if build_up.is_of_stock else None
    from_order = mean is not None and not _allows_for_wastage(line, price)
    return Line(
        _told(price)
        | {
            "number": number,
            "material": mean.name if mean else line.quantity.material,
            "stated": None if from_order else build_up.price,
            "plan": mean.number if mean and from_order else None,
            "price": build_up.price,
            "per": build_up.per,
            "sundries": build_up.sundries,
        }
    )


def _allows_for_wastage(line: BillLine, price: Price | None) -> bool:
    """Whether a size without a price of its own is paid on what is required only: the mean is then stated."""
    own = line.ordered.plan is not None and all(item.stock.price for item in line.ordered.plan.items)
    return price is not None and price.wastage_in_price and not own


def _told(price: Price | None) -> dict[str, str | float | None]:
    """Return what is told of where a price comes from."""
    if price is None:
        return {"basis": "stock", "tax": "excluded"}
    return {
        "wastage": "yes" if price.wastage_in_price else "no",
        "basis": price.basis,
        "tax": "excluded",
        "date": price.date,
        "place": price.place,
        "source": price.source,
    }


def write_labour(
    paper: Paper, rows: Sequence[BillRow], base: PriceBase, library: Library, *, currency: str, footer: str
) -> None:
    """Write the sheet Labour: constants, and the gangs below them."""
    works = {
        number: work
        for row in rows
        if (number := base.works[row.id]) is not None and (work := work_of(row, library)) is not None
    }
    gangs = list(dict.fromkeys(works[number].gang for number in sorted(works)))
    lines = [
        Line(
            {
                "number": number,
                "work": work.name,
                "constant": work.hours.value,
                "per": work.hours.per,
                "gang": gangs.index(work.gang) + 1,
                "gang_name": work.gang,
                "rate": library.gangs[work.gang].rate,
                "plant": work.plant,
                "source": work.source,
            }
        )
        for number, work in sorted(works.items())
    ]
    sheet = new_sheet(paper, LABOUR, LABOUR_HELP.format(currency=currency), _WORK)
    placed = write_table(paper, sheet, HEADER_ROW, _WORK, lines)
    below = [
        Line({"number": number, "gang": name, "rate": library.gangs[name].rate})
        for number, name in enumerate(gangs, start=1)
    ]
    last = write_table(paper, sheet, placed.last + 2, _GANG, below).last
    finish(sheet, _WORK, footer=footer, last=last, frozen=2)


def work_of(row: BillRow, library: Library) -> Work | None:
    """Return the labour row of an item, None where it has none."""
    quantity = row.line.quantity
    material = library.materials.get(quantity.material)
    name = quantity.work or (material.work if material else None)
    return library.works.get(name) if name else None
