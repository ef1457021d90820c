"""What carbon and upkeep over the study period rest on: service lives, end of life, benchmarks; as ready text."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.end_of_life import end_row
from takeoff.compare.benchmarks import drawn, figure_for
from takeoff.compare.evaluate import Result
from takeoff.documents.report_tables import Column, ReportTable, Row, rows_alike_as_one
from takeoff.documents.wording import NOT_ASSESSED, number, percent
from takeoff.model.job import Job
from takeoff.model.life_cycle import Benchmark, EndOfLife, Module, ServiceLife


def used_families(job: Job, materials: Sequence[str]) -> list[str]:
    """Return the families of some materials, work without material left out, in order of first use."""
    families = dict.fromkeys(job.library.materials[name].family for name in materials)
    return [family for family in families if family != "work only"]


def lives_table(job: Job, materials: Sequence[str]) -> ReportTable | None:
    """Return the service lives of the materials used; None where the practice states none."""
    lives = [(name, job.library.lives.get(name)) for name in materials]
    if not any(life for _, life in lives):
        return None
    rows = [_life_row(name, life) for name, life in lives if life is not None]
    without = [
        name for name, life in lives if life is None and job.library.materials[name].family != "work only"
    ]
    note = (
        "Inside is sheltered. Low and high are the ends of the range, as shares of the life. How each was chosen "
        "stands in the sheet Service lives."
    )
    if without:
        note += (
            f" Without a life of their own, renewed with their layer or not assessed: {', '.join(without)}."
        )
    return ReportTable(
        id="lives",
        caption="Service lives used",
        columns=(
            Column(title="Material", figures=False),
            Column(title="Counts in", figures=False),
            Column(title="Sheltered / moderate / exposed", unit="years"),
            Column(title="Low to high", unit="%"),
            Column(title="Renewed at a time", unit="%"),
            Column(title="Source and standing", figures=False),
        ),
        rows=rows_alike_as_one(rows),
        note=note,
    )


def _life_row(name: str, life: ServiceLife) -> Row:
    """Return the life of one material."""
    stated = life.low is not None and life.high is not None
    return Row(
        cells=(
            name,
            life.module,
            f"{life.sheltered:g} / {life.moderate:g} / {life.exposed:g}",
            f"{(life.low or 0) * 100:.0f} to {(life.high or 0) * 100:.0f}" if stated else "not stated",
            percent(life.share, 0).removesuffix(" %"),
            ", ".join(part for part in (life.source, life.standing) if part),
        ),
    )


def end_of_life_table(job: Job, materials: Sequence[str]) -> ReportTable | None:
    """Return what becomes of the families used in the scenario of the study; None where nothing is stated."""
    families = used_families(job, materials)
    found = [(family, end_row(family, job.study.end_of_life, job.library)) for family in families]
    if not any(row for _, row in found):
        return None
    without = [family for family, row in found if row is None]
    return ReportTable(
        id="end-of-life",
        caption=f"End of life, scenario {job.study.end_of_life}",
        columns=(
            Column(title="Family", figures=False),
            Column(title="Route", figures=False),
            Column(title="C1", unit="kgCO₂e/t"),
            Column(title="C2, way", figures=False),
            Column(title="C3", unit="kgCO₂e/t"),
            Column(title="C4", unit="kgCO₂e/t"),
            Column(title="D", unit="kgCO₂e/t"),
            Column(title="Released", unit="%", figures=False),
            Column(title="Source", figures=False),
            Column(title="Standing", figures=False),
        ),
        rows=rows_alike_as_one(_end_row(family, row) for family, row in found if row is not None),
        note="How each value was come by stands in the sheet End of life."
        + (f" Not assessed: {', '.join(without)}." if without else ""),
    )


def _end_row(family: str, row: EndOfLife) -> Row:
    """Return the end of life of one family."""
    way = (
        NOT_ASSESSED
        if row.mode is None or row.distance is None
        else f"{row.mode}, {number(row.distance / 1000)} km"
    )
    methane = f"; {percent(row.methane)} of it as methane" if row.methane else ""
    return Row(
        cells=(
            family,
            row.route,
            _per_tonne(row.c1),
            way,
            _per_tonne(row.c3),
            _per_tonne(row.c4),
            _per_tonne(row.d),
            f"{row.released * 100:g}{methane}",
            row.source,
            row.standing,
        ),
    )


def _per_tonne(value: float | None) -> str:
    """Return a factor for one tonne."""
    return NOT_ASSESSED if value is None else number(value * 1000, 1)


def benchmarks_table(job: Job, result: Result) -> ReportTable | None:
    """Return every benchmark with what it covers, and ours beside it where the two can be compared."""
    if not job.library.benchmarks:
        return None
    same = {
        id(benchmark): (scope, basis) for scope, basis, benchmarks in drawn(job) for benchmark in benchmarks
    }
    rows = [_benchmark_row(result, each, comparable=id(each) in same) for each in job.library.benchmarks]
    return ReportTable(
        id="benchmarks",
        caption=f"Published figures, and {result.option.name} beside those of the same scope",
        columns=(
            Column(title="Published figure", figures=False),
            Column(title="Value", unit="kgCO₂e/m²"),
            Column(title="Low to high", unit="kgCO₂e/m²"),
            Column(title="Modules", figures=False),
            Column(title="Floor area", figures=False),
            Column(title="Period", unit="years"),
            Column(title="Ours", unit="kgCO₂e/m²"),
            Column(title="Version", figures=False),
            Column(title="Source", figures=False),
            Column(title="Standing", figures=False),
        ),
        rows=tuple(rows),
        note="Context, not a target. Ours stands beside a figure, and a figure in a chart, only where modules, floor "
        f"area and, with modules B and C, the study period ({job.study.period:g} years) are the same. What elements "
        "each covers is said below it: that differs from ours, which is of what is assessed: A1-A3 for "
        f"{_covered(result, 'A1-A3')}, B4 for {_covered(result, 'B4')}, C4 for {_covered(result, 'C4')}.",
    )


def _covered(result: Result, module: Module) -> str:
    """Return the shares of mass and cost that a module is assessed for."""
    figures = result.totals.modules[module]
    mass, cost = percent(figures.cover_mass or 0.0, 0), percent(figures.cover_cost or 0.0, 0)
    return f"{mass} of the mass and {cost} of the cost"


def _benchmark_row(result: Result, benchmark: Benchmark, *, comparable: bool) -> Row:
    """Return one benchmark."""
    ours = figure_for(result, benchmark.modules, benchmark.area_basis) if comparable else None
    has_range = benchmark.low is not None and benchmark.high is not None
    return Row(
        cells=(
            benchmark.name,
            number(benchmark.value),
            f"{number(benchmark.low or 0)} to {number(benchmark.high or 0)}" if has_range else "",
            benchmark.modules,
            benchmark.area_basis,
            "" if benchmark.study_period is None else f"{benchmark.study_period:g}",
            "not the same" if ours is None else number(ours),
            benchmark.version,
            benchmark.source,
            benchmark.standing,
        ),
        below=". ".join(part.rstrip(".") for part in (benchmark.covers, benchmark.note) if part),
    )
