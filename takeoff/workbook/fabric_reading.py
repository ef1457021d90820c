"""Makes the fabric, thermal resistances, timber grades and load cases from records, and checks them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, cast

from takeoff.model.fabric import Fabric, ThermalResistance
from takeoff.model.problem import WorkbookProblem, at
from takeoff.model.timber import LoadCase, TimberGrade
from takeoff.workbook.fabric_sheets import THERMAL_RESISTANCES
from takeoff.workbook.tables import Record
from takeoff.workbook.timber_sheets import LOAD_CASES

Records = Sequence[Record] | None


def _complete(records: Records) -> Iterator[Record]:
    """Yield the rows that could be read whole."""
    return (record for record in records or () if record.complete)


def _values(record: Record) -> dict[str, Any]:
    """Return the values of a record by field name."""
    return cast("dict[str, Any]", dict(record.values))


def build_fabric(settings: Mapping[str, Record] | None) -> Fabric:
    """Return how the fabric is judged, by the defaults where the sheet was left out."""
    if settings is None:
        return Fabric()
    values = {name: record.values["value"] for name, record in settings.items()}
    origin = {name: record.origin for name, record in settings.items()}
    return Fabric(**cast("dict[str, Any]", values), origin=origin)


def build_resistances(records: Records) -> tuple[ThermalResistance, ...]:
    """Return the resistances of surfaces and air layers in the order of their rows."""
    return tuple(ThermalResistance(**_values(record), origin=record.origin) for record in _complete(records))


def build_grades(records: Records) -> tuple[TimberGrade, ...]:
    """Return the timber grades in the order of their rows."""
    return tuple(TimberGrade(**_values(record), origin=record.origin) for record in _complete(records))


def build_load_cases(records: Records) -> tuple[LoadCase, ...]:
    """Return the load cases in the order of their rows."""
    return tuple(LoadCase(**_values(record), origin=record.origin) for record in _complete(records))


def fabric_problems(tables: Mapping[str, list[Record] | None]) -> list[WorkbookProblem]:
    """Return air layers without a thickness, surfaces with one, deflection without a limit and strength with one."""
    problems: list[WorkbookProblem] = []
    for record in _complete(tables.get(THERMAL_RESISTANCES.title)):
        air = record.values["kind"] == "still air layer"
        thickness = record.values["thickness"]
        if air and thickness is None:
            problems.append(
                at(
                    record.origin,
                    "thickness",
                    found="Thickness of a still air layer is blank",
                    expected="the thickness that its resistances are for",
                )
            )
        elif not air and thickness is not None:
            problems.append(
                at(
                    record.origin,
                    "thickness",
                    found=f"a thickness for the kind {record.values['kind']}",
                    expected="blank: surfaces have none",
                )
            )
    for record in _complete(tables.get(LOAD_CASES.title)):
        deflection = record.values["kind"] == "deflection"
        limit = record.values["limit"]
        if deflection and limit is None:
            problems.append(
                at(
                    record.origin,
                    "limit",
                    found=f"Limit of the case {record.values['case']!r} is blank",
                    expected="what the span is divided by, such as 250",
                )
            )
        elif not deflection and limit is not None:
            problems.append(
                at(
                    record.origin,
                    "limit",
                    found=f"a limit in the strength case {record.values['case']!r}",
                    expected="blank, or deflection in the column Checked for",
                )
            )
    return problems
