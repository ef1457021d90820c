"""Sizes of sheets, and the whole hundredths of a mm in which they are cut."""

from __future__ import annotations

import math
from dataclasses import dataclass

_IN_A_METRE = 100_000


@dataclass(frozen=True, slots=True)
class SheetSize:
    """Length and width of a sheet [m]; sheets run along their length."""

    length: float
    width: float

    @property
    def area(self) -> float:
        """Area [m2]."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class SheetOnSale:
    """A size of sheet on sale [m]. `cost` is what one counts for, money or carbon; its area [m2] if None."""

    length: float
    width: float
    cost: float | None = None

    @property
    def size(self) -> SheetSize:
        """Length and width [m]."""
        return SheetSize(self.length, self.width)

    @property
    def counts_for(self) -> float:
        """What one sheet counts for in the search: its cost or its area [m2]."""
        return self.size.area if self.cost is None else self.cost


def hundredths(metres: float) -> int:
    """Return a length [m] in whole hundredths of a mm, rounded up, but for what floating point adds.

    >>> hundredths(2.4), hundredths(0.1 + 0.2), hundredths(0.30000004)
    (240000, 30000, 30001)
    """
    return math.ceil(metres * _IN_A_METRE - 0.001)


def metres(hundredths_of_a_mm: int) -> float:
    """Return whole hundredths of a mm as a length [m]."""
    return hundredths_of_a_mm / _IN_A_METRE
