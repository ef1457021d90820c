"""Measures window and door units, shutters, and what surrounds each opening."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.quantity import Dimension, Quantity, net_of
from takeoff.model.house import Design, Opening
from takeoff.model.library import Library, Material


def element_of(opening: Opening) -> str:
    """Return the element code of an opening: windows, or external doors."""
    return "WN" if opening.kind == "window" else "ED"


def measure_openings(design: Design, library: Library) -> list[Quantity]:
    """Measure units, shutters and surrounds."""
    rows: list[Quantity] = []
    for opening in design.openings:
        rows.append(_unit(opening, library.materials[opening.unit_type], opening.kind))
        if opening.shutter:
            rows.append(_unit(opening, library.materials[opening.shutter], "shutter"))
    for element in ("WN", "ED"):
        rows += _surrounds(design, library, element)
    return distinct(rows)


def _unit(opening: Opening, material: Material, what: str) -> Quantity:
    """Return the row of one window, door or shutter, by area of its structural opening."""
    note = f"{opening.mark}, {opening.number} Nr" if opening.number > 1 else opening.mark
    lines = (Dimension(note, 1, opening.width, opening.height, opening=opening.mark),)
    suffix = ".shutter" if what == "shutter" else ""
    return Quantity(
        id=f"{element_of(opening)}.{slug(opening.mark)}{suffix}",
        element=element_of(opening),
        trade=material.trade,
        item=f"{what.capitalize()} {opening.mark}",
        description=f"{material.description}, {opening.width:.2f} x {opening.height:.2f} m",
        location=f"{opening.side} side",
        unit="m2",
        material=material.name,
        net=net_of(lines),
        required=net_of(lines),
        dimensions=lines,
        thickness=material.thickness,
        weather=(opening.side,),
    )


def _surrounds(design: Design, library: Library, element: str) -> list[Quantity]:
    """Measure flashings, reveals, tape and fixing of all openings of one element."""
    openings = [opening for opening in design.openings if element_of(opening) == element]
    if not openings:
        return []
    build_up = design.build_ups[design.house.opening_surround]
    rows: list[Quantity] = []
    for layer in build_up.layers:
        material = library.materials[layer.material]
        place = LayerPlace(layer, material, build_up, (), library)
        lines = tuple(_lines(openings, layer.measured_by, layer.rate))
        if not lines:
            continue
        measured = Measured(dimensions=lines, thickness=place.thickness, width=material.width)
        name = "windows" if element == "WN" else "external doors"
        quantity = row(
            place,
            measured,
            id=f"{element}.{slug(layer.measured_by)}.{slug(layer.material)}",
            element=element,
            location=name,
            weather=tuple(dict.fromkeys(opening.side for opening in openings)),
        )
        rows.append(replace(quantity, how=layer.measured_by))
    return rows


def _lines(openings: Iterable[Opening], way: str, rate: float) -> Iterable[Dimension]:
    """Yield the dimension lines of one surround layer, opening by opening."""
    for opening in openings:
        has_sill = opening.sill > 0
        note = f"opening {opening.mark}"
        if way == "sills":
            if has_sill:
                yield Dimension(note, 1, opening.width, opening=opening.mark)
        elif way == "heads":
            yield Dimension(note, 1, opening.width, opening=opening.mark)
        elif way == "jambs":
            yield Dimension(note, 2, opening.height, opening=opening.mark)
        elif way == "perimeter":
            yield Dimension(f"{note}, jambs", 2, opening.height, opening=opening.mark)
            across = 2 if has_sill else 1
            ends = "head and sill" if has_sill else "head"
            yield Dimension(f"{note}, {ends}", across, opening.width, opening=opening.mark)
        elif way == "each opening":
            yield Dimension(note, opening.number * rate, opening=opening.mark)
