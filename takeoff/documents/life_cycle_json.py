"""The parts of results.json about the whole life: study, modules, renewals, claddings, scenarios, benchmarks."""

from __future__ import annotations

import math
from typing import Any

from takeoff.assess.lines import Line
from takeoff.assess.totals import Totals, totals_by
from takeoff.compare.benchmarks import compare_with, figure_for
from takeoff.compare.carbon_allowances import carbon_allowances
from takeoff.compare.claddings import CladdingFigures, claddings_of
from takeoff.compare.evaluate import Result
from takeoff.compare.scenarios import by_scenario
from takeoff.model.job import Job
from takeoff.model.life_cycle import END, MODULES, Benchmark, Module


def module_key(module: Module) -> str:
    """Return a module as a key.

    >>> module_key("A5 wastage"), module_key("A1-A3")
    ('a5_wastage_kgco2e', 'a1a3_kgco2e')
    """
    return f"{module.lower().replace('-', '').replace(' ', '_')}_kgco2e"


def module_amounts(totals: Totals) -> dict[str, float | None]:
    """Return every module by its key; null is not assessed."""
    return {module_key(module): totals.of(module) for module in MODULES}


def study_data(job: Job) -> dict[str, Any]:
    """Return the settings of the study."""
    study = job.study
    return {
        "period_years": study.period,
        "replacements": study.replacements,
        "discount_rate": study.discount_rate,
        "end_of_life": study.end_of_life,
        "modules": list(study.modules),
        "draws": study.draws,
        "seed": study.seed,
    }


def life_cycle_data(job: Job, result: Result) -> dict[str, Any]:
    """Return modules with coverage, by material, exposures, claddings, years, scenarios, allowances, benchmarks."""
    totals = result.totals
    return {
        "life_cycle_kgco2e": result.life_cycle,
        "modules": {
            module: {
                "kgco2e": each.amount,
                "share_of_mass": each.cover_mass,
                "share_of_cost": each.cover_cost,
                "not_assessed": list(each.missing),
            }
            for module, each in totals.modules.items()
        },
        "land_use_kgco2e": totals.land_use,
        "biogenic": _biogenic(totals),
        "by_material": _by_material(job, result),
        "exposures": dict(result.exposures),
        "floor_gross_m2": result.gross_floor,
        "claddings": [_cladding(figures) for figures in claddings_of(result)],
        "upkeep": result.upkeep,
        "upkeep_share_of_cost": totals.upkeep_cover,
        "upkeep_not_assessed": list(totals.upkeep_not_assessed),
        "whole_life_cost": result.whole_life_cost,
        "cost_ladder_slopes": {
            "measured_works": result.slopes.works,
            **{kind.replace(" ", "_").replace("-", "_"): slope for kind, slope in result.slopes.sums.items()},
        },
        "years": [
            {
                "year": year.year,
                "upkeep": year.upkeep,
                "upkeep_discounted": year.discounted,
                "kgco2e": year.carbon,
            }
            for year in result.years
        ],
        "end_of_life_scenarios": {
            name: {**_biogenic(each), "c1_to_c4_kgco2e": each.sum_of(END)}
            for name, each in by_scenario(job, result).items()
        },
        "allowances_on_carbon": _allowances(job, result),
        "benchmarks": [_benchmark(job, result, each) for each in job.library.benchmarks],
    }


def _biogenic(totals: Totals) -> dict[str, float | None]:
    """Return stored carbon and its release."""
    return {
        "stored_kgco2": totals.stored,
        "renewed_stored_kgco2": totals.renewed_stored,
        "renewed_released_kgco2": totals.renewed_released,
        "released_kgco2": totals.released,
        "a_to_c_kgco2": totals.kept,
    }


def _by_material(job: Job, result: Result) -> dict[str, dict[str, float | None]]:
    """Return the modules of every material or allowance."""

    def name(line: Line) -> str:
        return line.quantity.material or line.quantity.item

    lines = [line for line in result.lines if line.needs_carbon]
    groups = totals_by(lines, name, dict.fromkeys(name(line) for line in lines))
    return {
        material: {
            **module_amounts(totals),
            "life_cycle_kgco2e": totals.life_cycle(job.study.modules),
            "stored_kgco2": totals.stored,
            "mass_kg": totals.known_mass,
            "cost": totals.cost,
        }
        for material, totals in groups.items()
    }


def _cladding(figures: CladdingFigures) -> dict[str, Any]:
    """Return the cladding of one elevation; money is works before the ladder."""
    return {
        "side": figures.side,
        "build_up": figures.build_up,
        "exposure": figures.exposure,
        "area_m2": figures.area,
        "cost": figures.cost,
        "upfront_kgco2e": figures.upfront,
        "upkeep_whole": figures.upkeep_whole,
        "upkeep_annualised": figures.upkeep_annualised,
        "renewals_whole_kgco2e": figures.renewal_carbon_whole,
        "renewals_annualised_kgco2e": figures.renewal_carbon_annualised,
        "c1_to_c4_kgco2e": figures.end,
        "upkeep_not_assessed": list(figures.not_assessed),
        "layers": [
            {
                "material": layer.material,
                "life_years": layer.life,
                "share_renewed": layer.share,
                "renewed_in_years": [round(year, 6) for year in layer.years if math.isfinite(year)],
            }
            for layer in figures.layers
        ],
    }


def _allowances(job: Job, result: Result) -> dict[str, float | None] | None:
    """Return the shares of the allowances on carbon, null where the stage states none."""
    allowances = carbon_allowances(result.lines, job.library, job.project.stage)
    if allowances is None:
        return None
    return {
        "phase": allowances.phase,
        "quantity": allowances.quantity,
        "data": allowances.data,
        "data_score": allowances.score,
    }


def _benchmark(job: Job, result: Result, benchmark: Benchmark) -> dict[str, Any]:
    """Return a benchmark with our figure in its scope and on its basis, where the two can be compared."""
    compared = next(
        c for c in compare_with(job, benchmark.modules, benchmark.area_basis) if c.benchmark is benchmark
    )
    return {
        "name": benchmark.name,
        "kgco2e_per_m2": benchmark.value,
        "low": benchmark.low,
        "high": benchmark.high,
        "modules": benchmark.modules,
        "area_basis": benchmark.area_basis,
        "study_period_years": benchmark.study_period,
        "covers": benchmark.covers,
        "version": benchmark.version,
        "source": benchmark.source,
        "standing": benchmark.standing,
        "ours_kgco2e_per_m2": None
        if compared.why_not
        else figure_for(result, benchmark.modules, benchmark.area_basis),
        "not_comparable_because": compared.why_not or None,
    }
