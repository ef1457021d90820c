"""How long the ranges of 12 options take with 10,000 draws, and what memory they need.

The largest demo, its options repeated under other names and with other amounts to make 12. Outside the default run:
python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_draws.py
"""

from __future__ import annotations

import tracemalloc
from dataclasses import replace
from pathlib import Path

import pytest

from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.uncertainty import draw
from takeoff.model.life_cycle import SPREADS_OF, ServiceLife, Spread
from takeoff.workbook.reading import read_job

HOUSE = Path(__file__).resolve().parents[2] / "demo_projects" / "wharf_pair.xlsx"
OPTIONS = 12
DRAWS = 10_000


@pytest.fixture(scope="module")
def job():
    """Every material with a life and every kind of input with a spread, so that nothing is left undrawn."""
    job = read_job(HOUSE)
    library = job.library
    lives = {
        name: ServiceLife(
            material=name,
            module="B4",
            sheltered=45.0 - place % 30,
            moderate=40.0 - place % 30,
            exposed=35.0 - place % 30,
            low=0.6,
            high=1.4,
        )
        for place, name in enumerate(library.materials)
    }
    spreads = {(of, "all"): Spread(of=of, name="all", low=-0.1, high=0.2) for of in SPREADS_OF}
    return replace(
        job,
        library=replace(library, lives=lives, spreads=spreads),
        study=replace(job.study, draws=DRAWS, seed=1),
    )


@pytest.fixture(scope="module")
def results(job):
    evaluated = evaluate_all(job, planned=False)
    repeated = [evaluated[place % len(evaluated)] for place in range(OPTIONS)]
    return [
        replace(
            result,
            option=replace(result.option, name=f"option {place}"),
            lines=tuple(
                replace(
                    line,
                    cost_parts=tuple(
                        replace(part, amount=part.amount * (1 + place / 100)) for part in line.cost_parts
                    ),
                )
                for line in result.lines
            ),
        )
        for place, result in enumerate(repeated)
    ]


@pytest.mark.parametrize("discount_rate", [0.0, 0.03])
def test_12_options_drawn_10_000_times(benchmark, job, results, discount_rate):
    discounted = replace(job, study=replace(job.study, discount_rate=discount_rate))
    tracemalloc.start()
    draw(discounted, results)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    benchmark.extra_info["peak memory, MB"] = round(peak / 1e6, 1)
    benchmark.extra_info["items of the base"] = len(results[0].lines)
    found = benchmark.pedantic(draw, args=(discounted, results), rounds=3)
    print(f"\npeak memory {peak / 1e6:.1f} MB, {len(results[0].lines)} items")
    assert len(found.options) == OPTIONS
    assert found.drawn.values.shape[2] == DRAWS
