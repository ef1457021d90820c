"""The plan: walls cut, openings, rooms, roof edge, support lines, dimensions, sides and north."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    Drawing,
    Paper,
    dashed_edge,
    metres,
)
from takeoff.documents.drawings.plan_inside import draw_inside
from takeoff.documents.drawings.plan_notes import area_words, plain_notes, room_notes, title_block
from takeoff.documents.drawings.plan_openings import Jambs, draw_opening
from takeoff.documents.drawings.plan_strings import SideStrings, draw_strings, side_strings
from takeoff.documents.drawings.plan_supports import MARK_ROOM, support_lines
from takeoff.documents.drawings.plan_walls import Walls, draw_walls, stands_over_another
from takeoff.documents.drawings.svg import lettering, path, picture, through
from takeoff.measure.inside import Inside
from takeoff.model.geometry import compass_of
from takeoff.model.house import SIDES, Design, House, Side
from takeoff.model.library import Library


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


def _areas_in_plan(house: House, words: list[str], inwards: float, paper: Paper) -> list[str]:
    """Return the floor areas set in the widest room between support lines, or nothing where they crowd."""
    across = paper.mm(house.length - 2 * inwards)
    lines = sorted({inwards, *house.support_lines, house.span - inwards})
    low, high = max(pairwise(lines), key=lambda pair: pair[1] - pair[0])
    needed = max(text_width(text, NOTE_TYPE) for text in words) + 2 * MARK_ROOM
    if across < needed or paper.mm(high - low) < 2 * MARK_ROOM + 2 * LEADING:
        return []
    x0, y0 = paper.at(house.length / 2, (low + high) / 2)
    return [
        lettering(text, (x0, y0 + i * LEADING), size=NOTE_TYPE, anchor="middle")
        for i, text in enumerate(words)
    ]


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
    inside: Inside | None = None,
) -> Drawing:
    """Return the plan of a design, the high side up the sheet.

    `wall_thickness_in` is that of the external wall inwards from the outside face of the frame, and
    `cladding_thickness` that of the cladding outside it, for all sides or for each [m]. The scale is the
    largest trade scale that fits `paper_width_mm`, unless one is given; where a given one does not fit,
    the picture is wider. `name` is that of the house, for the title; `id_prefix` begins every id. Where
    `inside` is given and the design has rooms, its walls, doors and rooms are drawn.
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
    elements = [_roof_edge(house, paper, id_prefix)]
    outline = _outline(house, paper, id_prefix)
    areas: list[str] = []
    if inside is None or not design.rooms:
        words = area_words(house, wall_thickness_in)
        areas = _areas_in_plan(house, words, wall_thickness_in, paper)
        elements += [
            *draw_walls(design, library, walls, paper, id_prefix),
            outline,
            *support_lines(house, wall_thickness_in, paper, id_prefix),
            *_openings(design, walls, paper, id_prefix),
        ]
        notes = plain_notes(design, [] if areas else words, sheet - 2 * MARGIN)
    else:
        drawn = draw_inside(design, library, inside, walls, paper, id_prefix)
        elements += [*drawn.walls, outline, *drawn.elements]
        notes = room_notes(design, inside, drawn, sheet - 2 * MARGIN)
    elements += draw_strings(design, sides, cladding=skins, paper=paper, id_prefix=id_prefix)
    elements += areas
    below, height = title_block(
        design, notes, top=foot + sides["low"].depth, sheet=sheet, scale=scale, id_prefix=id_prefix
    )
    title = f"Plan of {name}, {metres(house.length)} by {metres(house.span)} m"
    desc = (
        f"Plan at 1:{scale}; the high side, facing {compass_of(house, 'high')}, is at the top. "
        f"Openings: {_marks(design)}."
    )
    if inside is not None and design.rooms:
        title += f", {len(design.rooms)} room{'s' if len(design.rooms) > 1 else ''}"
        desc += _rooms_described(inside)
    width = max(paper_width_mm, sheet)
    svg = picture(
        [*elements, *below], width_mm=width, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Drawing(svg=svg, title=title, width_mm=width, height_mm=height, scale=scale)


def _marks(design: Design) -> str:
    """Return the openings of the external walls in words."""
    return ", ".join(f"{o.mark} ({o.kind}, {o.side} side)" for o in design.openings) or "none"


def _rooms_described(inside: Inside) -> str:
    """Return the rooms and the doors between them in words."""
    rooms = ", ".join(f"{room.room.name} ({room.floor:.2f} m²)" for room in inside.rooms)
    doors = ", ".join(
        f"{p.door.mark} ({p.door.kind}, {p.door.rooms[0]} to {p.door.rooms[1]})" for p in inside.doors
    )
    return f" Rooms: {rooms}. Doors between rooms: {doors or 'none'}."
