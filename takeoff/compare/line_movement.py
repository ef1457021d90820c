"""What one line of the bill moved by between two issues, and why."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from takeoff.model.issued_bill import BillLine

Measure = Literal["money", "upfront", "life cycle"]
MEASURES: tuple[Measure, ...] = get_args(Measure)
Reason = Literal[
    "quantity",
    "material rate",
    "labour rate",
    "plant rate",
    "stated rate",
    "carbon of one unit",
    "override",
    "added",
    "omitted",
    "ladder",
]
REASONS: tuple[Reason, ...] = get_args(Reason)
# Under this an amount of money or kgCO2e is what floating point leaves, and no reason for anything.
NOTHING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """What one measure of one line, or of several together, moved by: four parts that add up to its difference."""

    quantity: float = 0.0
    rate: float = 0.0
    added: float = 0.0
    omitted: float = 0.0

    @property
    def difference(self) -> float:
        """All four together."""
        return math.fsum((self.quantity, self.rate, self.added, self.omitted))


@dataclass(frozen=True, slots=True, kw_only=True)
class RateShift:
    """The rate movement in money by what the rate is made of; the parts add up to it."""

    material: float = 0.0
    labour: float = 0.0
    plant: float = 0.0
    stated: float = 0.0

    @property
    def total(self) -> float:
        """The rate movement."""
        return math.fsum((self.material, self.labour, self.plant, self.stated))


@dataclass(frozen=True, slots=True, kw_only=True)
class LineMovement:
    """One line id in both bills; None where a bill has no such line. A line whose unit changed is omitted and added."""

    id: str
    old: BillLine | None
    new: BillLine | None
    shifts: dict[Measure, Shift]
    rates: RateShift

    @property
    def shown(self) -> BillLine:
        """The line as the new bill has it, as the old one had it where it is omitted."""
        line = self.new or self.old
        assert line is not None
        return line

    @property
    def overridden(self) -> bool:
        """Whether it stands in both bills and one of them has an override of it."""
        return meets(self.old, self.new) and any(line and line.overridden for line in (self.old, self.new))

    def by_reason(self, measure: Measure) -> dict[Reason, float]:
        """Return its difference by reason; all that an overridden line moved by is put down to the override."""
        shift = self.shifts[measure]
        found: dict[Reason, float] = dict.fromkeys(REASONS, 0.0)
        found["added"], found["omitted"] = shift.added, shift.omitted
        if self.overridden:
            found["override"] = shift.quantity + shift.rate
            return found
        found["quantity"] = shift.quantity
        if measure == "money":
            rates = self.rates
            found["material rate"], found["labour rate"] = rates.material, rates.labour
            found["plant rate"], found["stated rate"] = rates.plant, rates.stated
        else:
            found["carbon of one unit"] = shift.rate
        return found

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """The reasons why it moved, () where it did not."""
        amounts = [self.by_reason(measure) for measure in MEASURES]
        return tuple(reason for reason in REASONS if any(abs(each[reason]) > NOTHING for each in amounts))

    def one_sided(self, measure: Measure) -> bool:
        """Whether the carbon of a line that stands in both bills is assessed in one of them only."""
        if self.old is None or self.new is None or measure == "money":
            return False
        return (known_amount(self.old, measure) is None) != (known_amount(self.new, measure) is None)


def meets(old: BillLine | None, new: BillLine | None) -> bool:
    """Whether both bills have the line, in one unit."""
    return old is not None and new is not None and old.unit == new.unit


def line_movement(id: str, old: BillLine | None, new: BillLine | None) -> LineMovement:
    """Return what one line moved by."""
    rates = RateShift()
    if old is not None and new is not None and meets(old, new):
        rates = RateShift(
            material=(new.material - old.material) * new.net,
            labour=(new.labour - old.labour) * new.net,
            plant=(new.plant - old.plant) * new.net,
            stated=(new.stated - old.stated) * new.net,
        )
    shifts: dict[Measure, Shift] = {measure: _shift(old, new, measure) for measure in MEASURES}
    return LineMovement(id=id, old=old, new=new, shifts=shifts, rates=rates)


def _shift(old: BillLine | None, new: BillLine | None, measure: Measure) -> Shift:
    """Return what one line moved by in one measure."""
    if old is None or new is None or not meets(old, new):
        # a difference, so that an omitted nothing is no minus nothing
        return Shift(added=amount_of(new, measure), omitted=0.0 - amount_of(old, measure))
    before, after = unit_amount(old, measure), unit_amount(new, measure)
    return Shift(quantity=(new.net - old.net) * before, rate=(after - before) * new.net)


def amount_of(line: BillLine | None, measure: Measure) -> float:
    """Return what a line comes to, nothing where a bill has no such line or its carbon is not assessed."""
    return known_amount(line, measure) or 0.0


def known_amount(line: BillLine | None, measure: Measure) -> float | None:
    """Return what a line comes to, None where a bill has no such line or its carbon is not assessed."""
    if line is None:
        return None
    return {"money": line.cost, "upfront": line.upfront, "life cycle": line.life_cycle}[measure]


def unit_amount(line: BillLine, measure: Measure) -> float:
    """Return what one unit of net comes to; in carbon nothing where there is no net quantity."""
    if measure == "money":
        return line.rate
    return amount_of(line, measure) / line.net if line.net else 0.0
