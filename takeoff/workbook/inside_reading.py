"""Makes rooms, bulkheads, walls between rooms, internal doors and allowances from the records of a workbook."""

from __future__ import annotations

from typing import Any, cast

from takeoff.model.allowance import Allowance
from takeoff.model.house import Bulkhead, InternalDoor, Room, WallChoice
from takeoff.model.problem import WorkbookProblem, at
from takeoff.workbook.field_words import message_number
from takeoff.workbook.tables import Record


def _values(record: Record) -> dict[str, Any]:
    """Return a copy of the values of a row."""
    return cast("dict[str, Any]", dict(record.values))


def build_rooms(records: list[Record]) -> tuple[Room, ...]:
    """Return the rooms, or none where one could not be read whole: the others would seem to leave a gap."""
    if not all(record.complete for record in records):
        return ()
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
    if values["shutter"] is not None:
        problems.append(
            at(
                record.origin,
                "shutter",
                found=f"a shutter {values['shutter']!r} on a door between rooms",
                expected="blank where two rooms are given",
            )
        )
    if values["sill"]:
        problems.append(
            at(
                record.origin,
                "sill",
                found=f"a sill at {message_number(cast('float', values['sill']))} m between two rooms",
                expected="0",
            )
        )
    return problems


def build_allowances(records: list[Record]) -> tuple[list[Allowance], list[WorkbookProblem]]:
    """Return the allowances, blank quantities left blank, and those that can't be worked out as stated."""
    allowances: list[Allowance] = []
    problems: list[WorkbookProblem] = []
    for record in records:
        if not record.complete:
            continue
        found = _allowance_problems(record)
        problems += found
        if not found:
            allowances.append(Allowance(**_values(record), origin=record.origin))
    return allowances, problems


def _allowance_problems(record: Record) -> list[WorkbookProblem]:
    """Return what is missing for the basis of an allowance, and fixing that its kind does not have."""
    values, problems = record.values, []
    basis, kind, quantity = values["basis"], values["kind"], values["quantity"]
    if quantity is None and basis in ("Nr", "kW"):
        problems.append(
            at(
                record.origin,
                "quantity",
                found=f"Quantity is blank for {values['name']!r}, measured by {basis}",
                expected=f"a number of {basis}",
            )
        )
    if quantity == 0:
        problems.append(
            at(
                record.origin,
                "quantity",
                found=f"a quantity of 0 for {values['name']!r}",
                expected="a number over 0",
                mend="Delete the row of what is not allowed for",
            )
        )
    if values["fixing"] and kind != "prime-cost sum":
        problems.append(
            at(
                record.origin,
                "fixing",
                found=f"fixing for {values['name']!r}, which is {_A_KIND[str(kind)]}",
                expected="fixing for a prime-cost sum only; the rate of any other is supply and work",
                mend="Leave Fixing blank and put it into the rate, or make the kind a prime-cost sum",
            )
        )
    return problems


_A_KIND = {"firm": "firm", "provisional sum": "a provisional sum"}
