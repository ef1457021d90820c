"""How long it takes to lay out and cut the sheets of one material of a house.

Outside the default run:
python -m pytest -q --override-ini addopts=--import-mode=importlib tests/benchmarks/bench_sheets.py
"""

from __future__ import annotations

import pytest

from takeoff.cutting.sheets import layout, plan
from takeoff.cutting.sheets.sizes import SheetOnSale
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void


def _house(length: float, span: float, partitions: int) -> tuple[Surface, ...]:
    """Return the inside faces of a house from 2.4 to 3.4 m high, with doors and windows."""

    def height(y: float) -> float:
        return 2.4 + y / span

    walls = [
        Surface(
            "low",
            Face(length, 0.0, 2.4, 2.4),
            (Void(1.0, 0.9, 1.2, 1.2), Void(4.0, 0.0, 0.9, 2.1), Void(6.2, 0.3, 1.8, 1.8)),
        ),
        Surface("high", Face(length, 0.0, 3.4, 3.4), (Void(2.0, 0.9, 1.5, 1.2), Void(5.0, 0.0, 2.4, 2.1))),
        Surface("left", Face(span, 0.0, 3.4, 2.4), (Void(1.3, 0.9, 1.2, 1.2),)),
        Surface("right", Face(span, 0.0, 2.4, 3.4), (Void(3.3, 0.9, 0.6, 1.2),)),
    ]
    for number in range(partitions):
        along = 2.6 + 0.37 * number
        level = height(1.0 + 0.3 * number)
        walls.append(
            Surface(f"level {number}", Face(along, 0.0, level, level), (Void(0.4, 0.0, 0.82, 2.04),))
        )
        walls.append(Surface(f"raking {number}", Face(3.1, 0.0, height(1.0), height(4.1))))
    return tuple(walls)


ONE = (SheetOnSale(2.4, 1.2),)
FOUR = tuple(SheetOnSale(length, 1.2) for length in (2.4, 2.7, 3.0, 3.6))
EIGHT = tuple(SheetOnSale(length, 1.2) for length in (2.4, 2.7, 3.0, 3.6, 4.2, 4.8, 5.4, 6.0))


@pytest.mark.parametrize("direction", ["vertical", None])
@pytest.mark.parametrize("sizes", [ONE, FOUR, EIGHT], ids=["1 size", "4 sizes", "8 sizes"])
@pytest.mark.parametrize("partitions", [0, 6, 12], ids=["4 faces", "16 faces", "28 faces"])
def test_one_material(benchmark, partitions, sizes, direction):
    faces = _house(9.0, 6.0, partitions)

    def fresh() -> plan.SheetPlan:
        for kept in (plan.plan_sheets, plan._plan, layout.lay_surface):
            kept.cache_clear()
        return plan.plan_sheets(
            faces,
            sizes,
            direction=direction,
            stagger=0.6,
            kerf=0.003,
            least_offcut=0.3,
            least_width=0.15,
        )

    found = benchmark.pedantic(fresh, rounds=3)
    assert found.area_bought >= found.strip_bound - 1e-6
