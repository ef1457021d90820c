"""Course text for the Australian unit CPCPCM4012 *Estimate and cost work*, page 182: a house of 14.340 x 7.270 m.

Standing: read. Tolerance: the mm, and the second decimal for m2 and money.
"""

import math
from dataclasses import replace

import pytest

from takeoff.framing.walls import frame_wall
from takeoff.model.geometry import outside_area, slope_factor


def plates(design):
    """Return the metres of plates, those on the rake turned level."""
    factor = slope_factor(design.house)
    return sum(
        member.length / (factor if member.run == "rake" else 1.0)
        for side in ("low", "high", "left", "right")
        for member in frame_wall(design, side, material="x").members
        if member.use.endswith("plate")
    )


def test_plates_of_one_bottom_and_one_top(bare_house):
    # 2 x 2 x (14.340 + 7.270) = 86.440 m, ordered as 87 m, at 2.55 a metre 221.85. The text measures round the
    # outside; our side walls stand between the through walls: 4 walls' plates, 2 plates each, 2 ends' stud depths
    # of 2 side walls: 8 stud depths less.
    design = bare_house(length=14.340, span=7.270, pitch=1.0, stud_depth=0.090)
    practice = replace(design.practice, top_plates=1, bottom_plates=1)
    design = replace(design, practices={practice.name: practice})
    whole = 2 * 2 * (14.340 + 7.270)
    assert whole == pytest.approx(86.440)
    assert plates(design) == pytest.approx(86.440 - 8 * 0.090)
    assert math.ceil(whole) * 2.55 == pytest.approx(221.85)
    # the same total where the frames had no depth to stand between
    thin = replace(design, house=replace(design.house, stud_depth=1e-6))
    assert plates(thin) == pytest.approx(86.440, abs=0.0005)


def test_floor(bare_house):
    assert outside_area(bare_house(length=14.340, span=7.270).house) == pytest.approx(104.25, abs=0.005)
