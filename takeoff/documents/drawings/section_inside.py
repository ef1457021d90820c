"""Walls between rooms in section: frames and leaves, packing, linings, doors that are cut."""

from __future__ import annotations

from itertools import pairwise

from takeoff.documents.drawings.build_up_hatches import blank
from takeoff.documents.drawings.section_line import RoomCut
from takeoff.documents.drawings.section_view import SectionView, crossing
from takeoff.documents.drawings.svg import DETAIL, OUTLINE, WHITE, path, through
from takeoff.framing.internal_walls import InternalFrame
from takeoff.model.geometry import what_is_left
from takeoff.model.wall_runs import leaf_depth


def frames_cut(view: SectionView) -> list[InternalFrame]:
    """Return the frames of walls along the eaves that the section cuts, from the low side up."""
    inside = view.result.measured.inside
    level = {run.mark for run in inside.runs if run.axis == "x"}
    cut = [f for f in inside.wall_frames if f.run in level and f.start < view.line.x < f.end]
    return sorted(cut, key=lambda frame: frame.across)


def draw_internal_walls(view: SectionView) -> list[str]:
    """Return every wall between rooms that is cut."""
    elements: list[str] = []
    frames = frames_cut(view)
    for one, other in pairwise(view.line.rooms):
        between = [frame for frame in frames if one.end - 1e-6 < frame.across < other.start + 1e-6]
        if between:
            elements += _wall(view, one, other, between)
    return elements


def _wall(view: SectionView, one: RoomCut, other: RoomCut, frames: list[InternalFrame]) -> list[str]:
    """Return the wall between two rooms: one frame, or the two leaves of a party wall with their packing."""
    build_up = view.design.build_ups[frames[0].build_up]
    half = leaf_depth(build_up) / 2
    infill = next((layer for layer in build_up.layers if layer.measured_by == "between studs"), None)
    door = _head_cut(view, frames[0])
    elements: list[str] = []
    if len(frames) > 1:
        low, high = frames[0].across + half, frames[-1].across - half
        packing = build_up.layers[0]
        elements += view.cut(view.under_slope(low, high, 0.0), packing)
    for frame in frames:
        y1, y2 = frame.across - half, frame.across + half
        top = frame.face.top_at(view.line.x - frame.start)
        to_roof = abs(top - view.under_rafters(frame.across)) < 1e-6
        for foot, head in what_is_left(0.0, top, door):
            whole = to_roof and abs(head - top) < 1e-9
            corners = view.under_slope(y1, y2, foot) if whole else view.box(y1, y2, foot, head)
            elements += [blank(corners)] if infill is None else view.cut(corners, infill)
        for member in crossing(frame.members, view.line.x - frame.start):
            tall = member.depth if member.use == "lintel" else member.thickness
            z1, z2 = member.z - tall / 2, member.z + tall / 2
            splayed = to_roof and member.use == "top plate" and z2 > top - 1e-6
            elements += view.timber(view.under_slope(y1, y2, z1) if splayed else view.box(y1, y2, z1, z2))
        outline = view.under_slope(y1, y2, 0.0) if to_roof else view.box(y1, y2, 0.0, top)
        elements.append(
            path(
                through(outline, closed=True), width=0.05, id=view.id(f"wall-{frame.run}-{frame.across:.3f}")
            )
        )
    faces = ((one, one.end, frames[0].across - half), (other, other.start, frames[-1].across + half))
    for room, face, structure in faces:
        ceiling = view.interior.ceiling_at(room.zone, face)
        for foot, head in what_is_left(0.0, ceiling, door):
            elements += view.filled(view.box(face, structure, foot, head), "gypsum")
            elements += view.lines([(face, foot, face, head)], width=OUTLINE)
    if door:
        elements.append(_doorway(view, one.end, other.start, door[0][1]))
    return elements


def _head_cut(view: SectionView, frame: InternalFrame) -> list[tuple[float, float]]:
    """Return the heights between which a door is cut [m], nothing where the wall is whole."""
    s = view.line.x - frame.start
    return [
        (framed.opening.sill, framed.opening.head)
        for framed in frame.openings
        if framed.opening.position < s < framed.opening.right
    ]


def _doorway(view: SectionView, y1: float, y2: float, head: float) -> str:
    """Return the doorway: its jamb seen beyond."""
    return path(through(view.box(y1, y2, 0.0, head), closed=True), width=DETAIL, fill=WHITE)
