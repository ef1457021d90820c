"""The order list: one row for every thing that is bought, option by option."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from takeoff.assess.lines import Line
from takeoff.assess.stock_worth import convertible, money_for
from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import OrderItem, OrderPlan
from takeoff.documents.option_flags import FLAGS_COLUMN, NO_FLAGS, FlagTexts
from takeoff.documents.order_figures import plan_figures
from takeoff.documents.order_words import by_the_metre, section_text, sold_by
from takeoff.documents.quantities_csv import csv_text
from takeoff.measure.quantity import Quantity
from takeoff.model.job import Job
from takeoff.model.library import Library, Material, Stock

if TYPE_CHECKING:
    from pandas import DataFrame

COLUMNS: dict[str, str] = {
    "option": "name of the option",
    "plan": "number of the plan in its option; blank: no plan, ordered by allowance or as required",
    "trade": "trades that use it",
    "material": "material, as on the sheet Materials",
    "section": "section [mm], depth or width x thickness, or what is known of it",
    "sold_by": "length, sheet, roll, pack and so on as on the sheet Stock; special order: longer than anything on sale",
    "length": "length on sale [m]",
    "width": "width of a sheet or roll [m]",
    "contents": "what one pack, box, bag, pallet or step holds, with its unit",
    "count": "how many are bought",
    "count_unit": "Nr; m of random lengths; unit of the item where there is no plan",
    "amount": "what all of them hold, in unit; these add up to order",
    "unit": "unit of amount, net, required, allowed, order and charged",
    "price": "price of one, delivered, before tax, in the project's currency; blank: no price",
    "cost": "count times price: what the supplier is paid, sundries and labour apart; blank: no price",
    "mass_kg": "mass of what is bought [kg]; blank: no mass known",
    "basis": "what order follows from: cutting plan, sheet layout, cut to length, roll layout, whole units, "
    "wastage allowance, or as required",
    "rule": "how the order follows",
    "net": "as fixed in position, all items together",
    "required": "net with laps, cover and pieces cut from whole width",
    "allowed": "what the wastage allowance would buy",
    "order": "what is bought, all sizes together",
    "charged": "part of the order that money and carbon count; rests of the last roll or pack are left for other work",
    "wastage_share": "share of charged that is not built in",
    "wastage_share_allowed": "share of allowed that is not built in",
    "worth": "what the order counts for under the aim of the plan, in worth_unit",
    "bound": "what no plan can go below, in worth_unit; blank: not known",
    "worth_unit": "unit of worth and bound",
    "gap": "share by which worth may be above the least possible",
    "proven": "yes: no plan can be better",
    "items": "ids of the items it is bought for",
    FLAGS_COLUMN[0]: FLAGS_COLUMN[1],
}
# Figures of the whole plan stand in its first row only, so that each column adds up.
ONCE = (
    "net",
    "required",
    "allowed",
    "order",
    "charged",
    "wastage_share",
    "wastage_share_allowed",
    "worth",
    "bound",
    "worth_unit",
    "gap",
    "proven",
)


def order_list_table(job: Job, results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> DataFrame:
    """Return everything bought for all given options as a table with the columns of `COLUMNS`.

    Plans come first, by number, then items without a plan. Work without material and allowances buy nothing.
    """
    from pandas import DataFrame

    rows = [
        {**row, FLAGS_COLUMN[0]: flags.get(result.option.name, "")}
        for result in results
        for row in (*_planned(job, result), *_unplanned(job, result))
    ]
    table = DataFrame(rows, columns=list(COLUMNS))
    return table.astype({"plan": "Int64"})


def order_list_csv(job: Job, results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> str:
    """Return the order list as CSV text; `flags` are those of each option by name."""
    return csv_text(order_list_table(job, results, flags))


def _planned(job: Job, result: Result) -> Iterator[dict[str, Any]]:
    """Yield a row for each thing that the plans of an option buy."""
    quantities = {quantity.id: quantity for quantity in result.measured.quantities}
    for plan in result.plans:
        figures = _figures_of(plan)
        for item in plan.items:
            yield {
                "option": result.option.name,
                **_thing(plan, item, quantities, job.library),
                **figures,
                "items": " ".join(plan.items_of),
            }
            figures = dict.fromkeys(figures)


def _thing(
    plan: OrderPlan, item: OrderItem, quantities: Mapping[str, Quantity], library: Library
) -> dict[str, Any]:
    """Return what one row says of the thing bought: size, count, amount, price, mass."""
    row = item.stock
    first = quantities[plan.items_of[0]]
    material = library.materials[plan.material]
    each = money_for(first, row, item.amount / item.count, library)
    return {
        "plan": plan.number,
        "trade": "; ".join(dict.fromkeys(quantities[id].trade for id in plan.items_of)),
        "material": plan.material,
        "section": section_text(plan.depth or _width(material, plan.unit), plan.thickness),
        "sold_by": sold_by(plan, item),
        "length": item.length,
        "width": item.width,
        "contents": f"{row.contents:g} {row.contents_unit}" if row.contents else "",
        "count": item.count,
        "count_unit": "m" if by_the_metre(item) else "Nr",
        "amount": item.amount,
        "unit": plan.unit,
        "price": each,
        "cost": None if each is None else each * item.count,
        "mass_kg": _mass(first, material, item.amount),
        "basis": plan.basis,
        "rule": plan.rule,
    }


def _width(material: Material, unit: str) -> float | None:
    """Return the width of what is measured by its length [m]; that of sheets is not their section."""
    return material.width if unit == "m" else None


def _mass(quantity: Quantity, material: Material, amount: float) -> float | None:
    """Return the mass of an amount in the unit of a quantity [kg], None where none is known."""
    one = convertible(quantity, material, "kg")
    return None if one is None else one * amount


def _figures_of(plan: OrderPlan) -> dict[str, Any]:
    """Return the figures of a whole plan."""
    proven = ("yes" if plan.proven else "no") if plan.bound is not None else ""
    return {**plan_figures(plan), "proven": proven}


def _unplanned(job: Job, result: Result) -> Iterator[dict[str, Any]]:
    """Yield a row for each item that is bought without a plan."""
    for line in result.lines:
        material = job.library.materials.get(line.quantity.material)
        if line.ordered.plan is None and material is not None and line.needs_carbon:
            yield {"option": result.option.name, **_item(line, material, job.library)}


def _item(line: Line, material: Material, library: Library) -> dict[str, Any]:
    """Return the row of an item bought without a plan; one of it is one of its unit."""
    ordered, quantity = line.ordered, line.quantity
    each = money_for(quantity, Stock(material=material.name, sold_by="step"), 1.0, library)
    lost = 1 - min(quantity.required / ordered.order, 1.0) if ordered.order else 0.0
    return {
        "trade": quantity.trade,
        "material": material.name,
        "section": section_text(
            quantity.width or _width(material, quantity.unit), quantity.thickness or material.thickness
        ),
        "count": ordered.order,
        "count_unit": quantity.unit,
        "amount": ordered.order,
        "unit": quantity.unit,
        "price": each,
        "cost": None if each is None else each * ordered.order,
        "mass_kg": _mass(quantity, material, ordered.order),
        "basis": ordered.basis,
        "rule": ordered.rule,
        "net": quantity.net,
        "required": quantity.required,
        "allowed": ordered.allowed,
        "order": ordered.order,
        "charged": ordered.charged,
        "wastage_share": lost,
        "wastage_share_allowed": lost,
        "items": quantity.id,
    }
