"""Every stick of random walls drawn as a shapely polygon: what general plane geometry says of the frame.

Sticks are measured to their longest point, so that a stud under a raking plate reaches into it by a
triangle of thickness x thickness x tan(pitch) / 2: the only overlap allowed.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from shapely.strtree import STRtree

from takeoff.framing.openings import on_grid
from takeoff.framing.walls import WallFrame, frame_wall
from takeoff.model.house import SIDES, Design

SOME = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def outline(frame: WallFrame) -> list[tuple[str, Polygon]]:
    """Return (use, polygon) of every stick that shows in elevation."""
    angle = math.degrees(math.atan2(frame.face.top_right - frame.face.top_left, frame.face.width))
    shown = []
    for member in frame.members:
        if not member.seen_width:
            continue
        along, across = member.length / 2, member.seen_width / 2
        if member.run == "upright":
            shape = box(member.s - across, member.z - along, member.s + across, member.z + along)
        elif member.run == "level":
            shape = box(member.s - along, member.z - across, member.s + along, member.z + across)
        else:
            upright = across / math.cos(math.radians(angle))
            level = box(member.s - along, member.z - upright, member.s + along, member.z + upright)
            shape = _raked(level, angle, member.s, member.z) if angle else level
        shown.append((member.use, shape))
    return shown


def _raked(level: Polygon, angle: float, s: float, z: float) -> Polygon:
    """Return a raking plate, cut upright at its ends."""
    slope = math.tan(math.radians(angle))
    cosine = math.cos(math.radians(angle))
    return Polygon([(s + (x - s) * cosine, y + (x - s) * cosine * slope) for x, y in level.exterior.coords])


def frames_of(design: Design) -> list[WallFrame]:
    placed = on_grid(design)
    return [frame_wall(placed, side, material="Softwood framing, structural") for side in SIDES]


def triangle(design: Design) -> float:
    """The overlap that measuring to the longest point gives [m2]."""
    return design.house.stud_thickness**2 * math.tan(math.radians(design.house.pitch)) / 2


@given(data=st.data())
@SOME
def test_no_two_sticks_take_the_same_place(houses, data):
    design = data.draw(houses())
    for frame in frames_of(design):
        sticks = outline(frame)
        tree = STRtree([shape for _, shape in sticks])
        allowed = 2.01 * triangle(design) + 1e-7
        for index, (use, shape) in enumerate(sticks):
            for other in tree.query(shape):
                if other > index:
                    shared = shape.intersection(sticks[other][1]).area
                    assert shared <= allowed, (frame.side, use, sticks[other][0], shared)


@given(data=st.data())
@SOME
def test_every_stick_lies_in_its_face_and_in_no_opening(houses, data):
    design = data.draw(houses())
    for frame in frames_of(design):
        face = frame.face
        whole = Polygon([(0, 0), (face.width, 0), (face.width, face.top_right), (0, face.top_left)])
        for use, shape in outline(frame):
            assert shape.difference(whole.buffer(1e-7)).area <= 2.01 * triangle(design), use
            for framed in frame.openings:
                o = framed.opening
                void = box(o.position, o.sill, o.right, o.head)
                assert shape.intersection(void).area <= 1e-7, (use, o)


@given(data=st.data())
@SOME
def test_timber_seen_is_the_union_of_the_sticks(houses, data):
    design = data.draw(houses())
    for frame in frames_of(design):
        sticks = outline(frame)
        union = unary_union([shape for _, shape in sticks]).area
        slack = (len(sticks) + 2) * 3 * triangle(design) + 1e-6
        assert frame.timber_area == pytest.approx(union, abs=slack)
