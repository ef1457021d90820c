"""Options taken up one upon another: what each saves after those before it.

Savings overlap. Two options that each spare a stud at every corner spare it once, so the savings of options can't be
added; the house is measured and priced anew with each further one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import DesignError, Result, evaluate
from takeoff.compare.parity import shortfalls
from takeoff.compare.uncertainty import DrawnFigure, Uncertainty
from takeoff.model.house import Option
from takeoff.model.job import Job

# An option counts as a saving where one of these is lower and none is higher, draw by draw.
_JUDGED_BY: tuple[DrawnFigure, ...] = ("total_inc_tax", "upfront_kgco2e")
# Floor areas that differ by more than this share belong to houses of another size. Common practice, no source.
_SAME_SIZE = 0.001

Evaluate = Callable[[Job, Option], Result]


@dataclass(frozen=True, slots=True, kw_only=True)
class SavingStep:
    """One option taken up: `result` is the house with it and all before it, `alone` the house with it only.

    `cost` and `upfront` are what it changes after those before it [currency incl. tax, kgCO2e A1-A5], `cost_alone` and
    `upfront_alone` what it changes by itself; less than zero is a saving.
    """

    name: str
    result: Result
    alone: Result
    cost: float
    upfront: float
    cost_alone: float
    upfront_alone: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """An option that is not taken up, and why."""

    name: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Savings:
    """The savings of a job, in the order they are taken up: that of their cost alone, the greatest first."""

    base: Result
    steps: tuple[SavingStep, ...]
    left_out: tuple[LeftOut, ...]

    @property
    def together(self) -> Result:
        """The house with all of them, the base where there are none."""
        return self.steps[-1].result if self.steps else self.base


def savings(
    job: Job, results: Sequence[Result], ranges: Uncertainty, *, evaluate_one: Evaluate = evaluate
) -> Savings:
    """Return the options that save without loss, taken up one upon another.

    Taken up are those lower than the base in cost or upfront carbon, higher in neither, of the same floor area, with
    nothing short in the fabric; of two that change the same setting the one that saves more cost. Each combination is
    evaluated as a house of its own. Overrides that name a single option do not hold for combinations.
    """
    base = results[0]
    found = sorted(
        (result for result in results[1:] if not _unfit(job, result, base, ranges)),
        key=_by_saving,
    )
    left_out = [
        LeftOut(name=result.option.name, reason=reason)
        for result in results[1:]
        if (reason := _unfit(job, result, base, ranges))
    ]
    steps: list[SavingStep] = []
    taken: list[Result] = []
    before = base
    for result in found:
        if clash := _clash(result, taken):
            left_out.append(LeftOut(name=result.option.name, reason=clash))
            continue
        try:
            after = (
                evaluate_one(job, combined([*(each.option for each in taken), result.option]))
                if taken
                else result
            )
        except DesignError as error:
            left_out.append(LeftOut(name=result.option.name, reason=_cannot(error)))
            continue
        if shortfalls(job, after, base):
            reason = "with the savings before it the fabric falls short of its targets"
            left_out.append(LeftOut(name=result.option.name, reason=reason))
            continue
        steps.append(_step(result, before, after, base))
        taken.append(result)
        before = after
    return Savings(base=base, steps=tuple(steps), left_out=tuple(left_out))


def likely_combinations(job: Job, results: Sequence[Result]) -> list[Option]:
    """Return the combinations that `savings` will evaluate if the ranges bear out what the central figures say."""
    base = results[0]
    taken: list[Result] = []
    combinations: list[Option] = []
    for result in sorted(results[1:], key=_by_saving):
        if _another_house(job, result, base) or not _lower(result, base) or _clash(result, taken):
            continue
        if taken:
            combinations.append(combined([*(each.option for each in taken), result.option]))
        taken.append(result)
    return combinations


def combined(options: Sequence[Option]) -> Option:
    """Return an option with the changes of several; where two change the same setting the later one stands."""
    return Option(
        name=" + ".join(option.name for option in options),
        changes={key: value for option in options for key, value in option.changes.items()},
        origin={key: cell for option in options for key, cell in option.origin.items()},
    )


def _by_saving(result: Result) -> tuple[float, float]:
    """Return what options are taken up by: what costs least first."""
    return result.ladder.total_inc_tax, result.totals.upfront


def _lower(result: Result, base: Result) -> bool:
    """Whether an option is lower in cost or upfront carbon and higher in neither, by the central figures."""
    changes = [one - other for one, other in zip(_by_saving(result), _by_saving(base), strict=True)]
    return min(changes) < 0 and max(changes) <= 0


def _another_house(job: Job, result: Result, base: Result) -> str:
    """Return why an option can't be compared with the base as a saving, empty where it can."""
    if (
        abs(result.measured.areas.outside - base.measured.areas.outside)
        > _SAME_SIZE * base.measured.areas.outside
    ):
        return "a house of another size"
    return "its fabric falls short of its targets" if shortfalls(job, result, base) else ""


def _unfit(job: Job, result: Result, base: Result, ranges: Uncertainty) -> str:
    """Return why an option is no saving by itself, empty where it is one."""
    if reason := _another_house(job, result, base):
        return reason
    differences = ranges.option(result.option.name).differences
    found = [differences[key].verdict for key in _JUDGED_BY]
    if "higher" in found:
        return "higher in " + " and ".join(
            words
            for words, verdict in zip(("cost", "upfront carbon"), found, strict=True)
            if verdict == "higher"
        )
    return "" if "lower" in found else "too close to call in cost and in upfront carbon"


def _clash(result: Result, taken: Sequence[Result]) -> str:
    """Return in words which option taken up before changes the same setting, empty where none does."""
    for other in taken:
        if set(result.option.changes) & set(other.option.changes):
            return f"changes the same setting as {other.option.name}, which saves more cost"
    return ""


def _cannot(error: DesignError) -> str:
    """Return in words why a combination can't be built."""
    return f"can't be built with the savings before it: {error.problems[0].found}"


def _step(result: Result, before: Result, after: Result, base: Result) -> SavingStep:
    """Return what an option changes after those before it, and by itself."""
    return SavingStep(
        name=result.option.name,
        result=after,
        alone=result,
        cost=after.ladder.total_inc_tax - before.ladder.total_inc_tax,
        upfront=after.totals.upfront - before.totals.upfront,
        cost_alone=result.ladder.total_inc_tax - base.ladder.total_inc_tax,
        upfront_alone=result.totals.upfront - base.totals.upfront,
    )
