"""Makes carbon factors, lives, end of life, spreads, benchmarks and the study from records, with their problems."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, cast

from takeoff.model.allowance import SUM_KINDS
from takeoff.model.life_cycle import (
    ALL,
    Benchmark,
    CarbonFactor,
    EndOfLife,
    Scores,
    ServiceLife,
    Spread,
    SpreadOf,
)
from takeoff.model.problem import WorkbookProblem, at
from takeoff.model.study import Study
from takeoff.units import per_unit_factor
from takeoff.workbook.carbon_factors_sheet import CARBON_FACTORS, MODULE_FIELDS, SCORES
from takeoff.workbook.factors_sheets import PRICES
from takeoff.workbook.fields import Sheet
from takeoff.workbook.life_cycle_sheets import BENCHMARKS, END_OF_LIFE, SPREADS
from takeoff.workbook.material_kinds import FAMILIES, ITEM_CLASSES
from takeoff.workbook.references import unknown_name
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


def life_cycle_problems(tables: Mapping[str, list[Record] | None]) -> list[WorkbookProblem]:
    """Return what contradicts itself within the rows of carbon, prices, end of life, spreads and benchmarks."""
    problems: list[WorkbookProblem] = []
    for sheet, name, numerator in (
        (CARBON_FACTORS, "a1a3", "kgCO2e"),
        (PRICES, "price", "currency"),
        (BENCHMARKS, "value", None),
    ):
        for record in _complete(tables.get(sheet.title)):
            problems += _range_problems(record, sheet, name, numerator)
    for record in _complete(tables.get(CARBON_FACTORS.title)):
        problems += _score_problems(record)
    for record in _complete(tables.get(END_OF_LIFE.title)):
        problems += _way_problems(record)
    for record in _complete(tables.get(BENCHMARKS.title)):
        problems += _period_problems(record)
    names = _names_of_spreads(tables)
    for record in _complete(tables.get(SPREADS.title)):
        problems += _name_problems(record, names)
    return problems


def _range_problems(
    record: Record, sheet: Sheet, name: str, numerator: str | None
) -> Iterator[WorkbookProblem]:
    """Yield the ends of a range that lie on the wrong side of the value between them."""
    values = cast("dict[str, Any]", record.values)
    if numerator is None:
        value, unit = values[name], f" {sheet.field(name).shown}"
    else:
        scale, _ = per_unit_factor(values["unit"], numerator)
        value, unit = float(f"{values[name].value / scale:.12g}"), ""
    title = sheet.field(name).title
    for end, beyond, most in (("low", "above", "at most"), ("high", "below", "at least")):
        limit = values[end]
        if limit is None or (limit <= value if end == "low" else limit >= value):
            continue
        yield at(
            record.origin,
            end,
            found=f"{end.capitalize()} of {limit:g}{unit} for {values[sheet.start]!r}, {beyond} its {title} of "
            f"{value:g}{unit}",
            expected=f"{most} {value:g}{unit}",
        )


def _score_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield the first score that is blank where others are not."""
    blank = [name for name in _SCORES if record.values[name] is None]
    if blank and len(blank) < len(_SCORES):
        yield at(
            record.origin,
            blank[0],
            found=f"{CARBON_FACTORS.field(blank[0]).title} is blank for {record.values['material']!r}, which has "
            "other scores",
            expected="all five scores, or none of them",
        )


def _way_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield a way of carrying without a distance, and a distance without a way."""
    mode, distance = record.values["mode"], record.values["distance"]
    if (mode is None) == (distance is None):
        return
    blank, given = ("mode", "distance") if mode is None else ("distance", "mode")
    yield at(
        record.origin,
        blank,
        found=f"{END_OF_LIFE.field(blank).title} is blank, but {END_OF_LIFE.field(given).title} is filled in",
        expected="both for C2, or neither where it is not assessed",
    )


def _period_problems(record: Record) -> Iterator[WorkbookProblem]:
    """Yield a study period that the modules of a benchmark have no use for."""
    modules, period = record.values["modules"], record.values["study_period"]
    name = record.values["name"]
    if modules != "A-C" and period is not None:
        yield at(
            record.origin,
            "study_period",
            found=f"Study period is filled in for {name!r}, which covers {modules}",
            expected="a blank cell: those modules end when the house is built",
        )


def _names_of_spreads(tables: Mapping[str, list[Record] | None]) -> dict[SpreadOf, set[str] | None]:
    """Return the names each kind of input has; None where the sheet that holds them is missing."""

    def column(title: str, name: str) -> set[str] | None:
        records = tables.get(title)
        return None if records is None else {str(r.values[name]) for r in records if r.values.get(name)}

    works = column("Labour", "work")
    return {
        "price basis": set(PRICES.field("basis").choices),
        "labour constant": works,
        "gang rate": column("Gangs", "gang"),
        "quantity": set(ITEM_CLASSES),
        "allowance": set(SUM_KINDS),
        "transport": column("Transport", "mode"),
        "site work": works,
        "maintenance": column("Materials", "name"),
        "service life": column("Materials", "name"),
        "end of life": set(FAMILIES),
    }


def _name_problems(record: Record, names: Mapping[SpreadOf, set[str] | None]) -> Iterator[WorkbookProblem]:
    """Yield a name that no input of its kind has, so that its spread would go for nothing."""
    of, name = cast("SpreadOf", record.values["of"]), str(record.values["name"])
    known = names[of]
    if name == ALL or known is None or name in known:
        return
    yield unknown_name(record.origin, "name", name, f"{_KIND_WORDS[of]}, or all", known)


_KIND_WORDS: dict[SpreadOf, str] = {
    "price basis": f"a basis of prices ({', '.join(PRICES.field('basis').choices)})",
    "labour constant": "a row of the sheet Labour",
    "gang rate": "a row of the sheet Gangs",
    "quantity": "an item class",
    "allowance": f"a kind of allowance ({', '.join(SUM_KINDS)})",
    "transport": "a row of the sheet Transport",
    "site work": "a row of the sheet Labour",
    "maintenance": "a row of the sheet Materials",
    "service life": "a row of the sheet Materials",
    "end of life": "a family of materials",
}


def scenario_problems(study: Mapping[str, Record] | None, records: Records) -> list[WorkbookProblem]:
    """Return the scenario of the study where the sheet End of life has none of that name.

    Where that sheet has no rows, nothing is assessed by it and the usual scenario stays unquestioned.
    """
    usual = Study().end_of_life
    known = {str(record.values["scenario"]) for record in records or () if record.values.get("scenario")}
    setting = None if study is None else study["end_of_life"]
    name = usual if setting is None else str(setting.values["value"])
    if name in known or (not known and name == usual):
        return []
    expected = "a name from the column Scenario of the sheet End of life"
    if setting is not None and setting.typed:
        return [unknown_name(setting.origin, "value", name, expected, known)]
    first = next(record for record in records or () if record.values.get("scenario"))
    return [
        at(
            first.origin,
            "scenario",
            found=f"no row of the scenario {usual!r}",
            expected="rows of the scenario that a study without one goes by",
            mend="Add them, or name one of the others in the sheet Study",
        )
    ]
