"""Makes carbon factors, lives, end of life, spreads, benchmarks and the study from records."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, cast

from takeoff.model.life_cycle import (
    Benchmark,
    CarbonFactor,
    EndOfLife,
    Scores,
    ServiceLife,
    Spread,
)
from takeoff.model.study import Study
from takeoff.units import per_unit_factor
from takeoff.workbook.carbon_factors_sheet import MODULE_FIELDS, SCORES
from takeoff.workbook.tables import Record

Records = Sequence[Record] | None

_SCORES = tuple(name for name, _, _ in SCORES)
_IN_ITS_UNIT = ("low", "high", "land_use", "biogenic", *(name for name, _, _ in MODULE_FIELDS))


def _complete(records: Records) -> Iterator[Record]:
    """Yield the rows that could be read whole."""
    return (record for record in records or () if record.complete)


def build_carbon(records: Records) -> dict[str, CarbonFactor]:
    """Return the carbon factors by material, all their modules in the unit that A1-A3 is kept in."""
    factors: dict[str, CarbonFactor] = {}
    for record in _complete(records):
        values = cast("dict[str, Any]", dict(record.values))
        scale, _ = per_unit_factor(values.pop("unit"), "kgCO2e")
        scores = [values.pop(name) for name in _SCORES]
        for name in _IN_ITS_UNIT:
            values[name] = scaled(values[name], scale)
        factors[values["material"]] = CarbonFactor(
            **values, scores=None if None in scores else Scores(*scores), origin=record.origin
        )
    return factors


def scaled(value: float | None, scale: float) -> float | None:
    """Return a number in the unit kept, to the digits it was typed in; None stays None."""
    return None if value is None else float(f"{value * scale:.12g}")


def build_lives(records: Records) -> dict[str, ServiceLife]:
    """Return the service lives by material; those not typed follow from the others."""
    lives: dict[str, ServiceLife] = {}
    for record in _complete(records):
        values = cast("dict[str, Any]", dict(record.values))
        if values["exposed"] is None:
            values["exposed"] = values["sheltered"]
        if values["moderate"] is None:
            values["moderate"] = (values["sheltered"] + values["exposed"]) / 2
        lives[values["material"]] = ServiceLife(**values, origin=record.origin)
    return lives


def build_end_of_life(records: Records) -> dict[tuple[str, str], EndOfLife]:
    """Return the rows of the sheet End of life by scenario and family."""
    rows = [
        EndOfLife(**cast("dict[str, Any]", record.values), origin=record.origin)
        for record in _complete(records)
    ]
    return {(row.scenario, row.family): row for row in rows}


def build_spreads(records: Records) -> dict[tuple[str, str], Spread]:
    """Return the spreads by what they are of and its name."""
    rows = [
        Spread(**cast("dict[str, Any]", record.values), origin=record.origin) for record in _complete(records)
    ]
    return {(row.of, row.name): row for row in rows}


def build_benchmarks(records: Records) -> tuple[Benchmark, ...]:
    """Return the benchmarks in the order of their rows."""
    return tuple(
        Benchmark(**cast("dict[str, Any]", record.values), origin=record.origin)
        for record in _complete(records)
    )


def build_study(settings: Mapping[str, Record] | None) -> Study:
    """Return the study, that of the defaults where the sheet was left out."""
    if settings is None:
        return Study()
    values = {name: record.values["value"] for name, record in settings.items()}
    origin = {name: record.origin for name, record in settings.items()}
    return Study(**cast("dict[str, Any]", values), origin=origin)
