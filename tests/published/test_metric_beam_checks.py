"""Single timber beams in metric units, from four sources.

- A validation line of a published calculation: simply supported, 4.8 m, 2.4 kN/m, 75 x 225, E 11 GPa: 21.18 mm; read.
- structville.com, April 2020, a worked check of a C24 joist after Porteous and Kermani: inputs and the section modulus
  read, the printed results cut off in the copy, so moments and stresses are worked here by hand: derived.
- structuralbasics.kit.com, episode 11, a 120 x 240 member of C24: inputs read, the second moment derived.
- Technical guidance note 19 of The Structural Engineer (yumpu.com, 19377863): limits span / 250 and span / 150, sag in
  the end as dead x (1 + kdef) + imposed x (1 + psi2 kdef); read.

Tolerances are half the last digit printed.
"""

from __future__ import annotations

import pytest

from takeoff.assess.members.beams import beam_effects
from takeoff.assess.members.checks import Loading, check_member
from takeoff.assess.members.sections import Section
from takeoff.model.timber import LoadCase, TimberGrade

JOIST = Section(depth=0.200, thickness=0.075)
# Joist of the second source: 2.75 m clear and half of 0.1 m on each side; dead 1.3, imposed 1.5 kN/m, 1.0 kN dead in
# the middle.
SPAN = 2.75 + 0.1
C24 = TimberGrade(
    material="joist",
    grade="C24",
    depths=(0.2,),
    thicknesses=(0.075,),
    bending=24e6,
    shear=4e6,
    bearing=2.5e6,
    elasticity=11e9,
)
MEDIUM_TERM = LoadCase(
    member="floor joist",
    case="medium term",
    kind="strength",
    dead=1.35,
    imposed=1.5,
    duration=0.8,
    material_factor=1.3,
)


def test_the_sag_of_the_validation_line_is_21_18_mm():
    section = Section(depth=0.225, thickness=0.075)
    assert section.inertia == pytest.approx(7119e-8, abs=0.5e-8)
    effects = beam_effects([4.8], dead=2400, imposed=0, stiffness=11e9 * 7119e-8)
    assert effects.sag * 1000 == pytest.approx(21.18, abs=0.005)


def test_the_section_modulus_of_the_joist_is_5_times_10_to_the_5_mm3():
    assert JOIST.modulus * 1e9 == pytest.approx(5.0e5, rel=1e-12)


def test_the_design_moment_and_stress_of_the_joist():
    # (1.35 x 1.3 + 1.5 x 1.5) x 2.85^2 / 8 = 4.0667; the point load 1.35 x 1.0 x 2.85 / 4 = 0.9619 is added by hand
    uniform = beam_effects([SPAN], dead=1.35 * 1300, imposed=1.5 * 1500, stiffness=1.0).moment
    moment = uniform + 1.35 * 1000 * SPAN / 4
    assert moment / 1000 == pytest.approx(5.03, abs=0.005)
    assert moment / JOIST.modulus / 1e6 == pytest.approx(10.06, abs=0.005)


def test_the_design_strength_of_the_joist_is_14_77():
    # by the check itself: bending used = stress / strength, so strength = stress / used
    loading = Loading(spans=(SPAN,), dead=1300, imposed=1500, end_bearing=0.1)
    checks = {check.of: check for check in check_member(JOIST, C24, [MEDIUM_TERM], loading).checks}
    uniform = beam_effects([SPAN], dead=1.35 * 1300, imposed=1.5 * 1500, stiffness=1.0).moment
    assert uniform / JOIST.modulus / checks["bending"].used / 1e6 == pytest.approx(14.77, abs=0.005)


@pytest.mark.parametrize(
    ("load", "printed"),
    [(1300, 2.03), (1500, 2.34)],
    ids=["dead, without the point load: 5 x 1.3 x 2850^4 / (384 x 11000 x 5e7)", "imposed"],
)
def test_the_sag_of_the_joist_at_once(load, printed):
    effects = beam_effects([SPAN], dead=load, imposed=0, stiffness=11e9 * JOIST.inertia)
    assert effects.sag * 1000 == pytest.approx(printed, abs=0.005)


def test_the_sag_under_dead_load_with_its_point_load_is_2_91_mm():
    uniform = beam_effects([SPAN], dead=1300, imposed=0, stiffness=11e9 * JOIST.inertia).sag
    point = 1000 * SPAN**3 / (48 * 11e9 * JOIST.inertia)
    assert (uniform + point) * 1000 == pytest.approx(2.91, abs=0.005)


def test_the_second_moment_of_120_by_240():
    assert Section(depth=0.240, thickness=0.120).inertia * 1e12 == pytest.approx(1.38e8, rel=0.005)
    assert Section(depth=0.240, thickness=0.120).inertia * 1e12 == pytest.approx(1.3824e8, rel=1e-12)


def test_sag_in_the_end_takes_creep_into_the_factors_of_its_case():
    # kdef 0.6, psi2 0.3: dead x 1.6, imposed x 1.18, against 2850 / 250 = 11.4 mm
    final = LoadCase(
        member="floor joist", case="in the end", kind="deflection", dead=1.6, imposed=1.18, limit=250
    )
    loading = Loading(spans=(SPAN,), dead=1300, imposed=1500, end_bearing=0.1)
    (check,) = check_member(JOIST, C24, [final], loading).checks
    # 5 w L4 / 384 EI with w = 1.6 x 1.3 + 1.18 x 1.5 = 3.85 N/mm: 6.013 mm of 11.4 mm
    sag = 5 * 3.85 * 2850**4 / (384 * 11000 * 75 * 200**3 / 12)
    assert check.used == pytest.approx(sag / (2850 / 250), rel=1e-9)


def test_a_span_over_4_m_is_outside_where_vibration_has_to_be_checked():
    case = LoadCase(
        member="floor joist",
        case="in the end",
        kind="deflection",
        dead=1,
        imposed=1,
        limit=250,
        longest_span=4.0,
    )
    loading = Loading(spans=(4.1,), dead=100, imposed=100, end_bearing=0.1)
    result = check_member(JOIST, C24, [case], loading)
    assert result.outcome == "outside scope"
    assert result.reason == "its span of 4.10 m is over the 4 m that its load cases reach"


# Continuous beams of equal spans: handbook coefficients, from memory, three digits.
@pytest.mark.parametrize(
    ("spans", "moment", "shear", "inner", "end"),
    [(2, 0.125, 0.625, 1.25, 0.375), (3, 0.100, 0.600, 1.10, 0.400), (4, 0.107, 0.607, 1.143, 0.393)],
)
def test_continuous_beams_loaded_all_over_have_the_coefficients_of_handbooks(
    spans, moment, shear, inner, end
):
    effects = beam_effects([1.0] * spans, dead=1.0, imposed=0.0, stiffness=1.0)
    assert effects.moment == pytest.approx(moment, abs=5e-4)
    assert effects.shear == pytest.approx(shear, abs=5e-4)
    assert effects.inner_reaction == pytest.approx(inner, abs=5e-4)
    assert effects.end_reaction == pytest.approx(end, abs=5e-4)


@pytest.mark.parametrize(
    ("spans", "moment", "shear", "sag"),
    [(2, 0.125, 0.625, 0.0092), (3, 0.117, 0.617, 0.0099)],
    ids=["two: one loaded sags most", "three: the outer two loaded sag most"],
)
def test_imposed_load_on_the_worst_spans_has_the_coefficients_of_handbooks(spans, moment, shear, sag):
    effects = beam_effects([1.0] * spans, dead=0.0, imposed=1.0, stiffness=1.0)
    assert effects.moment == pytest.approx(moment, abs=5e-4)
    assert effects.shear == pytest.approx(shear, abs=5e-4)
    assert effects.sag == pytest.approx(sag, abs=6e-5)


def test_two_spans_loaded_all_over_sag_by_one_part_in_185():
    effects = beam_effects([1.0, 1.0], dead=1.0, imposed=0.0, stiffness=1.0)
    assert effects.sag == pytest.approx(1 / 185, rel=2e-3)
