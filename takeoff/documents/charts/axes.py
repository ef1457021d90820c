"""Axes with round ticks, and the placing of labels along a line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Axis:
    """A straight scale: values from `low` to `high` between two places on paper [mm]."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return the place of a value on paper [mm]."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def round_step(span: float, about: int) -> float:
    """Return a step of 1, 2 or 5 times a power of ten that divides a span into about so many parts."""
    rough = span / about
    power = 10.0 ** math.floor(math.log10(rough))
    return min((power * n for n in (1, 2, 5, 10)), key=lambda step: abs(step - rough))


def round_ticks(low: float, high: float, about: int = 5) -> tuple[float, ...]:
    """Return round values from low to high, both ends included where they are round themselves."""
    if high <= low:
        return (low,)
    step = round_step(high - low, about)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return tuple(i * step for i in range(first, last + 1))


def padded_range(values: Sequence[float], *, padding: float = 0.08) -> tuple[float, float]:
    """Return the range of an axis: round at both ends, from zero where zero is near, clear of the values.

    Zero is near where the least value is under a third of the greatest.
    """
    least, most = min(values), max(values)
    span = most - least or abs(most) or 1.0
    low, high = least - padding * span, most + padding * span
    if 0 <= least < most / 3 or (least >= 0 > low):
        low = 0.0
    step = round_step(high - low, 6)
    return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step


def spread(centres: Sequence[float], widths: Sequence[float], *, low: float, high: float) -> list[float]:
    """Return centres moved as little as need be so that labels in this order stand side by side.

    `widths` include the gap between labels; together they must fit between low and high.
    """
    # Neighbours that overlap are pooled and stand around the mean of their wishes.
    pools: list[list[float]] = []
    for centre, width in zip(centres, widths, strict=True):
        pools.append([centre - width / 2, width, 1.0])
        while len(pools) > 1 and pools[-2][0] + pools[-2][1] > pools[-1][0]:
            start, wide, count = pools.pop()
            before = pools[-1]
            # Where the joint pool would start if each of its labels had its wish.
            wish = (before[0] * before[2] + (start - before[1]) * count) / (before[2] + count)
            pools[-1] = [wish, before[1] + wide, before[2] + count]
    starts = [max(low, pool[0]) for pool in pools]
    for i in range(1, len(pools)):
        starts[i] = max(starts[i], starts[i - 1] + pools[i - 1][1])
    limit = high
    for i in reversed(range(len(pools))):
        starts[i] = min(starts[i], limit - pools[i][1])
        limit = starts[i]
    placed: list[float] = []
    remaining = iter(widths)
    for start, pool in zip(starts, pools, strict=True):
        at = start
        for _ in range(round(pool[2])):
            width = next(remaining)
            placed.append(at + width / 2)
            at += width
    return placed
