"""The section along the span: the house cut through ground, floor, walls, ceilings and roof, with its build-ups."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.build_up_figures import build_up_figures
from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.build_up_keys import letters_of
from takeoff.documents.drawings.dimensions import STRING_GAP, STRING_PITCH, dimension_string, figures_reach
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    TITLE_TYPE,
    Drawing,
    Paper,
    level_text,
    metres,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.roof_edges import edge_depth
from takeoff.documents.drawings.section_floor import draw_floor, draw_ground, floor_foot
from takeoff.documents.drawings.section_inside import draw_internal_walls
from takeoff.documents.drawings.section_levels import Level, draw_levels, levels_width
from takeoff.documents.drawings.section_line import CUT_SIDES, SectionLine, line_at, section_line
from takeoff.documents.drawings.section_openings import draw_opening
from takeoff.documents.drawings.section_roof import draw_ceilings, draw_roof
from takeoff.documents.drawings.section_rooms import KEY_REACH, clear_heights, keys, room_names
from takeoff.documents.drawings.section_view import SectionView
from takeoff.documents.drawings.section_walls import CutWall, draw_wall
from takeoff.documents.drawings.svg import DETAIL, OUTLINE, lettering, path, picture, through
from takeoff.measure.floor_areas import cladding_depths
from takeoff.model.geometry import height_at, overhang_over, rise_per_metre
from takeoff.model.house import House, Side
from takeoff.model.library import Library

# Two strings beside the roof edge, and the paper from the second to the levels [mm].
_BESIDE = STRING_GAP + STRING_PITCH + 2.6


def section(
    result: Result,
    library: Library,
    *,
    paper_width_mm: float,
    id_prefix: str,
    name: str = "the house",
    at: float | None = None,
) -> Drawing:
    """Return the section of an option across its length, the low side at the left, looking to the left side.

    It is cut where it tells most (`section_line`), unless a place along the eaves is given [m]. The scale is the
    largest trade scale that fits `paper_width_mm`. The letters are those of `build_up_details`. `name` is that of
    the house, for the title; `id_prefix` begins every id.
    """
    house = result.design.house
    line = section_line(result) if at is None else line_at(result, at)
    columns = {side: _levels(result, library, line, side) for side in CUT_SIDES}
    beside = {side: _BESIDE + levels_width(columns[side]) for side in CUT_SIDES}
    room = paper_width_mm - sum(beside.values()) - 2 * MARGIN
    scale = next((s for s in ALL_SCALES if _drawn_width(house, s) <= room + 1e-9), ALL_SCALES[-1])
    spare = max(0.0, room - _drawn_width(house, scale)) / 2
    top = height_at(house, house.span + house.overhang_high) + edge_depth(result.design, library)
    paper = Paper(
        scale,
        MARGIN + spare + beside["low"] + _reach(house, "low", scale),
        MARGIN + 6.0 + top * 1000 / scale,
    )
    view = SectionView(result=result, library=library, line=line, paper=paper, id_prefix=id_prefix)
    figures = build_up_figures(result, library)
    letters, shown = keys(view, figures)
    elements = [*_house(view), *_pitch(view), *clear_heights(view), *room_names(view), *letters]
    strings, foot = _strings(view)
    elements += strings
    elements += _heights(view, columns)
    named = [
        f"{letter} {each.kind}, {each.name}"
        for letter, each in zip(letters_of(figures), figures, strict=True)
        if letter in shown
    ]
    caption, height = _caption(view, named, top=foot, wide=paper_width_mm)
    elements += caption
    title = (
        f"Section of {name} at x = {metres(line.x)} m, span {metres(house.span)} m, pitch {house.pitch:g}°"
    )
    desc = (
        f"Section at 1:{scale} across the length of the house, low side at the left. {_openings(line)} "
        f"Build-ups: {'; '.join(named)}."
    )
    svg = picture(
        elements, width_mm=paper_width_mm, height_mm=height, title=title, desc=desc, id_prefix=id_prefix
    )
    return Drawing(svg=svg, title=title, width_mm=paper_width_mm, height_mm=height, scale=scale)


def _reach(house: House, side: Side, scale: int) -> float:
    """Return how far roof edge or letter reach beyond the frame [mm]."""
    return max(overhang_over(house, side) * 1000 / scale, KEY_REACH)


def _drawn_width(house: House, scale: int) -> float:
    """Return the width of the house with its eaves on paper [mm]."""
    return house.span * 1000 / scale + sum(_reach(house, side, scale) for side in CUT_SIDES)


def _house(view: SectionView) -> list[str]:
    """Return everything that is cut, from the ground up."""
    house, paper = view.house, view.paper
    reach = 4.0
    left = paper.at(-house.overhang_low, 0)[0] - reach
    right = paper.at(house.span + house.overhang_high, 0)[0] + reach
    walls = []
    if view.line.rooms:
        walls = [
            CutWall(view, "low", view.line.low, view.line.rooms[0]),
            CutWall(view, "high", view.line.high, view.line.rooms[-1]),
        ]
    return [
        *draw_ground(view, left, right),
        *draw_floor(view),
        *draw_roof(view),
        *(element for wall in walls for element in draw_wall(wall)),
        *draw_internal_walls(view),
        *draw_ceilings(view),
        *(element for wall in walls for element in draw_opening(wall)),
        *_floor_line(view),
    ]


def _floor_line(view: SectionView) -> list[str]:
    """Return the floor of the rooms as a cut line."""
    segments = [(room.start, 0.0, room.end, 0.0) for room in view.line.rooms]
    return view.lines(segments, width=OUTLINE)


def _levels(result: Result, library: Library, line: SectionLine, side: Side) -> list[Level]:
    """Return the levels shown on one side."""
    house = result.design.house
    view = SectionView(result=result, library=library, line=line, paper=Paper(100, 0, 0), id_prefix="")
    levels = [Level("Floor", 0.0)]
    if house.floor_above_ground > 0:
        levels.append(Level("Ground", -house.floor_above_ground))
    y = 0.0 if side == "low" else house.span
    levels.append(Level("Top plate", height_at(house, y)))
    if line.rooms:
        room = line.rooms[0] if side == "low" else line.rooms[-1]
        face = room.start if side == "low" else room.end
        levels.append(Level("Ceiling", view.interior.ceiling_at(room.zone, face)))
    if side == "high":
        top = height_at(house, house.span + house.overhang_high) + edge_depth(result.design, library)
        levels.append(Level("Roof", top))
    return levels


def _heights(view: SectionView, columns: dict[Side, list[Level]]) -> list[str]:
    """Return the strings and levels on both sides of the section."""
    house, paper = view.house, view.paper
    skins = cladding_depths(view.design, view.library)
    elements: list[str] = []
    for side in CUT_SIDES:
        sign = -1 if side == "low" else 1
        frame_x = paper.at(0.0 if side == "low" else house.span, 0)[0]
        skin = paper.mm(skins[side]) + 1.0
        top = height_at(house, 0.0 if side == "low" else house.span)
        opening = view.line.opening(side)
        stations = {0.0, top, *((opening.sill, opening.head) if opening else ())}
        beyond = frame_x + sign * max(_reach(house, side, paper.scale), skin)
        places = [sorted(stations), [0.0, top]] if len(stations) > 2 else [[0.0, top]]
        at = beyond + sign * STRING_GAP
        drawn_from = beyond + sign * 1.0
        for index, heights in enumerate(places, start=1):
            elements.append(
                dimension_string(
                    heights,
                    edge="left" if side == "low" else "right",
                    line_at=at,
                    paper=paper,
                    drawn_from=drawn_from,
                    write=level_text,
                    id=view.id(f"height-{side}-{index}"),
                )
            )
            drawn_from = at + sign * 1.8
            at += sign * STRING_PITCH
        near = beyond + sign * _BESIDE
        elements += draw_levels(
            columns[side],
            near=near,
            outwards=sign,
            zero=paper.at(0, 0)[1],
            scale=paper.scale,
            id_prefix=view.id(f"level-{side}"),
        )
    return elements


def _strings(view: SectionView) -> tuple[list[str], float]:
    """Return the strings under the section: clear widths, then overhangs and span; and their foot [mm]."""
    house, paper = view.house, view.paper
    skins = cladding_depths(view.design, view.library)
    base = paper.at(0, min(floor_foot(view), -house.floor_above_ground))[1] + 2.6
    faces = {-skins["low"], house.span + skins["high"]}
    faces |= {face for room in view.line.rooms for face in (room.start, room.end)}
    inner = sorted(faces)
    outer = [-house.overhang_low, 0.0, house.span, house.span + house.overhang_high]
    outer = [y for index, y in enumerate(outer) if not index or y - outer[index - 1] > 1e-6]
    at = base + STRING_GAP
    elements = [
        dimension_string(
            inner, edge="bottom", line_at=at, paper=paper, drawn_from=base, id=view.id("clear-widths")
        )
    ]
    reach = figures_reach(inner, edge="bottom", scale=paper.scale)
    next_at = at + max(STRING_PITCH, reach + 3.4)
    elements.append(
        dimension_string(
            outer, edge="bottom", line_at=next_at, paper=paper, drawn_from=next_at - 1.8, id=view.id("span")
        )
    )
    return elements, next_at + figures_reach(outer, edge="bottom", scale=paper.scale)


def _pitch(view: SectionView) -> list[str]:
    """Return the pitch over the roof: a right angle under the slope and its figure."""
    house, paper = view.house, view.paper
    y1 = house.span * 0.42
    depth = edge_depth(view.design, view.library)
    x, z = paper.at(y1, view.under_rafters(y1) + depth)
    long = 11.0
    slope = rise_per_metre(house)
    # clear of the sheet as far as the figure reaches
    foot = z - 1.9 - (long + 5.0) * slope
    rise = long * slope
    corners = [(x, foot), (x + long, foot), (x + long, foot - rise)]
    return [
        path(through(corners, closed=True), width=DETAIL),
        lettering(f"{house.pitch:g}°", (x + long + 1.2, foot), size=NOTE_TYPE, id=view.id("pitch")),
    ]


def _openings(line: SectionLine) -> str:
    """Return which openings are cut, in words."""
    cut = [f"{o.mark} ({o.kind}, {o.side} side)" for o in (line.low, line.high) if o is not None]
    return f"Cut through {' and '.join(cut)}." if cut else "No opening is cut."


def _caption(view: SectionView, named: Sequence[str], *, top: float, wide: float) -> tuple[list[str], float]:
    """Return heading, scale and notes under a section, and the height of the whole picture [mm]."""
    base = top + 7.4
    bar, _ = scale_bar(
        wide - MARGIN, base, scale=view.paper.scale, room_mm=wide * 0.3, id_prefix=view.id_prefix
    )
    words = (
        f"Section at x = {metres(view.line.x)} m from the outside face of the left wall's frame, looking to the left "
        f"side. {_openings(view.line)} Dimensions and levels in m, from structural floor level; clear "
        f"widths between finished faces, clear heights where they stand; floor finishes not drawn."
    )
    if _has_edge_insulation(view):
        words += " Edge insulation is drawn below the foot of the cladding; it is measured over the whole edge beam."
    notes = wrapped(words, NOTE_TYPE, wide - 2 * MARGIN)
    if named:
        notes += wrapped(f"Details: {';  '.join(named)}.", NOTE_TYPE, wide - 2 * MARGIN)
    first = base + 1.9 * LEADING
    elements = [
        lettering(f"Section at x = {metres(view.line.x)} m", (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        *note_lines(notes, (MARGIN, first)),
    ]
    return elements, first + (len(notes) - 1) * LEADING + 1.2


def _has_edge_insulation(view: SectionView) -> bool:
    """Whether the floor has insulation outside its edge beams that the cladding would hide."""
    house: House = view.house
    layers = view.design.build_ups[house.floor].layers
    return house.cladding_drop > 0 and any(layer.measured_by == "slab edge" for layer in layers)
