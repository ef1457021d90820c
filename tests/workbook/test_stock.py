"""The sheet Stock as typed: what is read, and what is told with its cell.

Faulty rows are read by themselves, from a workbook of one sheet: titles in row 1, units in row 2, rows from 3.
"""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from importlib.resources import files

import openpyxl
import pytest

from takeoff.model.library import BY_CONTENTS
from takeoff.model.per_unit import PerUnit
from takeoff.model.problem import Origin
from takeoff.workbook.factors_sheets import MATERIALS
from takeoff.workbook.fields import Sheet
from takeoff.workbook.grid import WorkbookError, open_book
from takeoff.workbook.reading import read_job
from takeoff.workbook.stock_reading import build_stock, stock_problems
from takeoff.workbook.stock_sheet import STOCK
from takeoff.workbook.tables import Reading, Record, read_table

TIMBER, BOARD, WRAP = "Softwood framing, structural", "Plasterboard 12.5", "Wall wrap, vapour-open"
STEEL, WOOL = "Profiled steel roof sheet 0.42, colour coated", "Glass wool batts"
SHEET = {"Sold by": "sheet", "Lengths": "2.4; 3.0", "Width": 1200}
LENGTH = {"Sold by": "length", "Lengths": "2.4; 3.0"}
ROLL = {"Sold by": "roll", "Lengths": 50, "Width": 1500}
PACK = {"Sold by": "pack", "Contents": 0.9, "Contents unit": "m3"}
MADE = {"Sold by": "cut to length"}
SOURCED = {"Source": "memory", "Standing": "from memory"}
TITLES = [field.title for field in STOCK.fields]
COLUMN = {title: openpyxl.utils.get_column_letter(n) for n, title in enumerate(TITLES, start=1)}


def written(folder, sheet: Sheet, rows: list[dict[str, object]], units: dict[str, str] | None = None):
    """Write a workbook with one sheet: titles in row 1, units in row 2, rows from row 3 on."""
    book = openpyxl.Workbook()
    paper = book.active
    paper.title = sheet.title
    paper.append([field.title for field in sheet.fields])
    shown = {field.title: field.shown if field.has_unit else "" for field in sheet.fields} | (units or {})
    paper.append([shown[field.title] for field in sheet.fields])
    for row in rows:
        paper.append([row.get(field.title) for field in sheet.fields])
    book.save(folder / "stock.xlsx")
    return open_book(folder / "stock.xlsx")


@pytest.fixture
def read(tmp_path):
    """Return a reader of rows of stock, each a material and its cells: the records and all problem lines."""

    def make(*rows: tuple[str, dict[str, object]], units: dict[str, str] | None = None):
        reading = Reading()
        typed = [{"Material": name, **SOURCED, **cells} for name, cells in rows]
        records = read_table(written(tmp_path, STOCK, typed, units), STOCK, reading)
        problems = reading.problems + stock_problems(records, KNOWN)
        return records, [problem.line().removeprefix("stock.xlsx ") for problem in problems]

    return make


def known(name: str, lap: float | None) -> Record:
    """Return the row of a material with its lap [m]."""
    return Record({**{field.name: None for field in MATERIALS.fields}, "name": name, "lap": lap}, Origin())


def named(message: str) -> str:
    """Return a message with the material under test in the place of 'X'."""
    return message.replace("'X'", repr(TIMBER))


# the wrap of the starter laps by 150 mm
KNOWN = {name: known(name, 0.15 if name == WRAP else None) for name in (TIMBER, BOARD, WRAP, STEEL, WOOL)}


@pytest.mark.parametrize(
    ("cells", "title", "message"),
    [
        # what its way of being sold needs
        (
            {**LENGTH, "Lengths": None},
            "Lengths",
            "Lengths is blank for 'X', sold by length; expected lengths in m, separated by semicolons.",
        ),
        (
            {**LENGTH, "Lengths": "none"},
            "Lengths",
            "Lengths is blank for 'X', sold by length; expected lengths in m, separated by semicolons.",
        ),
        (
            {**LENGTH, "Sold by": "random lengths", "Lengths": None},
            "Lengths",
            "Lengths is blank for 'X', sold in random lengths; expected lengths in m, separated by semicolons.",
        ),
        (
            {**SHEET, "Lengths": None},
            "Lengths",
            "Lengths is blank for 'X', sold by sheet; expected lengths in m, separated by semicolons.",
        ),
        (
            {**ROLL, "Lengths": None},
            "Lengths",
            "Lengths is blank for 'X', sold by roll; expected lengths in m, separated by semicolons.",
        ),
        (
            {**SHEET, "Width": None},
            "Width",
            "Width is blank for 'X', sold by sheet; expected a number in mm.",
        ),
        ({**ROLL, "Width": None}, "Width", "Width is blank for 'X', sold by roll; expected a number in mm."),
        *(
            (
                {**PACK, "Sold by": way, title: None},
                title,
                f"{title} is blank for 'X', sold by {way}; {wanted}.",
            )
            for way in BY_CONTENTS
            for title, wanted in (
                ("Contents", "expected a number"),
                ("Contents unit", "expected one of m3, m2, m, kg, Nr"),
            )
        ),
        # what it has no use for
        (
            {**LENGTH, "Contents": 12},
            "Contents",
            "Contents is filled in for 'X', sold by length; expected a blank cell, or pack, box, bag, pallet "
            "or step as Sold by.",
        ),
        (
            {**PACK, "Lengths": 2.4},
            "Lengths",
            "Lengths is filled in for 'X', sold by pack; expected a blank cell, or length, random lengths, "
            "sheet or roll as Sold by.",
        ),
        (
            {**LENGTH, "Width": 90},
            "Width",
            "Width is filled in for 'X', sold by length; expected a blank cell, or sheet or roll as Sold by.",
        ),
        (
            {**SHEET, "Longest": 12},
            "Longest",
            "Longest is filled in for 'X', sold by sheet; expected a blank cell, or cut to length as Sold by.",
        ),
        (
            {**MADE, "Stagger": 600},
            "Stagger",
            "Stagger is filled in for 'X', sold cut to length; expected a blank cell, or sheet as Sold by.",
        ),
        # random lengths have two ends
        *(
            (
                {"Sold by": "random lengths", "Lengths": lengths},
                "Lengths",
                f"{words} m for 'X', sold in random lengths; expected two lengths, the shortest and the longest.",
            )
            for lengths, words in ((1.8, "1.8"), ("1.8; 3.0; 4.8", "1.8, 3 and 4.8"), ("3; 3", "3 and 3"))
        ),
        (
            {**LENGTH, "Lengths": "2.4; 3.0; 2.4"},
            "Lengths",
            "2.4 m stands twice; expected each length once.",
        ),
        # limits
        (
            {**LENGTH, "Lengths": "2.4; -3"},
            "Lengths",
            "-3 m; expected at least 0.1 m and at most 200 m.",
        ),
        ({**LENGTH, "Lengths": 0}, "Lengths", "0 m; expected at least 0.1 m and at most 200 m."),
        (
            {**LENGTH, "Lengths": "2400; 3000"},
            "Lengths",
            "2400 m; expected at least 0.1 m and at most 200 m. Did you mean mm?",
        ),
        (
            {**LENGTH, "Lengths": "6.0; 20.1"},
            "Lengths",
            "20.1 m for 'X', sold by length; expected at most 20 m; only rolls are longer.",
        ),
        ({**SHEET, "Width": 6001}, "Width", "6001 mm; expected at least 50 mm and at most 6000 mm."),
        (
            {**SHEET, "Width": 1.2},
            "Width",
            "1.2 mm; expected at least 50 mm and at most 6000 mm. Did you mean m?",
        ),
        ({**LENGTH, "Kerf": 21}, "Kerf", "21 mm; expected at least 0 mm and at most 20 mm."),
        ({**LENGTH, "Kerf": -3}, "Kerf", "-3 mm; expected at least 0 mm and at most 20 mm."),
        (
            {**PACK, "Contents": 0},
            "Contents",
            "contents of 0 for 'X', sold by pack; expected a number over 0.",
        ),
        ({**PACK, "Contents": -1}, "Contents", "-1; expected at least 0 and at most 1,000,000."),
        (
            {**PACK, "Contents unit": "litres"},
            "Contents unit",
            "text 'litres'; expected one of m3, m2, m, kg, Nr.",
        ),
        (
            {**LENGTH, "Sold by": "lenght"},
            "Sold by",
            "text 'lenght'; expected one of length, random lengths, sheet, cut to length, roll, pack, box, bag, "
            "pallet, step. Did you mean 'length'?",
        ),
        (
            {**LENGTH, "Joints": "some"},
            "Joints",
            "text 'some'; expected one of none, on supports, anywhere.",
        ),
        (
            {**LENGTH, "Price": 4},
            "Price unit",
            "no unit; expected a unit of currency for one m3, m2, m, kg or Nr.",
        ),
        # sizes against each other
        (
            {**LENGTH, "Least offcut": 3001},
            "Least offcut",
            "offcuts from 3.001 m up, for 'X', sold by length; expected at most its longest length, 3 m.",
        ),
        (
            {**SHEET, "Least offcut width": 1201},
            "Least offcut width",
            "offcuts from 1201 mm of width up, for 'X', sold by sheet; expected at most its width, 1200 mm.",
        ),
        (
            {**LENGTH, "Lengths": "0.5; 3", "End lap": 500},
            "End lap",
            "an end lap of 500 mm for 'X', sold by length; expected less than its shortest length, 0.5 m.",
        ),
        (
            {**MADE, "Longest": 0.9, "End lap": 1000},
            "End lap",
            "an end lap of 1000 mm for 'X', sold cut to length; expected less than its shortest length, 0.9 m.",
        ),
    ],
)
def test_what_is_wrong_with_a_row(read, cells, title, message):
    _, lines = read((TIMBER, cells))
    assert lines == [f"Stock!{COLUMN[title]}3: {named(message)}"]


@pytest.mark.parametrize(("width", "wrong"), [(150, True), (100, True), (151, False)])
def test_a_roll_is_wider_than_its_lap(read, width, wrong):
    _, lines = read((WRAP, {**ROLL, "Width": width}))
    message = (
        f"Stock!{COLUMN['Width']}3: a roll {width} mm wide of {WRAP!r}, which laps by 150 mm; expected a width "
        "over the lap. Correct the width, or the lap in the sheet Materials."
    )
    assert lines == ([message] if wrong else [])


@pytest.mark.parametrize(
    ("first", "second", "title", "found"),
    [
        (LENGTH, {**LENGTH, "Sold by": "random lengths"}, "Sold by", "random lengths for 'X', but length"),
        (LENGTH, {**LENGTH, "Lengths": 6, "Joints": "anywhere"}, "Joints", "anywhere for 'X', but none"),
        ({**LENGTH, "Kerf": 3}, {**LENGTH, "Lengths": 6, "Kerf": 4}, "Kerf", "4 mm for 'X', but 3 mm"),
        (
            {**SHEET, "Stagger": 600},
            {**SHEET, "Lengths": 3.6},
            "Stagger",
            "0 mm for 'X', but 600 mm",
        ),
        (
            {**LENGTH, "Depth": 90, "End lap": 40},
            {**LENGTH, "Depth": 90, "Lengths": 6},
            "End lap",
            "0 mm for 'X', but 40 mm",
        ),
        # a row for one thickness and one for a depth both serve a stick of that section
        (
            {**LENGTH, "Depth": 90, "Joints": "anywhere"},
            {**LENGTH, "Thickness": 45, "Lengths": 6},
            "Joints",
            "none for 'X', but anywhere",
        ),
    ],
)
def test_rows_of_one_material_and_section_agree(read, first, second, title, found):
    _, lines = read((TIMBER, first), (BOARD, SHEET), (TIMBER, second))
    assert lines == [
        f"Stock!{COLUMN[title]}5: {title} is {named(found)} in row 3; expected one {title} in "
        "all rows of a material and section."
    ]


def test_other_sections_may_be_sold_and_joined_otherwise(read):
    other = {**LENGTH, "Sold by": "random lengths", "Joints": "anywhere"}
    _, lines = read(
        (TIMBER, LENGTH), (TIMBER, {**other, "Depth": 90}), (TIMBER, {**LENGTH, "Depth": 140, "Kerf": 3})
    )
    assert lines == []


@pytest.mark.parametrize(
    ("first", "second", "title", "found"),
    [
        (
            LENGTH,
            {**LENGTH, "Lengths": "3.0; 3.6", "Price": 4, "Price unit": "per m"},
            "Lengths",
            "the length of 3 m",
        ),
        (
            {**LENGTH, "Depth": 90, "Thickness": 45},
            {**LENGTH, "Depth": "0.09 m", "Thickness": 45, "Lengths": 2.4},
            "Lengths",
            "the length of 2.4 m",
        ),
        (SHEET, {**SHEET, "Lengths": "3.0; 3.6"}, "Lengths", "the sheet of 3 m, 1200 mm wide,"),
        (ROLL, ROLL, "Lengths", "the roll of 50 m, 1500 mm wide,"),
        (PACK, PACK, "Contents", "a pack of 0.9 m3"),
        (MADE, {**MADE, "Longest": 9}, "Sold by", "a row of sheets cut to length"),
        (
            {"Sold by": "random lengths", "Lengths": "1.8; 4.8"},
            {"Sold by": "random lengths", "Lengths": "4.8; 1.8"},
            "Lengths",
            "random lengths from 1.8 to 4.8 m",
        ),
    ],
)
def test_a_size_stands_once(read, first, second, title, found):
    _, lines = read((TIMBER, first), (BOARD, first), (TIMBER, second))
    assert lines == [
        f"Stock!{COLUMN[title]}5: {found} of {TIMBER!r} stands in row 3 already; expected each size once. "
        "Change or delete one of the rows."
    ]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (LENGTH, {**LENGTH, "Lengths": "3.6; 4.2", "Price": 4, "Price unit": "per m"}),
        (LENGTH, {**LENGTH, "Depth": 90}),
        ({**LENGTH, "Depth": 90}, {**LENGTH, "Depth": 140}),
        ({**SHEET, "Thickness": 9}, {**SHEET, "Thickness": 12}),
        (SHEET, {**SHEET, "Width": 900}),
        (PACK, {**PACK, "Contents": 1.2}),
        (PACK, {**PACK, "Contents unit": "m2"}),
    ],
)
def test_several_rows_of_one_material_are_usual(read, first, second):
    records, lines = read((TIMBER, first), (TIMBER, second))
    assert lines == []
    assert len(build_stock(records)[TIMBER]) == 2


def test_every_column_is_read_in_the_unit_above_it(read):
    cells = {
        **SHEET,
        "Depth": 90,
        "Thickness": "0.9 cm",
        "Lengths": "120; 2400 mm; 96",
        "Width": 4,
        "Price": 30,
        "Price unit": "per m2",
        "Kerf": 3,
        "Least offcut": 300,
        "Least offcut width": 200,
        "Joints": "on supports",
        "End lap": 10,
        "Stagger": 600,
        "Note": "As typed",
    }
    records, lines = read(
        (BOARD, cells), (STEEL, {**MADE, "Longest": 12, "Step": 5}), units={"Lengths": "in", "Width": "ft"}
    )
    assert lines == []
    stock = build_stock(records)
    (row,) = stock[BOARD]
    # 96 in = 2.4384 m, 120 in = 3.048 m, 4 ft = 1.2192 m: an inch is 25.4 mm
    assert row.lengths == pytest.approx((2.4, 2.4384, 3.048), rel=1e-12)
    assert row.width == pytest.approx(1.2192, rel=1e-12)
    assert (row.depth, row.thickness, row.sold_by) == (0.09, 0.009, "sheet")
    assert (row.price, row.contents, row.longest) == (PerUnit(30, "m2"), None, None)
    assert (row.kerf, row.least_offcut, row.least_width) == (0.003, 0.3, 0.2)
    assert (row.joints, row.end_lap, row.stagger) == ("on supports", 0.01, 0.6)
    assert (row.source, row.standing, row.note) == ("memory", "from memory", "As typed")
    assert (row.origin.book, row.origin.sheet, row.origin.cell("lengths")) == (
        "stock.xlsx",
        "Stock",
        f"{COLUMN['Lengths']}3",
    )
    (made,) = stock[STEEL]
    assert (made.longest, made.step, made.lengths) == (12.0, 0.005, ())


def test_blank_cells_are_none_nothing_or_a_step_of_1_mm(read):
    records, _ = read((STEEL, MADE))
    (row,) = build_stock(records)[STEEL]
    assert (row.depth, row.thickness, row.width, row.price, row.contents, row.longest) == (None,) * 6
    assert (row.kerf, row.least_offcut, row.least_width, row.end_lap, row.stagger) == (0.0,) * 5
    assert (row.joints, row.step, row.lengths, row.note) == ("none", 0.001, (), "")


def starter_rows() -> list[dict[str, str]]:
    text = (files("takeoff.workbook.starter") / "factors" / "stock.csv").read_text(encoding="utf-8")
    return [row for row in csv.DictReader(io.StringIO(text)) if row["Material"]]


def test_the_starter_rows_are_read_as_typed(job):
    rows = starter_rows()
    assert [row.material for stock in job.library.stock.values() for row in stock] == sorted(
        (row["Material"] for row in rows), key=list(job.library.stock).index
    )
    for name, stock in job.library.stock.items():
        typed = [row for row in rows if row["Material"] == name]
        assert [row.sold_by for row in stock] == [row["Sold by"] for row in typed]
        for read_row, row in zip(stock, typed, strict=True):
            assert read_row.lengths == tuple(float(part) for part in row["Lengths"].split(";") if part)
            assert read_row.width == (float(row["Width"]) / 1000 if row["Width"] else None)
            assert read_row.contents == (float(row["Contents"]) if row["Contents"] else None)
            assert read_row.origin.book == "factors.xlsx"


def test_the_starter_knows_every_way_of_being_sold_and_invents_its_prices_alone(job):
    rows = [row for stock in job.library.stock.values() for row in stock]
    assert {row.sold_by for row in rows} >= {
        "length",
        "random lengths",
        "sheet",
        "cut to length",
        "roll",
        "step",
    }
    assert {row.sold_by for row in rows} >= {"pack", "box", "bag", "pallet"}
    assert {row.joints for row in rows} == {"none", "on supports", "anywhere"}
    priced = [row for row in rows if row.price is not None]
    assert [row.material for row in priced] == [
        TIMBER,
        "Softwood rafters, structural",
        "LVL lintel, structural",
    ]
    assert all((row.standing == "invented for the demo") == (row.price is not None) for row in rows)
    for row in priced:
        general = job.library.prices[row.material].price
        assert row.price is not None
        assert (row.price.per, row.price.value > general.value) == (general.per, True)


def test_a_sheet_of_the_starter_is_as_wide_as_its_material_and_a_roll_too(job):
    for name, stock in job.library.stock.items():
        for row in stock:
            if row.sold_by in ("sheet", "roll"):
                assert row.width == job.library.materials[name].width, name


def own_rows(spoiled, *rows: dict[str, object]) -> None:
    """Type rows into the house workbook's own sheet Stock."""

    def change(book):
        paper = book["Stock"]
        head = next(row for row in paper.iter_rows() if row[0].value == "Material")
        for number, row in enumerate(rows, start=head[0].row + 2):
            for cell in head:
                paper.cell(row=number, column=cell.column, value={**SOURCED, **row}.get(cell.value))

    spoiled.edit(change)


def test_a_houses_own_rows_take_the_place_of_all_rows_of_the_material(spoiled, job):
    own_rows(
        spoiled,
        {"Material": TIMBER, "Sold by": "random lengths", "Lengths": "1.8; 4.2"},
        {"Material": TIMBER, "Depth": 240, **LENGTH},
    )
    stock = read_job(spoiled.house).library.stock
    # two rows of the practice, which joins on supports: neither is left, nor held against the new ones
    assert len(job.library.stock[TIMBER]) == 2
    assert [(row.sold_by, row.lengths, row.depth) for row in stock[TIMBER]] == [
        ("random lengths", (1.8, 4.2), None),
        ("length", (2.4, 3.0), 0.24),
    ]
    assert {row.origin.book for row in stock[TIMBER]} == {"heron_bank.xlsx"}
    assert {name: rows for name, rows in stock.items() if name != TIMBER} == {
        name: rows for name, rows in job.library.stock.items() if name != TIMBER
    }


def test_a_factors_workbook_without_the_sheet_goes_by_wastage_allowance(spoiled, job):
    spoiled.edit(lambda book: book.remove(book["Stock"]), factors=True)
    bare = read_job(spoiled.house)
    assert bare.library.stock == {}
    assert bare.library == replace(job.library, stock={})
    assert bare.design == job.design
    # a house may bring stock of its own all the same
    own_rows(spoiled, {"Material": WOOL, **PACK})
    stock = read_job(spoiled.house).library.stock
    assert {name: [row.contents for row in rows] for name, rows in stock.items()} == {WOOL: [0.9]}


def test_problems_of_stock_stand_among_the_others(spoiled):
    own_rows(
        spoiled,
        {"Material": "Plasterbord 12.5", **SHEET},
        {"Material": WOOL, **PACK, "Source": "memry"},
        {"Material": WRAP, **ROLL, "Width": 150},
    )
    blank = spoiled.cell("Stock", WOOL, "Contents", None, factors=True)
    spoiled.setting("pitch", 60)
    with pytest.raises(WorkbookError) as error:
        read_job(spoiled.house)
    lines = [problem.line() for problem in error.value.problems]
    assert lines[0] == (
        f"factors.xlsx Stock!{blank}: Contents is blank for 'Glass wool batts', sold by pack; expected a number."
    )
    assert lines[1].startswith("heron_bank.xlsx House!")
    assert lines[2:] == [
        "heron_bank.xlsx Stock!A6: 'Plasterbord 12.5' is not defined; expected a name from the column Material of "
        "the sheet Materials. Did you mean 'Plasterboard 12.5'?",
        f"heron_bank.xlsx Stock!{COLUMN['Source']}7: 'memry' is not defined; expected a name from the column Key of "
        "the sheet Sources. Did you mean 'memory'?",
        f"heron_bank.xlsx Stock!{COLUMN['Width']}8: a roll 150 mm wide of 'Wall wrap, vapour-open', which laps by "
        "150 mm; expected a width over the lap. Correct the width, or the lap in the sheet Materials.",
    ]


def test_what_cutting_plans_aim_at_is_a_setting_of_the_house(spoiled, job):
    assert job.design.house.cutting_aim == "least length"
    spoiled.setting("cutting plans aim at", "least carbon")
    assert read_job(spoiled.house).design.house.cutting_aim == "least carbon"
    place = spoiled.setting("cutting plans aim at", None)
    assert read_job(spoiled.house).design.house.cutting_aim == "least length"
    spoiled.setting("cutting plans aim at", "least waste")
    with pytest.raises(WorkbookError) as error:
        read_job(spoiled.house)
    assert str(error.value) == (
        f"heron_bank.xlsx House!{place}: text 'least waste'; expected one of least length, least cost, least carbon. "
        "Did you mean 'least cost'?"
    )


def test_an_option_may_aim_at_something_else(spoiled):
    def change(book):
        paper = book["Options"]
        head = next(row for row in paper.iter_rows() if row[0].value == "Setting")
        blank = next(r for r in range(head[0].row + 1, 100) if paper.cell(row=r, column=1).value is None)
        paper.cell(row=blank, column=1, value="cutting plans aim at")
        paper.cell(row=blank, column=4, value="least cost")

    spoiled.edit(change)
    job = read_job(spoiled.house)
    assert job.options[1].changes["cutting_aim"] == "least cost"
    assert "cutting_aim" not in job.options[0].changes


@pytest.mark.parametrize(("stagger", "wrong"), [(1200, False), (1201, True)])
def test_end_joints_of_sheets_are_at_most_half_a_sheet_apart(read, stagger, wrong):
    _, lines = read((BOARD, {**SHEET, "Lengths": "3.6; 2.4", "Stagger": stagger}))
    assert lines == wrong * [
        f"Stock!{COLUMN['Stagger']}3: end joints 1201 mm apart, for {BOARD!r}, sold by sheet; expected at most half "
        "its shortest length, 1200 mm."
    ]
