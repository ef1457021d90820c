"""Rounds what the wastage allowance asks for up to whole packs, boxes, bags, pallets or steps of supply."""

from __future__ import annotations

import math

from takeoff.cutting.allowance import allowed_order
from takeoff.cutting.order_plan import Convert, OrderItem, OrderPlan
from takeoff.cutting.pools import Pool
from takeoff.cutting.summed import summed


def plan_by_contents(pool: Pool, number: int, convert: Convert) -> OrderPlan | None:
    """Return how many whole units serve all items of a pool together.

    None where nothing links the unit of the contents to that of the items. Of several sizes the one that buys
    least is taken, then the larger.

    Source: common practice, no source.
    """
    first = pool.quantities[0]
    tries: list[tuple[float, float, OrderItem]] = []
    together = summed(pool, number)
    for row in pool.rows:
        one = convert(first, pool.material, row.contents_unit or "")
        if not one or not row.contents:
            continue
        holds = row.contents / one
        count = math.ceil(together["allowed"] / holds - 1e-9)
        tries.append((count * holds, -holds, OrderItem(stock=row, count=count, amount=count * holds)))
    if not tries:
        return None
    order, _, item = min(tries, key=lambda found: found[:2])
    rule = allowed_order(first, pool.material)[1].removesuffix(", whole numbers")
    row = item.stock
    return OrderPlan(
        **together,
        basis="whole units",
        order=order,
        charged=together["allowed"],
        items=(item,),
        rule=f"{rule}, then by the {row.sold_by} of {row.contents:g} {row.contents_unit}",
    )
