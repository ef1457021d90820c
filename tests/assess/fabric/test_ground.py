"""Floors on the ground: what is refused, and what edge insulation can't do; values are in tests/published."""

from __future__ import annotations

import pytest

from takeoff.assess.fabric.ground import characteristic_dimension, edge_insulated, slab_on_ground


def slab(**changed: float):
    values = {
        "area": 86.4,
        "perimeter": 38.4,
        "wall_thickness": 0.3,
        "ground_conductivity": 1.5,
        "floor_resistance": 0.0,
        "inside_surface": 0.17,
        "outside_surface": 0.04,
    }
    return slab_on_ground(**(values | changed))


def test_a_slab_keeps_what_its_edge_is_reckoned_with():
    floor = slab(floor_resistance=2.0)
    assert floor.characteristic == pytest.approx(86.4 / 19.2)
    # 0.3 + 1.5 x (0.17 + 2.0 + 0.04)
    assert floor.equivalent == pytest.approx(3.615)
    assert floor.ground_conductivity == 1.5


@pytest.mark.parametrize("changed", [{"area": 0.0}, {"perimeter": 0.0}, {"area": -1.0}, {"perimeter": -1.0}])
def test_a_floor_without_area_or_edge_is_refused(changed):
    size = {"area": 86.4, "perimeter": 38.4} | changed
    with pytest.raises(ValueError, match=r"^area and perimeter must be above 0$"):
        characteristic_dimension(**size)
    with pytest.raises(ValueError, match=r"^area and perimeter must be above 0$"):
        slab(**changed)


@pytest.mark.parametrize("conductivity", [0.0, -1.5])
def test_ground_that_does_not_conduct_is_refused(conductivity):
    with pytest.raises(ValueError, match=r"^the conductivity of the ground must be above 0$"):
        slab(ground_conductivity=conductivity)


@pytest.mark.parametrize("name", ["depth", "thickness", "resistance"])
@pytest.mark.parametrize("value", [0.0, -0.1])
def test_edge_insulation_without_size_is_refused(name, value):
    edge = {"depth": 0.6, "thickness": 0.05, "resistance": 1.4} | {name: value}
    with pytest.raises(ValueError, match=r"^depth, thickness and resistance must be above 0$"):
        edge_insulated(slab(), **edge)


def test_an_edge_that_resists_less_than_the_ground_it_replaces_makes_no_difference():
    # 100 mm of ground resist 0.1 / 1.5 = 0.067 m2 K/W
    floor = slab()
    assert edge_insulated(floor, depth=0.6, thickness=0.1, resistance=0.05) == floor.u_value


def test_the_edge_counts_less_the_better_the_floor_is_insulated():
    def saved(resistance: float) -> float:
        floor = slab(floor_resistance=resistance)
        return floor.u_value - edge_insulated(floor, depth=0.6, thickness=0.05, resistance=1.4)

    assert saved(0.0) > saved(1.0) > saved(3.0) > 0
