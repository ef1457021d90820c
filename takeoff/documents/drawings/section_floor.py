"""Ground and floor in section: a slab with its edge beams and what lies under it, or a timber floor on stumps."""

from __future__ import annotations

from takeoff.documents.drawings.build_up_hatches import draw_cut
from takeoff.documents.drawings.section_view import MEMBRANE, SectionView
from takeoff.documents.drawings.svg import CUT, DETAIL, EDGE, OUTLINE, WHITE, Segment, along, path, through
from takeoff.measure.floor import slab_thickness
from takeoff.model.house import BuildUp, Layer
from takeoff.model.suspended_floor import (
    BEARERS,
    JOISTS,
    depth_over_stumps,
    layer_measured_by,
    stump_length,
)

_BEYOND = "#f4eddc"
_EARTH_STEP = 2.6


def draw_ground(view: SectionView, left: float, right: float) -> list[str]:
    """Return the ground line outside the house between two places on paper [mm], with strokes for earth under it."""
    house, paper = view.house, view.paper
    y = paper.at(0, -house.floor_above_ground)[1]
    suspended = view.result.measured.floor_frame is not None
    edges = (paper.at(0, 0)[0], paper.at(house.span, 0)[0])
    pieces = [(left, right)] if suspended else [(left, edges[0]), (edges[1], right)]
    earth: list[Segment] = []
    for start, end in pieces:
        place = start + 0.6
        while place + 1.6 < end:
            earth += [(place, y + 1.7, place + 1.6, y + 0.1), (place + 0.8, y + 1.7, place + 1.6, y + 0.9)]
            place += _EARTH_STEP
    return [
        path(along([(a, y, b, y) for a, b in pieces]), width=CUT, id=view.id("ground")),
        path(along(earth), width=DETAIL),
    ]


def draw_floor(view: SectionView) -> list[str]:
    """Return the floor as its build-up has it."""
    build_up = view.design.build_ups[view.house.floor]
    if view.result.measured.floor_frame is not None:
        return _suspended(view, build_up)
    return _slab(view, build_up)


def _slab(view: SectionView, build_up: BuildUp) -> list[str]:
    """Return slab and edge beams in one, the layers under it between the beams, and insulation outside them."""
    house = view.house
    slab = slab_thickness(build_up, view.library)
    width, deep, span = house.edge_beam_width, max(house.edge_beam_depth, slab), house.span
    poured = layer_measured_by(build_up, "poured")
    elements: list[str] = []
    at = -slab
    for layer in build_up.layers:
        if layer.measured_by not in ("within edge beams", "area", "sheets"):
            continue
        thick = layer.thickness or view.material(layer).thickness or 0.0
        if thick > 0:
            elements += view.cut(view.level(width, span - width, at, at - thick), layer)
        at -= thick
    if poured is not None and slab > 0:
        elements += _concrete(view, slab, width, deep)
    for layer in build_up.layers:
        if layer.measured_by == "slab edge":
            elements += _edge_insulation(view, layer, deep)
        elif layer.measured_by == "membrane with laps" and view.material(layer).family != "steel":
            elements += _under_slab(view, slab, width, deep)
    return elements


def _concrete(view: SectionView, slab: float, width: float, deep: float) -> list[str]:
    """Return the concrete: three parts hatched, one outline round them."""
    span = view.house.span
    parts = (
        view.level(width, span - width, 0.0, -slab),
        view.level(0.0, width, 0.0, -deep),
        view.level(span - width, span, 0.0, -deep),
    )
    elements = [piece for part in parts for piece in draw_cut(part, "concrete", outlined=False)]
    corners = [(0.0, 0.0), (span, 0.0), (span, -deep), (span - width, -deep), (span - width, -slab)]
    corners += [(width, -slab), (width, -deep), (0.0, -deep)]
    outline = through([view.paper.at(*corner) for corner in corners], closed=True)
    return [*elements, path(outline, width=CUT, join="miter", id=view.id("slab"))]


def _under_slab(view: SectionView, slab: float, width: float, deep: float) -> list[str]:
    """Return the membrane under slab and edge beams."""
    span, gap = view.house.span, 0.22 * view.paper.scale / 1000
    points = [(0.0, -deep - gap), (width + gap, -deep - gap), (width + gap, -slab - gap)]
    points += [(span - y, z) for y, z in reversed(points)]
    drawn = through([view.paper.at(*point) for point in points])
    return [path(drawn, width=MEMBRANE, dash="1.6 0.6", id=view.id("membrane"))]


def _edge_insulation(view: SectionView, layer: Layer, deep: float) -> list[str]:
    """Return the insulation outside the edge beams, from the foot of the cladding down."""
    thick = layer.thickness or view.material(layer).thickness or 0.0
    span, head = view.house.span, min(-view.house.cladding_drop, 0.0)
    if thick <= 0:
        return []
    return [
        *view.cut(view.box(-thick, 0.0, -deep, head), layer),
        *view.cut(view.box(span, span + thick, -deep, head), layer),
    ]


def _suspended(view: SectionView, build_up: BuildUp) -> list[str]:
    """Return a timber floor: flooring, joists seen beyond with insulation between them, bearers, stumps and pads."""
    house, frame = view.house, view.result.measured.floor_frame
    joists = layer_measured_by(build_up, JOISTS)
    over = build_up.layers[: build_up.layers.index(joists)] if joists else ()
    elements: list[str] = []
    at = 0.0
    for layer in over:
        thick = view.depth(layer)
        if thick > 0:
            elements += view.cut(view.level(0.0, house.span, at, at - thick), layer)
        at -= thick
    deep = house.floor_joist_depth
    zone = view.level(0.0, house.span, at, at - deep)
    elements.append(path(through(zone, closed=True), width=OUTLINE, fill=_BEYOND, id=view.id("joists")))
    infill = layer_measured_by(build_up, "between joists")
    if infill is not None:
        thick = min(infill.thickness or deep, deep)
        elements += view.cut(view.level(0.0, house.span, at - deep + thick, at - deep), infill)
    under = at - deep
    if frame is not None:
        for member in frame.members:
            if member.use == "floor blocking" and abs(member.s - view.line.x) < house.floor_joist_spacing:
                half = member.thickness / 2
                elements += view.timber(view.box(member.z - half, member.z + half, under, at))
    elements += _under_joists(view, build_up, under)
    elements += _bearers(view, build_up, under)
    outline = view.level(0.0, house.span, 0.0, under)
    return [*elements, path(through(outline, closed=True), width=OUTLINE, join="miter", id=view.id("slab"))]


def _under_joists(view: SectionView, build_up: BuildUp, under: float) -> list[str]:
    """Return what lies under the joists: membranes and sheets."""
    joists = layer_measured_by(build_up, JOISTS)
    below = build_up.layers[build_up.layers.index(joists) + 1 :] if joists else ()
    elements: list[str] = []
    at = under
    for layer in below:
        if layer.measured_by == "membrane with laps":
            elements += view.lines([(0.0, at, view.house.span, at)], width=MEMBRANE, dash="1.2 0.5")
        elif layer.measured_by in ("sheets", "area"):
            thick = view.depth(layer)
            elements += view.cut(view.level(0.0, view.house.span, at, at - thick), layer)
            at -= thick
    return elements


def _bearers(view: SectionView, build_up: BuildUp, under: float) -> list[str]:
    """Return the bearers cut, and the stumps and pads under them, seen beyond."""
    house, frame = view.house, view.result.measured.floor_frame
    if frame is None or layer_measured_by(build_up, BEARERS) is None:
        return []
    foot = under - house.bearer_depth
    elements: list[str] = []
    places = dict.fromkeys(
        round(m.z, 6) for m in frame.bearers if abs(m.s - view.line.x) <= m.length / 2 + 1e-6
    )
    stumps = layer_measured_by(build_up, "stump length")
    if stumps is not None:
        over = depth_over_stumps(house, build_up, view.library.materials)
        long = stump_length(house, build_up, view.library.materials)
        half = (view.material(stumps).width or 0.1) / 2
        pad = house.pad_width / 2
        for y in places:
            elements += draw_cut(
                view.level(y - pad, y + pad, -over - long, -over - long - house.pad_depth),
                "concrete",
                weight=OUTLINE,
            )
            stump = view.box(y - half, y + half, -over - long, -over)
            elements.append(path(through(stump, closed=True), width=EDGE, fill=WHITE))
    for y in places:
        half = house.bearer_thickness / 2
        elements += view.timber(view.box(y - half, y + half, foot, under))
    return elements


def floor_foot(view: SectionView) -> float:
    """Return the height of the lowest thing drawn of the floor [m]."""
    house = view.house
    if view.result.measured.floor_frame is not None:
        return -house.floor_above_ground - house.footing_depth
    build_up = view.design.build_ups[house.floor]
    fill = slab_thickness(build_up, view.library) + sum(
        layer.thickness or view.material(layer).thickness or 0.0
        for layer in build_up.layers
        if layer.measured_by in ("within edge beams", "area", "sheets")
    )
    return -max(house.edge_beam_depth, fill)
