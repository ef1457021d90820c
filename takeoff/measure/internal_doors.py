"""Measures doors between rooms and what surrounds them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from takeoff.framing.internal_walls import PlacedDoor
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.model.house import Design, InternalDoor
from takeoff.model.library import Library


def measure_internal_doors(design: Design, library: Library, doors: Iterable[PlacedDoor]) -> list[Quantity]:
    """Measure internal doors by number, each mark a row, and the surrounds of all of them."""
    placed = [place.door for place in doors]
    rows = [_unit(door, library) for door in placed if door.unit_type]
    name = design.house.internal_surround
    if name and placed:
        build_up = design.build_ups[name]
        for layer in build_up.layers:
            material = library.materials[layer.material]
            place = LayerPlace(layer, material, build_up, (), library)
            lines = tuple(line for door in placed for line in _lines(door, layer.measured_by, layer.rate))
            if not lines:
                continue
            measured = Measured(dimensions=lines, thickness=place.thickness, width=material.width)
            quantity = row(
                place,
                measured,
                id=f"ID.{slug(layer.measured_by)}.{slug(layer.material)}",
                element="ID",
                location="internal doors",
            )
            rows.append(replace(quantity, how=layer.measured_by))
    return distinct(rows)


def _unit(door: InternalDoor, library: Library) -> Quantity:
    """Return the row of one door set, by number."""
    material = library.materials[door.unit_type or ""]
    line = Dimension(f"{door.mark}, {door.width:.2f} x {door.height:.2f} m", door.number)
    return Quantity(
        id=f"ID.{slug(door.mark)}",
        element="ID",
        trade=material.trade,
        item=f"{door.kind.capitalize()} {door.mark}",
        description=f"{material.description}, {door.width:.2f} x {door.height:.2f} m",
        location=f"{door.rooms[0]} to {door.rooms[1]}",
        unit="Nr",
        material=material.name,
        net=line.squaring,
        required=line.squaring,
        dimensions=(line,),
        thickness=material.thickness,
    )


def _lines(door: InternalDoor, way: str, rate: float) -> Iterable[Dimension]:
    """Yield the dimension lines of one surround layer of a door: it has no sill."""
    note = f"opening {door.mark}"
    if way == "heads":
        yield Dimension(note, 1, door.width)
    elif way == "jambs":
        yield Dimension(note, 2, door.height)
    elif way == "perimeter":
        yield Dimension(f"{note}, jambs", 2, door.height)
        yield Dimension(f"{note}, head", 1, door.width)
    elif way == "each opening":
        yield Dimension(note, door.number * rate)
