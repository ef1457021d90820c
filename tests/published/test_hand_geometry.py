"""Hand calculation of a rectangular single-pitch house, written out as arithmetic (derived).

The figures follow from school geometry; tolerance 0.005, the rounding to two places with which they are quoted.
"""

import math
from dataclasses import replace

import pytest

from takeoff.framing.roof import frame_roof
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import frame_wall
from takeoff.measure.face_layers import batten_strips
from takeoff.measure.floor import edge_beam_length, measure_floor
from takeoff.measure.roof import measure_roof, roof_surface
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
        (12, 1.0223),
        (15, 1.0353),
        (18, 1.0515),
        (22.5, 1.0824),
        (30, 1.1547),
    ],
)
def test_slope_factor_is_the_secant_of_the_pitch(bare_house, pitch, factor):
    assert geometry.slope_factor(bare_house(pitch=float(pitch)).house) == pytest.approx(factor, abs=0.00005)


@pytest.mark.parametrize(
    ("rise_in_12", "factor"),
    [(2, 1.0138), (3, 1.0308), (4, 1.0541), (5, 1.0833), (6, 1.1180), (8, 1.2019), (12, 1.4142)],
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


def test_floor_lost_to_250_mm_walls(bare_house):
    # 12.0 x 7.2 = 86.4 outside; 11.5 x 6.7 = 77.05 inside
    house = bare_house().house
    assert geometry.outside_area(house) == pytest.approx(86.4)
    assert geometry.inside_area(house, 0.25) == pytest.approx(11.5 * 6.7) == pytest.approx(77.05)


def test_volume_under_the_roof(bare_house):
    # 86.4 x (2.700 + 3.330) / 2 = 260.49
    assert geometry.enclosed_volume(bare_house().house) == pytest.approx(86.4 * 3.015, abs=0.01)


def test_a_length_that_is_no_multiple_of_the_centres_needs_its_last_stud():
    # common practice, no source: ceil(3.7 / 0.6) + 1 = 8; floor(3.7 / 0.6) + 1 = 7 leaves the end open
    assert len(stud_positions(3.7, spacing=0.6, thickness=0.045)) == math.ceil(3.7 / 0.6) + 1 == 8
    # 3.62: the rule of thumb asks for 8 as well, but from the stud at 3.00 to the centre of the last one at
    # 3.5975 it is less than 600: 7 stand within their centres
    assert len(stud_positions(3.62, spacing=0.6, thickness=0.045)) == math.ceil(3.62 / 0.6) == 7


def test_plates_of_the_12_by_7_2_m_house(bare_house):
    # one bottom and two top plates. Through walls 12.0 each; side walls between them 7.2 - 2 x 0.17 = 6.86,
    # top plates on the rake 6.86 / cos 5 = 6.886
    design = bare_house(stud_depth=0.17)
    plates = {
        side: [
            m.length
            for m in frame_wall(design, side, material="x").members
            if m.use in ("bottom plate", "top plate")
        ]
        for side in ("low", "high", "left", "right")
    }
    assert plates["low"] == plates["high"] == pytest.approx([12.0, 12.0, 12.0])
    assert plates["left"] == plates["right"] == pytest.approx([6.86, 6.886, 6.886], abs=0.0005)


def test_studs_of_the_two_long_walls(bare_house):
    # low wall 2.700 - 3 plates of 0.045 = 2.565; high wall 3.330 - 0.135 = 3.195
    lengths = [
        {round(m.length, 3) for m in frame_wall(bare_house(), side, material="x").members if m.use == "stud"}
        for side in ("low", "high")
    ]
    assert lengths == [{2.565}, {3.195}]


def test_rafters_of_the_12_by_7_2_m_house(bare_house):
    # 12.0 at 600: 21; over a support line at 3.6: (0.6 + 3.6) / cos 5 = 4.216 twice
    frame = frame_roof(bare_house(rafter_spacing=0.6, support_lines=(3.6,)).house, material="x")
    rafters = [m.length for m in frame.members if m.use == "rafter"]
    assert len(rafters) == 2 * 21
    assert rafters == pytest.approx([4.216] * 42, abs=0.0005)


def test_roof_battens_on_the_slope(job, bare_house):
    # 8.432 on the slope at 900: ceil(8.432 / 0.9) + 1 = 11 rows of 12.9 m
    build_up = job.design.build_ups[job.design.house.roof]
    layer = next(each for each in build_up.layers if each.measured_by == "battens at spacing")
    surface = roof_surface(bare_house().house)
    strips = batten_strips(replace(layer, spacing=0.9), job.library.materials[layer.material], (surface,))
    assert len(strips) == math.ceil(8.432 / 0.9) + 1 == 11
    assert sum(strip.length for strip in strips) == pytest.approx(11 * 12.9)


def test_edge_beams_and_slab(job, bare_house):
    # centre line of beams 0.30 wide: 2 x (12.0 + 7.2) - 4 x 0.30 = 37.20; 0.10 slab 8.64 m3; 0.50 deep beams
    # 0.40 below it: 37.20 x 0.30 x 0.40 = 4.464
    design = bare_house(edge_beam_width=0.3, edge_beam_depth=0.5)
    assert edge_beam_length(design.house) == pytest.approx(37.20)
    build_up = job.design.build_ups[design.house.floor]
    layers = tuple(
        replace(layer, thickness=0.1) if layer.measured_by == "poured" else layer for layer in build_up.layers
    )
    design = replace(design, build_ups={**design.build_ups, build_up.name: replace(build_up, layers=layers)})
    concrete = next(
        q for q in measure_floor(design, job.library) if q.unit == "m3" and "oncrete" in q.material
    )
    assert concrete.net == pytest.approx(8.64 + 4.464)


def test_soffits_are_the_slope_outside_the_outline(job, bare_house):
    # 108.77 - 12.0 x 7.2 / cos 5 = 108.77 - 86.73 = 22.04
    design = bare_house()
    roof = frame_roof(design.house, material="Softwood rafters, structural")
    soffit = next(q for q in measure_roof(design, job.library, roof) if q.id.startswith("RF.soffits"))
    assert soffit.net == pytest.approx(22.04, abs=TWO_PLACES)
