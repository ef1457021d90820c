"""Peterson's textbook exercises on roof framing (chapter 8), with a student's key and a published solution page.

Standing: inputs and results read, recomputed. The book's rafters reach to the long point of the plumb cut; ours are
measured along one edge, so that depth x tan(pitch) is added. Lengths are ordered in whole feet.
"""

import math

import pytest

from takeoff.framing.roof import frame_roof
from takeoff.measure.strips import strip_count
from takeoff.model.geometry import roof_area

FOOT = 0.3048


@pytest.mark.parametrize(
    ("span", "overhang", "rise_in_12", "depth", "published"),
    [
        # 6 in 12, span 30 ft, overhang 18 in, 2 x 8: 16.5 x 1.118 + 7.25 / 12 x 0.5 = 18.75, so 19 ft
        (30.0, 1.5, 6, 7.25, 19),
        # 4 in 12, span 18 ft, overhang 12 in, 2 x 6: 10 x 1.0541 + 5.5 / 12 / 3 = 10.69, so 11 ft
        (18.0, 1.0, 4, 5.5, 11),
    ],
)
def test_rafters(bare_house, span, overhang, rise_in_12, depth, published):
    # one slope of that gable roof is a single pitch over half the span, with one overhang
    house = bare_house(
        span=span / 2 * FOOT,
        pitch=math.degrees(math.atan(rise_in_12 / 12)),
        overhang_low=overhang * FOOT,
        overhang_high=0.0,
        support_lines=(),
    ).house
    lengths = {m.length for m in frame_roof(house, material="x").members if m.use == "rafter"}
    rafter = max(lengths) / FOOT
    assert math.ceil(rafter + depth / 12 * rise_in_12 / 12) == published


def test_sheathing_of_an_office_roof(bare_house):
    # eaves plan 75'-4" x 53'-4", slope factor 1.12: 4499.9 sq ft, printed 4499
    house = bare_house(
        length=(75 + 4 / 12) * FOOT,
        span=(53 + 4 / 12) * FOOT,
        pitch=math.degrees(math.acos(1 / 1.12)),
        overhang_low=0.0,
        overhang_high=0.0,
        overhang_left=0.0,
        overhang_right=0.0,
    ).house
    assert roof_area(house) / FOOT**2 == pytest.approx(4499, abs=1.0)


def test_backing_pieces_from_8_ft_boards():
    # five pieces of 1'-5" from one board (96 / 17 = 5.6), 118 pieces: 23.6, so 24 boards
    assert 96 // 17 == 5
    assert strip_count(118, 5) == 24
