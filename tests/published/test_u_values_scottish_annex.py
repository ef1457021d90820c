"""U-values by the combined method: annex 6.B of the Scottish building standards, worked examples.

- Example 6.B.2, timber-framed wall, and 6.B.3, a wall with two bridged layers: gov.scot PDF "6.B Worked examples of
  U-value calculations using the combined method", read in two public copies.
- The edition of 2004 for consultation (scotland.gov.uk, dbsr05nd-86), resistances of layers: read, its result cut off.

Tolerances: 0.001 m2 K/W and 0.0005 W/(m2 K) for the first; 0.002 for the second, whose printed limits come from layers
rounded to three places.
"""

from __future__ import annotations

import pytest

from takeoff.assess.fabric.combined_method import (
    ThermalPart,
    air_gap_correction,
    bridged,
    combined,
    homogeneous,
)

INSIDE, OUTSIDE = 0.13, 0.04


def part(name: str, share: float, thickness: float, conductivity: float) -> ThermalPart:
    return ThermalPart(name=name, share=share, resistance=thickness / conductivity)


def timber_framed_wall(timber: float = 0.15):
    return [
        homogeneous("brick outer leaf", 0.102 / 0.77),
        homogeneous("cavity, unventilated", 0.180),
        homogeneous("sheathing", 0.009 / 0.13),
        bridged(
            "mineral wool between studs",
            part("mineral wool", 1 - timber, 0.140, 0.04),
            part("timber", timber, 0.140, 0.12),
        ),
        homogeneous("plasterboard", 0.0125 / 0.21),
    ]


def test_paths_of_the_timber_framed_wall():
    through_wool = combined(timber_framed_wall(0.0), inside_surface=INSIDE, outside_surface=OUTSIDE)
    through_timber = combined(timber_framed_wall(1.0), inside_surface=INSIDE, outside_surface=OUTSIDE)
    assert through_wool.upper == pytest.approx(4.111, abs=0.001)
    assert through_timber.upper == pytest.approx(1.778, abs=0.001)


def test_the_timber_framed_wall():
    result = combined(timber_framed_wall(), inside_surface=INSIDE, outside_surface=OUTSIDE)
    assert result.upper == pytest.approx(3.435, abs=0.001)
    assert result.lower == pytest.approx(3.304, abs=0.001)
    assert result.total == pytest.approx(3.3695, abs=0.001)
    assert result.u_value == pytest.approx(0.297, abs=0.0005)
    assert round(result.u_value, 2) == 0.30


def test_the_correction_for_air_gaps_of_the_timber_framed_wall():
    """0.01 x (3.5 / 3.3695)^2 = 0.0108: the rule from memory, worked by hand; the example's own line was not read."""
    result = combined(timber_framed_wall(), inside_surface=INSIDE, outside_surface=OUTSIDE)
    gaps = air_gap_correction(1, insulation_resistance=3.5, total_resistance=result.total)
    assert gaps == pytest.approx(0.0108, abs=0.00005)
    assert air_gap_correction(0, insulation_resistance=3.5, total_resistance=result.total) == 0
    four = air_gap_correction(2, insulation_resistance=3.5, total_resistance=result.total)
    assert four == pytest.approx(4 * gaps)


def test_the_wall_with_two_bridged_layers():
    layers = [
        homogeneous("brick", 0.102 / 0.77),
        homogeneous("cavity", 0.18),
        bridged("blockwork", part("aircrete block", 0.933, 0.125, 0.11), part("mortar", 0.067, 0.125, 0.88)),
        bridged(
            "lining frame", part("mineral wool", 0.882, 0.089, 0.038), part("timber", 0.118, 0.089, 0.13)
        ),
        homogeneous("plasterboard", 0.0125 / 0.21),
    ]
    result = combined(layers, inside_surface=INSIDE, outside_surface=OUTSIDE)
    assert result.upper == pytest.approx(3.617, abs=0.002)
    assert result.lower == pytest.approx(3.136, abs=0.002)
    assert result.u_value == pytest.approx(0.2962, abs=0.0005)
    assert round(result.u_value, 2) == 0.30


def test_the_wall_of_the_edition_of_2004():
    layers = [
        homogeneous("brick", 0.132),
        homogeneous("cavity", 0.090),
        homogeneous("plywood", 0.146),
        bridged(
            "frame",
            ThermalPart(name="mineral wool", share=0.905, resistance=3.333),
            ThermalPart(name="timber", share=0.095, resistance=1.077),
        ),
        homogeneous("plasterboard", 0.100),
    ]
    result = combined(layers, inside_surface=INSIDE, outside_surface=OUTSIDE)
    through_wool = 0.040 + 0.132 + 0.090 + 0.146 + 3.333 + 0.100 + 0.130
    through_timber = 0.040 + 0.132 + 0.090 + 0.146 + 1.077 + 0.100 + 0.130
    assert through_wool == pytest.approx(3.971, abs=0.0005)
    assert through_timber == pytest.approx(1.715, abs=0.0005)
    # worked by hand from these, not printed in the copy: 1 / (0.905 / 3.971 + 0.095 / 1.715) = 3.530
    assert result.upper == pytest.approx(1 / (0.905 / through_wool + 0.095 / through_timber), rel=1e-12)
    assert result.upper == pytest.approx(3.530, abs=0.001)
    assert result.lower == pytest.approx(3.418, abs=0.001)
    assert result.u_value == pytest.approx(0.2879, abs=0.0002)
