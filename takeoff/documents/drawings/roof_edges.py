"""The roof as each elevation shows it: fascia or verge, the slope behind it, the soffit under it."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents.drawings.hatches import HATCH_INK, OFF_WHITE, Facing, facing_of, ruling_of
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.regions import Region
from takeoff.documents.drawings.svg import DETAIL, EDGE, OUTLINE, Point, along, path, through
from takeoff.model.geometry import Face, height_at, slope_factor
from takeoff.model.house import Design, House, Side
from takeoff.model.library import Library

FASCIA = "#e9e9e7"
SOFFIT = "#d5d5d2"


@dataclass(frozen=True, slots=True)
class RoofView:
    """A roof in elevation: its two ends along s, and underside and top at each of them [m]."""

    left: float
    right: float
    under_left: float
    under_right: float
    depth: float

    @property
    def top(self) -> float:
        """Highest point of the edge seen [m]."""
        return max(self.under_left, self.under_right) + self.depth

    def band(self, low: float = 0.0, high: float = 1.0) -> list[Point]:
        """Return the corners of part of the edge, between two shares of its depth from the underside."""
        return [
            (self.left, self.under_left + low * self.depth),
            (self.right, self.under_right + low * self.depth),
            (self.right, self.under_right + high * self.depth),
            (self.left, self.under_left + high * self.depth),
        ]


def edge_depth(design: Design, library: Library) -> float:
    """Return the upright depth of the roof edge: rafter and every layer outside it [m]."""
    house = design.house
    build_up = design.build_ups[house.roof]
    place = build_up.frame_index()
    outside = build_up.layers[:place] if place is not None else ()
    covering = sum(
        layer.thickness or library.materials[layer.material].thickness or 0.0
        for layer in outside
        if layer.measured_by in ("area", "sheets", "profiled sheet by cover", "battens at spacing")
    )
    return (house.rafter_depth + covering) * slope_factor(house)


def roof_view(house: House, side: Side, depth: float) -> RoofView:
    """Return the roof edge nearest to whoever looks at a side; `depth` is its upright depth [m]."""
    low, high = height_at(house, -house.overhang_low), height_at(house, house.span + house.overhang_high)
    if side == "low":
        return RoofView(-house.overhang_left, house.length + house.overhang_right, low, low, depth)
    if side == "high":
        return RoofView(-house.overhang_right, house.length + house.overhang_left, high, high, depth)
    if side == "left":
        return RoofView(-house.overhang_high, house.span + house.overhang_low, high, low, depth)
    return RoofView(-house.overhang_low, house.span + house.overhang_high, low, high, depth)


def roof_top(house: House, depth: float) -> float:
    """Return the highest point of the roof [m]."""
    return height_at(house, house.span + house.overhang_high) + depth


def _closed(points: list[Point], paper: Paper) -> str:
    return through([paper.at(*p) for p in points], closed=True)


def draw_slope(design: Design, library: Library, view: RoofView, paper: Paper, *, id: str) -> list[str]:
    """Return the slope seen over the low eave, foreshortened, with the ribs of its sheets."""
    top = roof_top(design.house, view.depth)
    foot = view.under_left + view.depth
    facing = facing_of(design.build_ups[design.house.roof], library)
    corners = [(view.left, foot), (view.right, foot), (view.right, top), (view.left, top)]
    tint = facing.tone if facing else OFF_WHITE
    elements = [path(_closed(corners, paper), width=OUTLINE, fill=tint, id=f"{id}-slope", join="miter")]
    lines = _slope_lines(facing, view, foot, top, paper) if facing else ""
    if lines:
        elements.insert(1, path(lines, stroke=HATCH_INK, width=0.09, id=f"{id}-slope-lines"))
    return elements


def _slope_lines(facing: Facing, view: RoofView, foot: float, top: float, paper: Paper) -> str:
    """Return the lines that run up the slope; lines along the eaves would crowd in elevation."""
    region = Region(Face(view.right - view.left, foot, top, top), foot, top)
    places = ruling_of(facing, region, paper).uprights
    return along((*paper.at(view.left + s, foot), *paper.at(view.left + s, top)) for s in places)


def draw_soffit(view: RoofView, wall_top: float, paper: Paper, *, id: str) -> list[str]:
    """Return the strip of soffit seen between the head of the high wall and the fascia above it."""
    if view.under_left <= wall_top + 1e-6:
        return []
    corners = [
        (view.left, wall_top),
        (view.right, wall_top),
        (view.right, view.under_right),
        (view.left, view.under_left),
    ]
    return [path(_closed(corners, paper), width=DETAIL, fill=SOFFIT, id=f"{id}-soffit")]


def draw_edge(view: RoofView, paper: Paper, *, id: str) -> list[str]:
    """Return fascia or verge with the line of the sheet's capping on it."""
    capping = [view.band(0.72)[0], view.band(0.72)[1]]
    return [
        path(_closed(view.band(), paper), width=OUTLINE, fill=FASCIA, join="miter", id=f"{id}-roof"),
        path(through([paper.at(*p) for p in capping]), width=EDGE - 0.05),
    ]
