"""What must hold of any layers, floors on the ground, beams and sections."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from takeoff.assess.fabric.combined_method import ThermalPart, bridged, combined, homogeneous
from takeoff.assess.fabric.ground import slab_on_ground
from takeoff.assess.fabric.thickness import thickness_for
from takeoff.assess.members.beams import beam_effects
from takeoff.assess.members.checks import Loading, check_member
from takeoff.assess.members.sections import Section
from takeoff.assess.members.sizing import greatest_span, least_adequate, sections_on_sale
from takeoff.model.timber import LoadCase, TimberGrade

resistances = st.floats(0.01, 8)
shares = st.floats(0.0, 1.0)


def whole(layers):
    return combined(layers, inside_surface=0.13, outside_surface=0.04)


@st.composite
def layer(draw):
    count = draw(st.integers(1, 3))
    weights = [draw(st.floats(0.05, 1)) for _ in range(count)]
    parts = [
        ThermalPart(name=str(i), share=weight / sum(weights), resistance=draw(resistances))
        for i, weight in enumerate(weights)
    ]
    return bridged("layer", *parts)


@given(st.lists(layer(), min_size=1, max_size=4))
def test_the_upper_limit_is_never_below_the_lower_one(layers):
    result = whole(layers)
    assert result.upper >= result.lower * (1 - 1e-12)
    assert result.lower <= result.total <= result.upper or result.upper == pytest.approx(result.lower)


@given(st.lists(layer(), min_size=2, max_size=4), st.randoms(use_true_random=False))
def test_the_order_of_layers_does_not_matter(layers, random):
    other = list(layers)
    random.shuffle(other)
    assert whole(other).total == pytest.approx(whole(layers).total, rel=1e-12)


def insulated_wall(*, thickness: float, timber: float, conductivity: float = 0.035):
    return [
        homogeneous("board", 0.06),
        bridged(
            "studs",
            ThermalPart(name="insulation", share=1 - timber, resistance=thickness / conductivity),
            ThermalPart(name="timber", share=timber, resistance=thickness / 0.13),
        ),
    ]


@given(st.floats(0.02, 0.4), st.floats(0.001, 0.2), st.floats(0.0, 0.6), st.floats(0.02, 0.12))
def test_a_u_value_falls_when_the_insulation_thickens(thickness, more, timber, conductivity):
    thin = whole(insulated_wall(thickness=thickness, timber=timber, conductivity=conductivity))
    thick = whole(insulated_wall(thickness=thickness + more, timber=timber, conductivity=conductivity))
    assert thick.u_value < thin.u_value


@given(st.floats(0.02, 0.4), shares, shares, st.floats(0.02, 0.129))
def test_more_timber_never_lowers_the_u_value_of_an_insulated_wall(thickness, one, other, conductivity):
    less, more = sorted((one, other))
    before = whole(insulated_wall(thickness=thickness, timber=less, conductivity=conductivity))
    after = whole(insulated_wall(thickness=thickness, timber=more, conductivity=conductivity))
    assert after.u_value >= before.u_value * (1 - 1e-12)


@given(st.lists(layer(), min_size=1, max_size=3), st.floats(0.05, 5))
def test_a_homogeneous_layer_may_be_split(layers, resistance):
    one = whole([*layers, homogeneous("whole", resistance)])
    two = whole([*layers, homogeneous("half", resistance / 2), homogeneous("half", resistance / 2)])
    assert two.total == pytest.approx(one.total, rel=1e-12)


def slab(area: float, perimeter: float, resistance: float):
    return slab_on_ground(
        area=area,
        perimeter=perimeter,
        wall_thickness=0.3,
        ground_conductivity=2.0,
        floor_resistance=resistance,
        inside_surface=0.17,
        outside_surface=0.04,
    ).u_value


@given(st.floats(20, 400), st.floats(1.0, 3.0), st.floats(0, 8), st.floats(0.05, 3))
def test_a_floor_on_the_ground_loses_less_with_more_insulation(area, stretch, resistance, more):
    perimeter = 4 * math.sqrt(area) * stretch
    assert slab(area, perimeter, resistance + more) < slab(area, perimeter, resistance)


@given(st.floats(20, 400), st.floats(1.0, 2.0), st.floats(1.01, 2.0), st.floats(0, 8))
def test_a_floor_on_the_ground_loses_more_with_more_edge(area, stretch, more, resistance):
    perimeter = 4 * math.sqrt(area) * stretch
    assert slab(area, perimeter * more, resistance) >= slab(area, perimeter, resistance) * (1 - 2e-3)


@given(st.floats(0.02, 0.2), st.floats(0.01, 0.3))
def test_the_thickness_for_a_target_is_the_least_step_that_is_enough(conductivity, target):
    def u_of(thickness: float) -> float:
        return 1 / (0.5 + thickness / conductivity)

    found = thickness_for(u_of, target, low=0.0, high=1.0)
    if found is None:
        assert u_of(1.0) > target
        return
    assert u_of(found) <= target * (1 + 1e-6)
    assert found == 0 or u_of(found - 0.005) > target * (1 - 1e-6)
    assert round(found / 0.005, 6) == round(found / 0.005)


# --- members ---

CASES = [
    LoadCase(
        member="rafter",
        case="strength",
        kind="strength",
        dead=1.35,
        imposed=1.5,
        duration=0.9,
        load_sharing=1.1,
        material_factor=1.3,
    ),
    LoadCase(member="rafter", case="sag", kind="deflection", dead=1.6, imposed=1.0, limit=250),
]


def grade(depths=(0.14, 0.19, 0.24), thicknesses=(0.045, 0.063), bending=24e6) -> TimberGrade:
    return TimberGrade(
        material="timber",
        grade="grade",
        depths=tuple(depths),
        thicknesses=tuple(thicknesses),
        bending=bending,
        shear=2.7e6,
        bearing=2.5e6,
        elasticity=11e9,
    )


line_loads = st.floats(50, 5000)


@given(st.floats(0.09, 0.4), st.floats(0.001, 0.2), line_loads, line_loads)
def test_a_deeper_rafter_never_spans_less(depth, more, dead, imposed):
    spans = [
        greatest_span(Section(depth=each, thickness=0.045), grade(), CASES, dead=dead, imposed=imposed).span
        for each in (depth, depth + more)
    ]
    assert spans[1] >= spans[0]


@given(st.floats(0.09, 0.4), line_loads, line_loads, st.floats(1.0, 3.0))
def test_more_load_never_spans_more(depth, dead, imposed, times):
    section = Section(depth=depth, thickness=0.045)
    before = greatest_span(section, grade(), CASES, dead=dead, imposed=imposed).span
    assert greatest_span(section, grade(), CASES, dead=dead * times, imposed=imposed).span <= before + 1e-12


@given(st.floats(0.09, 0.4), line_loads, line_loads)
def test_the_greatest_span_is_where_the_check_turns(depth, dead, imposed):
    section = Section(depth=depth, thickness=0.045)
    span = greatest_span(section, grade(), CASES, dead=dead, imposed=imposed).span

    def outcome(length: float) -> str:
        loading = Loading(spans=(length,), dead=dead, imposed=imposed, end_bearing=0.0)
        return check_member(section, grade(), CASES, loading).outcome

    assert outcome(span * 0.9999) == "within"
    assert outcome(span * 1.0001) == "over"


@given(st.floats(0.5, 6), line_loads, line_loads)
def test_the_least_section_is_within_and_every_smaller_one_is_not(span, dead, imposed):
    loading = Loading(spans=(span,), dead=dead, imposed=imposed, end_bearing=0.045)
    grades = [grade(), grade(depths=(0.09, 0.29), bending=44e6)]
    found = least_adequate(grades, CASES, loading, plies=(1, 2, 3), widest=0.135)
    for each in sections_on_sale(grades, plies=(1, 2, 3), widest=0.135):
        if found is not None and each.section.area >= found.section.area - 1e-12:
            break
        assert check_member(each.section, each.grade, CASES, loading).outcome == "over"
    if found is not None:
        assert check_member(found.section, found.grade, CASES, loading).outcome == "within"
        assert found.section.width <= 0.135 + 1e-9


spans_of_beams = st.lists(st.floats(0.5, 5), min_size=1, max_size=4)


@given(spans_of_beams, st.floats(0, 3000), st.floats(0, 3000))
def test_a_beam_read_backwards_is_the_same_beam(spans, dead, imposed):
    assume(dead + imposed > 1)
    one = beam_effects(spans, dead=dead, imposed=imposed, stiffness=1e5)
    other = beam_effects(spans[::-1], dead=dead, imposed=imposed, stiffness=1e5)
    for name in ("moment", "shear", "end_reaction", "inner_reaction", "sag", "sag_ratio"):
        assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-6, abs=1e-9)


@given(spans_of_beams, st.floats(1, 3000))
def test_a_beam_agrees_with_finite_elements(spans, load):
    """Beam elements with cubic shapes, two degrees a node, eight elements a span, dead load alone."""
    ours = beam_effects(spans, dead=load, imposed=0.0, stiffness=1.0)
    moment, sag = _by_elements(spans, load)
    assert ours.sag >= sag * (1 - 1e-9)
    assert ours.sag == pytest.approx(sag, rel=0.02)
    assert ours.moment == pytest.approx(moment, rel=0.02)


def _by_elements(spans: list[float], load: float) -> tuple[float, float]:
    """The greatest moment over the supports and in the middle of elements, and the greatest deflection of a node."""
    per = 16
    lengths = [span / per for span in spans for _ in range(per)]
    nodes = len(lengths) + 1
    stiffness, forces = np.zeros((2 * nodes, 2 * nodes)), np.zeros(2 * nodes)
    for i, h in enumerate(lengths):
        k = (
            np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
                ]
            )
            / h**3
        )
        place = slice(2 * i, 2 * i + 4)
        stiffness[place, place] += k
        forces[place] += load * np.array([h / 2, h * h / 12, h / 2, -h * h / 12])
    held = {2 * per * i for i in range(len(spans) + 1)}
    free = [i for i in range(2 * nodes) if i not in held]
    moved = np.zeros(2 * nodes)
    moved[free] = np.linalg.solve(stiffness[np.ix_(free, free)], forces[free])
    moments = [0.0]
    for i, h in enumerate(lengths):
        v1, r1, v2, r2 = moved[2 * i : 2 * i + 4]
        left = (6 * (v2 - v1) / h - 4 * r1 - 2 * r2) / h - load * h * h / 12
        moments.append(abs(left))
    return max(moments), max(abs(moved[0::2]))


def test_patterns_are_never_kinder_than_load_all_over():
    for spans in itertools.product((1.0, 2.5), repeat=3):
        everywhere = beam_effects(spans, dead=2.0, imposed=0.0, stiffness=1.0)
        patterns = beam_effects(spans, dead=1.0, imposed=1.0, stiffness=1.0)
        assert patterns.moment >= everywhere.moment - 1e-12
        assert patterns.sag >= everywhere.sag - 1e-12
