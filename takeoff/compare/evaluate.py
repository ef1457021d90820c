"""Evaluates one option from the model to its totals."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from takeoff.assess.allowances import (
    AssessedAllowance,
    allowance_problems,
    assess_allowances,
    measured_works,
    sums_allowed,
)
from takeoff.assess.by_year import YearFigures, by_year
from takeoff.assess.fabric.heat_loss import HouseFabric, house_fabric
from takeoff.assess.items import assess_lines
from takeoff.assess.ladder import Ladder, Slopes, climb, slopes_of
from takeoff.assess.lines import Line
from takeoff.assess.members.house_members import HouseMember, house_members
from takeoff.assess.members.without_steel import SteelLintel, without_steel
from takeoff.assess.overrides import override_allowances, override_lines, overrides_in, unknown_id
from takeoff.assess.stock_worth import convertible, stock_problems, worth_under
from takeoff.assess.totals import Totals, total, totals_by
from takeoff.assess.use_stage import allowance_renewals, with_renewals
from takeoff.compare.parallel import PlanWorkers
from takeoff.cutting.order import (
    OrderedQuantity,
    PlanQuestion,
    by_allowance,
    order_quantities,
    plan_questions,
    plans_of,
)
from takeoff.cutting.order_plan import OrderPlan
from takeoff.framing.openings import on_grid, opening_problems
from takeoff.measure.floor_areas import gross_floor
from takeoff.measure.house import MeasuredHouse, measure_house
from takeoff.measure.inside_checks import inside_problems
from takeoff.model.bill import Override
from takeoff.model.checks import design_problems
from takeoff.model.exposure import exposure_of
from takeoff.model.house import SIDES, CuttingAim, Design, Option, Side
from takeoff.model.job import Job
from takeoff.model.library import ELEMENTS, TRADES, Material
from takeoff.model.life_cycle import Exposure
from takeoff.model.problem import WorkbookProblem
from takeoff.model.room_edges import tiling_problems


class DesignError(Exception):
    """A design that can't be built or assessed as the workbook states it; `problems` says why."""

    def __init__(self, problems: list[WorkbookProblem]) -> None:
        """Keep the problems, sorted by place and each once."""
        self.problems = sorted(set(problems), key=lambda problem: (problem.sort_key(), problem.found))
        super().__init__("\n".join(problem.line() for problem in self.problems))


@dataclass(frozen=True, slots=True, kw_only=True)
class ByAllowance:
    """The same items ordered by their wastage allowances alone: what the plans are compared with."""

    lines: tuple[Line, ...]
    totals: Totals
    ladder: Ladder


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """Everything known of one option: sticks, items, what is bought, totals and the cost ladder.

    `lines` are the measured items and those of the allowances, in elemental order; totals, elements and
    trades add up all of them, works and sums. The ladder starts from the firm ones. `plans` say what is
    bought and how it is cut, `by_allowance` what the wastage allowances alone would give instead.

    `years` are upkeep and carbon year by year; `slopes` say what one more of works and of sums adds to the total
    including tax. `life_cycle` adds up the modules of the study [kgCO2e], None
    where none is assessed. `gross_floor` is the floor to the outside of the cladding [m2].
    `fabric` is the heat that the envelope loses, `members` the indicative checks of rafters, lintels and joists,
    `steel_lintels` what the setting no steel found for each lintel of steel.
    """

    option: Option
    design: Design
    measured: MeasuredHouse
    lines: tuple[Line, ...]
    allowances: tuple[AssessedAllowance, ...]
    totals: Totals
    by_element: dict[str, Totals]
    by_trade: dict[str, Totals]
    ladder: Ladder
    plans: tuple[OrderPlan, ...]
    by_allowance: ByAllowance
    years: tuple[YearFigures, ...]
    slopes: Slopes
    life_cycle: float | None
    exposures: dict[Side, Exposure]
    gross_floor: float
    fabric: HouseFabric
    members: tuple[HouseMember, ...]
    steel_lintels: tuple[SteelLintel, ...]

    @property
    def upkeep(self) -> float:
        """Upkeep over the study period, discounted, carried up the cost ladder [currency]."""
        return sum(year.discounted for year in self.years)

    @property
    def whole_life_cost(self) -> float:
        """Total including tax, and the upkeep [currency]."""
        return self.ladder.total_inc_tax + self.upkeep


def setting_out_problems(
    design: Design, materials: Mapping[str, Material] | None = None
) -> list[WorkbookProblem]:
    """Return what keeps a design from being set out: settings at odds, openings that do not fit, rooms that
    do not tile the plan.
    """
    return [*design_problems(design, materials), *opening_problems(design), *tiling_problems(design)]


def evaluate(job: Job, option: Option, *, planned: bool = True, workers: PlanWorkers | None = None) -> Result:
    """Evaluate one option. Raises DesignError with everything that stands in its way.

    Unless `planned`, nothing is cut or laid: every item is ordered by its wastage allowance. `workers` are processes
    that work out its cutting plans side by side.
    """
    begun = _begin(job, option, workers if planned else None)
    return _finish(job, option, begun, workers, planned=planned)


@dataclass(frozen=True, slots=True)
class _Begun:
    """An option set out and measured, and what its cutting plans ask the processes."""

    design: Design
    measured: MeasuredHouse
    steel: tuple[SteelLintel, ...]
    questions: list[PlanQuestion]


def _begin(job: Job, option: Option, workers: PlanWorkers | None) -> _Begun:
    """Set an option out, measure it and ask the processes for its cutting plans. Raises DesignError."""
    design, measured, steel = _measured(job, option)
    questions: list[PlanQuestion] = []
    # what can't be planned for is told when the option is finished
    if workers is not None and not stock_problems(measured.quantities, job.library):
        worth = worth_under(design.house.cutting_aim, job.library)
        questions = plan_questions(measured.quantities, job.library, worth=worth)
        workers.ask(questions)
    return _Begun(design, measured, steel, questions)


def _finish(job: Job, option: Option, begun: _Begun, workers: PlanWorkers | None, *, planned: bool) -> Result:
    """Order, price and add up an option that is measured. Raises DesignError."""
    design, measured, steel = begun.design, begun.measured, begun.steel
    if workers is not None:
        workers.wait_for(begun.questions)
    if problems := stock_problems(measured.quantities, job.library):
        raise DesignError(problems)
    ordered = _orders(measured, design.house.cutting_aim, job, planned=planned)
    overrides = overrides_in(job.overrides, option.name)
    lines, problems = assess_lines(ordered, job.library, job.study)
    lines, misfits = override_lines(lines, overrides, job.library, job.study)
    lines = with_renewals(lines, house=design.house, library=job.library, study=job.study)
    allowed, misfits_allowed = override_allowances(
        assess_allowances(job.allowances, inside_floor=measured.areas.inside), overrides, job.library
    )
    allowances = allowance_renewals(allowed, job.study)
    problems += allowance_problems(allowances, (line.quantity.id for line in lines))
    problems += [*misfits, *misfits_allowed]
    own = [*lines, *(line for each in allowances for line in each.lines)]
    problems += _unknown_ids(job, option, {line.quantity.id for line in own})
    if problems:
        raise DesignError(problems)
    added = [line for each in allowances for line in each.lines]
    lines = _in_elemental_order([*lines, *added])
    totals = total(lines)
    slopes = slopes_of(job.library.ladder)
    return Result(
        option=option,
        design=design,
        measured=measured,
        lines=tuple(lines),
        allowances=tuple(allowances),
        totals=totals,
        by_element=totals_by(lines, lambda line: line.quantity.element_name, ELEMENTS.values()),
        by_trade=totals_by(lines, lambda line: line.quantity.trade, TRADES),
        ladder=climb(measured_works(lines), job.library.ladder, sums_allowed(lines)),
        plans=tuple(plans_of(ordered)),
        by_allowance=_by_allowance(measured, added, overrides, job),
        years=by_year(lines, job.study, slopes),
        slopes=slopes,
        life_cycle=totals.life_cycle(job.study.modules),
        exposures={side: exposure_of(design.house, side) for side in SIDES},
        gross_floor=gross_floor(design, job.library),
        fabric=house_fabric(design, job.library, measured, job.fabric),
        members=house_members(design, job.library, measured),
        steel_lintels=steel,
    )


def _measured(job: Job, option: Option) -> tuple[Design, MeasuredHouse, tuple[SteelLintel, ...]]:
    """Return the design of an option as built, what it measures, and what took the place of its steel lintels.

    Raises DesignError where it can't be set out.
    """
    design = job.design_of(option)
    problems = setting_out_problems(design, job.library.materials) or inside_problems(design, job.library)
    if problems:
        raise DesignError(problems)
    design, steel = without_steel(on_grid(design), job.library)
    return design, measure_house(design, job.library), steel


def _unknown_ids(job: Job, option: Option, ids: set[str]) -> list[WorkbookProblem]:
    """Return the overrides of items that there are not: in the option they name, or in any where they name none.

    The other options are measured only where an id is missing in this one.
    """
    missing = [each for each in job.overrides if each.option in (None, option.name) and each.id not in ids]
    known = set(ids)
    for other in job.options:
        if other is not option and any(each.option is None and each.id not in known for each in missing):
            known |= _ids_of(job, other)
    return [
        unknown_id(each, known if each.option is None else ids)
        for each in missing
        if each.option is not None or each.id not in known
    ]


def _ids_of(job: Job, option: Option) -> set[str]:
    """Return the ids of the items that an option measures, none where it can't be set out."""
    try:
        _, measured, _ = _measured(job, option)
    except DesignError:
        return set()
    return {quantity.id for quantity in measured.quantities}


def _orders(measured: MeasuredHouse, aim: CuttingAim, job: Job, *, planned: bool) -> list[OrderedQuantity]:
    """Return what is bought for every measured item under the aim of the cutting plans."""
    if not planned:
        return [by_allowance(quantity, job.library) for quantity in measured.quantities]
    return order_quantities(
        measured.quantities,
        job.library,
        convert=convertible,
        worth=worth_under(aim, job.library),
        worth_unit=job.project.currency if aim == "least cost" else "kgCO2e",
    )


def _by_allowance(
    measured: MeasuredHouse, added: list[Line], overrides: tuple[Override, ...], job: Job
) -> ByAllowance:
    """Return the items as their wastage allowances alone would order them; `added` are those of allowances.

    Renewals are left out: what the plans are compared with is what is built. Quantities and rates are overridden in
    both, so that the wastage is all that differs.
    """
    library = job.library
    ordered = [by_allowance(quantity, library) for quantity in measured.quantities]
    priced, _ = assess_lines(ordered, library, job.study)
    priced, _ = override_lines(priced, overrides, library, job.study, figures=("quantity", "rate"))
    lines = _in_elemental_order([*priced, *added])
    return ByAllowance(
        lines=tuple(lines),
        totals=total(lines),
        ladder=climb(measured_works(lines), library.ladder, sums_allowed(lines)),
    )


def _in_elemental_order(lines: list[Line]) -> list[Line]:
    """Return items in elemental order, those of one element as they come."""
    order = list(ELEMENTS)
    return sorted(lines, key=lambda line: order.index(line.quantity.element))


class Ahead:
    """Evaluates options of which some were begun beforehand, so that their cutting plans are worked out meanwhile."""

    def __init__(self, workers: PlanWorkers | None, *, planned: bool = True) -> None:
        """Begin nothing yet; without `workers`, or where nothing is planned, nothing is ever begun beforehand."""
        self._workers = workers if planned else None
        self._planned = planned
        self._begun: list[tuple[Option, _Begun | DesignError]] = []

    def begin(self, job: Job, options: Iterable[Option]) -> None:
        """Set options out, measure them and ask for their cutting plans."""
        if self._workers is not None:
            self._begun += [(option, _begun_or_error(job, option, self._workers)) for option in options]

    def evaluate(self, job: Job, option: Option) -> Result:
        """Evaluate one option, as the function of that name does. Raises DesignError."""
        place = next((place for place, (each, _) in enumerate(self._begun) if each == option), None)
        begun = _begin(job, option, self._workers) if place is None else self._begun.pop(place)[1]
        if isinstance(begun, DesignError):
            raise begun
        return _finish(job, option, begun, self._workers, planned=self._planned)


def evaluate_all(
    job: Job,
    progress: Callable[[str], None] | None = None,
    *,
    planned: bool = True,
    workers: PlanWorkers | None = None,
) -> list[Result]:
    """Evaluate every option, as in `evaluate`. Raises DesignError with the problems of all of them.

    A problem that only an option has names it; a cell that the base has a problem with is told once. `progress` is
    given the name of each option that is done. All options are measured before the first is planned where there are
    `workers`, so that none of them waits.
    """
    ahead = Ahead(workers, planned=planned)
    ahead.begin(job, job.options)
    results: list[Result] = []
    problems: list[WorkbookProblem] = []
    told: set[tuple[str, str, str]] = set()
    for option in job.options:
        try:
            results.append(ahead.evaluate(job, option))
            if progress:
                progress(option.name)
        except DesignError as error:
            if option is job.base:
                told.update((p.book, p.sheet, p.cell) for p in error.problems)
                problems += error.problems
            else:
                new = (p for p in error.problems if (p.book, p.sheet, p.cell) not in told)
                problems += [_named(p, option) for p in new]
    if problems:
        raise DesignError(problems)
    return results


def _begun_or_error(job: Job, option: Option, workers: PlanWorkers | None) -> _Begun | DesignError:
    """Return an option begun, or what stands in its way."""
    try:
        return _begin(job, option, workers)
    except DesignError as error:
        return error


def _named(problem: WorkbookProblem, option: Option) -> WorkbookProblem:
    """Return a problem that says which option it is about."""
    return WorkbookProblem(
        problem.sheet,
        problem.cell,
        f"in option {option.name!r}, {problem.found}",
        problem.expected,
        problem.mend,
        problem.book,
    )
