"""Public tutorial *Calculating the number of roofing sheets required for a shed* (2020): a single-pitch shed.

Plan 8 ft up the slope by 10 ft, walls 8 and 9 ft high; 1.75 ft added at both ends along the slope, 1 ft at each
side; effective cover 1015 mm = 3.33 ft. Standing: read, recomputed. Tolerance: its three decimals.
"""

import math

import pytest

from takeoff.measure.roof import roof_surface
from takeoff.measure.strips import upright_strips
from takeoff.model.geometry import height_at, roof_width, slope_factor, slope_length

FOOT = 0.3048
PITCH = math.degrees(math.atan(1 / 8))


@pytest.fixture
def shed(bare_house):
    """The ends are extended along the slope there; our overhangs are measured level."""
    level_end = 1.75 * FOOT * math.cos(math.radians(PITCH))
    return bare_house(
        length=10 * FOOT,
        span=8 * FOOT,
        low_height=8 * FOOT,
        pitch=PITCH,
        overhang_low=level_end,
        overhang_high=level_end,
        overhang_left=FOOT,
        overhang_right=FOOT,
        sheet_overhang=0.0,
    ).house


def test_slope_and_walls(shed):
    assert height_at(shed, shed.span) / FOOT == pytest.approx(9)
    # sqrt(8 x 8 + 1 x 1) = sqrt(65) = 8.062
    assert 8 * slope_factor(shed) == pytest.approx(math.sqrt(65)) == pytest.approx(8.062, abs=0.0005)


def test_four_sheets_11_562_ft_long(shed):
    # 8.062 + 2 x 1.75 = 11.562; 10 + 2 x 1 = 12 and 12 / 3.33 = 3.60, so 4
    assert slope_length(shed) / FOOT == pytest.approx(11.562, abs=0.0005)
    assert roof_width(shed) / FOOT == pytest.approx(12)
    sheets = upright_strips(roof_surface(shed).face, (), cover=1.015)
    assert len(sheets) == 4
    assert {round(sheet.length / FOOT, 3) for sheet in sheets} == {11.562}


def test_an_overhang_measured_level_is_longer_on_the_slope(bare_house):
    # the same 1.75 ft taken level: (8 + 3.5) x sec = 11.589, 0.2 % more than the tutorial's sum
    house = bare_house(span=8 * FOOT, pitch=PITCH, overhang_low=1.75 * FOOT, overhang_high=1.75 * FOOT).house
    assert slope_length(house) / FOOT == pytest.approx(11.5 * math.sqrt(65) / 8)
    assert slope_length(house) / FOOT > 11.562 + 0.02
