"""A patch of roof battens on the framing plan, so that the rafters under them stay legible elsewhere."""

from __future__ import annotations

from itertools import pairwise

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.places import Patch, between
from takeoff.documents.drawings.svg import DETAIL, INK, WHITE, element, group, number
from takeoff.measure.face_layers import batten_places
from takeoff.measure.roof import roof_surface
from takeoff.model.geometry import slope_factor
from takeoff.model.house import Layer
from takeoff.model.library import Library

# Bays that the patch covers, counted from the right, and the share of its span up the slope.
_BAYS, _FROM, _TO = (5, 2), 0.05, 0.75


def battens_over(result: Result) -> Layer | None:
    """Return the layer of level battens over the rafters, None where there is none."""
    roof = result.design.build_ups[result.design.house.roof]
    layers = (each for each in roof.layers if each.measured_by == "battens at spacing")
    return next((layer for layer in layers if layer.direction == "horizontal"), None)


def batten_patch(
    result: Result, library: Library, paper: Paper, *, id_prefix: str
) -> tuple[list[str], Patch] | None:
    """Return a patch of battens to scale and the paper it takes; None without battens or with too few rafters."""
    house, layer = result.design.house, battens_over(result)
    lines = sorted({round(m.s, 4) for m in result.measured.roof_frame.members if m.use == "rafter"})
    if layer is None or len(lines) <= _BAYS[0] + 2:
        return None
    factor, material = slope_factor(house), library.materials[layer.material]
    low, high = max(
        pairwise(sorted([0.0, *house.support_lines, house.span])), key=lambda pair: pair[1] - pair[0]
    )
    foot, head = low + (high - low) * _FROM, low + (high - low) * _TO
    # cut in the middle of bays, so that it is seen to go on
    left, right = ((lines[-n - 1] + lines[-n]) / 2 for n in _BAYS)
    half = (material.width or 0.0) / 2 / factor
    rows = [
        place / factor - house.overhang_low
        for place in batten_places(layer, material, roof_surface(house).face)
    ]
    shown = [y for y in rows if foot <= y <= head]
    if len(shown) < 2:
        return None
    paths = []
    for y in shown:
        (x1, y1), (x2, y2) = paper.at(left, y + half), paper.at(right, y - half)
        paths.append(element("path", d=f"M{number(x1)} {number(y1)}H{number(x2)}V{number(y2)}H{number(x1)}Z"))
    drawn = group(paths, fill=WHITE, stroke=INK, stroke_width=DETAIL, id=f"{id_prefix}-battens")
    taken = between(paper.at(left, shown[0] - half), paper.at(right, shown[-1] + half), clear=0.3)
    return [drawn], taken
