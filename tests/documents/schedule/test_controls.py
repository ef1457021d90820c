"""Every control of the sheet Checks is satisfied, and fails when what it watches is broken.

Recalculated by the general-purpose package formulas (PyPI). The controls are those a quantity surveyor expects of a
bill (common practice, no source).
"""

from __future__ import annotations

import pytest

BROKEN = "not satisfied"
SLOPE = "RF.slope.roof-underlay-vapour-open"
STUDS = "EW.FR.studs.softwood-framing-structural.170x45"
FLOOR = "FF.timber-boards-on-a-timber-floor.floor-boards-hardwood-130-x-19"
CLADDING = {
    "low": "EW.CL.low.shiplap-board-durable-hardwood-135-x-20",
    "high": "EW.CL.high.shiplap-board-durable-hardwood-135-x-20",
    "left": "EW.CL.left.weatherboard-treated-softwood-180-x-19",
    "right": "EW.CL.right.weatherboard-treated-softwood-180-x-19",
}
EACH_OPENING = "Each opening has its deduction, lintel, jambs, unit, flashing and reveal"
ROOF_PLAN = "Roof in plan = slope area x cos pitch"


@pytest.fixture(scope="module")
def checks(small_schedule, opened):
    """Return the rows of the sheet Checks as typed, by the text of their second column, the first of each."""
    rows = {}
    for row in opened(small_schedule)["Checks"].iter_rows(min_row=5):
        rows.setdefault(row[1].value, row)
    return rows


@pytest.fixture(scope="module")
def controls(checks):
    """Return the row of each control by its words."""
    return {
        name: row[0].row for name, row in checks.items() if row[6].value and "Tolerance" in str(row[6].value)
    }


@pytest.fixture(scope="module")
def at(small_schedule, columns, row_of):
    """Return the cell of an item on a sheet by the title of its column."""

    def cell(sheet, id, title, *, below=0, header=4):
        letters = columns(small_schedule, sheet, header=header)
        return (sheet, f"{letters[title]}{row_of(small_schedule, sheet, letters['Id'], id) + below}")

    return cell


@pytest.fixture(scope="module")
def broken(small_engine, controls):
    """Return the controls that fail after cells have been changed."""

    def failing(*changes):
        value = small_engine.values(dict(changes))
        return {name for name, row in controls.items() if value("Checks", f"G{row}") == BROKEN}

    return failing


@pytest.fixture(scope="module")
def net_cell(at, small):
    """Return the cell of the total of an item on dimension paper: below its lines and the thin row."""
    lines = {line.quantity.id: len(line.quantity.dimensions) for line in small[1].lines}
    return lambda id: at("Dimensions", id, "Net", below=lines[id] + 2)


def test_all_are_satisfied(broken, controls):
    assert len(controls) == 22
    assert broken() == set()


def test_the_slope_measured_too_long(broken, at):
    assert broken((at("Dimensions", SLOPE, "Dimension", below=1), 99.0)) == {ROOF_PLAN}


def test_a_wall_higher_than_the_pitch_makes_it(broken, checks):
    # the left end of the high wall
    assert broken((("Checks", f"E{checks['high'][0].row}"), 3.9)) == {
        "Gross wall = perimeter x mean height",
        "Cladding + openings = gross face, high side",
    }


@pytest.mark.parametrize("side", CLADDING)
def test_cladding_that_does_not_cover_its_side(broken, at, side):
    change = (at("Dimensions", CLADDING[side], "Dimension", below=1), 8.0)
    assert broken(change) == {f"Cladding + openings = gross face, {side} side"}


def test_a_floor_without_all_its_finish(broken, at):
    assert broken((at("Dimensions", FLOOR, "Dimension", below=1), 2.0)) == {
        "Floor finish = inside area - walls - floor without finish"
    }


def test_the_total_of_an_item_typed_over(broken, net_cell):
    assert broken((net_cell(SLOPE), 1.0)) == {"Squarings = net of all items on dimension paper"}


def test_a_squaring_of_no_item(broken, at):
    # a line of the slope given to an item that the bill does not have
    assert broken((at("Dimensions", SLOPE, "Item", below=1), 7777)) == {
        "Squarings = quantities measured in the schedule",
        ROOF_PLAN,
    }


def test_more_studs_than_sticks(broken, at):
    assert broken((at("Dimensions", STUDS, "Timesing", below=1), 50.0)) == {"Metres of sticks x section = m3"}


def test_a_quantity_without_a_rate(broken, at):
    assert broken((at("Schedule", STUDS, "Rate of net"), 0.0)) >= {"No quantity without a rate"}


def test_a_negative_quantity(broken, at):
    assert broken((at("Schedule", STUDS, "Net"), -1.0)) == {"No negative net quantity"}


def test_overrides_that_meet_no_item_or_stand_there_twice(broken, at):
    control = {"Each override meets one item, once"}
    row = at("Overrides", "ED.d01", "Id", below=1)
    figure, value = at("Overrides", "ED.d01", "Figure", below=1), at("Overrides", "ED.d01", "Value", below=1)
    # a row that meets another item, once, is fine
    assert broken((row, STUDS), (figure, "wastage"), (value, 0.2)) == set()
    assert broken((row, "no such item"), (figure, "rate"), (value, 1.0)) == control
    assert broken((row, "ED.d*"), (figure, "rate"), (value, 1.0)) == control
    assert broken((row, STUDS), (figure, "rates"), (value, 1.0)) == control
    assert broken((row, "ED.d01"), (figure, "rate"), (value, 900.0)) >= control


def test_an_opening_without_its_unit(broken, at):
    assert broken((at("Dimensions", "WN.w01", "Opening, number", below=1), 0)) == {EACH_OPENING}


def test_an_opening_without_its_deduction(broken, at):
    # the line below the face of the side is the first opening taken off it
    assert broken((at("Dimensions", CLADDING["high"], "Opening, number", below=2), 0)) == {EACH_OPENING}


def test_an_opening_without_flashing(broken, at):
    flashings = ("heads.head", "jambs.jamb", "sills.sill")
    changes = [
        (at("Dimensions", f"WN.{name}-flashing-colour-coated-steel", "Opening, number", below=1), 0)
        for name in flashings
    ]
    assert broken(*changes[:2]) == set()
    assert broken(*changes) == {EACH_OPENING}


def test_an_opening_without_reveal(broken, at):
    reveal = "WN.perimeter.reveal-lining-softwood-115-x-18"
    changes = [(at("Dimensions", reveal, "Opening, number", below=below), 0) for below in (1, 2)]
    assert broken(*changes) == {EACH_OPENING}


@pytest.mark.parametrize("title", ["Lintel or head trimmer", "Jamb studs"])
def test_an_opening_without_sticks_round_it(broken, checks, title):
    header = checks["Opening"]
    letter = next(cell.column_letter for cell in header if cell.value == title)
    assert broken((("Checks", f"{letter}{header[0].row + 1}"), 0)) == {EACH_OPENING}


def test_an_item_of_no_element(broken, at):
    assert broken((at("Schedule", STUDS, "Element"), "no such element")) == {
        "Trades = elements",
        "Material, labour, plant and stated = amounts",
    }


def test_a_section_typed_over(broken, row_of, columns, small_schedule):
    letters = columns(small_schedule, "Schedule")
    row = row_of(small_schedule, "Schedule", letters["Description"], "Roof, total")
    assert broken((("Schedule", f"{letters['Section']}{row}"), 1.0)) == {
        "Sections of the schedule = all its lines"
    }


def test_an_amount_typed_over(broken, at):
    assert broken((at("Schedule", STUDS, "Amount"), 1.0)) == {
        "Net quantities x rates = amounts",
        "Material, labour, plant and stated = amounts",
    }


def test_a_part_of_an_amount_typed_over(broken, at):
    assert broken((at("Schedule", STUDS, "Labour only"), 1.0)) == {
        "Material, labour, plant and stated = amounts"
    }


def test_a_running_total_typed_over(broken, row_of, small_schedule):
    row = row_of(small_schedule, "Summary", "A", "Overhead")
    assert broken((("Summary", f"H{row}"), 1.0)) == {"Cost ladder = total including tax"}


def test_a_kind_of_sum_that_the_ladder_does_not_fetch(broken, at):
    assert broken((at("Schedule", "SV.stove-and-flue", "Kind"), "another sum")) == {
        "Works and sums in the ladder = schedule"
    }


def test_carbon_of_no_trade(broken, at):
    assert broken((at("Carbon", STUDS, "Trade", header=5), "no such trade")) == {
        "Carbon by element = by trade"
    }


def test_carbon_that_is_not_the_sum_of_its_modules(broken, at):
    assert broken((at("Carbon", STUDS, "A1 to A5", header=5), 1.0)) == {"Carbon by element = modules"}
