"""The least thickness that is enough: a U-value or heat loss turned round."""

from __future__ import annotations

import math
from collections.abc import Callable

_STEPS = 60
_NEAR = 1e-9


def thickness_for(
    loss_of: Callable[[float], float], target: float, *, low: float, high: float, step: float = 0.005
) -> float | None:
    """Return the least thickness [m] at which a falling loss is not above a target, rounded up to a step.

    `loss_of` gives the loss, a U-value or a heat loss, for a thickness [m] between `low` and `high`. None where even
    `high` is not enough.

    >>> thickness_for(lambda more: 1 / (1 + more / 0.04), 0.5, low=0.0, high=0.5)
    0.04
    """
    if loss_of(low) <= target:
        return low
    if loss_of(high) > target:
        return None
    short, enough = low, high
    for _ in range(_STEPS):
        middle = (short + enough) / 2
        if loss_of(middle) > target:
            short = middle
        else:
            enough = middle
    return round(min(math.ceil(enough / step - _NEAR) * step, high), 6)
