"""Draws the plan out where an option changes length or span: rooms, openings and support lines follow."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from takeoff.model.house import Bulkhead, Design, House, InternalDoor, Opening, Room

_Area = TypeVar("_Area", Room, Bulkhead)


def scaled(design: Design, house: House, *, keep_support_lines: bool) -> Design:
    """Return the design with another house, its plan drawn out to the new length and span.

    Rooms and bulkheads scale with the plan. Openings keep their size; their middle moves in proportion.
    Support lines scale with the span unless `keep_support_lines`. Where neither length nor span changes,
    nothing moves.
    """
    along, across = house.length / design.house.length, house.span / design.house.span
    if along == 1.0 and across == 1.0:
        return replace(design, house=house)
    if not keep_support_lines:
        house = replace(house, support_lines=tuple(line * across for line in house.support_lines))
    return replace(
        design,
        house=house,
        openings=tuple(_moved(opening, along, across) for opening in design.openings),
        rooms=tuple(_stretched(room, along, across) for room in design.rooms),
        bulkheads=tuple(_stretched(bulkhead, along, across) for bulkhead in design.bulkheads),
        internal_doors=tuple(_door(door, design, along, across) for door in design.internal_doors),
    )


def _stretched(area: _Area, along: float, across: float) -> _Area:
    """Return a rectangle of the plan drawn out."""
    return replace(
        area,
        from_x=area.from_x * along,
        to_x=area.to_x * along,
        from_y=area.from_y * across,
        to_y=area.to_y * across,
    )


def _moved(opening: Opening, along: float, across: float) -> Opening:
    """Return an opening with its middle moved in proportion to its wall."""
    factor = along if opening.side in ("low", "high") else across
    middle = (opening.position + opening.width / 2) * factor
    return replace(opening, position=middle - opening.width / 2)


def _door(door: InternalDoor, design: Design, along: float, across: float) -> InternalDoor:
    """Return an internal door with its middle moved in proportion to the plan."""
    if door.position is None:
        return door
    factor = along if _beside(design, door) else across
    middle = (door.position + door.width / 2) * factor
    return replace(door, position=middle - door.width / 2)


def _beside(design: Design, door: InternalDoor) -> bool:
    """Whether the two rooms of a door stand one above the other, so that their wall runs along the eaves."""
    rooms = {room.name: room for room in design.rooms}
    one, other = (rooms.get(name) for name in door.rooms)
    if one is None or other is None:
        return True
    return one.to_y <= other.from_y + 1e-9 or other.to_y <= one.from_y + 1e-9
