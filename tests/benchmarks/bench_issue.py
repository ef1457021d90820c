"""How long the hot paths take: reading, one option evaluated, all options, one issue.

Outside the default run:
python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_issue.py
"""

from __future__ import annotations

from pathlib import Path

import pytest

from takeoff.compare.evaluate import evaluate, evaluate_all
from takeoff.compare.uncertainty import draw
from takeoff.cutting.lengths.plan import _plan
from takeoff.cutting.sheets.plan import plan_sheets
from takeoff.documents.comparison import comparison_page
from takeoff.documents.folder import write_whole
from takeoff.documents.issue import issue_files
from takeoff.workbook.reading import read_job

HOUSE = Path(__file__).resolve().parents[2] / "demo_projects" / "heron_bank.xlsx"


@pytest.fixture(scope="module")
def job():
    return read_job(HOUSE)


def test_reading_both_workbooks(benchmark):
    assert benchmark(read_job, HOUSE).options


def forget_plans() -> None:
    """Solve every plan of lengths and sheets afresh."""
    _plan.cache_clear()
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
