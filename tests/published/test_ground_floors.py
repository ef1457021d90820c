"""U-values of solid ground floors: the table of UK handbooks (CIBSE Guide A, section 3, and tables that follow it).

Clay, 1.5 W/(m K), walls 0.3 m thick, surfaces 0.17 and 0.04, no insulation, by perimeter over area, W/(m2 K) to two
places. Standing: from memory, not opened; EN ISO 13370 from memory too. Two
memories of one rule are a weak check of its constants, so an independent numeric solution stands beside it.

Tolerance: 0.006, half the last place of a table and a little for its own rounding.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from takeoff.assess.fabric.ground import characteristic_dimension, edge_insulated, slab_on_ground

BARE = {
    0.05: 0.13,
    0.10: 0.22,
    0.15: 0.30,
    0.20: 0.37,
    0.25: 0.44,
    0.30: 0.49,
    0.35: 0.55,
    0.40: 0.60,
    0.45: 0.65,
    0.50: 0.70,
    0.55: 0.74,
    0.60: 0.78,
    0.65: 0.82,
    0.70: 0.86,
    0.75: 0.89,
    0.80: 0.93,
    0.85: 0.96,
    0.90: 0.99,
    0.95: 1.02,
    1.00: 1.05,
}


def floor(ratio: float, resistance: float = 0.0, *, conductivity: float = 1.5, wall: float = 0.3):
    return slab_on_ground(
        area=100.0,
        perimeter=100.0 * ratio,
        wall_thickness=wall,
        ground_conductivity=conductivity,
        floor_resistance=resistance,
        inside_surface=0.17,
        outside_surface=0.04,
    )


@pytest.mark.parametrize(("ratio", "printed"), BARE.items())
def test_a_floor_without_insulation_by_perimeter_over_area(ratio, printed):
    assert floor(ratio).u_value == pytest.approx(printed, abs=0.006)


def test_the_characteristic_dimension_is_area_over_half_the_perimeter():
    # 12.0 x 7.2 m: 86.4 / 19.2
    assert characteristic_dimension(area=86.4, perimeter=38.4) == pytest.approx(4.5)


def test_a_well_insulated_floor_follows_the_other_formula():
    # R 3.5: dt = 0.3 + 1.5 x (0.21 + 3.5) = 5.865 m, over B' = 4 m: U = 1.5 / (0.457 x 4 + 5.865)
    slab = floor(0.5, 3.5)
    assert slab.equivalent == pytest.approx(5.865)
    assert slab.u_value == pytest.approx(1.5 / (0.457 * 4 + 5.865), rel=1e-12)


def test_both_formulas_nearly_meet_where_one_takes_over():
    """Where the equivalent thickness is the characteristic dimension, both give 0.686 of lambda over it."""
    assert 2 / (math.pi + 1) * math.log(math.pi + 1) == pytest.approx(1 / 1.457, rel=1e-3)


def test_edge_insulation_takes_off_what_the_rule_says():
    """Hand calculation: 50 mm of 0.035 W/(m K), 0.5 m deep, round the bare floor at P/A 0.5."""
    slab = floor(0.5)
    resistance = 0.05 / 0.035
    added = (resistance - 0.05 / 1.5) * 1.5
    psi = -1.5 / math.pi * (math.log(1 / 0.615 + 1) - math.log(1 / (0.615 + added) + 1))
    assert slab.equivalent == pytest.approx(0.615)
    by_rule = edge_insulated(slab, depth=0.5, thickness=0.05, resistance=resistance)
    assert by_rule == pytest.approx(slab.u_value + 2 * psi / 4, rel=1e-12)
    assert by_rule < slab.u_value


def test_a_long_floor_lies_near_a_numeric_solution():
    """Two-dimensional conduction under a long slab 8 m wide (B' 8 m), solved on a grid.

    Ground 30 m to each side and down, 1.5 W/(m K); above the slab 0.21 m2 K/W over 0 to 8 m, outside 0.04 m2 K/W,
    walls 0.3 m thick taken as perfect insulation on the ground. The rule fits such solutions to some per cent; 6 %
    allowed.
    """
    step, reach, width, wall = 0.1, 20.0, 8.0, 0.3
    columns, rows = int((reach + width / 2) / step), int(reach / step)
    conductivity = 1.5
    # from the middle of the floor outwards: inside, wall, outside
    surface = np.zeros(columns)
    known = np.zeros(columns)
    for column in range(columns):
        x = (column + 0.5) * step
        if x < width / 2:
            surface[column], known[column] = 1 / 0.21, 1.0
        elif x > width / 2 + wall:
            surface[column], known[column] = 1 / 0.04, 0.0
    # conductance from the middle of the first cell to the air
    into = np.where(surface > 0, 1 / (1 / np.maximum(surface, 1e-9) + step / 2 / conductivity), 0.0) * step
    temperature = _solved(columns, rows, conductivity, into, known)
    heat = float(sum(into[c] * (known[c] - temperature[0, c]) for c in range(int(width / 2 / step))))
    numeric = heat / (width / 2)
    rule = slab_on_ground(
        area=8.0 * 1000,
        perimeter=2 * 1000,
        wall_thickness=wall,
        ground_conductivity=conductivity,
        floor_resistance=0.0,
        inside_surface=0.17,
        outside_surface=0.04,
    )
    assert rule.characteristic == pytest.approx(8.0)
    assert rule.u_value == pytest.approx(numeric, rel=0.06)


def _solved(columns: int, rows: int, conductivity: float, into: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Steady temperatures of a grid of square cells, no heat through its far edges."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.linalg import spsolve

    index = np.arange(rows * columns).reshape(rows, columns)
    diagonal = np.zeros(rows * columns)
    right = np.zeros(rows * columns)
    first, second, values = [], [], []
    for one, other in ((index[:, :-1], index[:, 1:]), (index[:-1, :], index[1:, :])):
        a, b = one.ravel(), other.ravel()
        for p, q in ((a, b), (b, a)):
            first.append(p)
            second.append(q)
            values.append(np.full(p.size, -conductivity))
            np.add.at(diagonal, p, conductivity)
    diagonal[index[0]] += into
    right[index[0]] += into * known
    first.append(np.arange(diagonal.size))
    second.append(np.arange(diagonal.size))
    values.append(diagonal)
    matrix = coo_matrix((np.concatenate(values), (np.concatenate(first), np.concatenate(second))))
    return np.asarray(spsolve(matrix.tocsr(), right)).reshape(rows, columns)
