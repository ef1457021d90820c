"""Plans worked out in other processes: the same results, in the same order, with the same errors."""

from __future__ import annotations

import os
from dataclasses import replace

import pytest

from takeoff.compare import parallel
from takeoff.compare.evaluate import Ahead, DesignError, Result, evaluate, evaluate_all
from takeoff.compare.parallel import PROCESSES, PlanWorkers, plan_workers, processes_allowed
from takeoff.cutting.lengths import plan as length_plans
from takeoff.cutting.lengths.length_plan import Part, StockLength
from takeoff.cutting.lengths.plan import LengthQuestion
from takeoff.cutting.sheets import plan as sheet_plans
from takeoff.workbook.reading import read_job


def forget_plans() -> None:
    length_plans._plan.cache_clear()
    sheet_plans._plan.cache_clear()
    sheet_plans.plan_sheets.cache_clear()


@pytest.fixture(scope="module")
def small_job(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    return replace(job, options=job.options[:3])


def bought(results: list[Result]) -> list[object]:
    """What is bought and how it is cut, of every option."""
    return [(result.option.name, result.plans) for result in results]


@pytest.fixture(scope="module")
def one_by_one(small_job) -> list[Result]:
    forget_plans()
    return [evaluate(small_job, option) for option in small_job.options]


def test_two_processes_give_the_results_of_one_in_the_order_of_the_options(small_job, one_by_one):
    forget_plans()
    done: list[str] = []
    with plan_workers(2) as workers:
        results = evaluate_all(small_job, done.append, workers=workers)
    assert bought(results) == bought(one_by_one)
    assert [result.totals for result in results] == [result.totals for result in one_by_one]
    assert done == [option.name for option in small_job.options]


def test_results_belong_to_the_options_of_the_job(small_job):
    with plan_workers(2) as workers:
        results = evaluate_all(small_job, workers=workers)
    assert all(result.option is option for result, option in zip(results, small_job.options, strict=True))


def test_plans_are_in_fact_worked_out_elsewhere(small_job, one_by_one, monkeypatch):
    """With nothing solved here the result is still complete: every long plan came from a process."""
    forget_plans()
    base = one_by_one[0]
    with plan_workers(2) as workers:
        real, here = length_plans._plan._work_out, []

        def watched(question):
            here.append(question.effort)
            return real(question)

        # forked processes are begun by the first question, before the watch is set
        workers.ask([LengthQuestion((Part(900, 2000),), (StockLength(3000, 3000.0),))])
        monkeypatch.setattr(length_plans._plan, "_work_out", watched)
        result = evaluate(small_job, small_job.base, workers=workers)
    assert bought([result]) == bought([base])
    assert here
    assert max(here) < parallel._LEAST_EFFORT


def test_with_one_process_none_is_started(small_job, one_by_one, monkeypatch):
    def refused(*arguments, **settings):
        raise AssertionError("no process is to be started")

    monkeypatch.setattr(parallel, "ProcessPoolExecutor", refused)
    forget_plans()
    with plan_workers(1) as workers:
        assert bought(evaluate_all(small_job, workers=workers)) == bought(one_by_one)


def test_where_no_process_can_be_started_plans_are_worked_out_here(small_job, one_by_one, monkeypatch):
    def refused(*arguments, **settings):
        raise OSError("no more processes")

    monkeypatch.setattr(parallel, "ProcessPoolExecutor", refused)
    forget_plans()
    with plan_workers(2) as workers:
        assert bought(evaluate_all(small_job, workers=workers)) == bought(one_by_one)


def test_a_question_that_fails_elsewhere_raises_its_error_here():
    """A negative length can't be planned; the process says so, and the error comes up where the plan is needed."""
    wrong = LengthQuestion((Part(-5, 2000),), (StockLength(3000, 3000.0),))
    with plan_workers(2) as workers:
        workers.ask([wrong])
        workers.wait_for([wrong])
    with pytest.raises(ValueError, match="parts must have a length"):
        wrong.answer()


def test_errors_of_options_are_those_of_one_process(small_job):
    base = small_job.base
    narrow = replace(base, name="Narrow", changes={"span": 0.5})
    broken = replace(small_job, options=(base, narrow))
    with pytest.raises(DesignError) as alone:
        evaluate_all(broken)
    with plan_workers(2) as workers, pytest.raises(DesignError) as beside:
        evaluate_all(broken, workers=workers)
    assert alone.value.problems
    assert beside.value.problems == alone.value.problems
    assert all("in option 'Narrow'" in problem.found for problem in beside.value.problems)


def test_questions_answered_before_are_not_sent(small_job, one_by_one):
    for option in small_job.options:
        evaluate(small_job, option)
    workers = PlanWorkers(2)
    evaluate_all(small_job, workers=workers)
    assert workers._pool is None


def test_the_environment_says_how_many_processes_are_allowed(monkeypatch):
    monkeypatch.setenv(PROCESSES, "3")
    assert processes_allowed() == 3
    for nonsense in ("", "0", "many", "-2"):
        monkeypatch.setenv(PROCESSES, nonsense)
        assert 1 <= processes_allowed() <= max(os.cpu_count() or 1, 1)


def test_an_option_begun_beforehand_comes_out_the_same(small_job, one_by_one):
    forget_plans()
    with plan_workers(2) as workers:
        ahead = Ahead(workers)
        ahead.begin(small_job, small_job.options[1:])
        assert workers._asked
        results = [ahead.evaluate(small_job, option) for option in small_job.options]
    assert bought(results) == bought(one_by_one)


def test_what_stands_in_the_way_is_told_when_the_option_is_asked_for(small_job):
    narrow = replace(small_job.base, name="Narrow", changes={"span": 0.5})
    with plan_workers(2) as workers:
        ahead = Ahead(workers)
        ahead.begin(small_job, [narrow])
        with pytest.raises(DesignError):
            ahead.evaluate(small_job, narrow)


def test_without_processes_nothing_is_begun_beforehand(small_job, one_by_one):
    ahead = Ahead(None)
    ahead.begin(small_job, small_job.options)
    assert ahead._begun == []
    assert bought([ahead.evaluate(small_job, small_job.base)]) == bought(one_by_one[:1])


def test_processes_started_before_the_first_question_answer_it():
    question = LengthQuestion((Part(900, 2000),), (StockLength(3000, 3000.0),))
    forget_plans()
    with plan_workers(2) as workers:
        workers.start()
        assert workers._pool is not None
        workers.ask([question])
        workers.wait_for([question])
        assert question.known
