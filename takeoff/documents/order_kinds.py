"""Kinds of what is bought by a plan: how they stand together in the tables, and which are drawn."""

from __future__ import annotations

from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import OrderPlan
from takeoff.model.library import Library

KINDS = (
    "framing",
    "battens",
    "boards",
    "sheets",
    "sheets made to length",
    "membranes from rolls",
    "trims and linings by length",
)
_FRAMING, _BATTENS, _BOARDS, _SHEETS, _MADE, _MEMBRANES, _TRIMS = KINDS
_BY_BASIS = {"sheet layout": _SHEETS, "cut to length": _MADE, "roll layout": _MEMBRANES}


def kind_of(plan: OrderPlan, library: Library) -> str:
    """Return the kind of a plan of every piece."""
    if plan.basis in _BY_BASIS:
        return _BY_BASIS[plan.basis]
    if plan.framing:
        return _FRAMING
    if library.materials[plan.material].item_class == "battens":
        return _BATTENS
    return _BOARDS if plan.unit == "m2" else _TRIMS


def planned_by_kind(result: Result, library: Library) -> dict[str, list[OrderPlan]]:
    """Return the plans of every piece by kind, kinds without any left out."""
    groups: dict[str, list[OrderPlan]] = {kind: [] for kind in KINDS}
    for plan in result.plans:
        if plan.planned:
            groups[kind_of(plan, library)].append(plan)
    return {kind: plans for kind, plans in groups.items() if plans}


def in_random_lengths(plan: OrderPlan) -> bool:
    """Whether lengths come as they are, so that a plan tells how much to buy, not how to cut each."""
    return any(item.stock.sold_by == "random lengths" for item in plan.items)


def bars_drawn(result: Result, library: Library) -> list[OrderPlan]:
    """Return the plans whose cutting patterns are drawn, by kind: those with known lengths, but for trims."""
    return [
        plan
        for kind, plans in planned_by_kind(result, library).items()
        if kind in (_FRAMING, _BATTENS, _BOARDS)
        for plan in plans
        if plan.lengths and not in_random_lengths(plan)
    ]


def lengths_not_drawn(result: Result, library: Library) -> list[OrderPlan]:
    """Return the cutting plans that are not drawn: trims, and what comes in random lengths."""
    drawn = {plan.number for plan in bars_drawn(result, library)}
    return [plan for plan in result.plans if plan.basis == "cutting plan" and plan.number not in drawn]
