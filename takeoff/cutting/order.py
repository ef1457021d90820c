"""Order quantities of all items: from plans of every piece where there are any, else by wastage allowance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from takeoff.cutting.allowance import allowed_order
from takeoff.cutting.by_contents import plan_by_contents
from takeoff.cutting.by_length import length_questions, plan_by_length
from takeoff.cutting.by_sheet import plan_by_sheet, sheet_questions
from takeoff.cutting.cut_to_length import plan_cut_to_length
from takeoff.cutting.lengths.plan import LengthQuestion
from takeoff.cutting.order_plan import Basis, Convert, OrderPlan, Worth
from takeoff.cutting.pools import Pool, pools_of
from takeoff.cutting.rolls import plan_rolls
from takeoff.cutting.sheets.plan import SheetQuestion
from takeoff.measure.quantity import Quantity
from takeoff.model.library import BY_CONTENTS, Library, Material

PlanQuestion = LengthQuestion | SheetQuestion


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedQuantity:
    """A quantity with what has to be bought for it, in the same unit, and how that follows.

    `charged` is the part of the order that money and carbon count: the rest of the last roll or pack is left
    for other work. `allowed` is what the wastage allowance would buy. Where a plan covers several items, `order` and
    `charged` are the share that the required quantity of this one has, `share`.
    """

    quantity: Quantity
    order: float
    charged: float
    allowed: float
    rule: str
    basis: Basis
    plan: OrderPlan | None = None
    share: float = 0.0

    @property
    def built_in(self) -> float:
        """What is built in: the required quantity, or all that is charged where a plan needs less than that.

        A plan may need less, since laps and cut pieces of the required quantity are counted by rule.
        """
        return min(self.quantity.required, self.charged)

    @property
    def wastage(self) -> float:
        """What is charged and not built in, in the unit of the quantity."""
        return self.charged - self.built_in


def by_allowance(quantity: Quantity, library: Library) -> OrderedQuantity:
    """Return a quantity ordered by the wastage allowance of its material."""
    material = library.materials.get(quantity.material)
    order, rule = allowed_order(quantity, material)
    basis: Basis = "wastage allowance" if material is not None and material.wastage else "as required"
    return OrderedQuantity(
        quantity=quantity, order=order, charged=order, allowed=order, rule=rule, basis=basis
    )


def same_unit(quantity: Quantity, material: Material, target: str) -> float | None:
    """Return 1 where the unit of a quantity is the one asked for, else None."""
    return 1.0 if quantity.unit == target else None


def order_quantities(
    quantities: Sequence[Quantity],
    library: Library,
    *,
    convert: Convert = same_unit,
    worth: Worth | None = None,
    worth_unit: str = "",
) -> list[OrderedQuantity]:
    """Return every quantity with its order quantity, in the order in which they come.

    Args:
        quantities: measured items.
        library: materials with their allowances and the stock they are bought from.
        convert: how much in another unit one unit of a quantity is; the same unit alone, if not given.
        worth: what a thing on sale counts for under the aim of the plans; None for its length or area alone.
        worth_unit: unit of `worth`.
    """
    plans: dict[str, OrderPlan] = {}
    number = 1
    for pool in pools_of(quantities, library):
        plan = _plan(pool, number, convert, worth, worth_unit)
        if plan is not None:
            number += 1
            plans.update(dict.fromkeys(plan.items_of, plan))
    return [_ordered(quantity, library, plans.get(quantity.id)) for quantity in quantities]


def plan_questions(
    quantities: Sequence[Quantity], library: Library, *, worth: Worth | None = None
) -> list[PlanQuestion]:
    """Return what `order_quantities` will have to solve; answers kept beforehand it only looks up.

    `worth` is that of `order_quantities`.
    """
    questions: list[PlanQuestion] = []
    for pool in pools_of(quantities, library):
        if not _can_be_planned(pool):
            continue
        sold_by = pool.rows[0].sold_by
        if sold_by == "sheet":
            questions += sheet_questions(pool, worth)
        elif sold_by not in (*BY_CONTENTS, "roll", "cut to length"):
            questions += length_questions(pool, worth)
    return questions


def _can_be_planned(pool: Pool) -> bool:
    """Whether something on sale is known for a pool, and anything is needed."""
    return bool(pool.rows) and sum(quantity.required for quantity in pool.quantities) > 0


def _plan(
    pool: Pool, number: int, convert: Convert, worth: Worth | None, worth_unit: str
) -> OrderPlan | None:
    """Return the plan of a pool, None where nothing on sale is known or the plan can't be made."""
    if not _can_be_planned(pool):
        return None
    sold_by = pool.rows[0].sold_by
    if sold_by in BY_CONTENTS:
        return plan_by_contents(pool, number, convert)
    if sold_by == "roll":
        return plan_rolls(pool, number)
    if sold_by == "cut to length":
        return plan_cut_to_length(pool, number)
    if sold_by == "sheet":
        return plan_by_sheet(pool, number, worth, worth_unit)
    return plan_by_length(pool, number, worth, worth_unit)


def _ordered(quantity: Quantity, library: Library, plan: OrderPlan | None) -> OrderedQuantity:
    """Return a quantity with its share of a plan, else ordered by its allowance."""
    allowed = by_allowance(quantity, library)
    if plan is None:
        return allowed
    share = quantity.required / plan.required
    return replace(
        allowed,
        order=plan.order * share,
        charged=plan.charged * share,
        rule=plan.rule,
        basis=plan.basis,
        plan=plan,
        share=share,
    )


def plans_of(ordered: Sequence[OrderedQuantity]) -> list[OrderPlan]:
    """Return the plans behind order quantities, each once, by number."""
    plans = {item.plan.number: item.plan for item in ordered if item.plan is not None}
    return [plans[number] for number in sorted(plans)]
