"""The two walls seen in the picture of the whole house: claddings, the shadow of the eaves, openings, what is below."""

from __future__ import annotations

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.elevation_openings import FRAME, LEAF, SILL_HEIGHT, SILL_REACH, STILE
from takeoff.documents.drawings.elevation_parts import STUMP, Part, parts_of
from takeoff.documents.drawings.hatches import OFF_WHITE, draw_lines
from takeoff.documents.drawings.massing_view import (
    LIGHT_ALONG,
    LIGHT_DOWN,
    LIGHT_IN,
    MassingView,
    SlantedPaper,
    common_area,
    mixed,
)
from takeoff.documents.drawings.svg import DETAIL, EDGE, INK, WHITE, Point, group, path, through
from takeoff.model.geometry import height_at, wall_face
from takeoff.model.house import Opening, Side
from takeoff.model.library import Library

# Shares of ink in a wall in shade, and in the shadow of the eaves on a lit one.
_SHADE, _CAST = 0.17, 0.3
_PLINTH = "#e2e2df"
_GLASS, _GLASS_IN_SHADE = "#c3d0d9", "#9fb0bc"
_SHADOW_ON_GLASS = "#8296a3"
_THIN = 0.1
# How far glass and leaves stand back from the face [m]: a drawing convention, measured nowhere.
_REVEAL = 0.1


def draw_below(result: Result, view: MassingView, *, id_prefix: str) -> list[str]:
    """Return what stands between the foot of the claddings and the ground: a plinth, or stumps under the floor."""
    house, frame = view.house, result.measured.floor_frame
    ground, foot = -house.floor_above_ground, -house.cladding_drop
    if ground >= foot:
        return []
    if frame is None:
        u, v = view.long
        feet = through([view.at(place) for place in ((0.0, 0.0, ground), (u, 0.0, ground), (u, v, ground))])
        return [
            *(
                _plinth(view, side, ground, foot, id=f"{id_prefix}-plinth-{side}")
                for side in (view.left, view.right)
            ),
            path(feet, width=0.3, join="round", cap="round"),
        ]
    half = STUMP / 2
    elements = []
    for u, v, _ in sorted(
        (view.placed(x, y, 0.0) for x, y in frame.stumps), key=lambda place: place[0] - place[1]
    ):
        u, v = min(max(u, half), view.long[0] - half), min(max(v, half), view.long[1] - half)
        corners = ((u - half, v - half), (u + half, v - half), (u + half, v + half))
        for side, a, b in ((view.left, *corners[:2]), (view.right, *corners[1:])):
            places = ((*a, ground), (*b, ground), (*b, foot), (*a, foot))
            fill = WHITE if side == view.front else mixed(WHITE, INK, _SHADE + 0.1)
            outline = through([view.at(place) for place in places], closed=True)
            elements.append(path(outline, width=_THIN, fill=fill))
    return [group(elements, id=f"{id_prefix}-stumps")]


def _plinth(view: MassingView, side: Side, ground: float, foot: float, *, id: str) -> str:
    """Return the edge of the slab under one wall."""
    wide, paper = wall_face(view.house, side).width, view.paper_of(side)
    corners = [paper.at(s, z) for s, z in ((0, ground), (wide, ground), (wide, foot), (0, foot))]
    fill = _PLINTH if side == view.front else mixed(_PLINTH, INK, _SHADE)
    return path(through(corners, closed=True), width=DETAIL, fill=fill, join="round", id=id)


def draw_wall(result: Result, library: Library, view: MassingView, side: Side, *, id: str) -> list[str]:
    """Return one wall with its claddings and openings; the front is lit, the other in shade."""
    design = result.design
    face = wall_face(view.house, side, bottom=-view.house.cladding_drop)
    paper = view.paper_of(side)
    lit = side == view.front
    elements: list[str] = []
    for number, part in enumerate(parts_of(design, library, side), start=1):
        elements += _cladding(part, view, side, _eaves_shadow(view) if lit else [], f"{id}-cladding-{number}")
    elements += [
        draw_opening(opening, paper, lit=lit, from_left=side == view.left, id=f"{id}-opening-{number}")
        for number, opening in enumerate(design.openings_in(side), start=1)
    ]
    corners = [(0, face.bottom), (face.width, face.bottom), (face.width, face.top_right), (0, face.top_left)]
    outline = through([paper.at(*corner) for corner in corners], closed=True)
    return [*elements, path(outline, width=EDGE, join="round", id=f"{id}-outline")]


def _cladding(part: Part, view: MassingView, side: Side, shadow: list[Point], id: str) -> list[str]:
    """Return one cladding: its tint, the shadow on it, and its lines."""
    outline = part.region.outline()
    if len(outline) < 3:
        return []
    lit = side == view.front
    tone = part.facing.tone if part.facing else OFF_WHITE
    paper = view.paper_of(side)
    tint = through([paper.at(*corner) for corner in outline], closed=True)
    elements = [
        path(tint, width=_THIN, fill=tone if lit else mixed(tone, INK, _SHADE), join="round", id=f"{id}-tint")
    ]
    cast = common_area(outline, shadow) if shadow else []
    if len(cast) > 2:
        data = through([paper.at(*corner) for corner in cast], closed=True)
        elements.append(path(data, stroke=None, fill=mixed(tone, INK, _CAST), id=f"{id}-shadow"))
    if part.facing is not None:
        # the dashes of a bond are as long as its courses are high, whatever the slanted axis
        masonry = part.facing.layer.measured_by == "masonry units"
        elements += draw_lines(part.facing, part.region, view.paper_of(side, crowded=not masonry), id=id)
    return elements


def _eaves_shadow(view: MassingView) -> list[Point]:
    """Return the shadow of the roof edge on the front [m], counter-clockwise; empty without an overhang."""
    house, front = view.house, view.front
    over = view.reach(front)
    if over <= 0:
        return []
    wide = wall_face(house, front).width
    before, after = (view.reach(side) for side in _ends(front))
    edge = height_at(house, -over if front == "low" else house.span + over)
    top = max(edge, wall_face(house, front).top_left) + 1.0
    low = edge - over * LIGHT_DOWN / LIGHT_IN
    shift = over * LIGHT_ALONG / LIGHT_IN * (1 if front == view.left else -1)
    start, end = -before + max(shift, 0.0), wide + after + min(shift, 0.0)
    return [(start, low), (end, low), (end, top), (start, top)]


def _ends(front: Side) -> tuple[Side, Side]:
    """Return the sides at the left and the right end of a side, seen from outside."""
    return ("left", "right") if front == "low" else ("right", "left")


def draw_opening(opening: Opening, paper: SlantedPaper, *, lit: bool, from_left: bool, id: str) -> str:
    """Return a window or door: frame, glass or leaf, the shadow of its head and of one jamb where it is lit."""
    foot, head = opening.sill, opening.head
    door = opening.kind == "door"
    elements = [_area(paper, opening.position, foot, opening.right, head, WHITE, EDGE)]
    number = opening.number * (2 if opening.kind == "sliding door" else 1)
    wide = opening.width / number
    border = FRAME if opening.kind != "sliding door" else STILE
    glass = LEAF if door else _GLASS
    if not lit:
        glass = mixed(LEAF, INK, _SHADE) if door else _GLASS_IN_SHADE
    for unit in range(number):
        start = opening.position + unit * wide
        edge = min(border, wide / 4, opening.height / 4)
        left, right, top = start + edge, start + wide - edge, head - edge
        low = foot if door else foot + edge
        elements.append(_area(paper, left, low, right, top, glass, DETAIL))
        if lit:
            elements.append(_shadow(paper, (left, low, right, top), door=door, from_left=from_left))
    if opening.kind == "window":
        reach = opening.position - SILL_REACH, opening.right + SILL_REACH
        elements.append(_area(paper, reach[0], foot - SILL_HEIGHT, reach[1], foot, WHITE, _THIN))
    return group(elements, id=id, stroke_linejoin="round")


def _shadow(
    paper: SlantedPaper, pane: tuple[float, float, float, float], *, door: bool, from_left: bool
) -> str:
    """Return the shadow on a pane of what stands before it: along its head and one jamb."""
    left, low, right, top = pane
    deep, across = min(_REVEAL, (top - low) / 3), min(_REVEAL * LIGHT_ALONG, (right - left) / 3)
    jamb, far, inner = (left, right, left + across) if from_left else (right, left, right - across)
    outline = [(jamb, low), (jamb, top), (far, top), (far, top - deep), (inner, top - deep), (inner, low)]
    fill = mixed(LEAF, INK, _CAST) if door else _SHADOW_ON_GLASS
    return path(through([paper.at(*corner) for corner in outline], closed=True), stroke=None, fill=fill)


def _area(
    paper: SlantedPaper, left: float, low: float, right: float, top: float, fill: str, width: float
) -> str:
    """Return a rectangle of the face."""
    corners = ((left, low), (right, low), (right, top), (left, top))
    return path(through([paper.at(*corner) for corner in corners], closed=True), width=width, fill=fill)
