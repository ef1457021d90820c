"""Hand calculation of a rectangular single-pitch house, written out as arithmetic (derived).

The figures follow from school geometry; tolerance 0.005, the rounding to two places with which they are quoted.
"""

import math

import pytest

from takeoff.framing.walls import frame_wall
from takeoff.model import geometry

TWO_PLACES = 0.005


def test_faces_of_the_12_by_7_2_m_house(bare_house):
    house = bare_house().house
    rise = 7.2 * math.tan(math.radians(5))
    assert rise == pytest.approx(0.630, abs=0.0005)
    areas = {side: geometry.wall_face(house, side).area for side in ("low", "high", "left", "right")}
    assert areas["low"] == pytest.approx(12.0 * 2.7, abs=TWO_PLACES) == pytest.approx(32.40)
    assert areas["high"] == pytest.approx(39.96, abs=TWO_PLACES)
    assert areas["left"] == areas["right"] == pytest.approx(21.71, abs=TWO_PLACES)
    assert sum(areas.values()) == pytest.approx(115.77, abs=TWO_PLACES)
    assert sum(areas.values()) == pytest.approx(38.4 * (2.7 + rise / 2))


def test_roof_of_the_12_by_7_2_m_house(bare_house):
    house = bare_house().house
    assert geometry.slope_length(house) == pytest.approx(8.432, abs=0.0005)
    assert geometry.roof_area(house) == pytest.approx(8.432 * 12.9, abs=0.01)
    assert geometry.roof_area(house) == pytest.approx(108.77, abs=TWO_PLACES)
    bare = bare_house(overhang_low=0.0, overhang_high=0.0, overhang_left=0.0, overhang_right=0.0).house
    assert geometry.roof_area(bare) == pytest.approx(86.73, abs=TWO_PLACES)


@pytest.mark.parametrize(("pitch", "wall"), [(3, 110.9), (5, 115.8), (10, 128.1), (15, 140.7)])
def test_pitch_is_mostly_a_wall_decision(bare_house, pitch, wall):
    assert geometry.gross_wall_area(bare_house(pitch=float(pitch)).house) == pytest.approx(wall, abs=0.05)


@pytest.mark.parametrize(("aspect", "wall"), [(1.0, 110.6), (1.25, 109.8), (2.0, 113.0), (3.0, 120.9)])
def test_the_squarest_plan_of_80_m2_is_not_the_leanest(bare_house, aspect, wall):
    span = math.sqrt(80 / aspect)
    house = bare_house(length=80 / span, span=span).house
    assert geometry.gross_wall_area(house) == pytest.approx(wall, abs=0.05)


@pytest.mark.parametrize(
    ("pitch", "factor"),
    [
        (3, 1.0014),
        (5, 1.0038),
        (7.5, 1.0086),
        (10, 1.0154),
        (15, 1.0353),
        (18, 1.0515),
        (22.5, 1.0824),
        (30, 1.1547),
    ],
)
def test_slope_factor_is_the_secant_of_the_pitch(bare_house, pitch, factor):
    assert geometry.slope_factor(bare_house(pitch=float(pitch)).house) == pytest.approx(factor, abs=0.00005)


@pytest.mark.parametrize(
    ("rise_in_12", "factor"), [(2, 1.0138), (3, 1.0308), (4, 1.0541), (5, 1.0833), (6, 1.1180), (8, 1.2019)]
)
def test_slope_factor_by_rise_in_twelve(bare_house, rise_in_12, factor):
    pitch = math.degrees(math.atan(rise_in_12 / 12))
    assert geometry.slope_factor(bare_house(pitch=pitch).house) == pytest.approx(factor, abs=0.00005)


@pytest.mark.parametrize(("spacing", "studs"), [(0.450, 28), (0.600, 21)])
def test_studs_of_a_12_m_wall_without_openings(bare_house, spacing, studs):
    frame = frame_wall(bare_house(stud_spacing=spacing), "low", material="Softwood framing, structural")
    common = [m for m in frame.members if m.use == "stud"]
    corner = [m for m in frame.members if m.use == "corner stud"]
    # corner studs take the place of grid studs that they would overlap, here of none
    assert len(common) == studs
    assert len(corner) == 2 * 2


def test_floor_lost_to_250_mm_walls():
    # 12.0 x 7.2 = 86.4 outside; 11.5 x 6.7 = 77.05 inside
    from takeoff.model.geometry import inside_area

    class Plan:
        length, span = 12.0, 7.2

    assert inside_area(Plan, 0.25) == pytest.approx(11.5 * 6.7) == pytest.approx(77.1, abs=0.06)
