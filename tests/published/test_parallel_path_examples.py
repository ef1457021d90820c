"""Heat through layers side by side and one behind the other, from three textbooks and pages.

- Cengel, Heat Transfer, wood frame wall: inputs read in two sets of university exercises, results 0.449, 2.23 and about
  1078 W from memory and worked by hand. One copy types the insulation as 2.52 (0.7 for 25 mm); the book has 2.45 for
  90 mm, taken here.
- Serway, wall of six layers in ft2 F h/Btu, quoted on holooly.com, question 11.10: 7.12; read.
- Battens side by side with insulation, conserveandsave.co.uk: 0.61; read.
"""

from __future__ import annotations

import pytest

from takeoff.assess.fabric.combined_method import ThermalPart, bridged, combined, homogeneous
from takeoff.units import factor_between


def wood_frame_wall(stud: float):
    return [
        homogeneous("bevel siding", 0.14),
        homogeneous("fibreboard", 0.23),
        bridged(
            "studs",
            ThermalPart(name="glass fibre", share=1 - stud, resistance=2.45),
            ThermalPart(name="stud", share=stud, resistance=0.63),
        ),
        homogeneous("gypsum", 0.079),
    ]


def wall(stud: float):
    return combined(wood_frame_wall(stud), inside_surface=0.12, outside_surface=0.030)


def test_paths_between_and_through_the_studs():
    assert wall(0.0).upper == pytest.approx(3.05, abs=0.005)
    assert wall(1.0).upper == pytest.approx(1.23, abs=0.005)


def test_parallel_paths_are_the_upper_limit():
    result = wall(0.25)
    assert 1 / result.upper == pytest.approx(0.449, abs=0.0005)
    assert result.upper == pytest.approx(2.23, abs=0.006)


def test_the_heat_through_the_walls_of_the_house():
    # perimeter 50 m, 2.5 m high, a fifth glazed, from 22 to -2 degrees
    area = 0.8 * 50 * 2.5
    assert area * 24 / wall(0.25).upper == pytest.approx(1078, abs=2)


def test_six_layers_one_behind_the_other_in_feet_and_fahrenheit():
    """1 ft2 F h/Btu = 0.1761 m2 K/W; surfaces 0.17 each side, layers 4.00, 1.32, 1.01, 0.45."""
    one = factor_between("ft**2*delta_degF*h/Btu", "m**2*K/W")
    assert one == pytest.approx(0.3048**2 * (5 / 9) * 3600 / 1055.056, rel=1e-6)
    layers = [homogeneous(str(value), value * one) for value in (4.00, 1.32, 1.01, 0.45)]
    result = combined(layers, inside_surface=0.17 * one, outside_surface=0.17 * one)
    assert result.total / one == pytest.approx(7.12, abs=0.005)
    assert result.upper == pytest.approx(result.lower, rel=1e-12)


def test_battens_side_by_side_with_insulation():
    # 1 / (0.9 / 0.59 + 0.1 / 0.88) = 0.61: one layer alone, by the lower limit
    layer = bridged(
        "battens",
        ThermalPart(name="insulation", share=0.9, resistance=0.59),
        ThermalPart(name="batten", share=0.1, resistance=0.88),
    )
    result = combined([layer], inside_surface=0.0, outside_surface=0.0)
    assert result.lower == pytest.approx(0.61, abs=0.005)
    # NZS 4214 defines its isothermal planes as this same sum; no numbered example of it was found
