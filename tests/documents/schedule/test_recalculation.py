"""Every formula of the schedule, recalculated by an engine of its own, gives the figure that is stored with it.

Checked against the general-purpose package formulas (PyPI), which computes from the formulas alone. Tolerance 1e-9
relative: both sides are sums and products of the same numbers in different order.
"""

from __future__ import annotations

import pytest


def formulas_of(book):
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    yield sheet.title, cell.coordinate, cell.value


def differing(book, stored, value):
    found = []
    for sheet, cell, formula in formulas_of(book):
        kept, computed = stored[sheet][cell].value, value(sheet, cell)
        if isinstance(kept, str) or kept is None:
            if str(kept) != str(computed):
                found.append((sheet, cell, formula, kept, computed))
        elif abs(float(computed) - kept) > 1e-9 * max(abs(kept), 1.0):
            found.append((sheet, cell, formula, kept, computed))
    return found


def test_every_formula_gives_the_figure_stored_with_it(studio_schedule, engine, opened):
    book, stored = opened(studio_schedule), opened(studio_schedule, stored=True)
    assert sum(1 for _ in formulas_of(book)) > 6000
    assert differing(book, stored, engine.values()) == []


def test_the_comparison_sees_a_wrong_figure(studio_schedule, engine, opened, named):
    book, stored = opened(studio_schedule), opened(studio_schedule, stored=True)
    sheet, cell = named(studio_schedule)["Total_inc_tax"]
    stored[sheet][cell].value *= 1 + 1e-8
    assert [found[:2] for found in differing(book, stored, engine.values())] == [(sheet, cell)]


def test_the_figures_are_those_of_the_program_to_the_cent(
    studio, studio_schedule, engine, named, columns, opened
):
    _, result = studio
    value, cells = engine.values(), named(studio_schedule)
    assert value(*cells["Total_inc_tax"]) == pytest.approx(result.ladder.total_inc_tax, abs=0.005)
    assert value(*cells["Measured_works"]) == pytest.approx(result.ladder.measured_works, abs=0.005)
    letters = columns(studio_schedule, "Schedule")
    costs = {line.quantity.id: line.cost for line in result.lines}
    seen = 0
    for row in opened(studio_schedule)["Schedule"].iter_rows(min_row=5):
        id = row[1].value
        if id in costs:
            seen += 1
            assert value("Schedule", f"{letters['Amount']}{row[0].row}") == pytest.approx(
                costs[id], abs=0.005
            )
    assert seen == len(result.lines)


def test_carbon_is_that_of_the_program(studio, studio_schedule, engine, columns, row_of):
    _, result = studio
    letters = columns(studio_schedule, "Carbon", header=5)
    total = row_of(studio_schedule, "Carbon", letters["Item, in short"], "All items")
    value = engine.values()
    for module, title in (
        ("A1-A3", "A1-A3"),
        ("A5 wastage", "A5 wastage"),
        ("B2", "B2"),
        ("B4", "B4"),
        ("C4", "C4"),
    ):
        assert value("Carbon", f"{letters[title]}{total}") == pytest.approx(
            result.totals.of(module), rel=1e-9
        )
    assert value("Carbon", f"{letters['A1 to A5']}{total}") == pytest.approx(result.totals.upfront, rel=1e-9)
    assert value("Carbon", f"{letters['Life cycle']}{total}") == pytest.approx(result.life_cycle, rel=1e-9)
    assert value("Carbon", f"{letters['Stored CO2']}{total}") == pytest.approx(result.totals.stored, rel=1e-9)
