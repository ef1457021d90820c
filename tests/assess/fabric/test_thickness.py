"""The least thickness that is enough, and when none is looked for."""

from __future__ import annotations

import pytest

from takeoff.assess.fabric.thickness import thickness_for


def u_of(thickness: float) -> float:
    """A wall of 0.5 m2 K/W without its insulation of 0.04 W/(m K)."""
    return 1 / (0.5 + thickness / 0.04)


def test_the_thickness_is_rounded_up_to_five_millimetres():
    # 0.25: R 4, of which 3.5 x 0.04 = 0.140 exactly; 0.24: R 4.1667, 0.14667
    assert thickness_for(u_of, 0.25, low=0.0, high=0.5) == 0.14
    assert thickness_for(u_of, 0.24, low=0.0, high=0.5) == 0.15


def test_another_step_may_be_asked_for():
    # 0.14667 in steps of 20 and of 1 mm
    assert thickness_for(u_of, 0.24, low=0.0, high=0.5, step=0.02) == 0.16
    assert thickness_for(u_of, 0.24, low=0.0, high=0.5, step=0.001) == 0.147


@pytest.mark.parametrize("steps", range(1, 100))
@pytest.mark.parametrize("conductivity", [0.022, 0.035, 0.04])
def test_a_thickness_that_is_a_whole_step_is_not_rounded_up_to_the_next(steps, conductivity):
    exact = steps * 0.005

    def loss(thickness: float) -> float:
        return 1 / (0.5 + thickness / conductivity)

    assert thickness_for(loss, loss(exact), low=0.0, high=0.5) == pytest.approx(exact, abs=1e-9)


def test_what_is_enough_already_stays_as_it_is():
    assert thickness_for(u_of, 3.0, low=0.0, high=0.5) == 0.0
    # 0.053 m gives 0.54795, kept though it is no whole step
    assert thickness_for(u_of, u_of(0.053), low=0.053, high=0.5) == 0.053


def test_a_loss_that_just_meets_the_target_is_enough():
    """A loss that never falls tells `not above` from `below`: looked for, nothing would be found."""
    assert thickness_for(lambda thickness: 0.25, 0.25, low=0.1, high=0.5) == 0.1


def test_none_where_the_thickest_is_not_enough():
    assert thickness_for(u_of, 0.25, low=0.0, high=0.13) is None


def test_the_thickest_counts_though_it_is_no_whole_step():
    # 0.140 is needed in steps of 50 mm, but nothing over 0.142 can be had
    assert thickness_for(u_of, 0.25, low=0.0, high=0.142, step=0.05) == 0.142
