"""Measures internal and party walls without their linings: frames, infill, packing, fixings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from takeoff.framing.internal_walls import InternalFrame
from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.faces import face_dimension
from takeoff.measure.framing_rows import measure_members, timber_volume
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.linings import finish_layers
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.surface import Surface
from takeoff.measure.walls import mass_of_fixings
from takeoff.model.geometry import Face, Void, height_at
from takeoff.model.house import BuildUp, Design, Layer
from takeoff.model.library import Library
from takeoff.model.wall_runs import WallRun


def measure_internal_walls(
    design: Design, library: Library, runs: Sequence[WallRun], frames: Sequence[InternalFrame]
) -> list[Quantity]:
    """Measure every layer of internal walls that no room sees.

    The frame and what is behind the linings count for each frame, so for both leaves of a party wall; the
    packing of its gap counts once. Layers after the frame lie on both faces of an internal wall.
    """
    rows: list[Quantity] = []
    for party in (False, True):
        members = [member for frame in frames if frame.party is party for member in frame.members]
        where = "party wall" if party else "internal walls"
        rows += [
            replace(quantity, id=quantity.id.replace("IW.FR", "IW.PW.FR")) if party else quantity
            for quantity in measure_members(members, library, element="IW", location=where)
        ]
    for name in dict.fromkeys(run.build_up for run in runs):
        build_up = design.build_ups[name]
        own = [run for run in runs if run.build_up == name]
        rows += _layers(design, library, build_up, own, [f for f in frames if f.build_up == name])
    return distinct(rows)


def _layers(
    design: Design,
    library: Library,
    build_up: BuildUp,
    runs: Sequence[WallRun],
    frames: Sequence[InternalFrame],
) -> Iterator[Quantity]:
    """Yield a row for each layer of one build-up that is neither the frame nor a finish."""
    finishes = finish_layers(build_up, library)
    place_of = build_up.frame_index() or 0
    for index, layer in enumerate(build_up.layers):
        if index == place_of or layer in finishes:
            continue
        material = library.materials[layer.material]
        surfaces = _packing(design, runs) if index < place_of else _faces(build_up, frames)
        place = LayerPlace(layer, material, build_up, surfaces, library)
        yield row(
            place,
            _measured(place, layer, frames),
            id=f"IW.{slug(build_up.name)}.{slug(layer.material)}",
            element="IW",
            location=build_up.name,
        )


def _measured(place: LayerPlace, layer: Layer, frames: Sequence[InternalFrame]) -> Measured:
    """Measure a layer from the sticks where it depends on them, else on its faces."""
    if layer.measured_by == "between studs":
        return _between_studs(place, frames)
    if layer.measured_by == "mass per m3 of frame":
        sticks = (member for frame in frames for member in frame.members)
        return mass_of_fixings(place, timber_volume(sticks, place.library))
    return FACE_WAYS[layer.measured_by](place)


def _between_studs(place: LayerPlace, frames: Sequence[InternalFrame]) -> Measured:
    """Measure infill between the studs: face of each frame, less openings, less every stick."""
    lines: list[Dimension] = []
    for frame in frames:
        name = f"wall {frame.run}"
        lines.append(face_dimension(frame.face, f"{name} frame"))
        lines += [
            Dimension(
                f"ddt opening {framed.opening.mark}",
                1,
                framed.opening.width,
                framed.opening.height,
                deducted=True,
            )
            for framed in frame.openings
        ]
        lines.append(Dimension(f"ddt sticks of {name}, seen face", 1, frame.timber_area, deducted=True))
    index = place.build_up.frame_index() or 0
    return Measured(
        dimensions=tuple(lines),
        thickness=place.layer.thickness or place.build_up.layers[index].thickness,
        how="between studs, sticks deducted",
    )


def _packing(design: Design, runs: Sequence[WallRun]) -> tuple[Surface, ...]:
    """Return the gap of a party wall as a face, from outline to outline, floor to roof."""
    surfaces = []
    for run in runs:
        if run.axis == "x":
            left = right = height_at(design.house, run.at)
        else:
            left, right = height_at(design.house, run.start), height_at(design.house, run.end)
        surfaces.append(Surface(f"gap of party wall {run.mark}", Face(run.length, 0.0, left, right)))
    return tuple(surfaces)


def _faces(build_up: BuildUp, frames: Sequence[InternalFrame]) -> tuple[Surface, ...]:
    """Return the faces that a layer behind the linings lies on: both of a wall, the outer one of a leaf."""
    sides = 1 if build_up.part == "party wall" else 2
    return tuple(
        Surface(
            f"wall {frame.run}, frame",
            frame.face,
            tuple(
                Void(
                    framed.opening.position,
                    0.0,
                    framed.opening.width,
                    framed.opening.height,
                    framed.opening.mark,
                )
                for framed in frame.openings
            ),
        )
        for frame in frames
        for _ in range(sides)
    )
