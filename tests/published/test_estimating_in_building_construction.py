"""Dagostino and Peterson, *Estimating in Building Construction*, chapter 13, examples 13-10 to 13-17.

Standing: rules and inputs read; results read and recomputed. Counts are exact.
"""

import math

import pytest

from takeoff.framing.studs import stud_positions

FOOT = 0.3048
INCH = FOOT / 12
STUD = 1.5 * INCH


def test_example_13_11_studs_of_148_ft_at_16_in():
    # 148 ft x 0.75 spaces a foot = 111 spaces, so 112 studs
    assert len(stud_positions(148 * FOOT, spacing=16 * INCH, thickness=STUD)) == 148 * 0.75 + 1 == 112


def test_example_13_15_studs_of_a_24_ft_gable():
    # 24 ft x 0.75 = 18 spaces, so 19 studs. The book then takes 2/3 of the rise as mean height; ours
    # are cut one by one, so only the count is compared.
    assert len(stud_positions(24 * FOOT, spacing=16 * INCH, thickness=STUD)) == 19


def test_example_13_12_extra_studs_at_four_corners(bare_house):
    # a three-stud corner is two studs more: 4 corners x 2 = 8
    from takeoff.framing.walls import frame_wall

    design = bare_house()
    assert design.practice.corner_studs == 2
    extra = [
        member
        for side in ("low", "high", "left", "right")
        for member in frame_wall(design, side, material="x").members
        if member.use == "corner stud"
    ]
    assert len(extra) == 4 * 2


def test_example_13_10_plates_are_perimeter_times_number(bare_house):
    # 148 ft of perimeter, one sole and two top plates: 148 + 296 ft. The book measures round the outside;
    # our side walls stand between the others, so each of their plates is two stud depths shorter.
    from takeoff.framing.walls import frame_wall

    design = bare_house(length=44 * FOOT, span=30 * FOOT, pitch=1.0)
    level = {"bottom plate": 0.0, "top plate": 0.0}
    for side in ("low", "high", "left", "right"):
        for member in frame_wall(design, side, material="x").members:
            if member.use in level:
                slope = math.cos(math.radians(1.0)) if member.run == "rake" else 1.0
                level[member.use] += member.length * slope
    assert 2 * (44 + 30) == 148
    short = 4 * design.house.stud_depth
    assert level["bottom plate"] == pytest.approx(148 * FOOT - short)
    assert level["top plate"] == pytest.approx(296 * FOOT - 2 * short)


def test_example_13_17_sheets_by_area():
    # 148 x 8 = 1184, two gables 0.5 x 24 x 3 = 72: 1256 sq ft / 32 = 39.25, so 40 sheets
    assert math.ceil((148 * 8 + 2 * 0.5 * 24 * 3) / 32) == 40
    from takeoff.model.geometry import Face

    wall = Face(148 * FOOT, 0.0, 8 * FOOT, 8 * FOOT)
    half_gable = Face(12 * FOOT, 0.0, 0.0, 3 * FOOT)
    assert math.ceil((wall.area + 4 * half_gable.area) / (32 * FOOT**2) - 1e-9) == 40
