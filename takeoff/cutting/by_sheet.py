"""Plans what is bought in sheets: linings, sheathing, panels, flooring, laid course by course on every face."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict

from takeoff.cutting.offcuts import NOTHING
from takeoff.cutting.order_plan import Offcut, OrderItem, OrderPlan, Worth
from takeoff.cutting.pools import Pool
from takeoff.cutting.sheets.choices import Rules
from takeoff.cutting.sheets.plan import DIRECTIONS, SheetPlan, SheetQuestion, plan_sheets
from takeoff.cutting.sheets.sizes import SheetOnSale
from takeoff.cutting.summed import summed
from takeoff.measure.surface import Surface
from takeoff.model.library import Stock


def plan_by_sheet(pool: Pool, number: int, worth: Worth | None, worth_unit: str) -> OrderPlan | None:
    """Plan the sheets of a pool; None where the faces of one of its items are not known.

    All items of a pool lie in the same direction. `worth` is what a sheet counts for under the aim of the plan, None
    for its area. The bound is the higher of what covers the faces and what the pieces of this layout are cut from.
    """
    if pool.unit != "m2" or any(not quantity.surfaces for quantity in pool.quantities):
        return None
    sizes = _sizes(pool, worth)
    plan = plan_sheets(
        _surfaces(pool), tuple(sizes), direction=pool.quantities[0].direction, **asdict(_rules(pool))
    )
    items = tuple(
        OrderItem(
            stock=sizes[size],
            count=count,
            amount=count * size.size.area,
            length=size.length,
            width=size.width,
        )
        for size, count in plan.bought
    )
    bound = max(plan.area_bound, plan.strip_bound)
    return OrderPlan(
        **summed(pool, number),
        basis="sheet layout",
        order=plan.area_bought,
        charged=plan.area_bought,
        items=items,
        rule=plan.rule,
        worth=plan.area_bought,
        bound=bound,
        worth_unit="m2",
        proven=plan.area_bought <= bound + 1e-9,
        sheets=plan,
        offcuts=tuple(_offcuts(plan)),
    )


def sheet_questions(pool: Pool, worth: Worth | None) -> list[SheetQuestion]:
    """Return what the plan of a pool will ask for, each direction by itself; arguments as for `plan_by_sheet`."""
    if pool.unit != "m2" or any(not quantity.surfaces for quantity in pool.quantities):
        return []
    asked = pool.quantities[0].direction
    sizes = tuple(_sizes(pool, worth))
    return [
        SheetQuestion(_surfaces(pool), sizes, direction, _rules(pool))
        for direction in ((asked,) if asked else DIRECTIONS)
    ]


def _surfaces(pool: Pool) -> tuple[Surface, ...]:
    """Return the faces of all items of a pool."""
    return tuple(surface for quantity in pool.quantities for surface in quantity.surfaces)


def _rules(pool: Pool) -> Rules:
    """Return how the sheets of a pool are laid and cut."""
    row = pool.rows[0]
    return Rules(
        stagger=row.stagger,
        joint=pool.material.joint,
        kerf=row.kerf,
        least_offcut=row.least_offcut,
        least_width=row.least_width,
    )


def _sizes(pool: Pool, worth: Worth | None) -> dict[SheetOnSale, Stock]:
    """Return the sheets on sale, each with its row of the stock."""
    sizes: dict[SheetOnSale, Stock] = {}
    for row in pool.rows:
        width = row.width or pool.material.width or 0.0
        for length in row.lengths:
            counts = worth(pool.quantities[0], row, length * width) if worth else None
            sizes.setdefault(SheetOnSale(length, width, counts), row)
    return sizes


def _offcuts(plan: SheetPlan) -> Iterator[Offcut]:
    """Yield the offcuts worth keeping, largest first, each with the largest piece that it could serve."""
    counts = Counter(
        (round(offcut.length, 3), round(offcut.width, 3)) for sheet in plan.sheets for offcut in sheet.offcuts
    )
    kinds = sorted(
        {(round(piece.length, 3), round(piece.width, 3)) for piece in plan.layout},
        key=lambda size: -size[0] * size[1],
    )
    for (length, width), count in sorted(counts.items(), key=lambda found: -found[0][0] * found[0][1]):
        fitting = next((kind for kind in kinds if kind[0] <= length and kind[1] <= width), None)
        serves = f"a piece of {fitting[0]:.3f} x {fitting[1]:.3f} m" if fitting else NOTHING
        yield Offcut(length=length, width=width, count=count, serves=serves)
