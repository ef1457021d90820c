"""Measures the ground floor: a slab with its edge beams, or a suspended timber floor; what lies on either."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from takeoff.framing.floor import FloorFrame, frame_floor
from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.framing_rows import measure_members
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.side_calculation import SideCalculation
from takeoff.measure.surface import Surface
from takeoff.measure.suspended_floor import SUSPENDED_WAYS
from takeoff.model.geometry import Face, Gap
from takeoff.model.house import BuildUp, Design, House
from takeoff.model.library import Library
from takeoff.model.suspended_floor import BEARERS, JOISTS, ON_JOISTS, layer_measured_by

LOCATION = "ground floor"
# Ways that have nothing to measure where no joists are set out.
_ON_A_FRAME = ON_JOISTS | {JOISTS, "mass per m3 of frame"}


def edge_beam_length(house: House) -> float:
    """Return the length of the edge beams on their centre line [m]."""
    return _centre_line(house).value


def slab_thickness(build_up: BuildUp, library: Library) -> float:
    """Return the thickness of the poured layer [m], 0 where there is none."""
    for layer in build_up.layers:
        if layer.measured_by == "poured":
            return layer.thickness or library.materials[layer.material].thickness or 0.0
    return 0.0


def _centre_line(house: House) -> SideCalculation:
    """Return the side calculation of the centre line of the edge beams."""
    return SideCalculation("centre line", (house.length, house.span, house.edge_beam_width))


def _excavation(house: House, slab: float) -> Measured:
    """Measure the topsoil strip under the outline and the trenches of the edge beams below it."""
    trench = max(house.edge_beam_depth - house.floor_above_ground - house.topsoil_depth, 0.0)
    lines = [Dimension("topsoil strip", 1, house.length, house.span, house.topsoil_depth)]
    if trench:
        lines.append(
            Dimension(
                "edge beam trenches",
                1,
                edge_beam_length(house),
                house.edge_beam_width,
                trench,
                side=_centre_line(house),
                side_of="a",
            )
        )
    return Measured(dimensions=tuple(lines))


def _poured(house: House, slab: float) -> Measured:
    """Measure the slab and the part of the edge beams below it."""
    lines = [Dimension("slab", 1, house.length, house.span, slab)]
    below = max(house.edge_beam_depth - slab, 0.0)
    if below and house.edge_beam_width:
        lines.append(
            Dimension(
                "edge beams below the slab",
                1,
                edge_beam_length(house),
                house.edge_beam_width,
                below,
                side=_centre_line(house),
                side_of="a",
            )
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


def floor_frame(design: Design, gaps: tuple[Gap, ...] = ()) -> FloorFrame | None:
    """Set out the frame of the floor, None where its build-up has no joists.

    `gaps` are the rectangles of the plan that no timber crosses.
    """
    build_up = design.build_ups[design.house.floor]
    joists, bearers = layer_measured_by(build_up, JOISTS), layer_measured_by(build_up, BEARERS)
    if joists is None:
        return None
    return frame_floor(
        design.house,
        joist_material=joists.material,
        bearer_material=bearers.material if bearers else None,
        gaps=gaps,
    )


def measure_floor(design: Design, library: Library, frame: FloorFrame | None = None) -> list[Quantity]:
    """Measure every layer of the floor build-up; `frame` is that of a suspended floor."""
    house = design.house
    build_up = design.build_ups[house.floor]
    slab = slab_thickness(build_up, library)
    surface = Surface("outline", Face(house.length, 0.0, house.span, house.span))
    rows: list[Quantity] = []
    for layer in build_up.layers:
        way = layer.measured_by
        if frame is None and way in _ON_A_FRAME:
            continue
        if frame is not None and way in (JOISTS, BEARERS):
            sticks = frame.joists if way == JOISTS else frame.bearers
            rows += measure_members(sticks, library, element="SB", location=LOCATION)
            continue
        material = library.materials[layer.material]
        place = LayerPlace(layer, material, build_up, (surface,), library)
        if frame is not None and way in SUSPENDED_WAYS:
            measured = SUSPENDED_WAYS[way](place, house, frame)
            measured = replace(measured, thickness=measured.thickness or place.thickness)
        elif way in FLOOR_WAYS:
            measured = replace(FLOOR_WAYS[way](house, slab), thickness=place.thickness)
        else:
            measured = FACE_WAYS[way](place)
        name = slug(layer.material)
        id = f"SB.{slug(way)}.{name}" if way in ON_JOISTS else f"SB.{name}"
        rows.append(row(place, measured, id=id, element="SB", location=LOCATION))
    return distinct(rows)
