"""Roof sticks and the room under the roof, against plain sums and trimesh."""

from __future__ import annotations

from collections import Counter

import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from takeoff.framing.roof import frame_roof
from takeoff.framing.studs import stud_positions
from takeoff.measure.house import measure_areas
from takeoff.measure.inside import measure_inside
from takeoff.measure.walls import ceiling_drop, wall_inset
from takeoff.model.geometry import inside_face, slope_length

SOME = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


@given(data=st.data())
@SOME
def test_pieces_of_every_rafter_make_the_slope(houses, data):
    house = data.draw(houses(0)).house
    frame = frame_roof(house, material="x")
    for use in ("rafter", "barge rafter"):
        along: Counter[float] = Counter()
        for member in frame.members:
            if member.use == use:
                along[round(member.s, 6)] += member.length
        assert list(along.values()) == pytest.approx([slope_length(house)] * len(along))
        if use == "barge rafter":
            assert len(along) == (house.overhang_left > 0) + (house.overhang_right > 0)
    centres = stud_positions(house.length, spacing=house.rafter_spacing, thickness=house.rafter_thickness)
    assert sorted({round(m.s, 6) for m in frame.members if m.use == "rafter"}) == pytest.approx(centres)


@given(data=st.data())
@SOME
def test_blocking_and_rafters_fill_the_length_over_each_wall(houses, data):
    house = data.draw(houses(0)).house
    frame = frame_roof(house, material="x")
    blocking = [m for m in frame.members if m.use == "blocking"]
    rafters = len({round(m.s, 6) for m in frame.members if m.use == "rafter"})
    rows = 2 + len(house.support_lines) if house.rafter_blocking else 0
    gaps = house.length - rafters * house.rafter_thickness
    # the last gap is left to packing where it is under 20 mm
    assert rows * (gaps - 0.02) - 1e-9 <= sum(m.length for m in blocking) <= rows * gaps + 1e-9


@given(data=st.data())
@SOME
def test_timber_over_the_outline_is_less_than_all_and_never_negative(houses, data):
    house = data.draw(houses(0)).house
    frame = frame_roof(house, material="x")
    level = [m for m in frame.members if m.use in ("rafter", "blocking")]
    assert 0 < frame.timber_area_over_outline <= sum(m.seen_area for m in level) + 1e-9
    assert 0 < frame.framing_fraction < 1


@given(data=st.data())
@SOME
def test_air_in_the_rooms_is_the_body_inside_the_linings(job, houses, data):
    design = data.draw(houses(0))
    inset, drop = wall_inset(design, job.library), ceiling_drop(design, job.library)
    face = inside_face(design.house, "right", wall_inset=inset, ceiling_drop=drop)
    shape = Polygon([(0, 0), (face.width, 0), (face.width, face.top_right), (0, face.top_left)])
    body = trimesh.creation.extrude_polygon(shape, design.house.length - 2 * inset, engine="earcut")
    areas = measure_areas(design, measure_inside(design, job.library))
    assert areas.air_volume == pytest.approx(body.volume)
    assert areas.inside == pytest.approx(face.width * (design.house.length - 2 * inset))
    assert areas.air_volume < areas.enclosed_volume
