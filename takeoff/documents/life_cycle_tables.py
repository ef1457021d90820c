"""The tables of carbon and upkeep over the study period, every cell as ready text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from takeoff.assess.by_year import year_of
from takeoff.assess.totals import Totals, totals_by
from takeoff.compare.carbon_allowances import carbon_allowances
from takeoff.compare.claddings import CladdingFigures, distinct_claddings
from takeoff.compare.evaluate import Result
from takeoff.compare.scenarios import by_scenario
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import NOT_ASSESSED, assessed, number, percent
from takeoff.model.exposure import is_under_deep_eave
from takeoff.model.geometry import compass_of, overhang_over
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.model.life_cycle import END, MODULES, UPFRONT, USE, Module

_MATERIALS_SHOWN = 20
# Materials named for one year; the rest of them are counted.
_NAMES_SHOWN = 4
# What each column of the module tables adds up; D stands apart.
_COLUMNS: tuple[tuple[str, tuple[Module, ...]], ...] = (
    ("A1-A3", ("A1-A3",)),
    ("A4", ("A4",)),
    ("A5 wastage", ("A5 wastage",)),
    ("A5 site", ("A5 site",)),
    ("B2-B3", ("B2", "B3")),
    ("B4", ("B4",)),
    ("C1-C2", ("C1", "C2")),
    ("C3-C4", ("C3", "C4")),
)
_MODULE_WORDS: dict[Module, str] = {
    "A1-A3": "product stage",
    "A4": "transport to site",
    "A5 wastage": "what is bought and not built in",
    "A5 site": "work on site",
    "B2": "maintenance: recoating, cleaning",
    "B3": "repair",
    "B4": "replacement",
    "C1": "taking down",
    "C2": "transport at end of life",
    "C3": "processing of waste",
    "C4": "disposal",
    "D": "beyond the life of the house, never added",
}


def _module_columns(first: str, *, with_d: bool) -> tuple[Column, ...]:
    """Return the columns of a table of modules; D has one where any of it is assessed."""
    return (
        Column(title=first, figures=False),
        *(Column(title=title, unit="kgCO₂e") for title, _ in _COLUMNS),
        Column(title="Life cycle", unit="kgCO₂e"),
        *([Column(title="D, apart", unit="kgCO₂e")] if with_d else []),
        Column(title="Stored", unit="kgCO₂"),
    )


def _module_row(name: str, totals: Totals, job: Job, *, with_d: bool, total: bool = False) -> Row:
    """Return the modules of one element or material."""
    return Row(
        cells=(
            name,
            *(assessed(totals.sum_of(modules)) for _, modules in _COLUMNS),
            assessed(totals.life_cycle(job.study.modules)),
            *([assessed(totals.of("D"))] if with_d else []),
            number(totals.stored),
        ),
        total=total,
    )


def modules_table(job: Job, result: Result) -> ReportTable:
    """Return the modules of carbon over the study period by element."""
    with_d = result.totals.of("D") is not None
    rows = [_module_row(name, totals, job, with_d=with_d) for name, totals in result.by_element.items()]
    rows.append(_module_row("works and sums", result.totals, job, with_d=with_d, total=True))
    left_out = [module for module in (*UPFRONT, *USE, *END) if module not in job.study.modules]
    return ReportTable(
        id="modules-by-element",
        caption=f"{result.option.name}: carbon by module and element, {job.study.period:g} years, of what is assessed",
        columns=_module_columns("Element", with_d=with_d),
        rows=tuple(rows),
        note="Modules of EN 15978. Life cycle adds up A1 to C4"
        + (f", without {', '.join(left_out)}, which the study leaves out" if left_out else "")
        + f"; D{'' if with_d else ', which is not assessed,'} and stored carbon are never added. Renewals count in the "
        "module that the sheet Service lives names: B2 for recoating, B4 for replacement with all that comes with it. "
        "B1, B5, B6 and B7 are not assessed.",
    )


def materials_table(job: Job, result: Result) -> ReportTable:
    """Return the modules by material: those with the most life-cycle carbon, then all others together."""
    lines = [line for line in result.lines if line.needs_carbon]
    name_of = {line.quantity.id: line.quantity.material or line.quantity.item for line in lines}
    groups = totals_by(lines, lambda line: name_of[line.quantity.id], dict.fromkeys(name_of.values()))

    def weight(name: str) -> float:
        return abs(groups[name].life_cycle(job.study.modules) or 0.0)

    ordered = sorted(groups, key=weight, reverse=True)
    shown = ordered[:_MATERIALS_SHOWN]
    rest = set(ordered[_MATERIALS_SHOWN:])
    with_d = result.totals.of("D") is not None
    rows = [_module_row(name, groups[name], job, with_d=with_d) for name in shown]
    if rest:
        others = totals_by(lines, lambda line: str(name_of[line.quantity.id] in rest), ["True"])["True"]
        rows.append(_module_row(f"{len(rest)} others", others, job, with_d=with_d))
    return ReportTable(
        id="modules-by-material",
        caption=f"{result.option.name}: carbon by module and material",
        columns=_module_columns("Material or allowance", with_d=with_d),
        rows=tuple(rows),
        note="Those with the most life-cycle carbon. Every item with its modules is in quantities.csv, every material "
        "in results.json. Work without material is left out.",
    )


def coverage_table(result: Result) -> ReportTable:
    """Return what of the house each module is assessed for."""
    rows = []
    for module in MODULES:
        figures = result.totals.modules[module]
        rows.append(
            Row(
                cells=(
                    module,
                    _MODULE_WORDS[module],
                    assessed(figures.amount),
                    _percent(figures.cover_mass),
                    _percent(figures.cover_cost),
                    number(len(figures.missing)),
                )
            )
        )
    totals = result.totals
    rows.append(Row(cells=("Land use", "in A1-A3, apart", assessed(totals.land_use), "", "", "")))
    return ReportTable(
        id="coverage",
        caption=f"{result.option.name}: what each module covers",
        columns=(
            Column(title="Module", figures=False),
            Column(title="What it is", figures=False),
            Column(title="Of what is assessed", unit="kgCO₂e"),
            Column(title="Mass covered", unit="%"),
            Column(title="Cost covered", unit="%"),
            Column(title="Items not assessed", unit="Nr"),
        ),
        rows=tuple(rows),
        note="Shares of the known mass and of the cost of items that take material, allowances among them. What is "
        "not assessed is not nought: it is missing from the sum.",
    )


def _percent(share: float | None) -> str:
    """Return a share as a figure of a column in per cent."""
    return "" if share is None else percent(share).removesuffix(" %")


def exposure_table(result: Result) -> ReportTable:
    """Return the exposure of each elevation with what it follows from."""
    house = result.design.house
    stated = (house.exposure_low, house.exposure_high, house.exposure_left, house.exposure_right)
    rows = [
        Row(
            cells=(
                side,
                compass_of(house, side),
                f"{overhang_over(house, side):.2f}",
                "yes" if is_under_deep_eave(house, side) else "no",
                result.design.palette.build_up_for(side),
                result.exposures[side],
                "as stated" if setting else "from the rule",
            )
        )
        for side, setting in zip(SIDES, stated, strict=True)
    ]
    weather = house.weather_from or "not stated"
    return ReportTable(
        id="exposure",
        caption=f"{result.option.name}: exposure of the elevations",
        columns=(
            Column(title="Side", figures=False),
            Column(title="Faces", figures=False),
            Column(title="Overhang", unit="m"),
            Column(title="Sheltered by it", figures=False),
            Column(title="Cladding", figures=False),
            Column(title="Exposure", figures=False),
            Column(title="Follows", figures=False),
        ),
        rows=tuple(rows),
        note=f"Sun and weather from: {weather}. A side facing within 45° of it is exposed, one at right angles "
        f"moderate, one turned away sheltered; an overhang of {percent(house.sheltering_overhang, 0)} of the wall's "
        f"height takes one step off; the site is {house.site_exposure}. Common practice, no source: every number is "
        "a setting.",
    )


def claddings_table(results: Sequence[Result], currency: str) -> ReportTable:
    """Return every cladding and exposure of all options for one m2, both ways of counting renewals."""
    rows = [_cladding_row(figures) for figures in distinct_claddings(results)]
    period_words = "renewals whole, as they fall due, and annualised, period / life less 1"
    return ReportTable(
        id="claddings",
        caption="Claddings for one m² of face, openings deducted, by exposure",
        columns=(
            Column(title="Cladding", figures=False),
            Column(title="Exposure", figures=False),
            Column(title="Built", unit=f"{currency}/m²"),
            Column(title="Upkeep, whole", unit=f"{currency}/m²"),
            Column(title="Upkeep, annualised", unit=f"{currency}/m²"),
            Column(title="Upfront", unit="kgCO₂e/m²"),
            Column(title="B2-B4, whole", unit="kgCO₂e/m²"),
            Column(title="B2-B4, annualised", unit="kgCO₂e/m²"),
            Column(title="C1-C4", unit="kgCO₂e/m²"),
        ),
        rows=tuple(rows),
        note=f"With battens, fixings, trims and coats; works before the cost ladder, not discounted; {period_words}. "
        "What is renewed with its cladding is new with it. Carbon of what is assessed; read from the elevation and "
        "option where each is first met, so that trims of other shapes may move a figure a little.",
    )


def _cladding_row(figures: CladdingFigures) -> Row:
    """Return one cladding for one m2, its layers with their lives below."""

    def per_m2(value: float | None, places: int) -> str:
        if value is None:
            return NOT_ASSESSED
        return number(value / figures.area, places) if figures.area else ""

    layers = "; ".join(
        f"{layer.material} {layer.life:g} years"
        + ("" if layer.share == 1 else f", {percent(layer.share, 0)} at a time")
        for layer in figures.layers
        if layer.life is not None
    )
    without = ", ".join(figures.not_assessed)
    if without:
        layers = f"{layers}. No service life, so that no upkeep is counted: {without}".lstrip(". ")
    return Row(
        cells=(
            figures.build_up,
            figures.exposure,
            per_m2(figures.cost, 0),
            per_m2(None if figures.not_assessed else figures.upkeep_whole, 0),
            per_m2(None if figures.not_assessed else figures.upkeep_annualised, 0),
            per_m2(figures.upfront, 1),
            per_m2(None if figures.not_assessed else figures.renewal_carbon_whole, 1),
            per_m2(None if figures.not_assessed else figures.renewal_carbon_annualised, 1),
            per_m2(figures.end, 1),
        ),
        below=layers,
    )


def biogenic_table(job: Job, result: Result) -> ReportTable:
    """Return stored carbon and its release in every scenario, with the end of life each gives."""
    rows = [
        _scenario_row(name, totals, chosen=name == job.study.end_of_life)
        for name, totals in by_scenario(job, result).items()
    ]
    return ReportTable(
        id="biogenic",
        caption=f"{result.option.name}: biogenic carbon and end of life, by scenario",
        columns=(
            Column(title="Scenario", figures=False),
            Column(title="Stored, A1-A3", unit="kgCO₂"),
            Column(title="Stored by renewals, B", unit="kgCO₂"),
            Column(title="Released by renewals, B", unit="kgCO₂"),
            Column(title="Released, C3-C4", unit="kgCO₂"),
            Column(title="A to C", unit="kgCO₂"),
            Column(title="C1-C4, other", unit="kgCO₂e"),
        ),
        rows=tuple(rows),
        note="By EN 16449 from density, moisture, carbon fraction and wood share. What is burnt, reused or recycled "
        "leaves the system, so A to C comes to nought; what a landfill keeps stays negative. C1-C4, other, are fossil, "
        "and the methane of decay beyond its CO₂. The share that decays is disputed (0.7 to 50 % have been "
        "published): read both ends. EN 16449 tells what is stored, not what may be credited: carbon kept in a "
        "landfill is commonly not, so that column is for information.",
    )


def _scenario_row(name: str, totals: Totals, *, chosen: bool) -> Row:
    """Return one scenario."""
    return Row(
        cells=(
            name,
            number(totals.stored),
            number(totals.renewed_stored),
            assessed(totals.renewed_released),
            assessed(totals.released),
            assessed(totals.kept),
            assessed(totals.sum_of(END)),
        ),
        chosen=chosen,
    )


def years_table(job: Job, result: Result) -> ReportTable | None:
    """Return the years in which something is renewed; None where nothing is, or where renewals are annualised."""
    if job.study.replacements == "annualised":
        return None
    currency = job.project.currency
    what = _renewed_in(result)
    rows = []
    spent, emitted = result.ladder.total_inc_tax, result.years[0].carbon
    for year in result.years[1:]:
        spent += year.discounted
        emitted += year.carbon
        if not year.upkeep and year is not result.years[-1]:
            continue
        rows.append(
            Row(
                cells=(
                    number(year.year),
                    number(year.upkeep),
                    number(year.discounted),
                    number(spent),
                    number(year.carbon),
                    number(emitted),
                ),
                below=_listed(what.get(year.year, [])),
            )
        )
    if not what:
        return None
    rate = f"{job.study.discount_rate * 100:g} %"
    return ReportTable(
        id="years",
        caption=f"{result.option.name}: year by year",
        columns=(
            Column(title="Year", figures=False),
            Column(title="Upkeep", unit=currency),
            Column(title="Discounted", unit=currency),
            Column(title="Cost and upkeep so far", unit=currency),
            Column(title="Carbon", unit="kgCO₂e"),
            Column(title="Carbon so far", unit="kgCO₂e"),
        ),
        rows=tuple(rows),
        note=f"In money of the price date, discounted at {rate} a year in real terms; each renewal "
        "bears of the cost ladder what its item does. Year 0 is the house itself, the last year has its end of life.",
    )


def _listed(names: Sequence[str]) -> str:
    """Return names in a line, those past a handful counted."""
    more = f"; and {len(names) - _NAMES_SHOWN} more" if len(names) > _NAMES_SHOWN else ""
    return "; ".join(names[:_NAMES_SHOWN]) + more


def _renewed_in(result: Result) -> Mapping[int, list[str]]:
    """Return the materials renewed in each year, each once."""
    found: dict[int, dict[str, None]] = {}
    for line in result.lines:
        if line.renewal is None:
            continue
        for time, _, _ in line.renewal.years:
            found.setdefault(year_of(time), {}).setdefault(line.quantity.material or line.quantity.item)
    return {year: list(names) for year, names in found.items()}


def allowances_on_carbon_table(job: Job, result: Result) -> ReportTable | None:
    """Return carbon with its allowances, each on a line of its own; None where the stage states none."""
    allowances = carbon_allowances(result.lines, job.library, job.project.stage)
    if allowances is None:
        return None
    upfront, whole = result.totals.upfront_assessed or 0.0, result.life_cycle or 0.0
    rows = [Row(cells=("Base, as assessed", "", number(upfront), number(whole)))]
    on_upfront, on_whole = allowances.on(upfront), allowances.on(whole)
    for (name, amount), (_, whole_amount) in zip(on_upfront, on_whole, strict=True):
        share = amount / upfront if upfront else 0.0
        rows.append(Row(cells=(f"Allowance {name}", percent(share), number(amount), number(whole_amount))))
    rows.append(
        Row(
            cells=(
                "With allowances",
                "",
                number(upfront + sum(amount for _, amount in on_upfront)),
                number(whole + sum(amount for _, amount in on_whole)),
            ),
            total=True,
        )
    )
    score = (
        "" if allowances.score is None else f" The mean score, weighted by A1-A3, is {allowances.score:.1f}."
    )
    return ReportTable(
        id="allowances-on-carbon",
        caption=f"{result.option.name}: allowances on carbon at the stage {job.project.stage}",
        columns=(
            Column(title="", figures=False),
            Column(title="Share of the base"),
            Column(title="Upfront, A1-A5", unit="kgCO₂e"),
            Column(title="Life cycle", unit="kgCO₂e"),
        ),
        rows=tuple(rows),
        note="Allowances stand here alone: no other figure holds them. The one for data grows with the five scores "
        f"of the factors, from nothing at 1 to the most at 5.{score}",
    )
