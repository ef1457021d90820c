"""Side calculations of dimension paper: how a dimension follows from others that are known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

SideRule = Literal["mean", "under the slope", "on the slope", "centre line"]


@dataclass(frozen=True, slots=True)
class SideCalculation:
    """One side calculation: a rule and the numbers it takes [m; the pitch in degrees].

    - mean: two heights;
    - under the slope: height at the low end, level distance, pitch;
    - on the slope: up to three level distances added up, then the pitch;
    - centre line: length, width, and the breadth of what runs round inside them.

    >>> SideCalculation("under the slope", (2.7, 7.2, 5.0)).text
    '2.700 + 7.200 tan 5 = 3.330'
    """

    rule: SideRule
    numbers: tuple[float, ...]

    @property
    def value(self) -> float:
        """The dimension [m]."""
        numbers = self.numbers
        if self.rule == "mean":
            return sum(numbers) / len(numbers)
        if self.rule == "under the slope":
            base, run, pitch = numbers
            return base + run * math.tan(math.radians(pitch))
        if self.rule == "on the slope":
            *level, pitch = numbers
            return sum(level) / math.cos(math.radians(pitch))
        length, width, breadth = numbers
        return 2 * (length + width) - 4 * breadth

    @property
    def text(self) -> str:
        """The calculation as it is written beside the dimension."""
        lengths = [f"{number:.3f}" for number in self.numbers]
        pitch = f"{self.numbers[-1]:g}"
        if self.rule == "mean":
            words = f"({' + '.join(lengths)}) / {len(lengths)}"
        elif self.rule == "under the slope":
            words = f"{lengths[0]} + {lengths[1]} tan {pitch}"
        elif self.rule == "on the slope":
            words = f"({' + '.join(lengths[:-1])}) / cos {pitch}"
        else:
            words = f"2 ({lengths[0]} + {lengths[1]}) - 4 x {lengths[2]}"
        return f"{words} = {self.value:.3f}"


def mean_of(first: float, second: float) -> SideCalculation:
    """Return the mean of two heights [m]."""
    return SideCalculation("mean", (first, second))
