"""What is bought of one material or section, and how that follows: the plan behind the order quantities."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from takeoff.cutting.sheets.plan import SheetPlan
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Material, Stock

Basis = Literal[
    "cutting plan",
    "sheet layout",
    "cut to length",
    "roll layout",
    "whole units",
    "wastage allowance",
    "as required",
]
# Ways of ordering that follow from a plan of every piece, not from an allowance.
PLANNED: frozenset[Basis] = frozenset({"cutting plan", "sheet layout", "cut to length", "roll layout"})

# How much in a unit one unit of a quantity is, None where nothing links the two.
Convert = Callable[[Quantity, Material, str], float | None]
# What one thing on sale counts for under the aim of the plan: its row, what it holds in the unit of the quantity.
Worth = Callable[[Quantity, Stock, float], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderItem:
    """So many of one thing on sale: a length, a sheet, a roll, a pack. Sizes in m.

    `amount` is what all of them hold, in the unit of the plan.
    """

    stock: Stock
    count: float
    amount: float
    length: float | None = None
    width: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A piece cut from a length: its length [m], one mark for each of the lengths cut alike, its item.

    `part` says which part of a joined member it is, as in "1 of 2"; "" where it is whole.
    """

    length: float
    marks: tuple[str, ...]
    item: str
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLength:
    """`count` equal lengths on sale [m], cut alike; `offcut` is what is left of each, kerfs deducted [m]."""

    stock: Stock
    length: float
    count: int
    pieces: tuple[CutPiece, ...]
    offcut: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """Equal offcuts that are worth keeping [m], and the pieces of the plan they could serve once more.

    `width` is None for those of lengths.
    """

    length: float
    width: float | None
    count: int
    serves: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLong:
    """A piece longer than anything on sale [m]: it is bought at its own length, as a special order.

    `row` is the row of the stock with the longest length.
    """

    item: str
    mark: str
    length: float
    longest: float
    row: Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPlan:
    """What is bought of one material or section for all its items together.

    `net`, `required`, `allowed` (by wastage allowance), `order` and `charged` are in `unit`. `charged` is the part of
    the order that money and carbon count: all of lengths and sheets, whose offcuts are lost, but not the rest of the
    last roll or pack, which is left for other work. `worth` is what the order counts for in `worth_unit` under the
    aim of the plan, `bound` what no plan can go below, None where none is known; `proven` says that no plan can be
    better. `lengths` or `sheets` hold how it is cut.
    """

    number: int
    name: str
    material: str
    depth: float | None
    thickness: float | None
    unit: str
    basis: Basis
    items_of: tuple[str, ...]
    net: float
    required: float
    allowed: float
    order: float
    charged: float
    items: tuple[OrderItem, ...]
    rule: str
    worth: float | None = None
    bound: float | None = None
    worth_unit: str = ""
    proven: bool = False
    framing: bool = False
    lengths: tuple[CutLength, ...] = ()
    sheets: SheetPlan | None = None
    offcuts: tuple[Offcut, ...] = ()
    too_long: tuple[TooLong, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def gap(self) -> float | None:
        """Share by which the order may be above the least possible, None where no bound is known."""
        if self.worth is None or not self.bound:
            return None
        return max(self.worth / self.bound - 1, 0.0)

    @property
    def planned(self) -> bool:
        """Whether it follows from a plan of every piece, not from an allowance."""
        return self.basis in PLANNED

    @property
    def wastage_share(self) -> float:
        """Share of what is charged that is not built in."""
        return max(1 - self.required / self.charged, 0.0) if self.charged else 0.0

    @property
    def allowed_share(self) -> float:
        """Share of what the wastage allowance would buy that is not built in."""
        return 1 - self.required / self.allowed if self.allowed else 0.0
