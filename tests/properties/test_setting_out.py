"""Setting-out rules that must hold for any wall: centres, clear heights, openings on the grid, cut lengths."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.framing.openings import on_grid, opening_problems
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import frame_wall
from takeoff.measure.strips import level_strips, upright_strips
from takeoff.model.geometry import Face, Void, wall_face
from takeoff.model.house import SIDES

SOME = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
FULL_HEIGHT = ("stud", "corner stud", "jamb stud")


@given(
    length=st.integers(1000, 25000).map(lambda mm: mm / 1000),
    spacing=st.sampled_from([0.3, 0.4, 0.45, 0.6]),
    thickness=st.sampled_from([0.035, 0.045]),
)
def test_number_of_studs_by_the_centres(length, spacing, thickness):
    """The trade's count is ceil(length / centres) + 1. The last stud is flush with the end, so that its
    centre lies half a stud inside: a remainder up to half a stud thickness needs no stud more."""
    studs = len(stud_positions(length, spacing=spacing, thickness=thickness))
    assert studs == math.ceil((length - thickness / 2) / spacing - 1e-9) + 1
    remainder = length - math.floor(length / spacing + 1e-9) * spacing
    if remainder < 1e-6 or remainder > thickness / 2 + 1e-6:
        assert studs == math.ceil(length / spacing - 1e-9) + 1


@given(data=st.data())
@SOME
def test_openings_moved_on_to_the_grid_still_fit_and_move_half_a_spacing_at_most(houses, data):
    design = data.draw(houses())
    placed = on_grid(design)
    assert not opening_problems(placed)
    assert [o.mark for o in placed.openings] == [o.mark for o in design.openings]
    for before, after in zip(design.openings, placed.openings, strict=True):
        assert abs(after.position - before.position) <= design.stud_spacing / 2 + 1e-9
        assert (after.width, after.height, after.sill) == (before.width, before.height, before.sill)


@given(data=st.data())
@SOME
def test_full_height_studs_stand_no_further_apart_than_the_centres_but_at_openings(houses, data):
    design = on_grid(data.draw(houses()))
    thickness = design.house.stud_thickness
    for side in SIDES:
        frame = frame_wall(design, side, material="x")
        centres = sorted(m.s for m in frame.members if m.use in FULL_HEIGHT)
        assert centres[0] == pytest.approx(thickness / 2)
        assert centres[-1] == pytest.approx(frame.face.width - thickness / 2)
        for left, right in pairwise(centres):
            if any(left < f.opening.right and right > f.opening.position for f in frame.openings):
                continue
            # a stud gives way to a corner or jamb stud less than its thickness away, perhaps at both ends
            assert right - left < design.stud_spacing + 2 * thickness + 1e-9


@given(data=st.data())
@SOME
def test_nogging_rows_leave_no_clear_height_over_the_limit(houses, data):
    design = on_grid(data.draw(houses()))
    limit, thickness = design.practice.nogging_spacing, design.house.stud_thickness
    for side in SIDES:
        frame = frame_wall(design, side, material="x")
        noggings = [m for m in frame.members if m.use == "nogging"]
        centres = sorted(m.s for m in frame.members if m.use in FULL_HEIGHT)
        for left, right in pairwise(centres):
            gap = right - left - thickness
            if gap <= 0.02 or any(
                left < f.opening.right and right > f.opening.position for f in frame.openings
            ):
                continue
            middle = (left + right) / 2
            in_bay = sorted(m.z for m in noggings if abs(m.s - middle) < 1e-9)
            slope = 1.0 if side in ("low", "high") else 1 / math.cos(math.radians(design.house.pitch))
            foot = design.practice.bottom_plates * thickness
            head = max(frame.face.top_at(left + thickness / 2), frame.face.top_at(right - thickness / 2))
            head -= design.practice.top_plates * thickness * slope
            clear = [upper - lower for lower, upper in pairwise([foot, *in_bay, head])]
            assert max(clear) <= limit + 1e-6
            assert all(m.length == pytest.approx(gap) for m in noggings if abs(m.s - middle) < 1e-9)


@given(data=st.data())
@SOME
def test_studs_of_a_raking_wall_lengthen_evenly_with_the_rake(houses, data):
    design = on_grid(data.draw(houses(0)))
    slope = math.tan(math.radians(design.house.pitch))
    for side in ("left", "right"):
        frame = frame_wall(design, side, material="x")
        studs = sorted((m.s, m.length) for m in frame.members if m.use == "stud")
        for (near, short), (far, long) in pairwise(studs):
            assert abs(long - short) == pytest.approx((far - near) * slope, abs=1e-9)
    low, high = (frame_wall(design, side, material="x") for side in ("low", "high"))
    rise = design.house.span * slope
    lengths = [{round(m.length, 9) for m in f.members if m.use == "stud"} for f in (low, high)]
    assert [len(each) for each in lengths] == [1, 1]
    assert lengths[1].pop() - lengths[0].pop() == pytest.approx(rise, abs=1e-6)


@given(data=st.data(), cover=st.floats(0.08, 1.2))
@SOME
def test_boards_cut_to_a_face_overrun_it_by_the_rake_and_one_ripped_board_only(houses, data, cover):
    """Without openings, what is cut is at most one cover along the far edge and half a cover's rake a
    board more than the face: no board is lost, none is cut twice."""
    face = wall_face(data.draw(houses(0)).house, data.draw(st.sampled_from(SIDES)))
    rise = abs(face.top_right - face.top_left)
    highest = max(face.top_left, face.top_right) - face.bottom
    upright = sum(s.length for s in upright_strips(face, (), cover=cover)) * cover
    level = sum(s.length for s in level_strips(face, (), cover=cover)) * cover
    for cut, edge in ((upright, highest), (level, face.width)):
        assert cut >= face.area - 1e-9
        boards = math.ceil((face.width if cut is upright else highest) / cover - 1e-9)
        run = rise if cut is upright else (face.width if rise else 0.0)
        assert cut <= face.area + cover * edge + cover * run + boards * 1e-9


@given(data=st.data())
@SOME
def test_a_void_changes_only_the_strips_it_takes_whole(data):
    width = data.draw(st.floats(2.0, 12.0))
    face = Face(width, 0.0, 2.7, 2.7)
    cover = data.draw(st.floats(0.1, 0.9))
    void = Void(data.draw(st.floats(0.1, 1.0)), 0.9, data.draw(st.floats(0.1, 0.9)), 1.2, "W")
    whole = sum(s.length for s in upright_strips(face, (), cover=cover))
    cut = sum(s.length for s in upright_strips(face, (void,), cover=cover))
    taken = sum(
        1
        for n in range(math.ceil(width / cover))
        if void.left <= n * cover + 1e-9 and min((n + 1) * cover, width) <= void.right + 1e-9
    )
    assert whole - cut == pytest.approx(taken * void.height)
