"""Cautions that go with what is bought: pieces longer than anything on sale, sheets over the handling limit."""

from __future__ import annotations

from takeoff.compare.caution import Caution
from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import OrderPlan

# More marks than this are counted, not named.
_NAMED = 4


def order_cautions(result: Result) -> list[Caution]:
    """Return the cautions of the order plans of one option, each with the cell of the Stock sheet it rests on."""
    return [
        caution
        for plan in result.plans
        for caution in (
            *_too_long(plan),
            *(Caution("Handling", f"{plan.name}: {note}") for note in plan.notes),
        )
    ]


def _too_long(plan: OrderPlan) -> list[Caution]:
    """Return the caution of pieces that nothing on sale serves."""
    if not plan.too_long:
        return []
    longest, origin = plan.too_long[0].longest, plan.too_long[0].row.origin
    cell = f"{origin.sheet}!{origin.cell('lengths')}"
    marks = [piece.mark for piece in plan.too_long]
    named = ", ".join(marks) if len(marks) <= _NAMED else f"{marks[0]} to {marks[-1]}"
    rafters = any("rafters" in piece.item for piece in plan.too_long)
    splice = (
        "splice them at a support line (setting support lines)"
        if rafters
        else "join them on a support, where that is allowed"
    )
    pieces = "1 piece" if len(marks) == 1 else f"{len(marks)} pieces"
    return [
        Caution(
            "Longer than on sale",
            f"{plan.name}: {pieces} ({named}) up to {max(piece.length for piece in plan.too_long):.3f} m, longest on "
            f"sale {longest:g} m ({origin.book} {cell}); counted at their own length, as a special order. What "
            f"could be done: {splice}, take another product, or order the length",
        )
    ]
