"""Dagostino and Peterson, *Estimating in Building Construction*, chapter 13 (pages 156 to 163), chapter 16 (page 199).

Standing: rules and inputs read; results read and recomputed. Counts are exact.
"""

import math

import pytest

from takeoff.cutting.allowance import order_factor
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import frame_wall
from takeoff.measure.strips import strip_count
from takeoff.model.geometry import Face

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
    wall = Face(148 * FOOT, 0.0, 8 * FOOT, 8 * FOOT)
    half_gable = Face(12 * FOOT, 0.0, 0.0, 3 * FOOT)
    assert math.ceil((wall.area + 4 * half_gable.area) / (32 * FOOT**2) - 1e-9) == 40


def test_example_13_15_sticks_of_a_gable_cut_one_by_one():
    # rise 3 ft: the book takes 2/3 of it, 2 ft, as mean height: a 10 ft stick gives 5, two gables of 19 take
    # 19 x 2 / 5 = 7.6, so 8 sticks. The mean height of a triangle is half its rise: cut one by one, the 19 studs
    # of one gable are 27 ft together, where the book's mean makes 38. We cut one by one and do not follow it.
    half = Face(12 * FOOT, 0.0, 0.0, 3 * FOOT)
    heights = [half.top_at(min(s, 24 * FOOT - s)) / FOOT for s in (n * 16 * INCH for n in range(19))]
    assert strip_count(19 * 2, 10 / (2 / 3 * 3)) == 8
    assert sum(heights) == pytest.approx(18 * 3 / 2) == pytest.approx(27)


def test_chapter_16_studs_and_track_with_wastage():
    # metal studs, the same arithmetic: 246 + 13 x 3 + 11 x 2 + 4 x 2 = 315, 5 % on net: 330.75, so 331
    studs = 246 + 13 * 3 + 11 * 2 + 4 * 2
    assert studs == 315
    assert math.ceil(studs * order_factor(0.05, "net")) == 331
    # track 2 x 325'-4" and 8 %, in lengths of 20 ft: 35.1, so 36; 2 x 20'-8" and 8 %: 2.2, so 3
    assert strip_count(2 * (325 + 4 / 12) * order_factor(0.08, "net"), 20) == 36
    assert strip_count(2 * (20 + 8 / 12) * order_factor(0.08, "net"), 20) == 3
