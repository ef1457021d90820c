"""The elevations, each seen from outside: cladding, openings, roof edge, levels, dimensions and caption."""

from __future__ import annotations

from takeoff.documents.drawings.dimensions import STRING_GAP, STRING_PITCH, dimension_string
from takeoff.documents.drawings.elevation_openings import draw_mark, draw_opening
from takeoff.documents.drawings.elevation_parts import STUMP, Part, cladding_words, draw_caption, parts_of
from takeoff.documents.drawings.hatches import draw_region
from takeoff.documents.drawings.paper import (
    LEVEL_WIDTH,
    MARGIN,
    TITLE_TYPE,
    Drawing,
    Paper,
    level_mark,
    level_text,
    metres,
    scale_bar,
    scale_for,
)
from takeoff.documents.drawings.roof_edges import (
    RoofView,
    draw_edge,
    draw_slope,
    draw_soffit,
    edge_depth,
    roof_top,
    roof_view,
)
from takeoff.documents.drawings.svg import (
    CUT,
    DETAIL,
    EDGE,
    INK,
    OUTLINE,
    WHITE,
    group,
    lettering,
    line,
    path,
    picture,
    rect,
    through,
)
from takeoff.framing.floor import FloorFrame
from takeoff.model.geometry import Face, compass_of, wall_face
from takeoff.model.house import SIDES, Design, House, Side
from takeoff.model.library import Library

PLINTH, UNDER_FLOOR = "#e2e2df", "#f3f3f0"
# Paper beside the roof edge: dimension string on both sides, levels on the right [mm].
_LEFT = STRING_GAP + 3.5
_RIGHT = STRING_GAP + 2.2


def _reach(house: House, side: Side) -> tuple[float, float]:
    """Return how far the drawing reaches left and right of the wall [m]."""
    view = roof_view(house, side, 0.0)
    face = wall_face(house, side)
    return -view.left, view.right - face.width


def _margins(face: Face) -> tuple[float, float]:
    """Return the paper needed left and right of the roof edge; a raking side has a level at each end [mm]."""
    raking = abs(face.top_left - face.top_right) > 1e-6
    return _LEFT + (LEVEL_WIDTH if raking else 0.0), _RIGHT + LEVEL_WIDTH


def _scale(house: House, side: Side, paper_width_mm: float) -> int:
    """Return the largest trade scale at which a side fits."""
    face = wall_face(house, side)
    return scale_for(
        face.width + sum(_reach(house, side)),
        margins_mm=sum(_margins(face)) + 2 * MARGIN,
        paper_width_mm=paper_width_mm,
    )


def common_scale(design: Design, *, paper_width_mm: float) -> int:
    """Return the largest trade scale at which every elevation fits the same paper width [mm]."""
    return max(_scale(design.house, side, paper_width_mm) for side in SIDES)


def _below(
    house: House, side: Side, face: Face, floor: FloorFrame | None, paper: Paper, id: str
) -> list[str]:
    """Return what stands between the foot of the cladding and the ground: a plinth, or stumps under the floor."""
    ground = -house.floor_above_ground
    if ground >= face.bottom:
        return []
    x, y = paper.at(0, face.bottom)
    wide, deep = paper.mm(face.width), paper.mm(face.bottom - ground)
    if floor is None:
        return [rect(x, y, wide, deep, fill=PLINTH, stroke=INK, weight=DETAIL)]
    along = {
        "low": [sx for sx, _ in floor.stumps],
        "high": [house.length - sx for sx, _ in floor.stumps],
        "left": [house.span - sy for _, sy in floor.stumps],
        "right": [sy for _, sy in floor.stumps],
    }[side]
    stumps = [
        rect(paper.at(s - STUMP / 2, 0)[0], y, paper.mm(STUMP), deep, fill=WHITE, stroke=INK, weight=DETAIL)
        for s in sorted({round(s, 4) for s in along})
    ]
    return [rect(x, y, wide, deep, fill=UNDER_FLOOR), group(stumps, id=id)]


def _wall(design: Design, parts: list[Part], face: Face, paper: Paper, id_prefix: str) -> list[str]:
    """Return the cladding and the outline of a wall."""
    elements = []
    for index, part in enumerate(parts):
        if part.facing is not None:
            elements += draw_region(part.facing, part.region, paper, id=f"{id_prefix}-cladding-{index + 1}")
        if index:
            for a, b in part.region.level_runs(part.region.bottom):
                elements.append(
                    line(paper.at(a, part.region.bottom), paper.at(b, part.region.bottom), width=EDGE)
                )
    corners = [
        (0.0, face.bottom),
        (face.width, face.bottom),
        (face.width, face.top_right),
        (0.0, face.top_left),
    ]
    outline = through([paper.at(*corner) for corner in corners], closed=True)
    elements.append(path(outline, width=OUTLINE, join="miter", id=f"{id_prefix}-outline"))
    return elements


def _heights(house: House, view: RoofView, face: Face, paper: Paper, id_prefix: str) -> list[str]:
    """Return the heights of both ends, the width, and the levels of floor, ground and eaves."""
    left, right = paper.at(view.left, 0)[0], paper.at(view.right, 0)[0]
    wall_left, wall_right = paper.at(0, 0)[0], paper.at(face.width, 0)[0]
    ground = paper.at(0, -house.floor_above_ground)[1]
    elements = [
        dimension_string(
            [0.0, face.top_left],
            edge="left",
            line_at=left - STRING_GAP,
            paper=paper,
            drawn_from=min(wall_left - 1.2, left - STRING_GAP + 2.0),
            write=level_text,
            id=f"{id_prefix}-height-left",
        ),
        dimension_string(
            [0.0, face.top_right],
            edge="right",
            line_at=right + STRING_GAP,
            paper=paper,
            drawn_from=max(wall_right + 1.2, right + STRING_GAP - 2.0),
            write=level_text,
            id=f"{id_prefix}-height-right",
        ),
        dimension_string(
            [0.0, face.width],
            edge="bottom",
            line_at=ground + STRING_GAP + 2.0,
            paper=paper,
            drawn_from=ground + 1.4,
            id=f"{id_prefix}-width",
        ),
    ]
    at = right + _RIGHT
    levels = [(0.0, False), (view.under_right + view.depth, False)]
    if house.floor_above_ground > 0:
        levels.append((-house.floor_above_ground, True))
    for height, hanging in levels:
        elements.append(level_mark((at, paper.at(0, height)[1]), level_text(height), hanging=hanging))
    if abs(view.under_left - view.under_right) > 1e-6:
        height = view.under_left + view.depth
        place = (left - _LEFT - LEVEL_WIDTH + 0.6, paper.at(0, height)[1])
        elements.append(level_mark(place, level_text(height)))
    return elements


def elevation(
    design: Design,
    library: Library,
    side: Side,
    *,
    paper_width_mm: float,
    id_prefix: str,
    name: str = "the house",
    scale: int | None = None,
    floor: FloorFrame | None = None,
) -> Drawing:
    """Return one elevation of a design, seen from outside.

    The scale is the largest trade scale that fits `paper_width_mm`, unless one is given (see
    `common_scale`); where a given one does not fit, the picture is wider than the paper width. All
    elevations of a house have the same height from roof to ground, so that they line up beside each
    other. `name` is that of the house, for the title; `id_prefix` begins every id.
    `floor` is the frame of a suspended floor, whose stumps are then seen; without one a plinth is drawn.
    """
    house = design.house
    face = wall_face(house, side, bottom=-house.cladding_drop)
    if scale is None:
        scale = _scale(house, side, paper_width_mm)
    depth = edge_depth(design, library)
    view = roof_view(house, side, depth)
    before, after = _reach(house, side)
    left, right = _margins(face)
    paper = Paper(
        scale,
        MARGIN + left + before * 1000 / scale,
        3.6 + roof_top(house, depth) * 1000 / scale,
    )
    wide = paper.at(face.width + after, 0)[0] + right + MARGIN
    ground = paper.at(0, -house.floor_above_ground)[1]
    openings = design.openings_in(side)
    parts = parts_of(design, library, side)

    elements = _below(house, side, face, floor, paper, f"{id_prefix}-stumps")
    elements += _wall(design, parts, face, paper, id_prefix)
    elements += [draw_opening(o, paper, id=f"{id_prefix}-opening-{i + 1}") for i, o in enumerate(openings)]
    if side == "low":
        elements += draw_slope(design, library, view, paper, id=id_prefix)
    if side == "high":
        elements += draw_soffit(view, face.top_left, paper, id=id_prefix)
    elements += draw_edge(view, paper, id=id_prefix)
    for opening in openings:
        elements += draw_mark(opening, face, paper)
    edge_left, edge_right = paper.at(view.left, 0)[0] - 2.0, paper.at(view.right, 0)[0] + 2.0
    elements.append(line((edge_left, ground), (edge_right, ground), width=CUT, id=f"{id_prefix}-ground"))
    elements += _heights(house, view, face, paper, id_prefix)

    base = ground + STRING_GAP + STRING_PITCH + 4.0
    bar, _ = scale_bar(wide, base, scale=scale, room_mm=wide * 0.3, id_prefix=id_prefix)
    heading = f"{side.capitalize()} side, faces {compass_of(house, side)}"
    elements += [lettering(heading, (MARGIN, base), size=TITLE_TYPE, weight=600), bar]
    caption, height = draw_caption(design, parts, side, paper, base=base, sheet=wide, id_prefix=id_prefix)
    elements += caption

    title = f"{side.capitalize()} side of {name}, facing {compass_of(house, side)}: " + _size_words(face)
    marks = ", ".join(f"{o.mark} ({o.kind})" for o in openings) or "none"
    claddings = "; ".join(dict.fromkeys(cladding_words(p, own=parts[0].build_up, paper=paper) for p in parts))
    desc = (
        f"Elevation at 1:{scale}, seen from outside. Cladding: {claddings}. "
        f"Openings from left to right: {marks}."
    )
    width = max(paper_width_mm, wide)
    svg = picture(elements, width_mm=width, height_mm=height, title=title, desc=desc, id_prefix=id_prefix)
    return Drawing(svg=svg, title=title, width_mm=width, height_mm=height, scale=scale)


def _size_words(face: Face) -> str:
    """Return width and heights of a wall in words."""
    if abs(face.top_left - face.top_right) < 1e-6:
        return f"{metres(face.width)} m wide, {level_text(face.top_left)} m high"
    return (
        f"{metres(face.width)} m wide, {level_text(face.top_left)} m high at the left, "
        f"{level_text(face.top_right)} m at the right"
    )
