"""Makes the library of a practice from the records of its factors workbook and of the house's own rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar, cast

from takeoff.model.library import (
    Gang,
    LadderStep,
    Library,
    Material,
    MeasurementRule,
    Price,
    Source,
    StageAccuracy,
    TransportMode,
    Work,
)
from takeoff.model.problem import WorkbookProblem, at
from takeoff.units import per_unit_factor
from takeoff.workbook.fabric_reading import build_grades, build_load_cases, build_resistances
from takeoff.workbook.field_words import message_number
from takeoff.workbook.life_cycle_reading import (
    build_benchmarks,
    build_carbon,
    build_end_of_life,
    build_lives,
    build_spreads,
    scaled,
)
from takeoff.workbook.stock_reading import build_stock
from takeoff.workbook.tables import Record

_T = TypeVar("_T")


def _by_key(records: list[Record] | None, key: str, build: Callable[[Record], _T]) -> dict[str, _T]:
    """Return records built into objects by their key; later rows win, so that a house's own come last."""
    return {str(r.values[key]): build(r) for r in records or [] if r.complete}


def _built(
    record_type: Callable[..., _T], *, rename: Mapping[str, str] | None = None, drop: tuple[str, ...] = ()
) -> Callable[[Record], _T]:
    """Return a builder that passes the values of a record on by field name."""

    def build(record: Record) -> _T:
        values = {
            (rename or {}).get(name, name): value for name, value in record.values.items() if name not in drop
        }
        return record_type(**cast("dict[str, Any]", values), origin=record.origin)

    return build


def _plain(record_type: Callable[..., _T], drop: tuple[str, ...] = ()) -> Callable[[Record], _T]:
    """Return a builder for records that keep no origin."""

    def build(record: Record) -> _T:
        return record_type(**{name: value for name, value in record.values.items() if name not in drop})

    return build


def _material(record: Record) -> Material:
    """Return one material; sizes it does not have stay None, joint and lap become nothing."""
    values = dict(record.values)
    values.pop("mass_unit", None)
    for name in ("joint", "lap"):
        values[name] = values[name] or 0.0
    return Material(**cast("dict[str, Any]", values), origin=record.origin)


def _price(record: Record) -> Price:
    """Return one price, the ends of its range in the unit that the price is kept in."""
    values = cast("dict[str, Any]", dict(record.values))
    scale, _ = per_unit_factor(values.pop("unit"), "currency")
    del values["tax"]
    for name in ("low", "high"):
        values[name] = scaled(values[name], scale)
    return Price(**values, origin=record.origin)


def _ladder_step(record: Record) -> LadderStep:
    """Return one step of the ladder, its percentage as a share."""
    values = cast("dict[str, Any]", record.values)
    value = values["value"] / 100 if values["unit"] == "%" else values["value"]
    return LadderStep(
        name=values["step"],
        kind=values["kind"],
        value=value,
        base=values["base"],
        note=values["note"],
        origin=record.origin,
    )


_LADDER_UNITS = {"sum": "currency", "index ratio": "ratio"}


def ladder_problems(records: list[Record] | None) -> list[WorkbookProblem]:
    """Return steps with the wrong unit, without a base, with an impossible value, or after the tax."""
    problems: list[WorkbookProblem] = []
    taxed = False
    for record in records or []:
        if not record.complete:
            continue
        step = _ladder_step(record)
        if taxed and step.kind != "tax":
            problems.append(
                at(
                    record.origin,
                    "kind",
                    found=f"the step {step.name!r} comes after tax",
                    expected="tax last, so that the total excluding tax holds none",
                    mend="Move the row above the tax",
                )
            )
        taxed = taxed or step.kind == "tax"
        wanted = _LADDER_UNITS.get(step.kind, "%")
        if record.values["unit"] != wanted:
            problems.append(
                at(
                    record.origin,
                    "unit",
                    found=f"{record.values['unit']} for a step of the kind {step.kind}",
                    expected=wanted,
                )
            )
        elif step.kind in ("percentage", "markup", "margin", "tax") and step.base is None:
            problems.append(
                at(
                    record.origin,
                    "base",
                    found=f"the percentage of {step.name!r} names no base",
                    expected="measured works, works and sums or running total",
                )
            )
        elif step.kind == "margin" and step.value >= 1:
            problems.append(
                at(
                    record.origin,
                    "value",
                    found=f"a margin of {step.value:.0%}",
                    expected="less than 100 % of the price",
                )
            )
        elif step.kind == "index ratio" and step.value <= 0:
            problems.append(
                at(record.origin, "value", found=message_number(step.value), expected="a ratio above 0")
            )
    return problems


def build_library(tables: Mapping[str, list[Record] | None]) -> Library:
    """Return the library made of all rows that could be read whole."""
    works = _by_key(
        tables.get("Labour"), "work", _built(Work, rename={"work": "name"}, drop=("unit", "standing", "note"))
    )
    return Library(
        materials=_by_key(tables.get("Materials"), "name", _material),
        prices=_by_key(tables.get("Prices"), "material", _price),
        works=works,
        gangs=_by_key(tables.get("Gangs"), "gang", _built(Gang, rename={"gang": "name"}, drop=("note",))),
        carbon=build_carbon(tables.get("Carbon factors")),
        transport=_by_key(
            tables.get("Transport"), "mode", _built(TransportMode, rename={"mode": "name"}, drop=("note",))
        ),
        ladder=tuple(_ladder_step(r) for r in tables.get("Cost ladder") or [] if r.complete),
        measurement=_by_key(tables.get("Measurement"), "item_class", _built(MeasurementRule)),
        accuracy=_by_key(tables.get("Accuracy"), "stage", _plain(StageAccuracy, drop=("note",))),
        sources=_by_key(tables.get("Sources"), "key", _plain(Source)),
        stock=build_stock(tables.get("Stock")),
        lives=build_lives(tables.get("Service lives")),
        end_of_life=build_end_of_life(tables.get("End of life")),
        spreads=build_spreads(tables.get("Spreads")),
        benchmarks=build_benchmarks(tables.get("Benchmarks")),
        resistances=build_resistances(tables.get("Thermal resistances")),
        grades=build_grades(tables.get("Timber grades")),
        load_cases=build_load_cases(tables.get("Load cases")),
    )
