"""What a quantity surveyor adds to the measured bill: overrides, queries, what is to take, sources, issues."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.problem import Origin

OverriddenFigure = Literal["quantity", "rate", "wastage"]
OVERRIDDEN_FIGURES: tuple[OverriddenFigure, ...] = get_args(OverriddenFigure)
BillOrder = Literal["element", "trade", "both"]
BILL_ORDERS: tuple[BillOrder, ...] = get_args(BillOrder)


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """One figure that the quantity surveyor puts in the place of a measured or built-up one.

    `value` is a net quantity in the unit of the item, a rate for one unit of net in the project's currency, or what is
    bought beyond the required quantity, as a share of that (0.10). `unit` is the measured unit of a quantity or of one
    unit of a rate, "" for wastage. `option` is None where it holds for every option that has the item.
    """

    id: str
    figure: OverriddenFigure
    value: float
    unit: str
    reason: str
    who: str
    date: str
    option: str | None = None
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class AppliedOverride:
    """An override with the figure that it stands in the place of, in the same unit.

    `effect` is what it adds to the cost of the item, before the cost ladder [currency].
    """

    override: Override
    was: float
    effect: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """A question on the bill, and its answer where there is one yet."""

    reference: str
    question: str
    asked_by: str
    asked_on: str
    answer: str = ""
    answered_by: str = ""
    answered_on: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToTake:
    """Something that is not measured yet: what, why not, who takes it. `element` is in words, "" where it has none."""

    item: str
    element: str
    reason: str
    who: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Information:
    """A drawing or document the bill is measured from. `elements` are those it informs, () for all of them."""

    reference: str
    title: str
    revision: str
    date: str
    author: str
    elements: tuple[str, ...] = ()
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    @property
    def name(self) -> str:
        """Reference and revision, as a line of the bill names them."""
        return f"{self.reference} rev {self.revision}" if self.revision else self.reference


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueRecord:
    """One issue of the documents and what changed with it."""

    issue: str
    date: str
    stage: str
    changed: str
    who: str
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)
