"""The plan: walls cut, openings, roof edge, support lines, dimensions, sides and north."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    TITLE_TYPE,
    Drawing,
    Paper,
    dashed_edge,
    metres,
    north_point,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.plan_openings import Jambs, draw_opening
from takeoff.documents.drawings.plan_strings import SideStrings, draw_strings, overhang, side_strings
from takeoff.documents.drawings.plan_walls import Walls, draw_walls, stands_over_another
from takeoff.documents.drawings.svg import (
    EDGE,
    GREY,
    along,
    group,
    lettering,
    path,
    picture,
    through,
)
from takeoff.model.geometry import (
    COMPASS_POINTS,
    compass_of,
    inside_area,
    outside_area,
)
from takeoff.model.house import SIDES, Design, House, Side
from takeoff.model.library import Library

# Between a wall and lettering clear of the marks [mm].
_MARK_ROOM = 9.0


def _outline(house: House, paper: Paper, id_prefix: str) -> str:
    """Return the outline of the frame as a fine closed line, the base of every dimension."""
    corners = [(0.0, 0.0), (house.length, 0.0), (house.length, house.span), (0.0, house.span)]
    return path(through([paper.at(*c) for c in corners], closed=True), width=0.05, id=f"{id_prefix}-outline")


def _roof_edge(house: House, paper: Paper, id_prefix: str) -> str:
    """Return the outline of the roof, dashed."""
    left, right = -house.overhang_left, house.length + house.overhang_right
    low, high = -house.overhang_low, house.span + house.overhang_high
    corners = [(left, low), (right, low), (right, high), (left, high)]
    return dashed_edge([paper.at(*c) for c in corners], id=f"{id_prefix}-roof")


def _openings(design: Design, walls: Walls, paper: Paper, id_prefix: str) -> list[str]:
    """Return every opening; one that stands above another of the same wall is drawn as hidden."""
    drawn: list[str] = []
    for side in SIDES:
        openings = design.openings_in(side)
        for opening in openings:
            under = stands_over_another(opening, openings)
            jambs = Jambs(design.house, opening, -walls.cladding[side], walls.inwards, paper)
            drawn.append(draw_opening(jambs, hidden=under, id=f"{id_prefix}-opening-{len(drawn) + 1}"))
    return drawn


def _support_lines(house: House, inwards: float, paper: Paper, id_prefix: str) -> list[str]:
    """Return the inner lines that carry rafters, each with its distance from the low side."""
    elements = []
    for index, y in enumerate(house.support_lines):
        start, end = paper.at(inwards, y), paper.at(house.length - inwards, y)
        words = f"support line, {metres(y)} from low side"
        if text_width(words, NOTE_TYPE) + 2 * _MARK_ROOM > end[0] - start[0]:
            words = metres(y)
        elements += [
            path(
                along([(*start, *end)]),
                width=EDGE,
                dash="4 1.2 0.6 1.2",
                id=f"{id_prefix}-support-{index + 1}",
            ),
            lettering(words, (end[0] - _MARK_ROOM, end[1] - 1.0), size=NOTE_TYPE, anchor="end", fill=GREY),
        ]
    return elements


def _area_words(house: House, inwards: float) -> list[str]:
    """Return the floor areas, each with its definition."""
    return [
        f"{outside_area(house):.2f} m² to outside face of frame",
        f"{inside_area(house, inwards):.2f} m² inside external walls",
    ]


def _areas_in_plan(house: House, inwards: float, paper: Paper) -> list[str]:
    """Return the floor areas set in the widest room between support lines, or nothing where they crowd."""
    words = _area_words(house, inwards)
    across = paper.mm(house.length - 2 * inwards)
    lines = sorted({inwards, *house.support_lines, house.span - inwards})
    low, high = max(pairwise(lines), key=lambda pair: pair[1] - pair[0])
    needed = max(text_width(text, NOTE_TYPE) for text in words) + 2 * _MARK_ROOM
    if across < needed or paper.mm(high - low) < 2 * _MARK_ROOM + 2 * LEADING:
        return []
    x0, y0 = paper.at(house.length / 2, (low + high) / 2)
    return [
        lettering(text, (x0, y0 + i * LEADING), size=NOTE_TYPE, anchor="middle")
        for i, text in enumerate(words)
    ]


def _notes(design: Design) -> str:
    """Return the sentences under a plan that say what its lines and figures are."""
    overhangs = ", ".join(f"{side} {metres(overhang(design.house, side))}" for side in SIDES)
    words = (
        "Dimensions in m, to the outside face of the frame and to structural openings. "
        f"Dashed: roof edge, beyond the frame by {overhangs}."
    )
    if any(opening.kind == "door" for opening in design.openings):
        words += " Door swings are indicative."
    return words


def _all_strings(design: Design, walls: Walls, scale: int) -> dict[Side, SideStrings]:
    """Return what stands outside each side at a scale."""
    return {side: side_strings(design, side, cladding=walls.cladding[side], scale=scale) for side in SIDES}


def _plan_scale(design: Design, walls: Walls, paper_width_mm: float) -> int:
    """Return the largest trade scale at which the plan and its strings fit the paper width."""
    for scale in ALL_SCALES:
        sides = _all_strings(design, walls, scale)
        beside = sides["left"].depth + sides["right"].depth + 2 * MARGIN
        if design.house.length * 1000 / scale + beside <= paper_width_mm + 1e-9:
            return scale
    return ALL_SCALES[-1]


def plan(
    design: Design,
    library: Library,
    *,
    wall_thickness_in: float,
    cladding_thickness: float | Mapping[Side, float],
    paper_width_mm: float,
    id_prefix: str,
    name: str = "the house",
    scale: int | None = None,
) -> Drawing:
    """Return the plan of a design, the high side up the sheet.

    `wall_thickness_in` is that of the external wall inwards from the outside face of the frame, and
    `cladding_thickness` that of the cladding outside it, for all sides or for each [m]. The scale is the
    largest trade scale that fits `paper_width_mm`, unless one is given; where a given one does not fit,
    the picture is wider. `name` is that of the house, for the title; `id_prefix` begins every id.
    """
    house = design.house
    skins: Mapping[Side, float] = (
        cladding_thickness
        if isinstance(cladding_thickness, Mapping)
        else dict.fromkeys(SIDES, cladding_thickness)
    )
    walls = Walls(house, wall_thickness_in, skins)
    if scale is None:
        scale = _plan_scale(design, walls, paper_width_mm)
    sides = _all_strings(design, walls, scale)
    paper = Paper(
        scale, MARGIN + sides["left"].depth, MARGIN + sides["high"].depth + house.span * 1000 / scale
    )
    right, foot = paper.at(house.length, 0)
    sheet = right + sides["right"].depth + MARGIN
    elements = [
        _roof_edge(house, paper, id_prefix),
        *draw_walls(design, library, walls, paper, id_prefix),
        _outline(house, paper, id_prefix),
        *_support_lines(house, wall_thickness_in, paper, id_prefix),
        *_openings(design, walls, paper, id_prefix),
        *draw_strings(design, sides, cladding=skins, paper=paper, id_prefix=id_prefix),
    ]
    areas = _areas_in_plan(house, wall_thickness_in, paper)
    elements += areas
    below, height = _title_block(
        design,
        [] if areas else _area_words(house, wall_thickness_in),
        top=foot + sides["low"].depth,
        sheet=sheet,
        scale=scale,
        id_prefix=id_prefix,
    )
    elements += below
    title = f"Plan of {name}, {metres(house.length)} by {metres(house.span)} m"
    marks = ", ".join(f"{o.mark} ({o.kind}, {o.side} side)" for o in design.openings) or "none"
    desc = (
        f"Plan at 1:{scale}; the high side, facing {compass_of(house, 'high')}, is at the top. "
        f"Openings: {marks}."
    )
    width = max(paper_width_mm, sheet)
    svg = picture(elements, width_mm=width, height_mm=height, title=title, desc=desc, id_prefix=id_prefix)
    return Drawing(svg=svg, title=title, width_mm=width, height_mm=height, scale=scale)


def _title_block(
    design: Design, areas: list[str], *, top: float, sheet: float, scale: int, id_prefix: str
) -> tuple[list[str], float]:
    """Return title, scale bar, north point and notes below a plan, and the height of the whole [mm]."""
    north = -45.0 * COMPASS_POINTS.index(design.house.high_side_faces)
    radius = 3.6
    base = top + 3.0 + 2 * radius
    point = (sheet - MARGIN - radius - 3.4, base - radius)
    bar, _ = scale_bar(point[0] - radius - 7.0, base, scale=scale, room_mm=sheet * 0.3, id_prefix=id_prefix)
    elements = [
        lettering("Plan", (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        group([north_point(point, north, radius=radius)], id=f"{id_prefix}-north"),
    ]
    notes = wrapped(_notes(design), NOTE_TYPE, sheet - 2 * MARGIN)
    if areas:
        notes += wrapped("Floor area " + ", ".join(areas) + ".", NOTE_TYPE, sheet - 2 * MARGIN)
    first = base + 2.1 * LEADING
    elements += note_lines(notes, (MARGIN, first))
    return elements, first + (len(notes) - 1) * LEADING + 1.2
