"""Resistances of surfaces and still air, from rows that need not stand in order.

Values: EN ISO 6946, from memory (surfaces 0.10, 0.13, 0.17 and 0.04; 25 mm of still air 0.16, 0.18, 0.19).
"""

from __future__ import annotations

import pytest

from takeoff.assess.fabric.air_layers import still_air, surface
from takeoff.model.fabric import ThermalResistance


def row(kind: str, thickness: float | None, upwards: float, horizontal: float, downwards: float):
    return ThermalResistance(
        kind=kind, thickness=thickness, upwards=upwards, horizontal=horizontal, downwards=downwards
    )


ROWS = (
    row("still air layer", 0.025, 0.16, 0.18, 0.19),
    row("inside surface", None, 0.10, 0.13, 0.17),
    row("still air layer", 0.005, 0.11, 0.11, 0.11),
    row("still air layer", 0.050, 0.16, 0.18, 0.21),
    row("outside surface", None, 0.04, 0.04, 0.04),
)


@pytest.mark.parametrize(("flow", "inside"), [("upwards", 0.10), ("horizontal", 0.13), ("downwards", 0.17)])
def test_a_surface_goes_by_the_way_of_the_heat(flow, inside):
    assert surface(ROWS, "inside surface", flow) == inside
    assert surface(ROWS, "outside surface", flow) == 0.04


@pytest.mark.parametrize("kind", ["inside surface", "outside surface"])
def test_a_surface_that_no_row_states_is_told(kind):
    rows = [each for each in ROWS if each.kind != kind]
    with pytest.raises(LookupError, match=f"^a row of the kind {kind}$"):
        surface(rows, kind, "horizontal")


@pytest.mark.parametrize(
    ("thickness", "expected"),
    [
        (0.0, 0.0),
        # half of the thinnest row
        (0.0025, 0.055),
        (0.005, 0.11),
        # half way from 5 to 25 mm: (0.11 + 0.19) / 2
        (0.015, 0.15),
        (0.025, 0.19),
        # three fifths of the way from 25 to 50 mm: 0.19 + 0.6 x 0.02
        (0.040, 0.202),
        (0.050, 0.21),
        (0.300, 0.21),
    ],
)
def test_still_air_is_interpolated_from_nothing_to_the_thickest_row(thickness, expected):
    assert still_air(ROWS, thickness, "downwards") == pytest.approx(expected)


def test_one_row_of_still_air_is_enough():
    rows = [row("still air layer", 0.02, 0.16, 0.18, 0.18)]
    assert still_air(rows, 0.01, "upwards") == pytest.approx(0.08)
    assert still_air(rows, 0.02, "upwards") == still_air(rows, 0.1, "upwards") == 0.16


def test_without_a_row_of_still_air_nothing_is_made_up():
    rows = [each for each in ROWS if each.kind != "still air layer"]
    with pytest.raises(LookupError, match=r"^a row of the kind still air layer$"):
        still_air(rows, 0.02, "horizontal")
