"""*Modern Carpentry* (Goodheart-Willcox, 2022), chapter 11, pages 269 and 270: counting studs, plates and sheets.

Standing: rules, inputs and results read, recomputed by hand. Counts are exact.
"""

import math
from dataclasses import replace

import pytest

from takeoff.cutting.allowance import order_factor
from takeoff.framing.studs import stud_positions
from takeoff.framing.walls import frame_wall
from takeoff.measure.strips import strip_count

FOOT = 0.3048
INCH = FOOT / 12
STUD = 1.5 * INCH


def test_plates_of_240_ft_of_wall():
    # three plates and 10 % on net: 240 x 3 x 1.10 = 792 ft, 792 / 14 = 56.57, so 57 pieces of 14 ft
    plates = 240 * 3 * order_factor(0.10, "net")
    assert plates == pytest.approx(792)
    assert strip_count(plates, 14) == 57


def test_studs_of_240_ft_of_wall_at_16_in():
    # the book takes 240 x 3/4 = 180 and leaves the stud that closes the last space to the extra studs;
    # set out stick by stick it is there: 181
    assert len(stud_positions(240 * FOOT, spacing=16 * INCH, thickness=STUD)) == 240 * 3 // 4 + 1


def test_studs_of_240_ft_of_wall_at_24_in():
    # half the length: 120, and the closing stud
    assert len(stud_positions(240 * FOOT, spacing=24 * INCH, thickness=STUD)) == 240 // 2 + 1


def test_two_extra_studs_for_every_corner(bare_house):
    # two for each corner: with 12 corners, 10 junctions and 20 openings 2 x 42 = 84, in all 180 + 84 = 264
    assert 240 * 3 / 4 + 2 * (12 + 10 + 20) == 264
    corners = 4
    extra = [
        member
        for side in ("low", "high", "left", "right")
        for member in frame_wall(bare_house(), side, material="x").members
        if member.use == "corner stud"
    ]
    assert len(extra) == 2 * corners


def test_uprights_at_an_opening_against_two_extra(bare_house, window):
    """The book adds two studs for an opening to a count that runs through it: an allowance. Set out stick by
    stick, an opening 1.20 m wide in studs at 450 brings a jamb stud and a stud under the lintel at each side,
    four, and the grid studs at 3.15, 3.60 and 4.05 m of the frame give way: one more than without it."""

    def uprights(*openings):
        frame = frame_wall(bare_house(openings=openings, stud_spacing=0.45), "left", material="x")
        return sorted(
            (m.use, round(m.s, 3))
            for m in frame.members
            if m.use in ("stud", "jamb stud", "stud under lintel")
        )

    depth = bare_house().house.stud_depth
    with_opening = uprights(window("A", "left", 2.83 + depth, 1.20, 1.20))
    without = uprights()
    assert set(without) - set(with_opening) == {("stud", 3.15), ("stud", 3.60), ("stud", 4.05)}
    assert len(set(with_opening) - set(without)) == 4
    assert len(with_opening) == len(without) + 1


def test_sheets_of_1060_square_feet():
    # 1060 / 32 = 33.1, so 34 sheets of 4 x 8 ft
    assert pytest.approx(33.125) == 1060 / 32
    assert strip_count(1060, 32) == 34 == math.ceil(1060 / 32)


def test_board_feet_of_a_running_foot(bare_house):
    # 2 x 4: 2/3 board foot for one foot of length; 2 x 6: 1 (nominal sizes; one board foot is 144 cubic inches)
    member = next(iter(frame_wall(bare_house(), "low", material="x").members))
    for depth, board_feet in ((4, 2 / 3), (6, 1.0)):
        stick = replace(member, thickness=2 * INCH, depth=depth * INCH, length=FOOT)
        assert stick.volume / (144 * INCH**3) == pytest.approx(board_feet)
