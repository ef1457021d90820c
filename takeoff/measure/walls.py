"""Measures the external walls without their cladding: frame, sheathing, membranes, insulation, linings."""

from __future__ import annotations

from collections.abc import Iterable

from takeoff.framing.walls import WallFrame, grid_studs
from takeoff.measure.cladding import opening_voids
from takeoff.measure.face_layers import FACE_WAYS, perimeter
from takeoff.measure.faces import face_dimension, high_wall_height
from takeoff.measure.framing_rows import measure_members, timber_volume
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug, total_depth
from takeoff.measure.linings import finish_layers
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.surface import Surface
from takeoff.model.geometry import inside_face, slope_factor, wall_face
from takeoff.model.house import SIDES, BuildUp, Design, Layer
from takeoff.model.library import Library


def wall_inset(design: Design, library: Library) -> float:
    """Return the distance from the outside face of the frame to the finished inside face [m]."""
    build_up = design.build_ups[design.house.external_wall]
    return design.house.stud_depth + total_depth(build_up.inside_layers(), library.materials)


def ceiling_drop(design: Design, library: Library) -> float:
    """Return the upright distance from the underside of the rafters to that of the ceiling [m]."""
    layers = design.build_ups[design.house.ceiling].layers
    return total_depth(layers, library.materials) * slope_factor(design.house)


def measure_walls(design: Design, library: Library, frames: Iterable[WallFrame]) -> list[Quantity]:
    """Measure the layers of the external wall build-up over the four walls, but for the finishes of rooms."""
    frames = tuple(frames)
    build_up = design.build_ups[design.house.external_wall]
    finishes = finish_layers(build_up, library)
    rows: list[Quantity] = []
    for layer in build_up.layers:
        if layer in finishes:
            continue
        material = library.materials[layer.material]
        if layer.measured_by == "frame":
            members = [member for frame in frames for member in frame.members]
            rows += measure_members(members, library, element="EW", location="external walls")
            continue
        place = LayerPlace(layer, material, build_up, _surfaces(design, library, build_up, layer), library)
        inside = layer in build_up.inside_layers()
        rows.append(
            row(
                place,
                _measured(place, frames, design.house.stud_depth),
                id=f"EW.{'IN' if inside else 'OUT'}.{slug(layer.material)}",
                element="EW",
                location="external walls, inside" if inside else "external walls",
            )
        )
    return distinct(rows)


def _surfaces(design: Design, library: Library, build_up: BuildUp, layer: Layer) -> tuple[Surface, ...]:
    """Return the four faces a layer lies on: the outside of the frame, or its own face inside.

    Layers inside run from floor to the underside of the rafters, behind the finishes of the rooms.
    """
    inside = build_up.inside_layers()
    if build_up.frame_index() is None or layer not in inside:
        return tuple(
            Surface(
                f"{side} wall",
                wall_face(design.house, side),
                opening_voids(design, side),
                supports=grid_studs(design, side),
                height=high_wall_height(design.house, side),
            )
            for side in SIDES
        )
    before = inside[: inside.index(layer)]
    inset = design.house.stud_depth + total_depth(before, library.materials)
    return tuple(
        Surface(
            f"{side} wall, inside",
            inside_face(design.house, side, wall_inset=inset, ceiling_drop=0.0),
            opening_voids(design, side, inset=inset),
            supports=tuple(centre - inset for centre in grid_studs(design, side)),
            height=high_wall_height(design.house, side, inset=inset),
        )
        for side in SIDES
    )


def _measured(place: LayerPlace, frames: tuple[WallFrame, ...], stud_depth: float) -> Measured:
    """Measure a layer on its faces, or from the sticks where it depends on them."""
    way = place.layer.measured_by
    if way == "between studs":
        return _between_studs(place, frames, stud_depth)
    if way == "mass per m3 of frame":
        sticks = (member for frame in frames for member in frame.members)
        return mass_of_fixings(place, timber_volume(sticks, place.library))
    if way == "junctions":
        return _junctions(place)
    return FACE_WAYS[way](place)


def _between_studs(place: LayerPlace, frames: tuple[WallFrame, ...], stud_depth: float) -> Measured:
    """Measure insulation between the studs: face of each frame, less openings, less every stick."""
    lines: list[Dimension] = []
    for frame in frames:
        face = frame.face
        lines.append(face_dimension(face, f"{frame.side} wall frame"))
        lines += [
            Dimension(
                f"ddt opening {framed.opening.mark}",
                1,
                framed.opening.width,
                framed.opening.height,
                deducted=True,
                opening=framed.opening.mark,
            )
            for framed in frame.openings
        ]
        lines += [face_dimension(gap, "ddt gap of party wall", deducted=True) for gap in frame.gap_faces]
        lines.append(
            Dimension(f"ddt sticks of the {frame.side} wall, seen face", 1, frame.timber_area, deducted=True)
        )
    return Measured(
        dimensions=tuple(lines),
        thickness=place.layer.thickness or stud_depth,
        how="between studs, sticks deducted",
    )


def mass_of_fixings(place: LayerPlace, frame_volume: float) -> Measured:
    """Measure nails, straps and brackets by the mass for one m3 of framing timber."""
    rate = place.layer.rate
    line = Dimension(f"{rate:g} kg for each m3 of framing", rate, frame_volume)
    return Measured(dimensions=(line,), how=f"{rate:g} kg per m3 of framing")


def _junctions(place: LayerPlace) -> Measured:
    """Measure the joints of the airtight layer: foot, head, corners, round openings."""
    lines: list[Dimension] = []
    for surface in place.surfaces:
        face = surface.face
        lines.append(Dimension(f"{surface.note}, foot", 1, face.width))
        lines.append(Dimension(f"{surface.note}, head", 1, face.rake))
        lines.append(Dimension(f"{surface.note}, right-hand corner", 1, face.top_right))
        lines += [
            Dimension(f"round opening {void.mark}", 1, perimeter(void, face.bottom)) for void in surface.voids
        ]
    return Measured(dimensions=tuple(lines), how="junctions of the airtight layer")
