"""Floor area to the outside of the cladding."""

from __future__ import annotations

from takeoff.measure.layer import total_depth
from takeoff.model.house import SIDES, Design, Side
from takeoff.model.library import Library


def cladding_depths(design: Design, library: Library) -> dict[Side, float]:
    """Return how far each elevation stands out from the outside face of the frame [m].

    It is the depth of the layers of the external wall before its frame and of the cladding of that side, bands
    left out.
    """
    wall = design.build_ups[design.house.external_wall]
    before = total_depth(wall.layers[: wall.frame_index() or 0], library.materials)
    return {
        side: before
        + total_depth(design.build_ups[design.palette.build_up_for(side)].layers, library.materials)
        for side in SIDES
    }


def gross_floor(design: Design, library: Library) -> float:
    """Return the floor area to the outside of the cladding [m2].

    Source: gross floor area as in ISO 9836, from memory: to the outer face of the enclosing elements.
    """
    out = cladding_depths(design, library)
    return (design.house.length + out["left"] + out["right"]) * (design.house.span + out["low"] + out["high"])
