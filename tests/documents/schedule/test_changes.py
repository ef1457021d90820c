"""A change typed into the schedule moves the totals by what a calculation by hand says.

Recalculated by the general-purpose package formulas (PyPI). The ladder above the measured works of these tests is
4,000 + 12 % of works + 2 % of works and sums, then x 1.20 (markup) / 0.80 (margin 20 % of the price) x 1.03 x 1.10
(see conftest.py): one more of firm works adds (1 + 0.12 + 0.02) x 1.20 / 0.80 x 1.03 x 1.10 = 1.937430 to the total.
"""

from __future__ import annotations

import pytest

LADDER = (1 + 0.12 + 0.02) * 1.20 / 0.80 * 1.03 * 1.10
ROOF = "RF.slope.roof-underlay-vapour-open"


@pytest.fixture(scope="module")
def before(small_engine):
    return small_engine.values()


@pytest.fixture(scope="module")
def total(small_schedule, named):
    return named(small_schedule)["Total_inc_tax"]


@pytest.fixture(scope="module")
def line(small_schedule, columns, row_of):
    """Return the cell of an item on a sheet by the title of its column."""

    def cell(sheet, id, title, header=4):
        letters = columns(small_schedule, sheet, header=header)
        return (sheet, f"{letters[title]}{row_of(small_schedule, sheet, letters['Id'], id)}")

    return cell


@pytest.fixture(scope="module")
def item(small):
    _, result = small
    return {line.quantity.id: line for line in result.lines}


def test_a_dimension(small_engine, before, total, small_schedule, columns, row_of, item):
    letters = columns(small_schedule, "Dimensions")
    # two dimensions: the first line of the underlay, below the heading with the id
    first = row_of(small_schedule, "Dimensions", letters["Id"], ROOF) + 1
    old, height = before("Dimensions", f"D{first}"), before("Dimensions", f"E{first}")
    after = small_engine.values({("Dimensions", f"D{first}"): old + 0.5})
    # 0.5 m more along the eaves, at the rate of one net m2, up the ladder
    more = 0.5 * height * item[ROOF].rate.total
    assert after(*total) - before(*total) == pytest.approx(more * LADDER, rel=1e-9)
    assert more > 10


def test_the_price_of_a_material(small_engine, before, total, small_schedule, columns, row_of, small):
    job, result = small
    material = "Roof underlay, vapour-open"
    letters = columns(small_schedule, "Prices")
    row = row_of(small_schedule, "Prices", letters["Material"], material)
    old = before("Prices", f"{letters['Stated']}{row}")
    after = small_engine.values({("Prices", f"{letters['Stated']}{row}"): old + 1.0})
    # everything charged of it costs 1.00 more for each m2, and its sundries with it
    charged = sum(line.ordered.charged for line in result.lines if line.quantity.material == material)
    more = charged * (1 + job.library.prices[material].sundries)
    assert after(*total) - before(*total) == pytest.approx(more * LADDER, rel=1e-9)


def test_the_rate_of_a_gang(small_engine, before, total, small_schedule, opened, small):
    job, result = small
    # the gangs stand below the labour constants
    name, cell = next(
        (row[1].value, row[2].coordinate)
        for row in opened(small_schedule)["Labour"].iter_rows()
        if row[1].value in job.library.gangs
    )
    after = small_engine.values({("Labour", cell): job.library.gangs[name].rate + 5.0})
    hours = 0.0
    for line in result.lines:
        material = job.library.materials.get(line.quantity.material)
        work = line.quantity.work or (material.work if material else None)
        stated = any(applied.override.figure == "rate" for applied in line.overrides)
        if work and job.library.works[work].gang == name and not stated:
            hours += line.rate.hours * line.quantity.net
    assert hours > 1
    assert after(*total) - before(*total) == pytest.approx(5.0 * hours * LADDER, rel=1e-9)


def test_a_wastage(small_engine, before, total, line, item, small):
    job, _ = small
    cell = line("Rates", ROOF, "Wastage")
    after = small_engine.values({cell: before(*cell) + 0.10})
    # a tenth of what is required is paid for besides, with its sundries
    underlay = item[ROOF]
    price = job.library.prices["Roof underlay, vapour-open"]
    more = 0.10 * underlay.quantity.required * price.price.value * (1 + price.sundries)
    assert after(*total) - before(*total) == pytest.approx(more * LADDER, rel=1e-9)
    # and its carbon: A1-A3 and A4 of one unit, C2 to C4 besides
    carbon = line("Carbon", ROOF, "A5 wastage", header=5)
    unit = (
        sum(underlay.carbon.of(module) or 0.0 for module in ("A1-A3", "A4", "C2", "C3", "C4"))
        / underlay.ordered.built_in
    )
    assert after(*carbon) - before(*carbon) == pytest.approx(
        0.10 * underlay.quantity.required * unit, rel=1e-9
    )


def test_a_percentage(small_engine, before, total, small_schedule, row_of, small):
    _, result = small
    row = row_of(small_schedule, "Summary", "A", "Preliminaries")
    after = small_engine.values({("Summary", f"C{row}"): 0.13})
    # one more hundredth of the measured works, then markup, margin, index and tax
    more = 0.01 * result.ladder.measured_works * 1.20 / 0.80 * 1.03 * 1.10
    assert after(*total) - before(*total) == pytest.approx(more, rel=1e-9)


def test_an_override_typed_into_an_empty_row(
    small_engine, before, total, small_schedule, columns, row_of, item
):
    letters = columns(small_schedule, "Overrides")
    row = row_of(small_schedule, "Overrides", letters["Id"], "ED.d01") + 1
    typed = {
        ("Overrides", f"{letters['Id']}{row}"): ROOF,
        ("Overrides", f"{letters['Figure']}{row}"): "quantity",
        ("Overrides", f"{letters['Value']}{row}"): item[ROOF].quantity.net - 4.0,
    }
    after = small_engine.values(typed)
    assert after(*total) - before(*total) == pytest.approx(-4.0 * item[ROOF].rate.total * LADDER, rel=1e-9)


def test_a_row_inserted_on_dimension_paper(
    engine_of, small_schedule, with_row, columns, row_of, before, total, item
):
    letters = columns(small_schedule, "Dimensions")
    heading = row_of(small_schedule, "Dimensions", letters["Id"], ROOF)
    number = int(before("Dimensions", f"A{heading + 1}"))
    lines = len(item[ROOF].quantity.dimensions)
    # above the thin row that ends the item: 2 / 3.00 x 1.50 deducted
    typed = {"A": number, "C": 2, "D": 3.0, "E": 1.5, letters["Add or Ddt"]: "Ddt"}
    data = with_row(small_schedule, "Dimensions", heading + lines + 1, typed, like=heading + 1)
    after = engine_of(data).values()
    assert after("Dimensions", f"{letters['Squaring']}{heading + lines + 1}") == pytest.approx(-9.0)
    net = after("Dimensions", f"{letters['Net']}{heading + lines + 3}")
    assert net == pytest.approx(item[ROOF].quantity.net - 9.0)
    assert after(*total) - before(*total) == pytest.approx(-9.0 * item[ROOF].rate.total * LADDER, rel=1e-9)
    assert after("Checks", "G12") == "satisfied"


def test_an_item_inserted_into_the_schedule(
    engine_of, small_schedule, with_row, columns, row_of, before, total
):
    letters = columns(small_schedule, "Schedule")
    first = row_of(small_schedule, "Schedule", letters["Id"], ROOF)
    # a line priced by hand right below the underlay: 12 Nr at 25.00, in the same section
    typed = {
        letters["Item"]: 9001,
        letters["Id"]: "RF.by-hand",
        letters["Net"]: 12.0,
        letters["Rate of net"]: 25.0,
        letters["Billed by net"]: 1.0,
        letters["Rounded to"]: 0.01,
        letters["Element"]: "roof",
        letters["Kind"]: "measured",
    }
    data = with_row(small_schedule, "Schedule", first + 1, typed, like=first)
    after = engine_of(data).values()
    assert after("Schedule", f"{letters['Amount']}{first + 1}") == pytest.approx(300.0)
    assert after(*total) - before(*total) == pytest.approx(300.0 * LADDER, rel=1e-9)
