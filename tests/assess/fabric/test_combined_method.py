"""Layers, their parts, and the two limits of a resistance: the edges of the rule; values are in tests/published."""

from __future__ import annotations

import math

import pytest

from takeoff.assess.fabric.combined_method import (
    ThermalLayer,
    ThermalPart,
    air_gap_correction,
    bridged,
    combined,
    homogeneous,
)


def part(share: float, resistance: float) -> ThermalPart:
    return ThermalPart(name="part", share=share, resistance=resistance)


def limits(*layers: ThermalLayer):
    return combined(layers, inside_surface=0.13, outside_surface=0.04)


@pytest.mark.parametrize("shares", [(0.15, 0.8), (0.15, 0.9), (0.5,), ()])
def test_shares_that_do_not_add_up_are_refused(shares):
    with pytest.raises(ValueError, match=r"^the shares of 'frame' do not add up to one$"):
        bridged("frame", *(part(share, 1.0) for share in shares))


def test_shares_may_miss_one_by_what_floats_lose():
    # ten tenths add up to 0.9999999999999999
    assert bridged("frame", *(part(0.1, 1.0) for _ in range(10))).parts[0].share == 0.1


@pytest.mark.parametrize("parts", [((-0.1, 1.0), (1.1, 2.0)), ((0.5, -1.0), (0.5, 2.0))])
def test_shares_and_resistances_below_0_are_refused(parts):
    with pytest.raises(ValueError, match=r"^a share or a resistance of 'frame' is below 0$"):
        bridged("frame", *(part(*each) for each in parts))


def test_a_homogeneous_layer_has_one_part():
    assert homogeneous("board", 0.06) == ThermalLayer(
        name="board", parts=(ThermalPart(name="board", share=1.0, resistance=0.06),)
    )


def test_a_layer_without_resistance_adds_nothing():
    assert limits(homogeneous("foil", 0.0), homogeneous("board", 0.5)) == limits(homogeneous("board", 0.5))


def test_a_part_without_area_counts_for_nothing():
    """Not even where it has no resistance: it would short-circuit its layer if it were there."""
    nearly = limits(bridged("frame", part(0.0, 0.0), part(1.0, 2.0)))
    assert nearly.upper == nearly.lower == pytest.approx(0.13 + 2.0 + 0.04)


def test_a_part_without_resistance_short_circuits_its_layer_in_the_lower_limit():
    result = limits(bridged("frame", part(0.25, 0.0), part(0.75, 2.0)), homogeneous("board", 0.5))
    assert result.lower == pytest.approx(0.13 + 0.5 + 0.04)
    # paths of 0.67 and 2.67 m2 K/W
    assert result.upper == pytest.approx(1 / (0.25 / 0.67 + 0.75 / 2.67))


def test_a_path_without_any_resistance_is_refused():
    for layers in ([], [bridged("frame", part(0.5, 0.0), part(0.5, 2.0))]):
        with pytest.raises(ValueError, match=r"^a path without resistance$"):
            combined(layers, inside_surface=0.0, outside_surface=0.0)


def test_the_relative_error_is_half_the_gap_over_the_whole():
    # paths 1.17 and 3.17 m2 K/W; planes 0.17 + 1 / (0.5 / 1 + 0.5 / 3) = 1.67
    result = limits(bridged("frame", part(0.5, 1.0), part(0.5, 3.0)))
    upper = 1 / (0.5 / 1.17 + 0.5 / 3.17)
    assert (result.upper, result.lower) == pytest.approx((upper, 1.67))
    assert result.relative_error == pytest.approx((upper - 1.67) / (upper + 1.67))
    assert limits(homogeneous("board", 1.0)).relative_error == 0


def test_two_bridged_layers_make_four_paths():
    # studs 20 % and battens 10 %: 0.02 through both, 0.18 and 0.08 through one, 0.72 through neither
    result = limits(
        bridged("studs", part(0.2, 1.0), part(0.8, 4.0)), bridged("battens", part(0.1, 0.3), part(0.9, 1.2))
    )
    through = 0.02 / 1.47 + 0.18 / 2.37 + 0.08 / 4.47 + 0.72 / 5.37
    assert result.upper == pytest.approx(1 / through)
    assert result.lower == pytest.approx(0.17 + 1 / (0.2 / 1 + 0.8 / 4) + 1 / (0.1 / 0.3 + 0.9 / 1.2))


def test_a_hundred_homogeneous_layers_are_one_path():
    result = limits(*(homogeneous("board", 0.05) for _ in range(100)))
    assert result.upper == result.lower == pytest.approx(5.17)


@pytest.mark.parametrize(("level", "expected"), [(0, 0.0), (1, 0.01 * 0.64), (2, 0.04 * 0.64)])
def test_air_gaps_count_by_the_square_of_what_the_insulation_does(level, expected):
    # (3.2 / 4.0)^2 = 0.64
    found = air_gap_correction(level, insulation_resistance=3.2, total_resistance=4.0)
    assert math.isclose(found, expected)


def test_there_is_no_third_level_of_air_gaps():
    with pytest.raises(IndexError):
        air_gap_correction(3, insulation_resistance=3.2, total_resistance=4.0)
