"""The bill of one option as it went out: what two issues are compared by, from a workbook or an issue folder."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.model.life_cycle import Module


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One item of a bill: net quantity, rate for one unit of it and carbon of all of it [kgCO2e], None not assessed.

    `material` is that of the rate with its sundries, `stated` a rate given whole. `kind` is "measured",
    "provisional sum" or "prime-cost sum". `overridden` says that the quantity surveyor put a figure of his own in the
    place of its quantity, rate or wastage.
    """

    id: str
    element: str
    trade: str
    kind: str
    item: str
    location: str
    unit: str
    net: float
    material: float = 0.0
    labour: float = 0.0
    plant: float = 0.0
    stated: float = 0.0
    upfront: float | None = None
    life_cycle: float | None = None
    overridden: bool = False

    @property
    def rate(self) -> float:
        """The rate for one unit of net quantity."""
        return self.material + self.labour + self.plant + self.stated

    @property
    def cost(self) -> float:
        """Net quantity times rate."""
        return self.net * self.rate


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderAmount:
    """What one step of the cost ladder adds; one `of_allowances` adds up lines of the bill itself."""

    name: str
    amount: float
    of_allowances: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """The bill of one option of one issue, money in `currency`, carbon in kgCO2e.

    `total_inc_tax`, `upfront` and `life_cycle` are the totals as stated beside the lines, None where no line is
    assessed; `modules` and `period` [years] are those of the study that the life cycle is counted by. `source` says
    where it was read.
    """

    source: str
    project: str
    issue: str
    date: str
    option: str
    currency: str
    modules: tuple[Module, ...]
    period: float
    lines: tuple[BillLine, ...]
    ladder: tuple[LadderAmount, ...]
    total_inc_tax: float
    upfront: float | None
    life_cycle: float | None

    @property
    def title(self) -> str:
        """What it is called in a heading: project, issue, date and option, what is blank left out."""
        return ", ".join(part for part in (self.project, self.issue, self.date, self.option) if part)

    @property
    def works_and_sums(self) -> float:
        """The cost of all its lines, measured works and sums, in its currency."""
        return math.fsum(line.cost for line in self.lines)

    @property
    def steps(self) -> tuple[LadderAmount, ...]:
        """The steps that add to the lines: those that only add up lines of the bill are left out."""
        return tuple(step for step in self.ladder if not step.of_allowances)
