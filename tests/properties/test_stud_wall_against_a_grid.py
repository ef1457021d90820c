"""The combined method against heat conduction on a grid: the numeric resistance lies between both limits.

Steady conduction in two dimensions through half a bay of a stud wall, from the middle of a stud to the middle of the
insulation, square cells, surfaces as films; nothing of the rule is in it.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

from takeoff.assess.fabric.combined_method import ThermalPart, bridged, combined, homogeneous

INSIDE, OUTSIDE = 0.13, 0.04


def numeric_resistance(
    *, depth: float, board: float, wool: float, timber: float, plaster: float, spacing: float, stud: float
) -> float:
    step = 0.0025
    across, rows = round(spacing / 2 / step), [round(thickness / step) for thickness in (board, depth, board)]
    conductivity = np.empty((sum(rows), across))
    conductivity[: rows[0]] = plaster
    conductivity[rows[0] : rows[0] + rows[1]] = wool
    conductivity[rows[0] : rows[0] + rows[1], : round(stud / 2 / step)] = timber
    conductivity[rows[0] + rows[1] :] = plaster
    count = conductivity.size
    index = np.arange(count).reshape(conductivity.shape)
    first, second, values = [], [], []
    diagonal, right = np.zeros(count), np.zeros(count)
    for a, b in ((index[:, :-1], index[:, 1:]), (index[:-1], index[1:])):
        one, other = a.ravel(), b.ravel()
        k = 2 / (1 / conductivity.ravel()[one] + 1 / conductivity.ravel()[other])
        first += [one, other]
        second += [other, one]
        values += [-k, -k]
        np.add.at(diagonal, one, k)
        np.add.at(diagonal, other, k)
    for cells, film, temperature in ((index[0], OUTSIDE, 0.0), (index[-1], INSIDE, 1.0)):
        k = step / (film + step / 2 / conductivity.ravel()[cells])
        diagonal[cells] += k
        right[cells] += k * temperature
    first.append(np.arange(count))
    second.append(np.arange(count))
    values.append(diagonal)
    matrix = coo_matrix((np.concatenate(values), (np.concatenate(first), np.concatenate(second))))
    found = spsolve(matrix.tocsr(), right)
    k = step / (OUTSIDE + step / 2 / conductivity.ravel()[index[0]])
    heat = float(np.sum(k * found[index[0]]))
    return spacing / 2 / heat


@pytest.mark.parametrize("stud", [0.045, 0.09, 0.15])
@pytest.mark.parametrize("depth", [0.09, 0.17])
@pytest.mark.parametrize("spacing", [0.45, 0.6])
def test_the_grid_lies_between_the_limits(stud, depth, spacing):
    values = {"wool": 0.035, "timber": 0.13, "plaster": 0.21, "board": 0.0125}
    numeric = numeric_resistance(depth=depth, spacing=spacing, stud=stud, **values)
    board = homogeneous("board", values["board"] / values["plaster"])
    frame = bridged(
        "frame",
        ThermalPart(name="wool", share=1 - stud / spacing, resistance=depth / values["wool"]),
        ThermalPart(name="timber", share=stud / spacing, resistance=depth / values["timber"]),
    )
    limits = combined([board, frame, board], inside_surface=INSIDE, outside_surface=OUTSIDE)
    # cells of 2.5 mm are good to a tenth of a per cent
    assert limits.lower * 0.999 <= numeric <= limits.upper * 1.001
    assert limits.total == pytest.approx(numeric, rel=limits.relative_error + 0.001)
