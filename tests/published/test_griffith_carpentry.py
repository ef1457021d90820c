"""Ira Griffith, *Carpentry* (1916), section 77 (public domain): board feet and joists.

Standing: read, recomputed. Counts are exact.
"""

from dataclasses import replace

import pytest

from takeoff.framing.roof import frame_roof
from takeoff.framing.studs import stud_positions

FOOT = 0.3048
INCH = FOOT / 12


def test_girder_of_64_board_feet(bare_house):
    # 6 x 8 in x 16 ft = 6 x 8 x 16 / 12 = 64 board feet of 144 cubic inches
    stick = next(iter(frame_roof(bare_house().house, material="x").members))
    girder = replace(stick, thickness=6 * INCH, depth=8 * INCH, length=16 * FOOT)
    assert girder.volume / (144 * INCH**3) == pytest.approx(64)


@pytest.mark.parametrize("feet", [12, 16, 20, 24, 40])
def test_joists_are_three_quarters_of_the_feet_and_one(feet):
    assert len(stud_positions(feet * FOOT, spacing=16 * INCH, thickness=1.5 * INCH)) == feet * 3 / 4 + 1
