"""External walls in section: frame with its sticks, insulation, linings, cladding with its cavity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.build_up_hatches import blank
from takeoff.documents.drawings.section_line import RoomCut
from takeoff.documents.drawings.section_view import MEMBRANE, SectionView, crossing
from takeoff.documents.drawings.svg import CUT, OUTLINE, path, through
from takeoff.framing.walls import WallFrame
from takeoff.measure.cladding import cladding_regions
from takeoff.measure.face_layers import batten_places
from takeoff.measure.linings import finish_layers, wall_linings
from takeoff.model.geometry import Face, what_is_left
from takeoff.model.house import BuildUp, Layer, Opening, Side

_AIR = frozenset({"still air layer", "ventilated air layer"})


@dataclass(frozen=True, slots=True)
class CutWall:
    """The low or the high wall: which way is in, and what is cut out of it."""

    view: SectionView
    side: Side
    opening: Opening | None
    room: RoomCut

    def y(self, inwards: float) -> float:
        """Return y at a distance inwards from the outside face of the frame [m]."""
        return inwards if self.side == "low" else self.view.house.span - inwards

    def stretches(self, foot: float, head: float) -> list[tuple[float, float]]:
        """Return the heights between which the wall stands, the opening left out [m]."""
        cut = [(self.opening.sill, self.opening.head)] if self.opening else []
        return what_is_left(foot, head, cut)

    @property
    def frame(self) -> WallFrame:
        """Its frame."""
        return next(f for f in self.view.result.measured.wall_frames if f.side == self.side)

    @property
    def s(self) -> float:
        """The place of the cut along its frame [m]."""
        along = self.view.line.x if self.side == "low" else self.view.house.length - self.view.line.x
        return along - self.frame.start

    @property
    def top(self) -> float:
        """Height of the top plate at the outside face [m]."""
        return self.view.under_rafters(self.y(0.0))


def draw_wall(wall: CutWall) -> list[str]:
    """Return one external wall cut, from the frame to both faces."""
    view = wall.view
    build_up = view.design.build_ups[view.house.external_wall]
    index = build_up.frame_index() or 0
    return [
        *_cladding(wall, build_up.layers[:index]),
        *_frame(wall, build_up),
        *_inside(wall, build_up),
        *_faces(wall),
    ]


def _frame(wall: CutWall, build_up: BuildUp) -> list[str]:
    """Return the frame: insulation between the studs, and every level stick that is cut."""
    view, depth = wall.view, wall.view.house.stud_depth
    y1, y2 = wall.y(0.0), wall.y(depth)
    infill = next((layer for layer in build_up.layers if layer.measured_by == "between studs"), None)
    elements: list[str] = []
    for foot, head in wall.stretches(0.0, wall.top):
        at_top = abs(head - wall.top) < 1e-9
        corners = view.under_slope(y1, y2, foot) if at_top else view.box(y1, y2, foot, head)
        elements += [blank(corners)] if infill is None else view.cut(corners, infill)
    for number, member in enumerate(crossing(wall.frame.members, wall.s), start=1):
        tall = member.depth if member.use == "lintel" else member.thickness
        foot, head = member.z - tall / 2, member.z + tall / 2
        top_plate = member.use == "top plate" and head > wall.top - 1e-6
        # the head of the uppermost plate is splayed to the rafters
        corners = view.under_slope(y1, y2, foot) if top_plate else view.box(y1, y2, foot, head)
        elements += view.timber(corners, id=view.id(f"{wall.side}-stick-{number}"))
    outline = view.under_slope(y1, y2, 0.0)
    elements.append(path(through(outline, closed=True), width=0.05, id=view.id(f"frame-{wall.side}")))
    return elements


def _cladding(wall: CutWall, before: tuple[Layer, ...]) -> list[str]:
    """Return what lies outside the frame: layers of the wall before it, then the cladding, region by region."""
    view = wall.view
    elements: list[str] = []
    number = 0
    for name, _, face in cladding_regions(view.design, wall.side):
        layers = (*view.design.build_ups[name].layers, *before)
        out = 0.0
        for layer in reversed(layers):
            thick = view.depth(layer)
            for foot, head in wall.stretches(face.bottom, face.top_left):
                number += 1
                top = min(head, view.under_rafters(wall.y(-out - thick)) - _soffit(view))
                elements += _skin(
                    wall, layer, out, thick, (foot, top), face, id=view.id(f"skin-{wall.side}-{number}")
                )
            out += thick
    return elements


def _soffit(view: SectionView) -> float:
    """Return the thickness of the soffit under the rafters [m]."""
    roof = view.design.build_ups[view.house.roof]
    return sum(
        view.material(layer).thickness or 0.0 for layer in roof.layers if layer.measured_by == "soffits"
    )


def _skin(
    wall: CutWall,
    layer: Layer,
    out: float,
    thick: float,
    heights: tuple[float, float],
    face: Face,
    *,
    id: str,
) -> list[str]:
    """Return one layer outside the frame between two heights."""
    view, (foot, head) = wall.view, heights
    y1, y2 = wall.y(-out), wall.y(-out - thick)
    if head <= foot:
        return []
    if layer.measured_by == "membrane with laps":
        return view.lines([(y1, foot, y1, head)], width=MEMBRANE, dash="1.2 0.5")
    if thick <= 0:
        return []
    corners = view.box(y1, y2, foot, head)
    if layer.measured_by == "battens at spacing":
        return [blank(corners, weight=0.09, id=id), *_battens(wall, layer, (y1, y2), heights, face)]
    if layer.measured_by in _AIR:
        return [blank(corners, weight=0.09, id=id)]
    return view.cut(corners, layer, id=id)


def _battens(
    wall: CutWall, layer: Layer, between: tuple[float, float], heights: tuple[float, float], face: Face
) -> list[str]:
    """Return the level battens that are cut; upright ones are not, or are seen beyond."""
    if layer.direction != "horizontal":
        return []
    view, material = wall.view, wall.view.material(layer)
    half = (material.width or 0.0) / 2
    elements: list[str] = []
    for z in batten_places(layer, material, face):
        if heights[0] - 1e-6 <= z - half and z + half <= heights[1] + 1e-6:
            elements += view.timber(view.box(*between, z - half, z + half))
    return elements


def _inside(wall: CutWall, build_up: BuildUp) -> list[str]:
    """Return what lies inside the frame: layers up to the rafters, then the lining of the room up to its ceiling."""
    view = wall.view
    finishes = finish_layers(build_up, view.library)
    behind = tuple(layer for layer in build_up.inside_layers() if layer not in finishes)
    elements: list[str] = []
    within = view.house.stud_depth
    for layer in behind:
        elements += _lined(wall, layer, behind, within, wall.view.under_rafters(wall.y(within)))
        within += view.depth(layer)
    for lining in wall_linings(view.design, view.library, wall.room.zone.room, build_up):
        for layer in lining.layers:
            top = view.interior.ceiling_at(wall.room.zone, wall.y(within))
            elements += _lined(wall, layer, lining.layers, within, top)
            within += view.depth(layer)
    return elements


def _lined(wall: CutWall, layer: Layer, layers: Sequence[Layer], within: float, top: float) -> list[str]:
    """Return one layer inside the frame, up to a height."""
    view, thick = wall.view, wall.view.depth(layer)
    foot = max(layer.bottom or 0.0, 0.0)
    head = min(layer.top, top) if layer.top is not None else top
    y1, y2 = wall.y(within), wall.y(within + thick)
    elements: list[str] = []
    for start, end in wall.stretches(foot, head):
        if layer.measured_by == "membrane with laps":
            elements += view.lines([(y1, start, y1, end)], width=MEMBRANE, dash="1.2 0.5")
        elif layer.measured_by == "battens at spacing":
            infill = next((each for each in layers if each.measured_by == "between battens"), None)
            corners = view.box(y1, y2, start, end)
            elements += [blank(corners)] if infill is None else view.cut(corners, infill)
            face = Face(1.0, 0.0, head, head)
            elements += _battens(wall, layer, (y1, y2), (start, end), face)
        elif thick > 0:
            elements += view.cut(view.box(y1, y2, start, end), layer)
    return elements


def _faces(wall: CutWall) -> list[str]:
    """Return the outside face of the cladding and the finished face in the room as cut lines."""
    view = wall.view
    room_y = wall.room.start if wall.side == "low" else wall.room.end
    ceiling = view.interior.ceiling_at(wall.room.zone, room_y)
    segments = [(room_y, a, room_y, b) for a, b in wall.stretches(0.0, ceiling)]
    elements = view.lines(segments, width=OUTLINE, id=view.id(f"face-{wall.side}"))
    outer: list[tuple[float, float, float, float]] = []
    for name, _, face in cladding_regions(view.design, wall.side):
        out = wall.y(-outside_depth(wall, name))
        top = min(face.top_left, view.under_rafters(out) - _soffit(view))
        outer += [(out, a, out, b) for a, b in wall.stretches(face.bottom, top)]
    return [*elements, *view.lines(outer, width=CUT, id=view.id(f"outside-{wall.side}"))]


def outside_depth(wall: CutWall, cladding: str) -> float:
    """Return how far a cladding stands out from the outside face of the frame [m]."""
    view = wall.view
    build_up = view.design.build_ups[view.house.external_wall]
    before = build_up.layers[: build_up.frame_index() or 0]
    layers = (*view.design.build_ups[cladding].layers, *before)
    return sum(view.depth(layer) for layer in layers)
