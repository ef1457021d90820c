"""What an order plan says of its items together: which they are, what they measure to."""

from __future__ import annotations

from typing import TypedDict

from takeoff.cutting.allowance import allowed_order
from takeoff.cutting.pools import Pool


class Summed(TypedDict):
    """The fields of an order plan that follow from its pool alone."""

    number: int
    name: str
    material: str
    depth: float | None
    thickness: float | None
    unit: str
    items_of: tuple[str, ...]
    net: float
    required: float
    allowed: float


def summed(pool: Pool, number: int) -> Summed:
    """Return the fields of an order plan that follow from its pool alone."""
    return Summed(
        number=number,
        name=pool.name,
        material=pool.material.name,
        depth=pool.depth,
        thickness=pool.thickness,
        unit=pool.unit,
        items_of=tuple(quantity.id for quantity in pool.quantities),
        net=sum(quantity.net for quantity in pool.quantities),
        required=sum(quantity.required for quantity in pool.quantities),
        allowed=sum(allowed_order(quantity, pool.material)[0] for quantity in pool.quantities),
    )
