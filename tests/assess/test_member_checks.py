"""Checks of single members, and the members of a house."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from takeoff.assess.members.beams import beam_effects
from takeoff.assess.members.checks import Loading, check_member
from takeoff.assess.members.house_members import grade_of, house_members
from takeoff.assess.members.sections import Section
from takeoff.assess.members.sizing import greatest_span
from takeoff.assess.members.without_steel import without_steel
from takeoff.compare.evaluate import evaluate
from takeoff.measure.house import measure_house
from takeoff.model.timber import LoadCase, TimberGrade
from takeoff.workbook.reading import read_job

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
    size_factor=1.1,
)
STRENGTH = LoadCase(
    member="rafter",
    case="strength",
    kind="strength",
    dead=1.2,
    imposed=1.5,
    duration=0.8,
    load_sharing=1.15,
    material_factor=1.25,
)
SAG = LoadCase(member="rafter", case="sag", kind="deflection", dead=1.0, imposed=2.0, limit=200)
LOADING = Loading(spans=(4.0,), dead=500.0, imposed=400.0, end_bearing=0.05)


def used(loading=LOADING, cases=(STRENGTH, SAG), section=SECTION, grade=GRADE):
    return {check.of: check.used for check in check_member(section, grade, cases, loading).checks}


def test_each_check_by_hand():
    # w = 1.2 x 500 + 1.5 x 400 = 1200 N/m; W = 0.05 x 0.2^2 / 6; factors 0.8 / 1.25 = 0.64
    checks = used()
    modulus = 0.05 * 0.04 / 6
    assert checks["bending"] == pytest.approx(1200 * 16 / 8 / modulus / (20e6 * 1.1 * 1.15 * 0.64))
    assert checks["shear"] == pytest.approx(1.5 * 2400 / 0.01 / (2e6 * 0.64))
    assert checks["bearing"] == pytest.approx(2400 / (0.05 * 0.05) / (2e6 * 0.64))
    # sag under 500 + 2 x 400 = 1300 N/m against 4 m / 200
    sag = 5 * 1300 * 4**4 / (384 * 10e9 * 0.05 * 0.2**3 / 12)
    assert checks["deflection"] == pytest.approx(sag / (4 / 200))


def test_size_and_load_sharing_are_for_bending_alone():
    plain = replace(STRENGTH, load_sharing=1.0)
    changed = used(cases=(plain,), grade=replace(GRADE, size_factor=1.0))
    before = used(cases=(STRENGTH,))
    assert changed["bending"] == pytest.approx(before["bending"] * 1.1 * 1.15)
    assert changed["shear"] == before["shear"]
    assert changed["bearing"] == before["bearing"]


def test_a_cantilever_bends_over_the_wall_and_bears_on_it():
    # 1.0 m beyond a bearing of 0.1 m: 1200 x 1 / 2 over the wall
    checks = used(replace(LOADING, cantilever=1.0, outer_bearing=0.03))
    assert checks["bending over the wall"] == pytest.approx(
        600 / SECTION.modulus / (20e6 * 1.1 * 1.15 * 0.64)
    )
    # a beam that overhangs presses w (L + a)2 / 2 L = 1200 x 25 / 8 = 3750 N on the wall: 2400 + 1200 + 600 / 4
    assert checks["bearing"] == pytest.approx(3750 / 0.03 / 0.05 / (2e6 * 0.64))
    # of which 2400 + 150 N are shear in the span, more than 1200 N in the overhang
    assert checks["shear"] == pytest.approx(1.5 * 2550 / 0.01 / (2e6 * 0.64))


def test_the_shear_of_an_overhang_is_never_over_that_of_its_span():
    """wL/2 + wa2/2L - wa = w (L - a)2 / 2L, never below 0: the span's own shear with what presses on it governs."""
    for cantilever in (0.5, 3.0, 4.0, 6.0):
        # w (L2 + a2) / 2L
        expected = 1200 * (16 + cantilever**2) / 8
        checks = used(replace(LOADING, cantilever=cantilever))
        assert checks["shear"] == pytest.approx(1.5 * expected / 0.01 / (2e6 * 0.64))


def test_bearing_is_left_out_where_its_length_is_not_known():
    assert "bearing" not in used(replace(LOADING, end_bearing=0.0))


def test_what_governs_and_by_how_much_it_is_over():
    result = check_member(SECTION, GRADE, [STRENGTH, SAG], replace(LOADING, spans=(8.0,)))
    assert result.outcome == "over"
    assert result.governing is not None
    assert (result.governing.of, result.governing.case) == ("deflection", "sag")
    assert result.over_by == pytest.approx(result.governing.used - 1)


def test_within_has_nothing_over():
    result = check_member(SECTION, GRADE, [STRENGTH, SAG], replace(LOADING, spans=(2.0,)))
    assert (result.outcome, result.over_by, result.reason) == ("within", 0.0, "")


@pytest.mark.parametrize(
    ("grade", "cases", "loading", "reason"),
    [
        (GRADE, [], LOADING, "no load case is stated for it"),
        (GRADE, [STRENGTH], None, "its loads are not stated"),
        (None, [STRENGTH], LOADING, "no timber grade is stated for its section"),
        (GRADE, [STRENGTH], replace(LOADING, spans=(1.0,) * 7), "it has more than 6 spans"),
    ],
)
def test_outside_the_scope_says_why(grade, cases, loading, reason):
    result = check_member(SECTION, grade, cases, loading)
    assert (result.outcome, result.reason, result.checks) == ("outside scope", reason, ())


@pytest.mark.parametrize("spans", [[], [1.0] * 7, [2.0, 0.0]])
def test_a_beam_has_one_to_six_spans(spans):
    with pytest.raises(ValueError, match="between one and 6 spans, each above 0"):
        beam_effects(spans, dead=1.0, imposed=0.0, stiffness=1.0)


def test_a_greatest_span_needs_a_load():
    with pytest.raises(ValueError, match="no load case has a load"):
        greatest_span(SECTION, GRADE, [STRENGTH], dead=0.0, imposed=0.0)


def test_shear_can_set_the_greatest_span():
    # V = w L / 2 = 2/3 f A: L = 4 f A / (3 w)
    weak = replace(GRADE, shear=0.05e6)
    greatest = greatest_span(SECTION, weak, [STRENGTH], dead=500, imposed=400)
    assert greatest.of == "shear"
    assert greatest.span == pytest.approx(4 * 0.05e6 * 0.64 * 0.01 / (3 * 1200))


# --- the members of houses ---


@pytest.fixture(scope="module")
def base(job):
    return evaluate(job, job.base, planned=False)


def named(members, name):
    return next(member for member in members if member.name == name)


def test_the_rafters_of_the_lower_bay_by_hand(base):
    """0.40 kPa on the slope, 0.75 on plan, 600 centres, 5 deg; wall 170 deep, partition 90: 3.6 - 0.085 - 0.0225."""
    member = named(base.members, "rafters, 0 to 3.6 m from the low wall")
    cos = math.cos(math.radians(5))
    assert member.loading is not None
    assert member.loading.spans == pytest.approx(((3.6 - 0.17 / 2 - 0.045 / 2) / cos,))
    assert member.loading.dead == pytest.approx(400 * 0.6 * cos)
    assert member.loading.imposed == pytest.approx(750 * 0.6 * cos**2)
    assert member.loading.cantilever == pytest.approx((0.6 + 0.085) / cos)
    assert (member.loading.end_bearing, member.loading.outer_bearing) == pytest.approx((0.045, 0.17))
    assert member.check.outcome == "within"


def test_a_lintel_carries_half_the_bay_and_the_overhang(base):
    # low wall, the overhang with its lever: (3.6 + 0.6)2 / (2 x 3.6) = 2.45 m
    # D03 is 1.02 wide on one stud of 45 each side
    member = named(base.members, "lintel over D03")
    assert member.loading is not None
    assert member.loading.spans == pytest.approx((1.02 + 0.045,))
    assert member.loading.dead == pytest.approx(2.45 * 400 / math.cos(math.radians(5)))
    assert member.loading.imposed == pytest.approx(2.45 * 750)
    assert member.section == Section(depth=0.14, thickness=0.045, plies=2)


def test_lintels_that_carry_no_roof_are_not_checked(base):
    names = {member.name for member in base.members}
    # W04 and W05 stand in side walls, D12 in a wall that carries nothing
    assert not {"lintel over W04", "lintel over W05", "lintel over D12"} & names
    assert "lintel over D15" in names


def test_without_loads_members_are_outside_the_scope(job, base):
    design = replace(base.design, house=replace(base.design.house, roof_imposed=None))
    members = house_members(design, job.library, base.measured)
    assert {member.check.reason for member in members} == {"its loads are not stated"}


def test_a_depth_without_a_grade_is_outside_the_scope(job, base):
    design = replace(base.design, house=replace(base.design.house, rafter_depth=0.235))
    member = house_members(design, job.library, base.measured)[0]
    assert member.check.reason == "no timber grade is stated for its section"
    assert grade_of(job.library.grades, member.material, member.section) is None


def test_shallow_rafters_are_over_and_the_least_that_would_do_is_named(job, base):
    design = replace(base.design, house=replace(base.design.house, rafter_depth=0.14))
    member = house_members(design, job.library, base.measured)[0]
    assert member.check.outcome == "over"
    assert member.least is not None
    # 140 sags too much over 3.5 m, 170 is the next on sale
    assert member.least.section == Section(depth=0.17, thickness=0.045)


def test_floor_joists_run_over_their_bearers(demo_folder):
    job = read_job(demo_folder / "dune_studio.xlsx")
    result = evaluate(job, job.base, planned=False)
    member = next(each for each in result.members if each.use == "floor joist")
    assert member.loading is not None
    # 4.8 m, bearers 90 thick, the outer ones flush: 4.71 m in three bays of at most 1.6 m
    assert member.loading.spans == pytest.approx((1.57, 1.57, 1.57))
    assert (member.loading.dead, member.loading.imposed) == pytest.approx((0.45 * 500, 0.45 * 1500))
    assert (member.loading.end_bearing, member.loading.inner_bearing) == (0.045, 0.09)


# --- no steel ---


@pytest.fixture(scope="module")
def wharf(demo_folder):
    return read_job(demo_folder / "wharf_pair.xlsx")


def test_the_wide_door_has_a_steel_lintel_that_is_not_checked(wharf):
    result = evaluate(wharf, wharf.base, planned=False)
    member = named(result.members, "lintel over D01")
    assert member.material.startswith("Steel lintel")
    assert member.check.reason == "it is of steel"
    assert result.steel_lintels == ()


def test_no_steel_puts_the_least_timber_that_would_do(wharf):
    result = evaluate(wharf, wharf.option("No steel"), planned=False)
    (found,) = result.steel_lintels
    assert found.mark == "D01"
    assert found.timber is not None
    member = named(result.members, "lintel over D01")
    assert member.material == found.timber.material
    assert member.check.outcome == "within"
    assert not [line for line in result.lines if line.quantity.material.startswith("Steel lintel")]
    sticks = [m for frame in result.measured.wall_frames for m in frame.members if m.use == "lintel"]
    assert any(stick.material == found.timber.material for stick in sticks)


def test_steel_is_no_framing_timber(wharf):
    steel = evaluate(wharf, wharf.base, planned=False)
    lintel = next(m for m in steel.measured.members if m.material.startswith("Steel"))
    assert lintel not in steel.measured.timber
    assert len(steel.measured.members) == len(steel.measured.timber) + 1


def test_where_no_timber_on_sale_would_do_the_steel_stays_and_is_told(wharf):
    design = wharf.design_of(wharf.option("No steel"))
    heavy = replace(design, house=replace(design.house, roof_imposed=20e3))
    changed, found = without_steel(heavy, wharf.library)
    assert [(each.mark, each.timber) for each in found] == [("D01", None)]
    assert changed.chosen_lintels == {}


def test_timber_has_to_fit_between_head_and_plates(wharf):
    design = wharf.design_of(wharf.option("No steel"))
    tall = tuple(
        replace(opening, height=2.9) if opening.mark == "D01" else opening for opening in design.openings
    )
    # high wall 2.7 + 6.6 tan 5 = 3.277, two plates 0.09: 287 mm over a head at 2.9
    _, found = without_steel(replace(design, openings=tall), wharf.library)
    assert found[0].timber is not None
    assert found[0].timber.depth <= 0.287
    lower = tuple(
        replace(opening, height=3.07) if opening.mark == "D01" else opening for opening in design.openings
    )
    _, found = without_steel(replace(design, openings=lower), wharf.library)
    # 117 mm are left, room for 90 alone: three plies of it sag too much over 3.7 m
    assert found[0].timber is None


def test_an_inner_steel_lintel_gives_way_too(wharf):
    design = wharf.design_of(wharf.option("No steel"))
    lintels = tuple(
        replace(row, material="Steel lintel, hollow section 200 x 100 x 6", depth=0.2, thickness=0.1, plies=1)
        if (row.load_width, row.opening_width) == (5.0, 1.2)
        else row
        for row in design.lintels
    )
    changed, found = without_steel(replace(design, lintels=lintels), wharf.library)
    inner = [each for each in found if each.mark == "D11"]
    assert inner
    assert inner[0].timber is not None
    measured = measure_house(changed, wharf.library)
    rows = [
        hole.lintel
        for frame in measured.inside.wall_frames
        for hole in frame.openings
        if hole.opening.mark == "D11"
    ]
    assert rows == [inner[0].timber]


def test_steel_that_carries_no_roof_gives_way_to_the_table(wharf):
    design = wharf.design_of(wharf.option("No steel"))
    lintels = tuple(
        replace(row, material="Steel lintel, hollow section 200 x 100 x 6", depth=0.2, thickness=0.1, plies=1)
        if (row.load_width, row.opening_width) == (0.0, 1.8)
        else row
        for row in design.lintels
    )
    # W09, 1.5 m wide in the left wall: the next row for 0 is that for 2.4 m
    _, found = without_steel(replace(design, lintels=lintels), wharf.library)
    (side,) = [each for each in found if each.mark == "W09"]
    assert side.timber is not None
    assert (side.timber.load_width, side.timber.opening_width, side.timber.plies) == (0.0, 2.4, 2)


def test_a_house_that_does_not_ask_keeps_its_steel(wharf):
    design = wharf.design_of(wharf.base)
    assert without_steel(design, wharf.library) == (design, ())
