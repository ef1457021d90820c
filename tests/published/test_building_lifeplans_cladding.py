"""Whole-life table of timber cladding, P. Mayer, Building LifePlans (attachment on building.co.uk, read).

Years, low, typical, high: cedar or oak without a finish 40, 50, 60; treated whitewood, painted, 20, 25, 30; repainting
timber cladding every two to five years, typically three. Held: sheltered, moderate and exposed lives of the starter
data lie within the range read, moderate being the typical one. No tolerance.
"""

import pytest


@pytest.mark.parametrize(
    ("material", "low", "typical", "high"),
    [
        ("Weatherboard, treated softwood 180 x 19", 20, 25, 30),
        # proxy: a durable hardwood without a finish
        ("Shiplap board, durable hardwood 135 x 20", 40, 50, 60),
        ("Exterior paint, water-based", 2, 3, 5),
    ],
)
def test_lives_of_new_workbooks(job, material, low, typical, high):
    row = job.library.lives[material]
    assert row.moderate == typical
    assert low <= row.exposed < row.moderate < row.sheltered <= high
    assert (row.source, row.standing) == ("BLP", "read")


def test_repainting_is_maintenance_and_new_boards_replacement(job):
    assert job.library.lives["Exterior paint, water-based"].module == "B2"
    assert job.library.lives["Weatherboard, treated softwood 180 x 19"].module == "B4"
