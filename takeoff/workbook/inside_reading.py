"""Makes rooms, bulkheads, walls between rooms, internal doors and allowances from the records of a workbook."""

from __future__ import annotations

from typing import Any, cast

from takeoff.model.allowance import Allowance
from takeoff.model.house import Bulkhead, InternalDoor, Room, WallChoice
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.tables import Record


def _values(record: Record) -> dict[str, Any]:
    """Return a copy of the values of a row."""
    return cast("dict[str, Any]", dict(record.values))


def build_rooms(records: list[Record]) -> tuple[Room, ...]:
    """Return the rooms."""
    return tuple(Room(**_values(record), origin=record.origin) for record in records if record.complete)


def build_bulkheads(records: list[Record]) -> tuple[Bulkhead, ...]:
    """Return the bulkheads."""
    return tuple(Bulkhead(**_values(record), origin=record.origin) for record in records if record.complete)


def build_wall_choices(records: list[Record]) -> tuple[WallChoice, ...]:
    """Return the walls between pairs of rooms that are not the house's own."""
    return tuple(
        WallChoice(
            rooms=(str(record.values["room"]), str(record.values["other_room"])),
            build_up=str(record.values["build_up"]),
            origin=record.origin,
        )
        for record in records
        if record.complete
    )


def is_internal(record: Record) -> bool:
    """Whether a row of the Openings sheet stands between two rooms."""
    return record.values.get("room") is not None or record.values.get("other_room") is not None


def build_internal_doors(records: list[Record]) -> tuple[list[InternalDoor], list[WorkbookProblem]]:
    """Return the doors between rooms, and those that are only half described or can't stand there."""
    doors: list[InternalDoor] = []
    problems: list[WorkbookProblem] = []
    for record in records:
        if not record.complete:
            continue
        found = _door_problems(record)
        problems += found
        if found:
            continue
        values = _values(record)
        doors.append(
            InternalDoor(
                mark=values["mark"],
                rooms=(values["room"], values["other_room"]),
                kind=values["kind"],
                width=values["width"],
                height=values["height"],
                position=values["position"],
                number=values["number"],
                unit_type=values["unit_type"],
                origin=record.origin,
            )
        )
    return doors, problems


def _door_problems(record: Record) -> list[WorkbookProblem]:
    """Return what keeps a row from being a door between two rooms."""
    values, problems = record.values, []
    for name, title in (("room", "Room"), ("other_room", "Other room")):
        if values[name] is None:
            problems.append(
                at(
                    record.origin,
                    name,
                    found=f"{title} is blank",
                    expected="two rooms, or none for an external wall",
                )
            )
    if values["side"] is not None:
        problems.append(
            at(
                record.origin,
                "side",
                found=f"side {values['side']!r} for a door between rooms",
                expected="blank where two rooms are given",
            )
        )
    if values["kind"] == "window":
        problems.append(
            at(
                record.origin,
                "kind",
                found="a window between two rooms",
                expected="door, sliding door or opening",
            )
        )
    if values["kind"] in ("door", "sliding door") and values["unit_type"] is None:
        problems.append(
            at(
                record.origin,
                "unit_type",
                found="Unit type is blank",
                expected="a name from the column Materials, Material, or the kind opening",
            )
        )
    if values["sill"]:
        problems.append(
            at(
                record.origin,
                "sill",
                found=f"a sill at {values['sill']:g} m between two rooms",
                expected="0",
            )
        )
    return problems


def build_allowances(records: list[Record]) -> tuple[Allowance, ...]:
    """Return the allowances; blank quantities stay blank."""
    return tuple(Allowance(**_values(record), origin=record.origin) for record in records if record.complete)
