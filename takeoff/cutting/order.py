"""Order quantities by wastage allowance."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.measure.quantity import Quantity
from takeoff.model.library import Library

_COUNTED = "Nr"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedQuantity:
    """A quantity with what has to be bought for it, in the same unit, and how that follows."""

    quantity: Quantity
    order: float
    rule: str

    @property
    def wastage(self) -> float:
        """What is bought and not built in, in the unit of the quantity."""
        return self.order - self.quantity.required


def order_factor(allowance: float, base: str) -> float:
    """Return order over required for a wastage allowance (a share) of net or of what is delivered.

    10 % on net is x1.100, 10 % of what is delivered is x1.111. The second is 1 + WF with the published
    wastage factor WF = 1/(1 - WR) - 1.

    >>> order_factor(0.10, "net"), round(order_factor(0.10, "delivered"), 3)
    (1.1, 1.111)
    """
    return 1 / (1 - allowance) if base == "delivered" else 1 + allowance


def order_quantities(quantities: Iterable[Quantity], library: Library) -> list[OrderedQuantity]:
    """Return every quantity with its order quantity; counted items are bought whole."""
    return [_ordered(quantity, library) for quantity in quantities]


def _ordered(quantity: Quantity, library: Library) -> OrderedQuantity:
    """Return one quantity with its order quantity."""
    material = library.materials.get(quantity.material)
    if material is None or not material.wastage:
        allowance, rule = 1.0, "as required"
    else:
        allowance = order_factor(material.wastage, material.wastage_base)
        rule = f"wastage allowance {material.wastage:.1%} on {material.wastage_base}".replace(".0%", " %")
    order = quantity.required * allowance
    if quantity.unit == _COUNTED:
        order = float(math.ceil(order - 1e-9))
        rule = f"{rule}, whole numbers"
    return OrderedQuantity(quantity=quantity, order=order, rule=rule)
