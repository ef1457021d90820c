"""Times cutting plans for whole lengths: the sections of the demo houses, and instances of known optimum that are hard.

Outside the default run:
`python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_lengths.py`
"""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.cutting.lengths.length_plan import Part, StockLength
from takeoff.cutting.lengths.plan import _plan, plan_lengths
from takeoff.workbook.reading import read_job

DEMO = Path(__file__).resolve().parents[2] / "demo_projects"


@pytest.mark.parametrize("demo", ["heron_bank", "dune_studio", "wharf_pair"])
def test_every_section_of_a_demo(benchmark, demo, monkeypatch):
    """The slowest section of a house: each is to be solved in under 2 s on two cores."""
    asked = []
    real = plan_lengths

    def asking(parts, stock, *, kerf=0):
        asked.append((parts, stock, kerf))
        return real(parts, stock, kerf=kerf)

    monkeypatch.setattr("takeoff.cutting.by_length.plan_lengths", asking)
    job = read_job(DEMO / f"{demo}.xlsx")
    evaluate(job, job.base)
    times = {}

    def solve():
        import time

        for number, (parts, stock, kerf) in enumerate(asked):
            _plan.cache_clear()
            start = time.perf_counter()
            plan = real(parts, stock, kerf=kerf)
            times[number] = (time.perf_counter() - start, plan.gap, sum(part.count for part in parts))
        return times

    benchmark.pedantic(solve, rounds=3)
    slowest = max(times.values())
    benchmark.extra_info["slowest section, s, gap, parts"] = slowest
    print(
        f"\n{demo}: {len(asked)} sections, slowest {slowest[0]:.2f} s with {slowest[2]} parts, gap {slowest[1]:.2%}"
    )


def triplets(seed: int, lengths: int) -> list[int]:
    """Cut lengths of 1000 into three pieces each, all between a quarter and a half, with nothing lost."""
    draw = random.Random(seed)
    pieces = []
    for _ in range(lengths):
        first = draw.randint(251, 498)
        second = draw.randint(max(251, 1000 - first - 499), min(499, 1000 - first - 251))
        pieces += [first, second, 1000 - first - second]
    return pieces


@pytest.mark.parametrize("lengths", [40, 83, 167])
def test_three_pieces_a_length(benchmark, lengths):
    """Hard for column generation: 120 to 501 pieces, the optimum known; the gap is printed."""
    parts = tuple(Part(length, count) for length, count in Counter(triplets(lengths, lengths)).items())

    def solve():
        _plan.cache_clear()
        return plan_lengths(parts, (StockLength(1000, 1.0),))

    plan = benchmark.pedantic(solve, rounds=1)
    print(f"\n{lengths} lengths: {plan.cost:.0f} bought, bound {plan.bound:.0f}, gap {plan.gap:.2%}")
    assert lengths <= plan.cost <= lengths + max(1, lengths // 50)
