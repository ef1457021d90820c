"""What no plan can go below: by length alone, and rounded up to what whole lengths can add up to."""

from __future__ import annotations

import math
from functools import lru_cache

_FINEST = 20_000
"""A step finer than this share of the dearest length is of no use for rounding up."""

_NO_GAPS = 1_000_000
"""So many steps can be made up by whole lengths without a gap worth looking for."""


def common_step(costs: tuple[float, ...]) -> float | None:
    """Return the largest amount of which all costs are whole multiples; None if there is no useful one.

    One length on sale: its cost, so that a bound rounds up to whole lengths. Costs in mm: their greatest common
    divisor. Prices that go with the length share a step as well.

    >>> common_step((2400.0, 2700.0, 3600.0)), round(common_step((7.20, 8.10, 10.80)), 6)
    (300.0, 0.9)
    >>> common_step((1.0, 2**0.5)) is None
    True
    """
    dearest = max(costs)
    step = dearest
    for cost in costs:
        rest = cost
        # Euclid's rule; what is left below the tolerance is rounding of the machine
        while rest > dearest * 1e-8:
            step, rest = rest, abs(step - rest * round(step / rest))
    numbers = [round(cost / step) for cost in costs]
    step = math.fsum(costs) / sum(numbers)
    if dearest / step > _FINEST:
        return None
    fits = all(abs(cost - number * step) <= 1e-9 * cost for cost, number in zip(costs, numbers, strict=True))
    return step if fits else None


def round_up(bound: float, costs: tuple[int, ...]) -> float:
    """Round a bound up to the next amount that lengths of these whole costs can add up to.

    A millionth is forgiven, so that rounding of the machine never lifts a bound by a whole step.

    >>> round_up(12.2, (8, 9, 10)), round_up(30.5, (8, 9, 10)), round_up(452.25, (1,))
    (16.0, 32.0, 453.0)
    """
    least = max(0, math.ceil(bound * (1 - 1e-9) - 1e-6))
    if least > _NO_GAPS:
        return float(least)
    totals = _totals(costs, 1 << (least + max(costs)).bit_length()) >> least
    return float(least + (totals & -totals).bit_length() - 1)


@lru_cache(maxsize=256)
def _totals(costs: tuple[int, ...], limit: int) -> int:
    """Return what any numbers of lengths can add up to, below a limit: one bit for each amount."""
    totals = 1
    for cost in costs:
        step = cost
        while step < limit:
            totals |= totals << step
            step *= 2
        totals &= (1 << limit) - 1
    return totals
