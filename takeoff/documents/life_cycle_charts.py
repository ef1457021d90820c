"""The charts of carbon and cost over the study period, and of ranges."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.by_year import year_of
from takeoff.compare.benchmarks import drawn, figure_for
from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty import DrawnFigure, Influence, Uncertainty
from takeoff.documents.chart_tables import (
    courses_table,
    modules_chart_table,
    tornado_table,
    whiskers_table,
)
from takeoff.documents.charts import (
    ContextLine,
    ModuleRow,
    TornadoInput,
    WhiskerRow,
    module_bars,
    over_time,
    tornado,
    whisker_bars,
)
from takeoff.documents.drawings import Picture
from takeoff.documents.range_tables import FIGURE_WORDS, unit_of
from takeoff.documents.report_charts import Chart, tenths
from takeoff.documents.wording import change, number, significant, unit_text
from takeoff.model.job import Job
from takeoff.model.life_cycle import END, UPFRONT, USE, AreaBasis, Benchmark, Module, ModuleScope

_GROUPS: dict[str, tuple[Module, ...]] = {
    "A1-A3": ("A1-A3",),
    "A4-A5": UPFRONT[1:],
    "B2-B4": USE,
    "C1-C4": END,
}
# What carrying is kept in, and what it is told in.
_CARRYING, _KG_M_IN_T_KM = "kgCO2e/(kg m)", 1e6
_TOLD: tuple[DrawnFigure, ...] = ("total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e")
_SCOPE_FIGURES: dict[ModuleScope, DrawnFigure] = {"A1-A5": "upfront_kgco2e", "A-C": "life_cycle_kgco2e"}


def carbon_by_module(job: Job, results: Sequence[Result], *, paper_width_mm: float) -> Chart:
    """Return the carbon of every option over the study period, stacked by groups of modules."""
    base = results[0].option.name
    rows = [_module_row(job, result) for result in results]
    return Chart(
        picture=module_bars(
            title="Carbon over the study period by module, tCO₂e",
            desc="Carbon of each option stacked by groups of modules; carbon stored in wood apart, below zero.",
            unit_label=f"carbon over {job.study.period:g} years, tCO₂e, of what is assessed",
            rows=rows,
            groups=list(_GROUPS),
            number_format=tenths,
            chosen=base,
            paper_width_mm=paper_width_mm,
            id_prefix="module-bars",
        ),
        table=modules_chart_table(
            id="module-bars-table",
            caption=f"Carbon over {job.study.period:g} years by module, of what is assessed",
            unit="tCO₂e",
            rows=rows,
            groups=list(_GROUPS),
            number_format=tenths,
            chosen=base,
        ),
    )


def carbon_over_time(job: Job, results: Sequence[Result], *, paper_width_mm: float) -> Chart:
    """Return the carbon of every option so far, year by year."""
    base, period = results[0].option.name, year_of(job.study.period)
    courses = [(r.option.name, _carbon_course(r)) for r in results]
    return Chart(
        picture=over_time(
            title="Carbon so far, year by year",
            desc="Carbon of each option from completion to the end of the study period, added up.",
            unit_label="carbon so far, tCO₂e: year 0 has A1-A5, the last year C1-C4",
            courses=courses,
            number_format=tenths,
            id_prefix="carbon-over-time",
            chosen=base,
            paper_width_mm=paper_width_mm,
            period=period,
        ),
        table=courses_table(
            id="carbon-over-time-table",
            caption="Carbon so far",
            unit="tCO₂e",
            courses=courses,
            period=period,
            number_format=tenths,
            chosen=base,
        ),
    )


def cost_over_time(job: Job, results: Sequence[Result], *, paper_width_mm: float) -> Chart:
    """Return cost and upkeep of every option so far, year by year."""
    base, period, currency = results[0].option.name, year_of(job.study.period), job.project.currency
    courses = [(r.option.name, _cost_course(r)) for r in results]
    return Chart(
        picture=over_time(
            title="Cost and upkeep so far, year by year",
            desc="Cost of each option including tax, and its upkeep, added up over the study period.",
            unit_label=f"cost including tax and upkeep so far, thousand {currency}, in money of the price date",
            courses=courses,
            number_format=number,
            id_prefix="cost-over-time",
            chosen=base,
            paper_width_mm=paper_width_mm,
            period=period,
        ),
        table=courses_table(
            id="cost-over-time-table",
            caption="Cost including tax and upkeep so far",
            unit=f"thousand {currency}",
            courses=courses,
            period=period,
            number_format=number,
            chosen=base,
        ),
    )


def _module_row(job: Job, result: Result) -> ModuleRow:
    """Return the groups of modules of one option, those that the study adds up [tCO2e]."""
    counted = job.study.modules
    return ModuleRow(
        name=result.option.name,
        modules={
            name: (result.totals.sum_of(m for m in modules if m in counted) or 0.0) / 1000
            for name, modules in _GROUPS.items()
        },
        stored=min(result.totals.stored, 0.0) / 1000,
    )


def _carbon_course(result: Result) -> dict[int, float]:
    """Return carbon so far by year [tCO2e]."""
    course, so_far = {}, 0.0
    for year in result.years:
        so_far += year.carbon / 1000
        course[year.year] = so_far
    return course


def _cost_course(result: Result) -> dict[int, float]:
    """Return cost and upkeep so far by year [thousand of the currency]."""
    course, so_far = {}, result.ladder.total_inc_tax / 1000
    for year in result.years:
        so_far += year.discounted / 1000
        course[year.year] = so_far
    return course


def difference_charts(ranges: Uncertainty, currency: str, *, paper_width_mm: float) -> list[Picture]:
    """Return the charts of differences with their ranges, none for one option; their figures stand in one table."""
    if len(ranges.options) == 1:
        return []
    return [_differences(ranges, key, currency, paper_width_mm) for key in _TOLD]


def tornado_charts(ranges: Uncertainty, currency: str, *, paper_width_mm: float) -> list[Chart]:
    """Return the charts of the inputs that matter most, with their tables."""
    return [_tornado(ranges, key, currency, paper_width_mm) for key in _TOLD if ranges.base_tornado[key]]


def _differences(ranges: Uncertainty, key: DrawnFigure, currency: str, paper_width_mm: float) -> Picture:
    """Return the differences of the options from the base in one figure."""
    unit = unit_of(key, currency)
    return whisker_bars(
        title=f"{FIGURE_WORDS[key]}: difference from {ranges.options[0].name}, {unit}",
        desc="Each option less the base, with its range from P10 to P90, what both share drawn once.",
        unit_label=f"{FIGURE_WORDS[key]} less that of {ranges.options[0].name}, {unit}",
        rows=[
            WhiskerRow(
                name=option.name,
                value=option.differences[key].range.central / 1000,
                low=option.differences[key].range.p10 / 1000,
                high=option.differences[key].range.p90 / 1000,
                note=option.differences[key].verdict,
            )
            for option in ranges.options[1:]
        ],
        number_format=lambda value: change(value, 1),
        chosen=None,
        paper_width_mm=paper_width_mm,
        id_prefix=f"differences-{key.replace('_', '-')}",
    )


def _tornado(ranges: Uncertainty, key: DrawnFigure, currency: str, paper_width_mm: float) -> Chart:
    """Return the inputs that move one figure of the base most."""
    unit = unit_of(key, currency)
    base = ranges.options[0]
    name = f"tornado-{key.replace('_', '-')}"
    title = f"{FIGURE_WORDS[key]} of {base.name}: sensitivity, {unit}"
    inputs = [_tornado_input(influence) for influence in ranges.base_tornado[key]]
    return Chart(
        picture=tornado(
            title=title,
            desc="The inputs that move the figure most, each from the P10 to the P90 of its range with the others "
            "central.",
            unit_label=f"{FIGURE_WORDS[key]} of {base.name}, {unit}",
            central=base.figures[key].central / 1000,
            inputs=inputs,
            number_format=tenths,
            correlation_format=lambda value: change(value, 2),
            paper_width_mm=paper_width_mm,
            id_prefix=name,
        ),
        table=tornado_table(
            id=f"{name}-table", caption=title, unit=unit, inputs=inputs, number_format=tenths
        ),
    )


def _tornado_input(influence: Influence) -> TornadoInput:
    """Return one input with the ends of its range in words."""
    return TornadoInput(
        name=influence.source.label,
        low_words=_end(influence, influence.low),
        high_words=_end(influence, influence.high),
        at_low=influence.at_low / 1000,
        at_high=influence.at_high / 1000,
        correlation=influence.rank_correlation,
    )


def _end(influence: Influence, multiplier: float) -> str:
    """Return an end of the range of an input: its value with its unit, else its change in per cent."""
    central, unit = influence.source.central, influence.source.unit
    if central is None:
        return f"{change((multiplier - 1) * 100)} %"
    value = central * multiplier
    if unit == _CARRYING:
        value, unit = value * _KG_M_IN_T_KM, "kgCO2e/(t km)"
    return f"{significant(value)} {unit_text(unit)}".rstrip()


def benchmark_charts(
    job: Job, results: Sequence[Result], ranges: Uncertainty, *, paper_width_mm: float
) -> list[Chart]:
    """Return our options beside published figures: a chart for each scope and area basis that some have."""
    return [
        _beside(results, ranges, scope, basis, same, paper_width_mm)
        for scope, basis, same in drawn(job)
        if scope in _SCOPE_FIGURES
    ]


def _named(benchmark: Benchmark) -> str:
    """Return the name of a benchmark, and how well it is known where it was not read."""
    known = benchmark.standing in ("read", "derived")
    return benchmark.name if known else f"{benchmark.name} ({benchmark.standing})"


def _services(base: Result) -> str:
    """Return that services are not assessed, where they are not: published figures may hold them."""
    services = base.by_element.get("services")
    return "" if services is not None and services.a1a3 is not None else "; services not assessed"


def _base_and_ends(results: Sequence[Result], scope: ModuleScope, basis: AreaBasis) -> list[Result]:
    """Return the base, and the options with the least and the most in a scope: the others lie between."""

    def amount(result: Result) -> float:
        return figure_for(result, scope, basis) or 0.0

    least, most = min(results, key=amount), max(results, key=amount)
    return [results[0], *(result for result in (least, most) if result is not results[0])]


def _beside(
    results: Sequence[Result],
    ranges: Uncertainty,
    scope: ModuleScope,
    basis: AreaBasis,
    same: Sequence[Benchmark],
    paper_width_mm: float,
) -> Chart:
    """Return the options in one scope and on one basis, with the published figures that have both."""
    rows = []
    for result in _base_and_ends(results, scope, basis):
        value = figure_for(result, scope, basis)
        figures = ranges.option(result.option.name).figures[_SCOPE_FIGURES[scope]]
        if value is None or not figures.central:
            continue
        per_m2 = value / figures.central
        rows.append(
            WhiskerRow(
                name=result.option.name, value=value, low=figures.p10 * per_m2, high=figures.p90 * per_m2
            )
        )
    title = f"Carbon {scope} per m² of floor {basis}, beside published figures"
    name = f"beside-{scope.lower()}-{basis.split()[0].rstrip(',')}"
    return Chart(
        picture=whisker_bars(
            title=title,
            desc="The base and the options with the least and the most, with their ranges from P10 to P90, and "
            "published figures of the same modules and area basis.",
            unit_label=f"kgCO₂e/m² of floor {basis}, {scope}, of what is assessed{_services(results[0])}",
            rows=rows,
            number_format=number,
            chosen=results[0].option.name,
            paper_width_mm=paper_width_mm,
            id_prefix=name,
            lines=[
                ContextLine(label=_named(each), value=each.value, low=each.low, high=each.high)
                for each in same
            ],
        ),
        table=whiskers_table(
            id=f"{name}-table",
            caption=title,
            unit="kgCO₂e/m²",
            rows=rows,
            number_format=number,
            chosen=results[0].option.name,
        ),
    )
