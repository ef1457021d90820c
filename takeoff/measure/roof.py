"""Measures the roof and the raked ceiling under it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from takeoff.framing.roof import RoofFrame, outrigger_places, rafter_places
from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.faces import length_on_slope
from takeoff.measure.framing_rows import measure_members
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.linings import airtight_layers
from takeoff.measure.quantity import Dimension, Piece, Quantity, Weathered
from takeoff.measure.side_calculation import SideCalculation
from takeoff.measure.surface import Surface
from takeoff.measure.walls import mass_of_fixings, wall_inset
from takeoff.model.geometry import Face, roof_width, slope_factor, slope_length
from takeoff.model.house import BuildUp, Design, House, Layer
from takeoff.model.library import Library


def _low_eave(house: House) -> Measured:
    """Measure the low eave."""
    return Measured(dimensions=(Dimension("low eave", 1, roof_width(house)),))


def _high_eave(house: House) -> Measured:
    """Measure the high eave."""
    return Measured(dimensions=(Dimension("high eave", 1, roof_width(house)),))


def _verges(house: House) -> Measured:
    """Measure both verges on the slope."""
    return Measured(
        dimensions=(
            Dimension(
                "verges, on the slope", 2, slope_length(house), side=length_on_slope(house), side_of="a"
            ),
        )
    )


def _eaves_and_verges(house: House) -> Measured:
    """Measure the whole edge of the roof."""
    return Measured(
        dimensions=(
            Dimension("eaves", 2, roof_width(house)),
            Dimension(
                "verges, on the slope", 2, slope_length(house), side=length_on_slope(house), side_of="a"
            ),
        )
    )


def _downpipes(house: House) -> Measured:
    """Measure downpipes from the low eave to the ground."""
    height = house.low_height + house.floor_above_ground
    return Measured(dimensions=(Dimension("low eave to ground", house.downpipes, height),))


def _soffits(house: House) -> Measured:
    """Measure the underside of the overhangs: the whole slope less that over the outline."""
    return Measured(
        dimensions=(
            Dimension(
                "whole slope",
                1,
                slope_length(house),
                roof_width(house),
                side=length_on_slope(house),
                side_of="a",
            ),
            Dimension(
                "ddt over the outline",
                1,
                house.span * slope_factor(house),
                house.length,
                deducted=True,
                side=SideCalculation("on the slope", (house.span, house.pitch)),
                side_of="a",
            ),
        )
    )


EDGE_WAYS: dict[str, Callable[[House], Measured]] = {
    "low eave": _low_eave,
    "high eave": _high_eave,
    "verges": _verges,
    "eaves and verges": _eaves_and_verges,
    "downpipes": _downpipes,
    "soffits": _soffits,
}


def _edge_pieces(way: str, house: House) -> tuple[Piece, ...]:
    """Return the pieces along the edges of the roof: joined on rafters at eaves, on outriggers at verges."""
    rafters = tuple(house.overhang_left + centre for centre in rafter_places(house))
    eaves = {"low eave": 1, "high eave": 1, "eaves and verges": 2}.get(way, 0)
    verges = {"verges": 2, "eaves and verges": 2}.get(way, 0)
    pieces = (
        Piece(roof_width(house), eaves, joints=rafters),
        Piece(slope_length(house), verges, joints=tuple(outrigger_places(house)[1:-1])),
    )
    return tuple(piece for piece in pieces if piece.count)


def roof_surface(house: House) -> Surface:
    """Return the whole slope as a face: along the eaves by up the slope."""
    length = slope_length(house)
    return Surface(
        "roof slope",
        Face(roof_width(house), 0.0, length, length),
        run_on=house.sheet_overhang,
        supports=tuple(house.overhang_left + centre for centre in rafter_places(house)),
        height=length_on_slope(house),
    )


def ceiling_surface(design: Design, library: Library) -> Surface:
    """Return the raked ceiling between the inside faces of the external walls, on the slope."""
    inset = wall_inset(design, library)
    length = (design.house.span - 2 * inset) * slope_factor(design.house)
    return Surface(
        "ceiling on the slope",
        Face(design.house.length - 2 * inset, 0.0, length, length),
        height=SideCalculation("on the slope", (design.house.span - 2 * inset, design.house.pitch)),
    )


def measure_roof(design: Design, library: Library, frame: RoofFrame) -> list[Quantity]:
    """Measure every layer of the roof build-up."""
    house = design.house
    build_up = design.build_ups[house.roof]
    rows: list[Quantity] = []
    for layer in build_up.layers:
        way = layer.measured_by
        if way == "frame":
            rows += measure_members(frame.members, library, element="RF", location="roof")
            continue
        material = library.materials[layer.material]
        place = LayerPlace(layer, material, build_up, (roof_surface(house),), library)
        if way in EDGE_WAYS:
            edge = EDGE_WAYS[way](house)
            measured = replace(
                edge, thickness=place.thickness, width=material.width, pieces=_edge_pieces(way, house)
            )
        elif way == "between rafters":
            measured = _between_rafters(place, frame, house.rafter_depth)
        elif way == "mass per m3 of frame":
            measured = mass_of_fixings(place, sum(member.volume for member in frame.members))
        else:
            measured = FACE_WAYS[way](place)
        group = slug(way) if way in EDGE_WAYS else "slope"
        rows.append(
            row(
                place,
                measured,
                id=f"RF.{group}.{slug(layer.material)}",
                element="RF",
                location="roof",
                weather=_weather(build_up, layer),
            )
        )
    return distinct(rows)


def _weather(build_up: BuildUp, layer: Layer) -> tuple[Weathered, ...]:
    """Return where a layer of the roof meets sun and weather: outside the frame and along the edges.

    Soffits face down and are sheltered.
    """
    frame = build_up.frame_index()
    outside = frame is None or build_up.layers.index(layer) < frame
    edge = layer.measured_by in EDGE_WAYS and layer.measured_by != "soffits"
    return ("roof",) if outside or edge else ()


def _between_rafters(place: LayerPlace, frame: RoofFrame, rafter_depth: float) -> Measured:
    """Measure insulation between the rafters: slope over the outline less every stick."""
    return Measured(
        dimensions=(
            Dimension("slope over the outline", 1, frame.outline_area),
            *(
                [Dimension("ddt gap of party wall, on the slope", 1, frame.gap_area, deducted=True)]
                if frame.gap_area
                else []
            ),
            Dimension(
                "ddt rafters and blocking, seen face", 1, frame.timber_area_over_outline, deducted=True
            ),
        ),
        thickness=place.layer.thickness or rafter_depth,
        how="between rafters, sticks deducted",
    )


def measure_airtight_ceiling(design: Design, library: Library) -> list[Quantity]:
    """Measure the membranes of the ceiling build-up, which run through under the rafters over all rooms."""
    build_up = design.build_ups[design.house.ceiling]
    surface = ceiling_surface(design, library)
    rows: list[Quantity] = []
    for layer in airtight_layers(design, library):
        material = library.materials[layer.material]
        place = LayerPlace(layer, material, build_up, (surface,), library)
        rows.append(
            row(
                place,
                FACE_WAYS[layer.measured_by](place),
                id=f"RF.ceiling.{slug(layer.material)}",
                element="RF",
                location="raked ceiling",
            )
        )
    return distinct(rows)
