"""The cost ladder from measured works to the total including tax."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from takeoff.assess.lines import SUM_KINDS, SumOf
from takeoff.model.library import LadderStep

_SUM_RUNGS: dict[SumOf, str] = {
    "provisional sum": "Provisional sums",
    "prime-cost sum": "Prime-cost sums",
}
_SUM_WORDS = "sum of the allowances of that kind"


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderRung:
    """One step climbed: what it adds and the running total after it, in the project's currency."""

    name: str
    words: str
    amount: float
    running: float
    is_tax: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """The whole ladder of one option."""

    measured_works: float
    rungs: tuple[LadderRung, ...]

    @property
    def total_ex_tax(self) -> float:
        """Total before tax."""
        before = [rung.running for rung in self.rungs if not rung.is_tax]
        return before[-1] if before else self.measured_works

    @property
    def total_inc_tax(self) -> float:
        """Total with tax."""
        return self.rungs[-1].running if self.rungs else self.measured_works


def climb(
    measured_works: float, steps: tuple[LadderStep, ...], sums: Mapping[SumOf, float] | None = None
) -> Ladder:
    """Climb the ladder: measured works, the sums allowed for, then the steps in their order.

    Each percentage is of the base it names: the measured works, the works with the sums (those allowed
    for and those that a step of the kind sum has added before it), or the running total. A markup is of the
    cost before it; a margin is of the price after it, so that 20 % markup on 400,000 gives 480,000 and 20 %
    margin 500,000. Tax comes last in the running total it is taken of.

    Source: common practice, no source.
    """
    running = measured_works
    rungs: list[LadderRung] = []
    for kind, amount in (sums or {}).items():
        running += amount
        rungs.append(LadderRung(name=_SUM_RUNGS[kind], words=_SUM_WORDS, amount=amount, running=running))
    with_sums = running
    for step in steps:
        amount = _amount(step, measured_works=measured_works, with_sums=with_sums, running=running)
        running += amount
        if step.kind == "sum":
            with_sums += amount
        rungs.append(
            LadderRung(
                name=step.name,
                words=words(step),
                amount=amount,
                running=running,
                is_tax=step.kind == "tax",
            )
        )
    return Ladder(measured_works=measured_works, rungs=tuple(rungs))


@dataclass(frozen=True, slots=True, kw_only=True)
class Slopes:
    """What the total including tax is with nothing built, and what one more of works and of each sum adds to it.

    The ladder is a straight line in each, so its total is `nothing` and these times the works and sums.
    """

    nothing: float
    works: float
    sums: Mapping[SumOf, float]

    def of(self, kind: SumOf | None) -> float:
        """Return the slope of a kind of sum, None being the measured works."""
        return self.works if kind is None else self.sums[kind]


# Money as the items cost it, with nothing added.
BEFORE_THE_LADDER = Slopes(nothing=0.0, works=1.0, sums=dict.fromkeys(SUM_KINDS, 1.0))


def slopes_of(steps: tuple[LadderStep, ...]) -> Slopes:
    """Return the slopes of a cost ladder, found by climbing it with one of each."""
    # without its sums the ladder starts from nothing, so that no digits are lost in a difference
    rates = tuple(replace(step, value=0.0) if step.kind == "sum" else step for step in steps)
    return Slopes(
        nothing=climb(0.0, steps).total_inc_tax,
        works=climb(1.0, rates).total_inc_tax,
        sums={kind: climb(0.0, rates, {kind: 1.0}).total_inc_tax for kind in SUM_KINDS},
    )


def _amount(step: LadderStep, *, measured_works: float, with_sums: float, running: float) -> float:
    """Return what a step adds."""
    bases = {"measured works": measured_works, "works and sums": with_sums, "running total": running}
    base = bases[step.base or "running total"]
    if step.kind == "sum":
        return step.value
    if step.kind == "index ratio":
        return running * (step.value - 1)
    if step.kind == "margin":
        return base * step.value / (1 - step.value)
    return base * step.value


def words(step: LadderStep) -> str:
    """Return in words what a step is taken of; markup and margin each show the other."""
    base = step.base or "running total"
    share, value = f"{step.value * 100:g} %", step.value
    if step.kind == "sum":
        return "sum"
    if step.kind == "index ratio":
        return f"ratio of index values {step.value:g} on the running total"
    if step.kind == "margin":
        return f"margin {share} of the price, a markup of {value / (1 - value) * 100:.1f} % on the {base}"
    if step.kind == "markup":
        return f"markup {share} on the {base}, a margin of {value / (1 + value) * 100:.1f} % of the price"
    return f"{share} of the {base}"
