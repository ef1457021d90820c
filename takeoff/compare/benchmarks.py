"""Published figures beside ours: only where modules, area basis and study period are the same."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.model.job import Job
from takeoff.model.life_cycle import LIFE_CYCLE, UPFRONT, AreaBasis, Benchmark, Module, ModuleScope

_SCOPES: dict[ModuleScope, tuple[Module, ...]] = {
    "A1-A3": ("A1-A3",),
    "A1-A5": UPFRONT,
    "A-C": LIFE_CYCLE,
}
_PERIOD_MATTERS: tuple[ModuleScope, ...] = ("A-C",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A benchmark, and why it can't stand beside our figure; empty where it can."""

    benchmark: Benchmark
    why_not: str


def figure_for(result: Result, scope: ModuleScope, basis: AreaBasis) -> float | None:
    """Return our figure in a scope of modules and on an area basis [kgCO2e/m2], None where nothing is assessed."""
    areas = result.measured.areas
    area = {
        "outside of frame": areas.outside,
        "inside faces": areas.inside,
        "gross, outside of cladding": result.gross_floor,
    }[basis]
    amount = result.totals.sum_of(_SCOPES[scope])
    return None if amount is None else amount / area


def compare_with(job: Job, scope: ModuleScope, basis: AreaBasis) -> list[Compared]:
    """Return every benchmark of the practice with why it can't be drawn in a chart of one scope and basis.

    Modules and area basis have to be the same, and the study period where modules of use are among them, for
    renewals and yearly figures grow with it.
    """
    return [
        Compared(benchmark=each, why_not=_why_not(each, job, scope, basis)) for each in job.library.benchmarks
    ]


def _why_not(benchmark: Benchmark, job: Job, scope: ModuleScope, basis: AreaBasis) -> str:
    """Return what differs, in words; empty where nothing does."""
    if benchmark.modules != scope:
        return f"covers {benchmark.modules}, not {scope}"
    if benchmark.area_basis != basis:
        return f"is per m2 {benchmark.area_basis}, not {basis}"
    if scope in _PERIOD_MATTERS and benchmark.study_period != job.study.period:
        stated = "no stated period" if benchmark.study_period is None else f"{benchmark.study_period:g} years"
        return f"is over {stated}, not {job.study.period:g} years"
    if scope in _PERIOD_MATTERS and set(_SCOPES[scope]) != set(job.study.modules):
        return "covers A-C, while the study leaves modules out"
    return ""


def drawn(job: Job) -> list[tuple[ModuleScope, AreaBasis, list[Benchmark]]]:
    """Return the charts that benchmarks can stand in: each scope and basis with those that are the same."""
    charts: list[tuple[ModuleScope, AreaBasis, list[Benchmark]]] = []
    for scope in _SCOPES:
        for basis in dict.fromkeys(b.area_basis for b in job.library.benchmarks if b.modules == scope):
            same = [c.benchmark for c in compare_with(job, scope, basis) if not c.why_not]
            if same:
                charts.append((scope, basis, same))
    return charts
