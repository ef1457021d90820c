"""A picture of the whole house for a first page: two sides with their claddings and openings under the ribbed roof."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.hatches import HATCH_INK, OFF_WHITE, facing_of, ruling_of
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.massing_view import MassingView, Place, hull, mixed, view_over
from takeoff.documents.drawings.massing_walls import draw_below, draw_wall
from takeoff.documents.drawings.paper import ALL_SCALES, MARGIN, NOTE_TYPE, Drawing, Paper
from takeoff.documents.drawings.regions import Region
from takeoff.documents.drawings.roof_edges import FASCIA, edge_depth
from takeoff.documents.drawings.svg import (
    EDGE,
    GREY,
    INK,
    WHITE,
    Point,
    along,
    group,
    lettering,
    path,
    picture,
    through,
)
from takeoff.model.geometry import Face, compass_of, rise_per_metre
from takeoff.model.house import House, Side
from takeoff.model.library import Library

_COMPASS = {
    "N": "north",
    "NE": "north-east",
    "E": "east",
    "SE": "south-east",
    "S": "south",
    "SW": "south-west",
    "W": "west",
    "NW": "north-west",
}
_GROUND_SHADOW = "#e9e9e6"
# The trade scales, and one between for want of room.
_SCALES = sorted({*ALL_SCALES, 125})
_CAPTION = 5.0
# Less of the roof than this looks like a strip whose ribs run together: some 13 degrees from the high side.
_LEAST_ROOF = 0.14
# The ends of each edge of the roof among its corners.
_EDGES: dict[Side, tuple[int, int]] = {"low": (0, 1), "right": (1, 2), "high": (2, 3), "left": (3, 0)}


def massing(
    result: Result,
    library: Library,
    *,
    paper_width_mm: float,
    id_prefix: str,
    name: str,
    height_mm: float | None = None,
) -> Drawing:
    """Return the house seen over the corner of the two sides with most openings, at a trade scale.

    Of the low and the high side the one with more openings is the front, unless the roof would be a mere strip behind
    its high edge; of the others the one with more openings is seen beside it. The scale is the largest at which the
    picture fits the width, and the height where one is given [mm].
    """
    house = result.design.house
    openings = result.measured.areas.openings_by_side
    second: Side = "left" if openings["left"] > openings["right"] else "right"
    front: Side = "high" if openings["high"] > openings["low"] else "low"
    if _roof_seen(view_over(house, front, second, scale=1)) < _LEAST_ROOF:
        front = "low"
    deep = edge_depth(result.design, library)
    high = None if height_mm is None else height_mm - _CAPTION
    view, height = _fitted(house, front, second, deep, paper_width_mm, high)
    elements = [
        path(through(_shadow(view), closed=True), stroke=None, fill=_GROUND_SHADOW, id=f"{id_prefix}-shadow"),
        *draw_below(result, view, id_prefix=id_prefix),
    ]
    for side in (second, front):
        wall = draw_wall(result, library, view, side, id=f"{id_prefix}-{side}")
        elements.append(group(wall, id=f"{id_prefix}-{side}"))
    elements += _roof(result, library, view, deep, id_prefix)
    words = (
        f"Seen from the {_COMPASS[compass_of(house, front)]} and the {_COMPASS[compass_of(house, second)]}. "
        f"1:{view.scale} along the front and upright."
    )
    base = height + 3.6
    elements.append(
        lettering(
            words,
            ((paper_width_mm - text_width(words, NOTE_TYPE)) / 2, base),
            size=NOTE_TYPE,
            fill=GREY,
        )
    )
    title = f"{name}, seen over its {front} and {second} side"
    claddings = "; ".join(
        f"{side} side {result.design.palette.build_up_for(side)}" for side in (front, second)
    )
    svg = picture(
        elements,
        width_mm=paper_width_mm,
        height_mm=height + _CAPTION,
        title=title,
        desc=f"{words} Half of that scale along the other side (dimetric). Claddings: {claddings}.",
        id_prefix=id_prefix,
    )
    return Drawing(
        svg=svg, title=title, width_mm=paper_width_mm, height_mm=height + _CAPTION, scale=view.scale
    )


def _corners(house: House) -> list[tuple[float, float]]:
    """Return the corners of the roof in plan, that of the low and the left side first."""
    left, right = -house.overhang_left, house.length + house.overhang_right
    low, high = -house.overhang_low, house.span + house.overhang_high
    return [(left, low), (right, low), (right, high), (left, high)]


def _walls(house: House) -> list[tuple[float, float]]:
    """Return the corners of the walls in plan."""
    return [(0.0, 0.0), (house.length, 0.0), (house.length, house.span), (0.0, house.span)]


def _shadow(view: MassingView) -> list[Point]:
    """Return the shadow of the house on the ground, what stands on it included, on paper [mm]."""
    house = view.house
    ground = -house.floor_above_ground
    places: list[Place] = [view.placed(x, y, ground) for x, y in _walls(house)]
    places += [view.shadow(view.under_roof(x, y), ground) for x, y in _corners(house)]
    return hull([view.at(place) for place in places])


def _fitted(
    house: House, front: Side, second: Side, deep: float, wide: float, high: float | None
) -> tuple[MassingView, float]:
    """Return the view at the largest scale that fits, in the middle of the paper, and the height it takes [mm]."""
    for scale in _SCALES:
        view = view_over(house, front, second, scale=scale)
        points = _shadow(view)
        for x, y in _corners(house):
            u, v, z = view.under_roof(x, y)
            points += [view.at((u, v, z)), view.at((u, v, z + deep))]
        left, right = min(x for x, _ in points), max(x for x, _ in points)
        top, foot = min(y for _, y in points), max(y for _, y in points)
        fits = right - left + 2 * MARGIN <= wide and (high is None or foot - top + 2 * MARGIN <= high)
        if fits or scale == _SCALES[-1]:
            break
    origin = ((wide - right - left) / 2, MARGIN - top)
    return replace(view, origin=origin), foot - top + 2 * MARGIN


def _roof_seen(view: MassingView) -> float:
    """Return how far the line of sight rises over the roof in a metre of plan [m]."""
    here, square = view.placed(0.0, 0.0, 0.0), view.placed(0.0, -rise_per_metre(view.house), 1.0)
    sight = view.to_reader()
    return sum((a - b) * c for a, b, c in zip(square, here, sight, strict=True)) / math.hypot(*sight[:2])


def _roof(result: Result, library: Library, view: MassingView, deep: float, id_prefix: str) -> list[str]:
    """Return the roof: its slope with the ribs of the sheets, verge and fascia, and a line about it all."""
    corners = _corners(view.house)

    def on_roof(x: float, y: float, share: float = 1.0) -> Point:
        """Return a place over the plan at a share of the depth of the roof, from its underside, on paper."""
        u, v, z = view.under_roof(x, y)
        return view.at((u, v, z + share * deep))

    elements = _slope(result, library, view, on_roof, id_prefix)
    for side in (view.second, view.front):
        a, b = (corners[place] for place in _EDGES[side])
        band = [on_roof(*a, 0.0), on_roof(*b, 0.0), on_roof(*b), on_roof(*a)]
        fill = FASCIA if side == view.front else mixed(FASCIA, INK, 0.14)
        outline = through(band, closed=True)
        elements.append(path(outline, width=EDGE, fill=fill, join="round", id=f"{id_prefix}-edge-{side}"))
        elements.append(path(through([on_roof(*a, 0.72), on_roof(*b, 0.72)]), width=0.1))
    every = [on_roof(*corner, share) for corner in corners for share in (0.0, 1.0)]
    elements.append(path(through(hull(every), closed=True), width=0.3, join="round"))
    return [group(elements, id=f"{id_prefix}-roof")]


def _slope(
    result: Result,
    library: Library,
    view: MassingView,
    on_roof: Callable[[float, float], Point],
    id_prefix: str,
) -> list[str]:
    """Return the slope with the lines that run up it."""
    corners = _corners(view.house)
    (left, low), (right, _), (_, high), _ = corners
    facing = facing_of(result.design.build_ups[view.house.roof], library)
    tone = mixed(facing.tone, WHITE, 0.35) if facing else OFF_WHITE
    outline = through([on_roof(*corner) for corner in corners], closed=True)
    elements = [path(outline, width=EDGE, fill=tone, join="round", id=f"{id_prefix}-slope")]
    if facing is None:
        return elements
    strip = Region(Face(right - left, 0.0, 1.0, 1.0), 0.0, 1.0)
    places = ruling_of(facing, strip, Paper(view.scale, 0.0, 0.0)).uprights
    ribs = [(*on_roof(left + s, low), *on_roof(left + s, high)) for s in places]
    if ribs:
        elements.append(path(along(ribs), stroke=HATCH_INK, width=0.09, id=f"{id_prefix}-ribs"))
    return elements
