"""Measures the ground-bearing slab: excavation, layers, concrete with edge beams, edge form."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.layer import LayerPlace, Measured, Surface, distinct, row, slug
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.model.geometry import Face
from takeoff.model.house import BuildUp, Design, House
from takeoff.model.library import Library


def edge_beam_length(house: House) -> float:
    """Return the length of the edge beams on their centre line [m]."""
    return 2 * (house.length + house.span) - 4 * house.edge_beam_width


def slab_thickness(build_up: BuildUp, library: Library) -> float:
    """Return the thickness of the poured layer [m], 0 where there is none."""
    for layer in build_up.layers:
        if layer.measured_by == "poured":
            return layer.thickness or library.materials[layer.material].thickness or 0.0
    return 0.0


def _excavation(house: House, slab: float) -> Measured:
    """Measure the topsoil strip under the outline and the trenches of the edge beams below it."""
    trench = max(house.edge_beam_depth - house.floor_above_ground - house.topsoil_depth, 0.0)
    lines = [Dimension("topsoil strip", 1, house.length, house.span, house.topsoil_depth)]
    if trench:
        lines.append(
            Dimension("edge beam trenches", 1, edge_beam_length(house), house.edge_beam_width, trench)
        )
    return Measured(dimensions=tuple(lines))


def _poured(house: House, slab: float) -> Measured:
    """Measure the slab and the part of the edge beams below it."""
    lines = [Dimension("slab", 1, house.length, house.span, slab)]
    below = max(house.edge_beam_depth - slab, 0.0)
    if below and house.edge_beam_width:
        lines.append(
            Dimension("edge beams below the slab", 1, edge_beam_length(house), house.edge_beam_width, below)
        )
    return Measured(dimensions=tuple(lines))


def _edge_beams(house: House, slab: float) -> Measured:
    """Measure the centre line of the edge beams."""
    return Measured(
        dimensions=(
            Dimension("outside of the slab", 2, house.length + house.span),
            Dimension("ddt corners, to the centre line", 4, house.edge_beam_width, deducted=True),
        )
    )


def _within_edge_beams(house: House, slab: float) -> Measured:
    """Measure the slab area less the edge beams."""
    width = house.edge_beam_width
    return Measured(
        dimensions=(Dimension("within the edge beams", 1, house.length - 2 * width, house.span - 2 * width),)
    )


def _edge_form(house: House, slab: float) -> Measured:
    """Measure the outside edge of the slab."""
    return Measured(dimensions=(Dimension("outside of the slab", 2, house.length + house.span),))


def _slab_edge(house: House, slab: float) -> Measured:
    """Measure the outside edge of the slab by the depth of the edge beams."""
    return Measured(
        dimensions=(Dimension("outside of the slab", 2, house.length + house.span, house.edge_beam_depth),)
    )


FLOOR_WAYS: dict[str, Callable[[House, float], Measured]] = {
    "excavation": _excavation,
    "poured": _poured,
    "edge beams": _edge_beams,
    "within edge beams": _within_edge_beams,
    "edge form": _edge_form,
    "slab edge": _slab_edge,
}


def measure_floor(design: Design, library: Library) -> list[Quantity]:
    """Measure every layer of the floor build-up."""
    house = design.house
    build_up = design.build_ups[house.floor]
    slab = slab_thickness(build_up, library)
    surface = Surface("outline", Face(house.length, 0.0, house.span, house.span))
    rows: list[Quantity] = []
    for layer in build_up.layers:
        material = library.materials[layer.material]
        place = LayerPlace(layer, material, build_up, (surface,), library)
        if layer.measured_by in FLOOR_WAYS:
            measured = replace(FLOOR_WAYS[layer.measured_by](house, slab), thickness=place.thickness)
        else:
            measured = FACE_WAYS[layer.measured_by](place)
        rows.append(
            row(place, measured, id=f"SB.{slug(layer.material)}", element="SB", location="ground floor")
        )
    return distinct(rows)
