"""The rate of an item: material, sundries, labour and plant for one net unit."""

from __future__ import annotations

from dataclasses import replace

from takeoff.assess.converter import Converter
from takeoff.assess.lines import Rate, RateBuildUp
from takeoff.assess.parts import Input, Part
from takeoff.assess.stock_worth import money_for
from takeoff.cutting.order import OrderedQuantity
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Library, Material, Price, Work


def has_material(material: Material | None) -> bool:
    """Whether an item takes material, which ought to have a price and a carbon factor."""
    return material is not None and material.family != "work only"


def rate_of(
    item: OrderedQuantity, material: Material | None, work: Work | None, library: Library, into: Converter
) -> tuple[Rate, bool]:
    """Return the rate for one net unit, and whether it has a price where it needs one.

    Rate = material x conversion x wastage + sundries + labour constant x gang rate + plant. Wastage
    enters once: a price that allows for it is taken on the required quantity.
    """
    price = library.prices.get(item.quantity.material)
    build_up = _labour(_material(RateBuildUp(), item, price, library, into), work, library, into)
    supply = build_up.price * build_up.conversion * build_up.counted
    hours = build_up.constant * build_up.labour_conversion
    rate = Rate(
        material=supply,
        sundries=supply * build_up.sundries,
        labour=hours * build_up.gang_rate,
        plant=build_up.plant * build_up.labour_conversion,
        hours=hours,
        build_up=build_up,
    )
    priced = price is not None or _all_have_own_prices(item) or not has_material(material)
    return rate, priced


def _material(
    empty: RateBuildUp, item: OrderedQuantity, price: Price | None, library: Library, into: Converter
) -> RateBuildUp:
    """Return a build-up with what its material costs; a price that allows for wastage is for what is required."""
    quantity = item.quantity
    sundries = price.sundries if price is not None else 0.0
    if _has_own_prices(item):
        mean = _supply_from_stock(item, library, price) / item.charged
        return replace(
            empty,
            price=mean,
            per=quantity.unit,
            conversion=1.0,
            counted=item.charged / quantity.net,
            sundries=sundries,
            is_of_stock=True,
        )
    if price is None:
        return empty
    conversion = into.to(price.price.per, price.origin, "unit", "the price")
    bought = quantity.required if price.wastage_in_price else item.charged
    return replace(
        empty,
        price=price.price.value,
        per=price.price.per,
        conversion=conversion or 0.0,
        counted=bought / quantity.net,
        sundries=sundries,
    )


def _labour(build_up: RateBuildUp, work: Work | None, library: Library, into: Converter) -> RateBuildUp:
    """Return a build-up with its labour and plant, where there is any."""
    if work is None:
        return build_up
    conversion = into.to(work.hours.per, work.origin, "unit", "the labour constant")
    return replace(
        build_up,
        constant=work.hours.value,
        labour_per=work.hours.per,
        labour_conversion=conversion or 0.0,
        gang_rate=library.gangs[work.gang].rate,
        plant=work.plant,
    )


def _has_own_prices(item: OrderedQuantity) -> bool:
    """Whether anything that is bought for an item has a price of its own in the stock."""
    return item.plan is not None and any(bought.stock.price is not None for bought in item.plan.items)


def _all_have_own_prices(item: OrderedQuantity) -> bool:
    """Whether everything that is bought for an item has a price of its own in the stock."""
    return item.plan is not None and all(bought.stock.price is not None for bought in item.plan.items)


def _supply_from_stock(item: OrderedQuantity, library: Library, price: Price | None) -> float:
    """Return what an item's share of its plan costs, size by size.

    Sizes without a price of their own cost the material's price; where that allows for wastage, of what is
    required only.
    """
    plan, quantity = item.plan, item.quantity
    if plan is None:
        return 0.0
    total = 0.0
    for bought in plan.items:
        row = bought.stock
        each = money_for(quantity, row, bought.amount / bought.count, library) or 0.0
        raised = row.price is None and price is not None and price.wastage_in_price
        paid_for = quantity.required if raised else plan.charged * item.share
        total += each * bought.count * paid_for / plan.order
    return total


def cost_parts(
    quantity: Quantity, rate: Rate, material: Material | None, work: Work | None
) -> tuple[Part, ...]:
    """Return the parts of an item's cost: material with sundries, labour, plant; parts of nothing left out.

    Plant goes with its labour row.
    """
    also = quantity_inputs(material)
    row = () if work is None else (Input("labour", work.name),)
    gang = () if work is None else (Input("gang", work.gang),)
    parts = (
        Part((rate.material + rate.sundries) * quantity.net, (Input("price", quantity.material), *also)),
        Part(rate.labour * quantity.net, (*row, *gang, *also)),
        Part(rate.plant * quantity.net, (*row, *also)),
    )
    return tuple(part for part in parts if part.amount)


def quantity_inputs(material: Material | None) -> tuple[Input, ...]:
    """Return the input that the measured quantity of an item is, by the item class of its material."""
    return () if material is None else (Input("quantity", material.item_class),)
