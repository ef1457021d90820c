"""How long the hot paths take: reading, one option evaluated, all options, one issue.

Outside the default run:
python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_issue.py
The largest demo step by step, as a table: the same with `-s -k step_by_step`. Nothing else should run meanwhile.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import pytest

from takeoff.compare.evaluate import evaluate, evaluate_all
from takeoff.compare.parallel import plan_workers
from takeoff.compare.savings import savings
from takeoff.compare.uncertainty import draw
from takeoff.cutting.lengths.plan import _plan
from takeoff.cutting.sheets.plan import _plan as _plan_one_way
from takeoff.cutting.sheets.plan import plan_sheets
from takeoff.documents.comparison import comparison_page
from takeoff.documents.folder import write_whole
from takeoff.documents.issue import _client, _Issue, _lists, _results, _schedule, issue_files
from takeoff.documents.pdf import page_to_pdf
from takeoff.documents.volumes import appendix_volume, report_volume
from takeoff.workbook.reading import read_job

DEMO = Path(__file__).resolve().parents[2] / "demo_projects"
HOUSE = DEMO / "heron_bank.xlsx"
LARGEST = DEMO / "wharf_pair.xlsx"
Made = TypeVar("Made")


@pytest.fixture(scope="module")
def job():
    return read_job(HOUSE)


def test_reading_both_workbooks(benchmark):
    assert benchmark(read_job, HOUSE).options


def forget_plans() -> None:
    """Solve every plan of lengths and sheets afresh."""
    _plan.cache_clear()
    _plan_one_way.cache_clear()
    plan_sheets.cache_clear()


def test_one_option_evaluated(benchmark, job):
    """With the plans remembered: what a second option costs that buys the same."""
    assert benchmark(evaluate, job, job.base).lines


def test_one_option_evaluated_afresh(benchmark, job):
    assert benchmark.pedantic(evaluate, args=(job, job.base), setup=forget_plans, rounds=3).lines


def test_all_options_evaluated_afresh(benchmark, job):
    results = benchmark.pedantic(evaluate_all, args=(job,), setup=forget_plans, rounds=3)
    assert len(results) == len(job.options)


def test_all_options_evaluated(benchmark, job):
    assert len(benchmark(evaluate_all, job)) == len(job.options)


def test_comparison_page(benchmark, job):
    results = evaluate_all(job)
    ranges = draw(job, results)
    assert benchmark.pedantic(comparison_page, args=(job, results, ranges), rounds=3).startswith(
        "<!DOCTYPE html>"
    )


def test_issue(benchmark, tmp_path):
    def issue() -> None:
        forget_plans()
        job = read_job(HOUSE)
        files, missing = issue_files(job, evaluate_all(job), progress=lambda text: None)
        assert not missing
        write_whole(tmp_path / "issue", files)

    benchmark.pedantic(issue, rounds=3)
    assert (tmp_path / "issue" / "comparison.pdf").stat().st_size > 10_000


def told(step: str, work: Callable[[], Made]) -> Made:
    """Do a step and print how long it took."""
    start = time.perf_counter()
    made = work()
    print(f"  {step:<48}{time.perf_counter() - start:7.2f} s")
    return made


def test_the_largest_demo_step_by_step(tmp_path):
    """Every step in one process, then options and documents in two, then the command as typed, in one and in two."""
    forget_plans()
    print(f"\n{LARGEST.name}")
    job = told("reading", lambda: read_job(LARGEST))
    results = [told(f"option {o.name}", lambda o=o: evaluate(job, o)) for o in job.options]
    ranges = told("ranges", lambda: draw(job, results))
    saved = told("savings", lambda: savings(job, results, ranges))
    issue = _Issue(job, results, ranges, saved)
    page = told("comparison.html", lambda: comparison_page(job, results, ranges, saved))
    told("comparison.pdf", lambda: page_to_pdf(report_volume(page)))
    told("comparison_appendix.pdf", lambda: page_to_pdf(appendix_volume(page)))
    told("client.pdf", lambda: _client(issue))
    told("schedule.xlsx", lambda: _schedule(issue))
    told("results.json", lambda: _results(issue))
    told("lists of quantities, orders and cuts, bill.csv", lambda: _lists(issue))
    forget_plans()
    with plan_workers(2) as workers:
        results = told("all options, two processes", lambda: evaluate_all(job, workers=workers))
        told(
            "all documents of these, two processes",
            lambda: issue_files(job, results, progress=lambda text: None, workers=workers, processes=2),
        )
    for processes in (1, 2):
        command = [sys.executable, "-m", "takeoff", "issue", LARGEST, "--out", tmp_path / "issue"]
        environment = {**os.environ, "TAKEOFF_PROCESSES": str(processes)}
        told(
            f"takeoff issue, {processes} process{'es' if processes > 1 else ''}",
            lambda command=command, environment=environment: subprocess.run(
                command, env=environment, check=True, capture_output=True
            ),
        )
