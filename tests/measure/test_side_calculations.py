"""Side calculations as they are written beside a dimension (arithmetic by hand)."""

from __future__ import annotations

import pytest

from takeoff.measure.side_calculation import SideCalculation, mean_of


@pytest.mark.parametrize(
    ("side", "text"),
    [
        (mean_of(2.7, 3.33), "(2.700 + 3.330) / 2 = 3.015"),
        # tan 5 = 0.08749: 2.7 + 0.630
        (SideCalculation("under the slope", (2.7, 7.2, 5.0)), "2.700 + 7.200 tan 5 = 3.330"),
        # cos 5 = 0.99619: 8.4 / 0.99619
        (SideCalculation("on the slope", (7.2, 0.6, 0.6, 5.0)), "(7.200 + 0.600 + 0.600) / cos 5 = 8.432"),
        # 38.4 less 1.2
        (SideCalculation("centre line", (12.0, 7.2, 0.3)), "2 (12.000 + 7.200) - 4 x 0.300 = 37.200"),
    ],
)
def test_a_side_calculation_is_written_out(side, text):
    assert side.text == text
