"""What moved between two bills: in quantity, in rate, added, omitted and on the ladder, in money and in carbon."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.compare.line_movement import (
    REASONS,
    LineMovement,
    Measure,
    Reason,
    Shift,
    known_amount,
    line_movement,
)
from takeoff.model.issued_bill import Bill, BillLine, LadderAmount
from takeoff.model.job import Job
from takeoff.model.library import ELEMENTS
from takeoff.model.life_cycle import UPFRONT, module_words


class NotComparableError(ValueError):
    """Two bills whose difference would mean nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepMovement:
    """One step of the ladder in both bills, None where a bill has no such step, in money."""

    name: str
    old: float | None
    new: float | None

    @property
    def change(self) -> float:
        """The ladder effect of the step."""
        return (self.new or 0.0) - (self.old or 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sums:
    """Several lines together in one measure: what they came to, what they come to, and what moved.

    `old` and `new` are None where the carbon of none of them is assessed.
    """

    old: float | None
    new: float | None
    shift: Shift


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """Everything that moved from one bill to another; unchanged lines are among `lines` with nothing moved."""

    old: Bill
    new: Bill
    lines: tuple[LineMovement, ...]
    ladder: tuple[StepMovement, ...]

    @property
    def moved(self) -> tuple[LineMovement, ...]:
        """The lines that moved."""
        return tuple(line for line in self.lines if line.reasons)

    @property
    def ladder_effect(self) -> float:
        """What the steps of the ladder changed by together, in money."""
        return math.fsum(step.change for step in self.ladder)

    @property
    def elements(self) -> tuple[str, ...]:
        """The elements that either bill has, in elemental order."""
        return tuple(dict.fromkeys(line.shown.element for line in self.lines))

    def sums(self, measure: Measure, element: str | None = None) -> Sums:
        """Return the lines of an element together, of all of them where none is given; the ladder stands apart."""
        lines = [line for line in self.lines if element is None or line.shown.element == element]
        shifts = [line.shifts[measure] for line in lines]
        return Sums(
            old=_known_sum(known_amount(line.old, measure) for line in lines),
            new=_known_sum(known_amount(line.new, measure) for line in lines),
            shift=Shift(
                quantity=math.fsum(shift.quantity for shift in shifts),
                rate=math.fsum(shift.rate for shift in shifts),
                added=math.fsum(shift.added for shift in shifts),
                omitted=math.fsum(shift.omitted for shift in shifts),
            ),
        )

    def by_reason(self, measure: Measure) -> dict[Reason, float]:
        """Return the whole difference by reason, the ladder among them."""
        found = [line.by_reason(measure) for line in self.lines]
        amounts = {reason: math.fsum(each[reason] for each in found) for reason in REASONS}
        if measure == "money":
            amounts["ladder"] = self.ladder_effect
        return amounts

    def totals(self, measure: Measure) -> tuple[float | None, float | None]:
        """Return the totals that the two bills state: including tax in money, None where no carbon is assessed."""
        if measure == "money":
            return self.old.total_inc_tax, self.new.total_inc_tax
        if measure == "upfront":
            return self.old.upfront, self.new.upfront
        return self.old.life_cycle, self.new.life_cycle

    def difference(self, measure: Measure) -> float:
        """Return the difference of the totals; a total that is not assessed counts as nothing."""
        old, new = self.totals(measure)
        return (new or 0.0) - (old or 0.0)

    def one_sided(self, measure: Measure) -> tuple[str, ...]:
        """Return the ids of the lines whose carbon is assessed in one bill only."""
        return tuple(line.id for line in self.lines if line.one_sided(measure))


def _known_sum(amounts: Iterable[float | None]) -> float | None:
    """Return the sum of what is known, None where nothing is."""
    known = [amount for amount in amounts if amount is not None]
    return math.fsum(known) if known else None


def bill_of(job: Job, result: Result, *, source: str = "") -> Bill:
    """Return the bill of one option as evaluated; `source` says where its workbook was read."""
    # the ladder of a result begins with the sums of the allowances, which the steps of the sheet follow
    own = len(result.ladder.rungs) - len(job.library.ladder)
    return Bill(
        source=source,
        project=job.project.name,
        issue=job.project.issue,
        date=job.project.date,
        option=result.option.name,
        currency=job.project.currency,
        modules=job.study.modules,
        period=job.study.period,
        lines=tuple(_bill_line(job, line) for line in result.lines),
        ladder=tuple(
            LadderAmount(name=rung.name, amount=rung.amount, of_allowances=place < own)
            for place, rung in enumerate(result.ladder.rungs)
        ),
        total_inc_tax=result.ladder.total_inc_tax,
        upfront=result.totals.upfront_assessed,
        life_cycle=result.life_cycle,
    )


def as_issued(value: float) -> float:
    """Return a figure with the fifteen digits that an issue folder holds: both sides of a movement are alike."""
    return float(f"{value:.15g}")


def _bill_line(job: Job, line: Line) -> BillLine:
    """Return one item as the bill states it."""
    item, rate = line.quantity, line.rate
    return BillLine(
        id=item.id,
        element=item.element_name,
        trade=item.trade,
        kind=line.sum_kind or "measured",
        item=item.item,
        location=item.location,
        unit=item.unit,
        net=as_issued(item.net),
        material=rate.material + rate.sundries,
        labour=rate.labour,
        plant=rate.plant,
        stated=rate.stated,
        upfront=line.carbon.sum_of(UPFRONT),
        life_cycle=line.carbon.sum_of(module for module in job.study.modules if module != "D"),
        overridden=bool(line.overrides),
    )


def movement(old: Bill, new: Bill) -> Movement:
    """Return what moved from one bill to another, line by line, lines matched on their ids.

    With net quantity q, rate r, A the old bill and B the new one, a line that both have in one unit moved by
    (qB - qA) rA in quantity and (rB - rA) qB in rate: qB rA - qA rA + rB qB - rA qB is rB qB - rA qA, the whole
    difference of its cost. A line of one bill only is added with rB qB or omitted with - rA qA, one whose unit
    changed is both. So the lines add up to the difference of works and sums, and with the changes of the steps of the
    ladder to that of the totals. Steps that add up allowances are left out, since these are lines. Nothing is
    rounded and nothing shared out: what floating point leaves over stays below 1e-9 of a line's cost.

    In carbon the kgCO2e of one unit of net takes the place of the rate, and there is no ladder. A line that is not
    assessed counts as nothing; `Movement.one_sided` tells those that only one bill assesses.

    Raises NotComparableError where the bills differ in currency or in the modules that the life cycle adds up.

    Source: common practice, no source.
    """
    _check(old, new)
    before = {line.id: line for line in old.lines}
    after = {line.id: line for line in new.lines}
    lines = [line_movement(id, before.get(id), after.get(id)) for id in dict.fromkeys((*after, *before))]
    order = {name: place for place, name in enumerate(ELEMENTS.values())}
    lines.sort(key=lambda line: (order.get(line.shown.element, len(order)), line.shown.element))
    return Movement(old=old, new=new, lines=tuple(lines), ladder=_ladder(old, new))


def _check(old: Bill, new: Bill) -> None:
    """Refuse bills whose difference would mean nothing."""
    if old.currency != new.currency:
        raise NotComparableError(
            f"The old bill is in {old.currency} and the new one in {new.currency}: money of two currencies has no "
            "movement."
        )
    first, second = (tuple(module for module in bill.modules if module != "D") for bill in (old, new))
    if set(first) != set(second):
        raise NotComparableError(
            f"The life cycle of the old bill adds up {module_words(first)}, that of the new one "
            f"{module_words(second)}: give both studies the same modules."
        )


def _ladder(old: Bill, new: Bill) -> tuple[StepMovement, ...]:
    """Return the steps of both ladders matched by name, the new one's in their order, then those that are gone."""
    before, after = ({step.name: step.amount for step in bill.steps} for bill in (old, new))
    return tuple(
        StepMovement(name=name, old=before.get(name), new=after.get(name))
        for name in dict.fromkeys((*after, *before))
    )
