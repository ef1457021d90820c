"""Order quantities by wastage allowance, where no plan of cutting or laying says more."""

from __future__ import annotations

import math

from takeoff.measure.quantity import Quantity
from takeoff.model.library import Material

_COUNTED = "Nr"


def order_factor(allowance: float, base: str) -> float:
    """Return order over required for a wastage allowance (a share) of net or of what is delivered.

    10 % on net is x1.100, 10 % of what is delivered is x1.111. The second is 1 + WF with the published
    wastage factor WF = 1/(1 - WR) - 1.

    >>> order_factor(0.10, "net"), round(order_factor(0.10, "delivered"), 3)
    (1.1, 1.111)
    """
    return 1 / (1 - allowance) if base == "delivered" else 1 + allowance


def allowed_order(quantity: Quantity, material: Material | None) -> tuple[float, str]:
    """Return what is bought by the wastage allowance of the material, and the rule in words.

    Counted items are bought whole.
    """
    if material is None or not material.wastage:
        factor, rule = 1.0, "as required"
    else:
        factor = order_factor(material.wastage, material.wastage_base)
        rule = f"wastage allowance {material.wastage:.1%} on {material.wastage_base}".replace(".0%", " %")
    order = quantity.required * factor
    if quantity.unit == _COUNTED:
        return float(math.ceil(order - 1e-9)), f"{rule}, whole numbers"
    return order, rule
