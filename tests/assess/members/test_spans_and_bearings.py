"""Spans of unequal length, the bearings between them, and what several plies and several cases change."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.members.beams import beam_effects
from takeoff.assess.members.checks import Loading, check_member
from takeoff.assess.members.sections import Section
from takeoff.assess.members.sizing import least_adequate, sections_on_sale
from takeoff.model.timber import LoadCase, TimberGrade

SECTION = Section(depth=0.2, thickness=0.05)
GRADE = TimberGrade(
    material="timber",
    grade="grade",
    depths=(0.2,),
    thicknesses=(0.05,),
    bending=20e6,
    shear=2e6,
    bearing=2e6,
    elasticity=10e9,
)
STRENGTH = LoadCase(member="floor joist", case="strength", kind="strength", dead=1.0, imposed=1.0)
SAG = LoadCase(member="floor joist", case="sag", kind="deflection", dead=1.0, imposed=1.0, limit=200)
LOADING = Loading(spans=(4.0,), dead=1000.0, imposed=0.0, end_bearing=0.05)


def used(loading, *, cases=(STRENGTH,), section=SECTION):
    return {check.of: check.used for check in check_member(section, GRADE, cases, loading).checks}


def test_a_short_end_span_may_sag_more_for_its_length_than_a_longer_inner_one():
    """Spans of 1.00, 1.22 and 1.00 m, 1 N/m all over, EI 1 N m2, by hand from the moment over the inner supports."""
    inner = 1.22
    # three moments, both inner ones alike: 2 (1 + b) M + b M = -(1 + b^3) / 4
    moment = -(1 + inner**3) / 4 / (2 + 3 * inner)
    inner_sag = 5 * inner**4 / 384 + moment * inner**2 / 8
    # end span: y = t x - r x^3 / 6 + x^4 / 24, with end reaction r = 1/2 + M and t = 1/24 + M/6; along 1/10,000 of it
    places = [step / 10_000 for step in range(10_001)]
    end_sag = max((1 / 24 + moment / 6) * x - (1 / 2 + moment) * x**3 / 6 + x**4 / 24 for x in places)
    assert inner_sag > end_sag
    assert inner_sag / inner < end_sag / 1.0
    effects = beam_effects([1.0, inner, 1.0], dead=1.0, imposed=0.0, stiffness=1.0)
    assert effects.sag == pytest.approx(inner_sag, rel=1e-9)
    assert effects.sag_ratio == pytest.approx(end_sag / 1.0, rel=1e-6)
    # the check takes the ratio: 1000 times the load on E I, against 1 / 200
    loading = replace(LOADING, spans=(1.0, inner, 1.0))
    by_hand = 1000 * end_sag / (10e9 * SECTION.inertia) * 200
    assert used(loading, cases=(SAG,))["deflection"] == pytest.approx(by_hand, rel=1e-6)


def test_sag_is_held_against_the_length_of_its_own_span():
    """Two spans of 2 and 4 m under dead load: the long one sags, and its sag is held against 4 m, not 2 m."""
    loading = replace(LOADING, spans=(2.0, 4.0))
    effects = beam_effects([2.0, 4.0], dead=1000.0, imposed=0.0, stiffness=10e9 * SECTION.inertia)
    # M over the support = -(2^3 + 4^3) / 4 x 1000 / (2 x 6) = -1500 N m; in the middle of the long span
    # 5 w L4 / 384 - M L2 / 16 = 5 x 1000 x 256 / 384 - 1500 x 16 / 16 = 1833.3 N m3
    middle = (5 * 1000 * 4**4 / 384 - 1500 * 4**2 / 16) / (10e9 * SECTION.inertia)
    assert middle < effects.sag < middle * 1.03
    assert used(loading, cases=(SAG,))["deflection"] == pytest.approx(effects.sag / 4.0 * 200)


def test_a_bearing_between_two_spans_takes_ten_eighths_of_a_span():
    # two spans of 2 m, 1000 N/m: 1.25 x 2000 N between them, 0.375 x 2000 N at the ends
    long_inner = replace(LOADING, spans=(2.0, 2.0), end_bearing=0.05, inner_bearing=0.09)
    assert used(long_inner)["bearing"] == pytest.approx(2500 / (0.05 * 0.09) / 2e6)
    short_end = replace(long_inner, end_bearing=0.01)
    assert used(short_end)["bearing"] == pytest.approx(750 / (0.05 * 0.01) / 2e6)


def test_what_reaches_beyond_the_wall_presses_on_it_too():
    # 1.0 m beyond a bearing of 0.02 m: at least 2000 N of the span and 1000 N beyond it
    plain = used(replace(LOADING, outer_bearing=0.02))["bearing"]
    beyond = used(replace(LOADING, cantilever=1.0, outer_bearing=0.02))["bearing"]
    assert plain == pytest.approx(2000 / (0.05 * 0.02) / 2e6)
    assert beyond >= 3000 / (0.05 * 0.02) / 2e6 * (1 - 1e-12)


def test_all_plies_bear_and_bend_together():
    one, two = used(LOADING), used(LOADING, section=replace(SECTION, plies=2))
    assert set(one) == {"bending", "shear", "bearing"}
    for name, share in one.items():
        assert two[name] == pytest.approx(share / 2)


def test_the_longest_span_is_that_of_the_strictest_case_and_of_any_span():
    cases = (replace(STRENGTH, longest_span=5.0), replace(SAG, longest_span=3.0))
    loading = replace(LOADING, spans=(2.0, 3.5))
    result = check_member(SECTION, GRADE, cases, loading)
    assert result.outcome == "outside scope"
    assert result.reason == "its span of 3.50 m is over the 3 m that its load cases reach"
    assert check_member(SECTION, GRADE, cases, replace(loading, spans=(2.0, 3.0))).outcome != "outside scope"


def test_of_two_sections_of_one_area_the_shallower_comes_first():
    # 0.1 x 0.06 and 0.12 x 0.05 are both 0.006 m2
    grades = [
        replace(GRADE, depths=(0.12,), thicknesses=(0.05,)),
        replace(GRADE, depths=(0.1,), thicknesses=(0.06,)),
    ]
    light = Loading(spans=(1.0,), dead=100.0, imposed=0.0, end_bearing=0.05)
    found = least_adequate(grades, (STRENGTH, SAG), light)
    assert found is not None
    assert found.section == Section(depth=0.1, thickness=0.06)


def test_a_deeper_section_of_less_area_comes_before_a_shallower_one():
    # 0.15 x 0.045 = 0.00675 m2 before 0.1 x 0.08 = 0.008 m2, though it is deeper
    grades = [
        replace(GRADE, depths=(0.1,), thicknesses=(0.08,)),
        replace(GRADE, depths=(0.15,), thicknesses=(0.045,)),
    ]
    light = Loading(spans=(1.0,), dead=100.0, imposed=0.0, end_bearing=0.05)
    found = least_adequate(grades, (STRENGTH, SAG), light)
    assert found is not None
    assert found.section == Section(depth=0.15, thickness=0.045)


def test_sections_on_sale_keep_to_the_room_there_is():
    grade = replace(GRADE, depths=(0.1, 0.2), thicknesses=(0.045,))
    kept = sections_on_sale([grade], plies=(1, 2, 3), widest=0.09, deepest=0.1)
    assert [each.section for each in kept] == [
        Section(depth=0.1, thickness=0.045),
        Section(depth=0.1, thickness=0.045, plies=2),
    ]
    assert len(sections_on_sale([grade], plies=(1, 2, 3))) == 6
    assert kept[1].section.width == pytest.approx(0.09)


def test_none_will_do_where_the_greatest_on_sale_is_over():
    heavy = replace(LOADING, dead=50e3)
    assert least_adequate([GRADE], (STRENGTH, SAG), heavy) is None
