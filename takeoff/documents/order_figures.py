"""The figures of an order plan, as the lists and results.json give them."""

from __future__ import annotations

from typing import Any

from takeoff.cutting.order_plan import OrderPlan


def plan_figures(plan: OrderPlan) -> dict[str, Any]:
    """Return what a plan measures to, what it buys, and how far that is from the least possible."""
    return {
        "net": plan.net,
        "required": plan.required,
        "allowed": plan.allowed,
        "order": plan.order,
        "charged": plan.charged,
        "wastage_share": plan.wastage_share,
        "wastage_share_allowed": plan.allowed_share,
        "worth": plan.worth,
        "worth_unit": plan.worth_unit,
        "bound": plan.bound,
        "gap": plan.gap,
        "proven": plan.proven,
    }
