"""What is bought, in words: how many of what, which section, how near to the least possible."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from takeoff.cutting.order_plan import OrderItem, OrderPlan
from takeoff.documents.wording import number, percent
from takeoff.model.library import BY_CONTENTS

PROVEN = "proven least"
NO_BOUND = "-"
SPECIAL_ORDER = "special order"


def section_text(depth: float | None, thickness: float | None) -> str:
    """Return a section, or a thickness alone, in mm; nothing where neither is known [m].

    >>> section_text(0.24, 0.045), section_text(None, 0.0125), section_text(None, None)
    ('240 x 45', '12.5', '')
    """
    return " x ".join(f"{size * 1000:g}" for size in (depth, thickness) if size)


def sold_by(plan: OrderPlan, item: OrderItem) -> str:
    """Return how one thing is sold; a special order where it is longer than anything on sale."""
    special = item.length is not None and any(piece.length == item.length for piece in plan.too_long)
    return SPECIAL_ORDER if special else item.stock.sold_by


def by_the_metre(item: OrderItem) -> bool:
    """Whether so many metres are bought, as they come, not so many pieces."""
    return item.stock.sold_by == "random lengths" and item.length is None


def bought_text(plan: OrderPlan) -> str:
    """Return what is bought for a plan: how many of which lengths, sheets, rolls or packs."""
    return ", ".join(_item_text(plan, item) for item in plan.items)


def _item_text(plan: OrderPlan, item: OrderItem) -> str:
    """Return how many of one thing are bought."""
    row, how = item.stock, sold_by(plan, item)
    if by_the_metre(item):
        shortest, longest = row.lengths
        return f"{number(item.count, 1)} m of {shortest:g} to {longest:g} m"
    if how in BY_CONTENTS:
        contents = row.contents or 0.0
        if how == "step":
            return f"{item.count * contents:g} {row.contents_unit} in steps of {contents:g}"
        return f"{_several(item.count, how)} of {contents:g} {row.contents_unit}"
    count = _several(item.count, how) if how == "roll" else number(item.count)
    sizes = [_size(size) for size in (item.length, item.width) if size is not None]
    text = f"{count} of {' x '.join(sizes)} m"
    return f"{text} ({SPECIAL_ORDER})" if how == SPECIAL_ORDER else text


def _several(count: float, word: str) -> str:
    """Return a count with its word.

    >>> _several(1, "roll"), _several(3, "box")
    ('1 roll', '3 boxes')
    """
    ending = "" if count == 1 else "es" if word.endswith("x") else "s"
    return f"{number(count)} {word}{ending}"


def _size(size: float) -> str:
    """Return a length on sale [m] with the places it needs, one at least.

    >>> _size(6), _size(2.39), _size(8.125)
    ('6.0', '2.39', '8.125')
    """
    text = f"{size:.3f}".rstrip("0")
    return f"{text}0" if text.endswith(".") else text


def names_of(plans: Sequence[OrderPlan]) -> dict[int, str]:
    """Return the names of plans by number, with the thickness where two of one name differ in it alone."""
    counts = Counter(plan.name for plan in plans)
    return {
        plan.number: f"{plan.name}, {section_text(None, plan.thickness)} mm"
        if counts[plan.name] > 1 and plan.thickness
        else plan.name
        for plan in plans
    }


def gap_text(plan: OrderPlan) -> str:
    """Return by how much the order may be above the least possible, or that it is proven to be that."""
    if plan.proven:
        return PROVEN
    return NO_BOUND if plan.gap is None else percent(plan.gap)


def bound_text(plan: OrderPlan) -> str:
    """Return what no plan can go below, with its unit."""
    return NO_BOUND if plan.bound is None else f"{number(plan.bound, 1)} {plan.worth_unit}"
