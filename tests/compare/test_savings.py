"""Options taken up one upon another: which, in what order, and what each saves after those before it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.compare.evaluate import DesignError, Result, evaluate, evaluate_all
from takeoff.compare.savings import Savings, likely_combinations, savings
from takeoff.compare.uncertainty import draw
from takeoff.model.house import Option
from takeoff.model.job import Job
from takeoff.model.problem import WorkbookProblem

STUDS = Option(name="Studs at 600", changes={"stud_spacing": 0.6})
MORE_STUDS = Option(name="Studs at 900", changes={"stud_spacing": 0.9})
FLATTER = Option(name="Pitch 3 deg", changes={"pitch": 3.0})
LOWER = Option(name="Lower by 150 mm", changes={"low_height": 2.55})
DEARER = Option(name="Brick and panel", changes={"palette": "Brick and panel"})
LONGER = Option(name="Longer", changes={"length": 12.9})
NOTHING = Option(name="As drawn again", changes={})


def unplanned(job: Job, option: Option) -> Result:
    return evaluate(job, option, planned=False)


def saved_by(job: Job, *options: Option) -> tuple[Savings, list[Result]]:
    job = replace(job, options=(job.base, *options), study=replace(job.study, draws=500))
    results = evaluate_all(job, planned=False)
    return savings(job, results, draw(job, results), evaluate_one=unplanned), results


def test_each_step_is_the_house_with_all_before_it(job):
    saved, results = saved_by(job, STUDS, FLATTER, LOWER)
    assert {step.name for step in saved.steps} == {"Studs at 600", "Pitch 3 deg", "Lower by 150 mm"}
    taken: list[Option] = []
    before = results[0]
    by_name = {option.name: option for option in (STUDS, FLATTER, LOWER)}
    for step in saved.steps:
        taken.append(by_name[step.name])
        changes = {key: value for option in taken for key, value in option.changes.items()}
        house = unplanned(job, Option(name="by hand", changes=changes))
        assert step.cost == pytest.approx(house.ladder.total_inc_tax - before.ladder.total_inc_tax)
        assert step.upfront == pytest.approx(house.totals.upfront - before.totals.upfront)
        before = house
    assert saved.together.ladder.total_inc_tax == pytest.approx(before.ladder.total_inc_tax)


def test_the_steps_add_up_to_what_all_save_together(job):
    saved, results = saved_by(job, STUDS, FLATTER, LOWER)
    base = results[0]
    assert sum(step.cost for step in saved.steps) == pytest.approx(
        saved.together.ladder.total_inc_tax - base.ladder.total_inc_tax
    )
    assert sum(step.upfront for step in saved.steps) == pytest.approx(
        saved.together.totals.upfront - base.totals.upfront
    )


def test_savings_overlap(job):
    saved, _ = saved_by(job, STUDS, FLATTER, LOWER)
    studs = next(step for step in saved.steps if step.name == "Studs at 600")
    assert studs is not saved.steps[0]
    # lower walls have shorter studs: the ones that wider centres spare are worth less
    assert studs.cost_alone < studs.cost < 0
    assert studs.upfront_alone < studs.upfront < 0


def test_the_greatest_saving_of_cost_comes_first(job):
    saved, _ = saved_by(job, STUDS, FLATTER, LOWER)
    alone = [step.cost_alone for step in saved.steps]
    assert alone == sorted(alone)
    assert saved.steps[0].cost == pytest.approx(saved.steps[0].cost_alone)


def test_of_two_that_change_one_setting_the_greater_is_taken(job):
    saved, _ = saved_by(job, STUDS, MORE_STUDS)
    assert [step.name for step in saved.steps] == ["Studs at 900"]
    (left,) = saved.left_out
    assert left.name == "Studs at 600"
    assert left.reason == "changes the same setting as Studs at 900, which saves more cost"


def test_what_costs_more_is_another_size_or_saves_nothing_is_left_out(job):
    saved, results = saved_by(job, DEARER, LONGER, NOTHING)
    assert saved.steps == ()
    assert saved.together is results[0]
    assert {left.name: left.reason for left in saved.left_out} == {
        "Brick and panel": "higher in cost and upfront carbon",
        "Longer": "a house of another size",
        "As drawn again": "too close to call in cost and in upfront carbon",
    }


def test_an_option_whose_fabric_falls_short_is_no_saving(job):
    thinner = next(option for option in job.options if option.name == "Plant-fibre insulation")
    saved, _ = saved_by(job, thinner)
    assert [left.reason for left in saved.left_out] == ["its fabric falls short of its targets"]


def test_options_that_only_together_fall_short_are_not_both_taken(job, monkeypatch):
    def together_too_little(job: Job, result: Result, base: Result) -> tuple[str, ...]:
        return ("heat loss",) if len(result.option.changes) == 2 else ()

    monkeypatch.setattr("takeoff.compare.savings.shortfalls", together_too_little)
    saved, _ = saved_by(job, STUDS, FLATTER)
    assert len(saved.steps) == 1
    (left,) = saved.left_out
    assert left.reason == "with the savings before it the fabric falls short of its targets"


def test_a_combination_that_cannot_be_built_is_left_out_with_the_reason(job):
    job = replace(job, options=(job.base, STUDS, FLATTER), study=replace(job.study, draws=500))
    results = evaluate_all(job, planned=False)

    def refused(job: Job, option: Option) -> Result:
        raise DesignError([WorkbookProblem("Openings", "B4", "the window is over the roof", "", "")])

    saved = savings(job, results, draw(job, results), evaluate_one=refused)
    assert len(saved.steps) == 1
    (left,) = saved.left_out
    assert left.reason == "can't be built with the savings before it: the window is over the roof"


def test_one_option_has_no_savings(job):
    saved, results = saved_by(job)
    assert saved == Savings(base=results[0], steps=(), left_out=())


def test_combinations_are_told_before_the_ranges_are_drawn(job):
    """Those that the savings then evaluate, in their order: nothing is begun in vain where the ranges agree."""
    options = (STUDS, MORE_STUDS, FLATTER, LOWER, DEARER, LONGER, NOTHING)
    job = replace(job, options=(job.base, *options), study=replace(job.study, draws=500))
    results = evaluate_all(job, planned=False)
    evaluated: list[Option] = []

    def noted(job: Job, option: Option) -> Result:
        evaluated.append(option)
        return unplanned(job, option)

    savings(job, results, draw(job, results), evaluate_one=noted)
    assert len(evaluated) == 2
    assert likely_combinations(job, results) == evaluated


def test_no_combination_is_likely_where_nothing_saves(job):
    job = replace(job, options=(job.base, DEARER, LONGER, NOTHING))
    assert likely_combinations(job, evaluate_all(job, planned=False)) == []
