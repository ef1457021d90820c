"""Measures the cladding of each elevation from the palette, with its band where there is one."""

from __future__ import annotations

from takeoff.framing.walls import grid_studs
from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.faces import high_wall_height
from takeoff.measure.layer import LayerPlace, distinct, row, slug
from takeoff.measure.quantity import Quantity
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void, wall_face
from takeoff.model.house import SIDES, Design, Side
from takeoff.model.library import Library


def opening_voids(design: Design, side: Side, *, inset: float = 0.0) -> tuple[Void, ...]:
    """Return the openings of a wall as voids, measured from a face `inset` from each corner [m]."""
    return tuple(
        Void(opening.position - inset, opening.sill, opening.width, opening.height, opening.mark)
        for opening in design.openings_in(side)
    )


def cladding_regions(design: Design, side: Side) -> list[tuple[str, str, Face]]:
    """Return the parts of an elevation as (build-up name, what part, face), from the foot up.

    The face is that of the frame, from the cladding drop below floor level to the underside of the roof.
    """
    face = wall_face(design.house, side, bottom=-design.house.cladding_drop)
    palette = design.palette
    band = palette.band
    main = palette.build_up_for(side)
    if band is None or side not in band.sides:
        return [(main, "", face)]
    lowest_top = min(face.top_left, face.top_right)
    foot = min(max(band.bottom, face.bottom), lowest_top)
    head = min(max(band.top, foot), lowest_top)
    regions = [
        (main, "below the band", face.between(face.bottom, foot)),
        (band.build_up, "band", face.between(foot, head)),
        (main, "above the band", Face(face.width, head, face.top_left, face.top_right)),
    ]
    return [region for region in regions if region[2].area > 1e-9]


def measure_cladding(design: Design, library: Library) -> list[Quantity]:
    """Measure every cladding layer of the four elevations."""
    rows: list[Quantity] = []
    for side in SIDES:
        voids = opening_voids(design, side)
        surfaces: dict[str, list[Surface]] = {}
        regions = cladding_regions(design, side)
        for index, (name, part, face) in enumerate(regions):
            note = f"{side} side, {part}" if part else f"{side} side"
            clipped = tuple(void for void in voids if face.clip(void) is not None)
            surfaces.setdefault(name, []).append(
                Surface(
                    note,
                    face,
                    clipped,
                    at_foot=index == 0,
                    at_head=index == len(regions) - 1,
                    supports=grid_studs(design, side),
                    height=None
                    if part
                    else high_wall_height(design.house, side, drop=design.house.cladding_drop),
                )
            )
        for name, parts in surfaces.items():
            build_up = design.build_ups[name]
            for layer in build_up.layers:
                material = library.materials[layer.material]
                place = LayerPlace(layer, material, build_up, tuple(parts), library)
                measured = FACE_WAYS[layer.measured_by](place)
                rows.append(
                    row(
                        place,
                        measured,
                        id=f"EW.CL.{side}.{slug(layer.material)}",
                        element="EW",
                        location=f"{side} side",
                        weather=(side,),
                    )
                )
    return distinct(rows)
