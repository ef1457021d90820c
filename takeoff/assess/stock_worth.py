"""What a thing on sale counts for: its length, its money, its carbon; and whether its units meet the items."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.assess.conversion import ConversionError, convert_quantity
from takeoff.cutting.order_plan import Worth
from takeoff.cutting.pools import pools_of
from takeoff.measure.quantity import Quantity
from takeoff.model.house import CuttingAim
from takeoff.model.library import Library, Material, Stock
from takeoff.model.per_unit import PerUnit
from takeoff.model.problem import WorkbookProblem, at


def convertible(quantity: Quantity, material: Material, target: str) -> float | None:
    """Return how much in `target` one unit of a quantity is, None where nothing links the two."""
    try:
        return convert_quantity(quantity, material, target)
    except ConversionError:
        return None


def stock_problems(quantities: Iterable[Quantity], library: Library) -> list[WorkbookProblem]:
    """Return the contents and prices of the stock whose unit can't meet the items or lengths they are for."""
    problems = []
    for pool in pools_of(quantities, library):
        first = pool.quantities[0]
        for row in pool.rows:
            if row.sold_by == "random lengths" and row.price is not None and row.price.per == "Nr":
                problems.append(
                    at(
                        row.origin,
                        "price_unit",
                        found="a price for one Nr of random lengths",
                        expected="a price by the metre or another unit, for no two lengths are alike",
                    )
                )
            stated = [("contents_unit", "contents in", row.contents_unit)]
            if row.price is not None and row.price.per != "Nr":
                stated.append(("price_unit", "a price for one", row.price.per))
            problems += [
                at(
                    row.origin,
                    field,
                    found=f"{what} {unit} can't meet {first.item!r}, measured in {first.unit}",
                    expected=f"a unit that leads to {first.unit}",
                    mend=f"Give the material {pool.material.name!r} the density, mass or size between the two",
                )
                for field, what, unit in stated
                if unit and convertible(first, pool.material, unit) is None
            ]
    return problems


def money_for(quantity: Quantity, row: Stock, amount: float, library: Library) -> float | None:
    """Return what one thing on sale costs, None where it has no price.

    Its own price of the Stock sheet counts before that of the Prices sheet; a price for one Nr there is that of
    the whole thing.
    """
    if row.price is not None and row.price.per == "Nr":
        return row.price.value
    general = library.prices.get(quantity.material)
    price = row.price or (general.price if general else None)
    return None if price is None else _times(quantity, price, amount, library)


def _times(quantity: Quantity, rate: PerUnit, amount: float, library: Library) -> float | None:
    """Return a rate times an amount in the unit of a quantity, None where nothing links their units."""
    one = convertible(quantity, library.materials[quantity.material], rate.per)
    return None if one is None else rate.value * one * amount


def worth_under(aim: CuttingAim, library: Library) -> Worth | None:
    """Return what things on sale count for under an aim; None for the least length, which needs no factors.

    Where a material has no price or factor above nothing, the amount itself counts: least is least all the same.
    """
    if aim == "least length":
        return None

    def cost(quantity: Quantity, row: Stock, amount: float) -> float:
        money = money_for(quantity, row, amount, library)
        # what costs nothing would be bought without end
        return amount if not money or money < 0 else money

    def carbon(quantity: Quantity, row: Stock, amount: float) -> float:
        factor = library.carbon.get(quantity.material)
        counted = None if factor is None else _times(quantity, factor.a1a3, amount, library)
        # a factor of nothing or less than nothing would ask for more, not less
        return counted if counted is not None and counted > 0 else amount

    return cost if aim == "least cost" else carbon
