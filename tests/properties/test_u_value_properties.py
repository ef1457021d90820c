"""What must hold of bridged layers however they are cut, and of the edge of a floor on the ground.

What must hold of order, insulation and timber stands in test_fabric_and_member_properties.
"""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.assess.fabric.combined_method import ThermalPart, bridged, combined
from takeoff.assess.fabric.ground import edge_insulated, slab_on_ground

INSIDE, OUTSIDE = 0.13, 0.04


@st.composite
def layer(draw):
    weights = draw(st.lists(st.floats(0.05, 1), min_size=1, max_size=3))
    parts = [
        ThermalPart(name=str(i), share=weight / sum(weights), resistance=draw(st.floats(0.01, 8)))
        for i, weight in enumerate(weights)
    ]
    return bridged("layer", *parts)


def halved(whole):
    return bridged(
        "half",
        *(
            ThermalPart(name=part.name, share=part.share, resistance=part.resistance / 2)
            for part in whole.parts
        ),
    )


def limits(layers):
    return combined(layers, inside_surface=INSIDE, outside_surface=OUTSIDE)


layers_of_a_wall = st.lists(layer(), min_size=1, max_size=4)


@given(layers_of_a_wall)
def test_the_limits_are_those_of_every_path_and_every_plane_written_out(layers):
    paths = list(itertools.product(*(each.parts for each in layers)))
    through = sum(
        math.prod(part.share for part in path) / (0.17 + sum(part.resistance for part in path))
        for path in paths
    )
    planes = sum(1 / sum(part.share / part.resistance for part in each.parts) for each in layers)
    result = limits(layers)
    assert result.upper == pytest.approx(1 / through, rel=1e-12)
    assert result.lower == pytest.approx(0.17 + planes, rel=1e-12)


@given(layers_of_a_wall, layer())
def test_a_bridged_layer_cut_in_two_keeps_its_lower_limit_and_never_loses_in_the_upper(layers, cut):
    """Sticks of both halves count as if they lay anywhere, so fewer paths are poor all through.

    A layer that the same sticks go right through has therefore to be one layer for its upper limit to be right.
    """
    whole, two = limits([*layers, cut]), limits([*layers, halved(cut), halved(cut)])
    assert two.lower == pytest.approx(whole.lower, rel=1e-12)
    assert two.upper >= whole.upper * (1 - 1e-12)


@given(layers_of_a_wall)
def test_resistances_in_another_unit_only_change_the_unit(layers):
    """All resistances by 5.678 (ft2 F h/Btu in a m2 K/W): both limits by 5.678."""
    one = 5.678
    scaled = [
        bridged(
            each.name,
            *(
                ThermalPart(name=part.name, share=part.share, resistance=part.resistance * one)
                for part in each.parts
            ),
        )
        for each in layers
    ]
    ours, other = (
        limits(layers),
        combined(scaled, inside_surface=INSIDE * one, outside_surface=OUTSIDE * one),
    )
    assert (other.upper, other.lower) == pytest.approx((ours.upper * one, ours.lower * one), rel=1e-12)
    assert other.relative_error == pytest.approx(ours.relative_error, abs=1e-9)


@given(layers_of_a_wall, layer())
def test_another_layer_never_lowers_the_resistance(layers, more):
    before, after = limits(layers), limits([*layers, more])
    assert after.upper > before.upper
    assert after.lower > before.lower


@given(st.floats(40, 400), st.floats(1.0, 2.0), st.floats(0, 6), st.floats(0.1, 1.0), st.floats(0.1, 4))
def test_the_edge_of_a_floor_helps_more_the_deeper_it_goes_and_the_more_it_resists(
    area, stretch, resistance, depth, edge
):
    slab = slab_on_ground(
        area=area,
        perimeter=4 * math.sqrt(area) * stretch,
        wall_thickness=0.3,
        ground_conductivity=1.5,
        floor_resistance=resistance,
        inside_surface=0.17,
        outside_surface=0.04,
    )
    # 50 mm of ground resist 0.033 m2 K/W, less than any of these
    u_value = edge_insulated(slab, depth=depth, thickness=0.05, resistance=edge)
    assert u_value < slab.u_value
    assert edge_insulated(slab, depth=depth * 1.5, thickness=0.05, resistance=edge) < u_value
    assert edge_insulated(slab, depth=depth, thickness=0.05, resistance=edge * 1.5) < u_value
