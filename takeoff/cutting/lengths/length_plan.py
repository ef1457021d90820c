"""What is to be cut from lengths on sale, and the plan that says how. All lengths in whole mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Part:
    """Equal parts to be cut, or made up of pieces joined at `joints`, places along the part [mm]."""

    length: int
    count: int
    joints: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class StockLength:
    """One length on sale [mm], and what buying it counts for: length, money or carbon."""

    length: int
    cost: float


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece of one part, from `start` to `end` along it [mm]; `part` is its place in the list of parts."""

    part: int
    start: int
    end: int

    @property
    def length(self) -> int:
        """Length of the piece [mm]."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Pattern:
    """How `count` equal lengths on sale are cut; `stock` is their place in the list of lengths on sale."""

    stock: int
    cuts: tuple[Cut, ...]
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthPlan:
    """A cutting plan: what to buy and how to cut it.

    `cost` is what the lengths bought count for, `bound` what no plan for these parts can go below.
    `proven` says that none can be better, `method` how it was found. `too_long` are the parts, by their
    place in the list, that no length on sale can serve, even joined; they are not in the patterns. Pieces overlap
    by `lap` at joints [mm].
    """

    patterns: tuple[Pattern, ...]
    cost: float
    bound: float
    proven: bool
    method: Literal["column generation", "first fit", "nothing to cut"]
    too_long: tuple[int, ...] = ()
    lap: int = 0

    @property
    def gap(self) -> float:
        """Share by which the plan may be above the least possible."""
        return self.cost / self.bound - 1 if self.bound > 0 else 0.0
