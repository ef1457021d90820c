"""Claddings side by side: what each costs and emits for one m2, built and kept up, by exposure and both ways of
counting renewals.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.assess.totals import total
from takeoff.compare.evaluate import Result
from takeoff.measure.cladding import cladding_regions, opening_voids
from takeoff.model.house import SIDES, Design, Side
from takeoff.model.life_cycle import END, EXPOSURES, Exposure


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerUpkeep:
    """The life of one layer [years] and the years of its renewals; `life` is None where its host alone renews it."""

    material: str
    life: float | None
    share: float
    years: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CladdingFigures:
    """One cladding under one exposure, on one elevation of one option; all amounts for the whole of it.

    `area` is its face, openings deducted [m2]; money is works before the cost ladder, not discounted, carbon in
    kgCO2e. `renewal_carbon` are both ways of counting, None where a renewal is not assessed. `not_assessed` are the
    materials whose renewals nothing tells; upkeep and renewals are those of the others.
    """

    option: str
    side: Side
    build_up: str
    exposure: Exposure
    area: float
    cost: float
    upfront: float | None
    upkeep_whole: float
    upkeep_annualised: float
    renewal_carbon_whole: float | None
    renewal_carbon_annualised: float | None
    end: float | None
    layers: tuple[LayerUpkeep, ...]
    not_assessed: tuple[str, ...]


def claddings_of(result: Result) -> list[CladdingFigures]:
    """Return the claddings of every elevation of an option, side by side and from the foot up."""
    return [
        _figures(result, side, name, area)
        for side in SIDES
        for name, area in _areas(result.design, side).items()
    ]


def distinct_claddings(results: Sequence[Result]) -> list[CladdingFigures]:
    """Return each cladding once for each exposure it has in any option, sorted by name and exposure.

    Where it has one several times, the first counts.
    """
    found: dict[tuple[str, Exposure], CladdingFigures] = {}
    for result in results:
        for figures in claddings_of(result):
            found.setdefault((figures.build_up, figures.exposure), figures)
    return [found[key] for key in sorted(found, key=lambda key: (key[0], EXPOSURES.index(key[1])))]


def _areas(design: Design, side: Side) -> dict[str, float]:
    """Return the face of each cladding of an elevation, openings deducted [m2], by the name of its build-up."""
    areas: dict[str, float] = {}
    for name, _, face in cladding_regions(design, side):
        clipped = (face.clip(void) for void in opening_voids(design, side))
        openings = sum(void.width * void.height for void in clipped if void is not None)
        areas[name] = areas.get(name, 0.0) + face.area - openings
    return areas


def _figures(result: Result, side: Side, build_up: str, area: float) -> CladdingFigures:
    """Return the figures of one cladding on one elevation."""
    lines = [line for line in result.lines if _is_of(line, side, build_up)]
    totals = total(lines)
    renewals = [line.renewal for line in lines if line.renewal is not None]
    return CladdingFigures(
        option=result.option.name,
        side=side,
        build_up=build_up,
        exposure=result.exposures[side],
        area=area,
        cost=totals.cost,
        upfront=totals.upfront_assessed,
        upkeep_whole=sum(r.cost_each * r.whole for r in renewals),
        upkeep_annualised=sum(r.cost_each * r.annualised for r in renewals),
        renewal_carbon_whole=_carbon((r.carbon_each, r.whole) for r in renewals),
        renewal_carbon_annualised=_carbon((r.carbon_each, r.annualised) for r in renewals),
        end=totals.sum_of(END),
        layers=tuple(
            LayerUpkeep(
                material=line.quantity.material,
                life=line.renewal.life if line.renewal.life < float("inf") else None,
                share=line.renewal.share,
                years=tuple(year for year, _, _ in line.renewal.years),
            )
            for line in lines
            if line.renewal is not None
        ),
        not_assessed=tuple(
            line.quantity.material for line in lines if line.renewal is None and line.needs_carbon
        ),
    )


def _is_of(line: Line, side: Side, build_up: str) -> bool:
    """Return whether an item is a layer of a cladding on one elevation."""
    built = line.quantity.built_in
    return built is not None and built.build_up == build_up and line.quantity.weather == (side,)


def _carbon(renewals: Iterable[tuple[float | None, float]]) -> float | None:
    """Return the carbon of renewals, None where one that falls due is not assessed."""
    total = 0.0
    for each, count in renewals:
        if not count:
            continue
        if each is None:
            return None
        total += each * count
    return total
