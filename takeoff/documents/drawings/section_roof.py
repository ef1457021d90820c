"""Roof and ceilings in section: rafters, insulation, battens and sheet, eaves, raked and flat ceilings."""

from __future__ import annotations

import math

from takeoff.documents.drawings.section_line import RoomCut
from takeoff.documents.drawings.section_view import MEMBRANE, SectionView
from takeoff.documents.drawings.svg import DETAIL, EDGE, INK, OUTLINE, path, through
from takeoff.measure.ceilings import Interior
from takeoff.measure.face_layers import batten_places
from takeoff.measure.linings import airtight_layers
from takeoff.measure.roof import roof_surface
from takeoff.model.geometry import Face, slope_factor
from takeoff.model.house import Layer

_RAFTER_BEYOND = "#f4eddc"
# Drawing conventions, measured nowhere [m]: radius of a gutter, leg of a flashing.
_GUTTER, _FLASHING = 0.06, 0.12


def draw_roof(view: SectionView) -> list[str]:
    """Return the roof from the soffits to the sheet."""
    house = view.house
    low, high = -house.overhang_low, house.span + house.overhang_high
    build_up = view.design.build_ups[house.roof]
    index = build_up.frame_index() or 0
    deep = house.rafter_depth
    elements = [
        path(
            through(view.on_slope(low, high, 0.0, deep), closed=True),
            width=OUTLINE,
            fill=_RAFTER_BEYOND,
            join="miter",
            id=view.id("rafters"),
        )
    ]
    infill = next((layer for layer in build_up.layers if layer.measured_by == "between rafters"), None)
    if infill is not None:
        thick = min(infill.thickness or deep, deep)
        elements += view.cut(
            view.on_slope(0.0, house.span, 0.0, thick), infill, id=view.id("roof-insulation")
        )
    elements += _blocking(view)
    at = deep
    for layer in reversed(build_up.layers[:index]):
        elements += _over_rafters(view, layer, at, low, high)
        at += view.depth(layer)
    return [*elements, *_eaves(view, low, high, at)]


def _blocking(view: SectionView) -> list[str]:
    """Return the blocking between the rafters that is cut."""
    house = view.house
    elements: list[str] = []
    for member in view.result.measured.roof_frame.members:
        if member.use != "blocking" or abs(member.s - view.line.x) > house.rafter_spacing:
            continue
        y = member.z / slope_factor(house) - house.overhang_low
        half = member.thickness / 2 / slope_factor(house)
        quad = view.on_slope(y - half, y + half, 0.0, member.depth)
        elements += view.timber((quad[0], quad[3], quad[2], quad[1]))
    return list(dict.fromkeys(elements))


def _over_rafters(view: SectionView, layer: Layer, at: float, low: float, high: float) -> list[str]:
    """Return one layer over the rafters, `at` from their underside."""
    thick = view.depth(layer)
    if layer.measured_by == "membrane with laps":
        (x1, y1), (x2, y2) = view.on_slope(low, high, at, at)[:2]
        return [path(through([(x1, y1), (x2, y2)]), width=MEMBRANE, dash="1.6 0.6")]
    if thick <= 0:
        return []
    if layer.measured_by == "battens at spacing":
        return _roof_battens(view, layer, at, thick)
    start = low - view.house.sheet_overhang if layer.measured_by == "profiled sheet by cover" else low
    corners = view.on_slope(start, high, at, at + thick)
    return [path(through(corners, closed=True), width=EDGE, fill=INK, id=view.id("roof-sheet"))]


def _roof_battens(view: SectionView, layer: Layer, at: float, thick: float) -> list[str]:
    """Return the roof battens that are cut, and the line of their tops."""
    house, material, factor = view.house, view.material(layer), slope_factor(view.house)
    if layer.direction != "horizontal":
        return []
    elements: list[str] = []
    half = (material.width or 0.0) / 2 / factor
    for place in batten_places(layer, material, roof_surface(house).face):
        y = place / factor - house.overhang_low
        quad = view.on_slope(y - half, y + half, at, at + thick)
        elements += view.timber(quad)
    return elements


def _eaves(view: SectionView, low: float, high: float, top: float) -> list[str]:
    """Return soffits, fascias, gutter and flashing, each where the roof has one."""
    house, roof = view.house, view.design.build_ups[view.house.roof]
    by_way: dict[str, list[Layer]] = {}
    for layer in roof.layers:
        by_way.setdefault(layer.measured_by, []).append(layer)
    elements: list[str] = []
    for layer in by_way.get("soffits", []):
        thick = view.material(layer).thickness or 0.006
        for y1, y2 in ((low, 0.0), (house.span, high)):
            elements += view.cut(view.on_slope(y1, y2, -thick, 0.0), layer)
    for way, y, inwards in (("low eave", low, 1), ("high eave", high, -1)):
        for layer in by_way.get(way, []):
            material = view.material(layer)
            if material.thickness and material.width:
                under = view.under_rafters(y) - 0.02
                box = view.box(y, y + inwards * material.thickness, under, under + material.width)
                elements += view.timber(box, id=view.id(f"fascia-{way.split()[0]}"))
    if any(not view.material(layer).thickness for layer in by_way.get("low eave", [])):
        elements.append(_gutter(view, low, top))
    if any(not view.material(layer).thickness for layer in by_way.get("high eave", [])):
        over = view.under_rafters(high) + top * slope_factor(house)
        points = [
            (high - 0.15, over - 0.15 * math.tan(math.radians(house.pitch))),
            (high, over),
            (high, over - _FLASHING),
        ]
        elements.append(path(through([view.paper.at(*p) for p in points]), width=OUTLINE))
    return elements


def _gutter(view: SectionView, low: float, top: float) -> str:
    """Return a half-round gutter in front of the low fascia, under the end of the sheet."""
    rim = view.under_rafters(low) + (top - 0.05) * slope_factor(view.house)
    points = [
        (low - _GUTTER - _GUTTER * math.cos(math.radians(a)), rim - _GUTTER * math.sin(math.radians(a)))
        for a in range(0, 181, 20)
    ]
    return path(through([view.paper.at(*p) for p in points]), width=OUTLINE, id=view.id("gutter"))


def draw_ceilings(view: SectionView) -> list[str]:
    """Return the ceilings of all rooms that are cut, and the airtight layer under the rafters."""
    elements: list[str] = []
    rooms = view.line.rooms
    if rooms and airtight_layers(view.design, view.library):
        y1, y2 = rooms[0].start, rooms[-1].end
        gap = 0.15 * view.paper.scale / 1000
        z1, z2 = view.under_rafters(y1) - gap, view.under_rafters(y2) - gap
        elements += view.lines([(y1, z1, y2, z2)], width=MEMBRANE, dash="1.2 0.5", id=view.id("airtight"))
    for room in rooms:
        elements += _flat(view, room) if room.zone.flat_height is not None else _raked(view, room)
    return elements


def _raked(view: SectionView, room: RoomCut) -> list[str]:
    """Return a raked ceiling, from the rafters down."""
    lining = view.interior.lining_of(room.zone)
    elements: list[str] = []
    down = 0.0
    for layer in lining.layers:
        thick = view.depth(layer)
        if thick <= 0:
            continue
        corners = view.on_slope(room.start, room.end, -down, -down - thick)
        if layer.measured_by == "battens at spacing":
            infill = next((each for each in lining.layers if each.measured_by == "between battens"), None)
            if infill is not None:
                elements += view.cut(corners, infill)
            elements += _battens_under(view, room, layer, down, thick)
        else:
            elements += view.cut(corners, layer)
        down += thick
    heights = [(y, view.interior.ceiling_at(room.zone, y)) for y in (room.start, room.end)]
    return [*elements, *view.lines([(*heights[0], *heights[1])], width=OUTLINE)]


def _battens_under(view: SectionView, room: RoomCut, layer: Layer, down: float, thick: float) -> list[str]:
    """Return the ceiling battens of a raked ceiling that are cut."""
    if layer.direction != "horizontal":
        return []
    material, factor = view.material(layer), slope_factor(view.house)
    length = (room.end - room.start) * factor
    half = (material.width or 0.0) / 2 / factor
    elements: list[str] = []
    for place in batten_places(layer, material, Face(1.0, 0.0, length, length)):
        y = room.start + place / factor
        quad = view.on_slope(max(y - half, room.start), min(y + half, room.end), -down, -down - thick)
        elements += view.timber(quad)
    return elements


def _flat(view: SectionView, room: RoomCut) -> list[str]:
    """Return a flat ceiling: lining, battens or joists, hangers."""
    lining = view.interior.lining_of(room.zone)
    z = room.zone.flat_height or 0.0
    elements: list[str] = []
    up = z
    for layer in reversed(lining.layers):
        thick, material = view.depth(layer), view.material(layer)
        if layer.measured_by == "battens at spacing" and thick > 0:
            half, span = (material.width or 0.0) / 2, room.end - room.start
            if layer.direction == "horizontal":
                for place in batten_places(layer, material, Face(1.0, 0.0, span, span)):
                    y = room.start + place
                    elements += view.timber(
                        view.level(max(y - half, room.start), min(y + half, room.end), up, up + thick)
                    )
        elif layer.measured_by == "ceiling joists":
            elements += _joists(view, room, up, thick)
        elif layer.measured_by == "hangers":
            step = layer.spacing or 1.2
            count = max(2, math.ceil((room.end - room.start) / step) + 1)
            places = [
                room.start + 0.1 + (room.end - room.start - 0.2) * i / (count - 1) for i in range(count)
            ]
            elements += view.lines([(y, up, y, view.under_rafters(y)) for y in places], width=DETAIL)
        elif thick > 0:
            elements += view.cut(view.level(room.start, room.end, up, up + thick), layer)
        up += thick if layer.measured_by != "hangers" else 0.0
    return [*elements, *view.lines([(room.start, z, room.end, z)], width=OUTLINE)]


def _joists(view: SectionView, room: RoomCut, foot: float, deep: float) -> list[str]:
    """Return the joists of a flat ceiling: those along the eaves cut, those up the slope seen beyond."""
    place = f"ceiling of {Interior.zone_name(room.zone)}"
    members = [m for m in view.result.measured.inside.ceiling_members if m.place == place]
    elements: list[str] = []
    if any(member.run == "slope" for member in members):
        corners = view.level(room.start, room.end, foot, foot + deep)
        elements.append(path(through(corners, closed=True), width=EDGE, fill=_RAFTER_BEYOND))
    for member in members:
        if member.run == "eaves" and abs(member.s - view.line.x) < member.length / 2:
            y, half = member.z, member.thickness / 2
            if room.start - 1e-6 < y < room.end + 1e-6:
                elements += view.timber(view.box(y - half, y + half, foot, foot + deep))
    return elements
