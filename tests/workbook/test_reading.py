"""What the reader understands: units, free order of columns, a house's own rows; and that it never writes."""

from __future__ import annotations

import hashlib

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.workbook.reading import read_job


def test_a_unit_typed_in_the_cell_is_the_same_as_one_beside_it(spoiled):
    before = read_job(spoiled.house).design.house
    spoiled.setting("stud depth", "0.17 m")
    spoiled.setting("length", "12000 mm")
    spoiled.cell("Openings", "W01", "Width", "1800 mm")
    after = read_job(spoiled.house).design
    assert after.house == before
    assert next(o for o in after.openings if o.mark == "W01").width == 1.8


@pytest.mark.parametrize(
    ("text", "metres"), [("40 ft", 40 * 0.3048), ("480 in", 480 * 0.0254), ("1200 cm", 12.0)]
)
def test_lengths_of_other_units(spoiled, text, metres):
    spoiled.setting("length", text)
    assert read_job(spoiled.house).design.house.length == pytest.approx(metres, rel=1e-12)


def test_the_units_row_is_read(spoiled):
    def in_mm(book):
        sheet = book["Openings"]
        rows = list(sheet.iter_rows())
        header = next(i for i, row in enumerate(rows) if row[0].value == "Mark")
        for column in range(3, 7):
            rows[header + 1][column].value = "mm"
            for row in rows[header + 2 :]:
                if row[column].value is not None:
                    row[column].value = row[column].value * 1000

    before = read_job(spoiled.house).design.openings
    spoiled.edit(in_mm)
    assert read_job(spoiled.house).design.openings == before


def test_columns_may_stand_in_any_order_and_have_neighbours(spoiled):
    def turn(book):
        sheet = book["Palettes"]
        header = next(row for row in sheet.iter_rows() if row[0].value == "Palette")[0].row
        for row in sheet.iter_rows(min_row=header):
            values = [cell.value for cell in row]
            for cell, value in zip(row, reversed(values), strict=True):
                cell.value = value
        sheet.cell(row=header, column=sheet.max_column + 1, value="Architect's remarks")

    before = read_job(spoiled.house).design.palettes
    spoiled.edit(turn)
    assert read_job(spoiled.house).design.palettes == before


def test_sheets_may_stand_in_any_order(spoiled):
    before = read_job(spoiled.house)
    spoiled.edit(lambda book: book.move_sheet("House", offset=5))
    assert read_job(spoiled.house).design == before.design


def test_a_compass_point_names_a_side(spoiled):
    spoiled.cell("Openings", "W06", "Side", "S")
    assert next(o for o in read_job(spoiled.house).design.openings if o.mark == "W06").side == "low"


def test_per_cent_typed_in_a_per_cent_cell(spoiled):
    def as_percent(book):
        for row in book["Materials"].iter_rows():
            if row[0].value == "Plasterboard 12.5":
                cell = next(c for c in row if c.column_letter == "P")
                cell.value, cell.number_format = 0.15, "0%"

    spoiled.edit(as_percent, factors=True)
    assert read_job(spoiled.house).library.materials["Plasterboard 12.5"].wastage == pytest.approx(0.15)


def test_a_houses_own_rows_win(spoiled):
    def own(book):
        sheet = book["Prices"]
        header = next(row for row in sheet.iter_rows() if row[0].value == "Material")
        titles = [cell.value for cell in header]
        row = {
            "Material": "Plasterboard 12.5",
            "Price": 99,
            "Unit": "per m2",
            "Basis": "quote",
            "Source": "invented",
        }
        for column, title in enumerate(titles, start=1):
            sheet.cell(row=header[0].row + 2, column=column, value=row.get(title))

    assert read_job(spoiled.house).library.prices["Plasterboard 12.5"].price.value != 99
    spoiled.edit(own)
    price = read_job(spoiled.house).library.prices["Plasterboard 12.5"]
    assert (price.price.value, price.price.per, price.basis) == (99, "m2", "quote")


@pytest.mark.parametrize(
    "title", ["Materials", "Prices", "Stock", "Carbon factors", "Sources", "About", "Lists"]
)
def test_optional_sheets_may_be_left_out(spoiled, title):
    spoiled.edit(lambda book: book.remove(book[title]))
    assert read_job(spoiled.house).options


@pytest.mark.parametrize(
    "name", ["=House", "+Heron", "-Bank", "@home", "\u05d1\u05d9\u05ea \U0001f3e0", "x" * 300]
)
def test_any_text_is_text(spoiled, name):
    def rename(book):
        for row in book["Project"].iter_rows():
            if row[0].value == "name":
                row[1].value = name
                row[1].data_type = "s"

    spoiled.edit(rename)
    assert read_job(spoiled.house).project.name == name


def test_reading_changes_neither_workbook(spoiled):
    paths = (spoiled.house, spoiled.factors)
    before = [(hashlib.sha256(path.read_bytes()).hexdigest(), path.stat().st_mtime_ns) for path in paths]
    read_job(spoiled.house)
    assert [
        (hashlib.sha256(path.read_bytes()).hexdigest(), path.stat().st_mtime_ns) for path in paths
    ] == before


def test_columns_in_feet_and_inches(spoiled):
    sound = {o.mark: o for o in read_job(spoiled.house).design.openings}

    def in_feet(book):
        sheet = book["Openings"]
        sheet["D5"], sheet["F5"] = "ft", "in"
        # the other rows keep their size, each with a unit of its own
        for row in range(7, 17):
            sheet[f"D{row}"] = f"{sheet[f'D{row}'].value} m"
            sheet[f"F{row}"] = f"{sheet[f'F{row}'].value} m"
        sheet["D6"], sheet["F6"] = 6, 36

    spoiled.edit(in_feet)
    read = {o.mark: o for o in read_job(spoiled.house).design.openings}
    first, unread = read.pop("W01"), sound.pop("W01")
    assert first.width == pytest.approx(6 * 0.3048, rel=1e-12)
    assert first.sill == pytest.approx(36 * 0.0254, rel=1e-12)
    assert first.height == unread.height
    assert read == sound


@pytest.mark.parametrize("text", ["145 mm", "0.145 m", "145mm", " 145 mm ", "14.5 cm", "145\u00a0mm"])
def test_one_depth_in_many_spellings(spoiled, text):
    spoiled.setting("outrigger depth", text)
    assert read_job(spoiled.house).design.house.outrigger_depth == 0.145


def test_a_percentage_of_the_ladder_typed_in_a_per_cent_cell(spoiled):
    def as_percent(book):
        for row in book["Cost ladder"].iter_rows():
            if row[0].value == "Preliminaries":
                assert (row[2].value, row[3].value) == (12, "%")
                row[2].value, row[2].number_format = 0.12, "0%"

    before = read_job(spoiled.house).library.ladder
    spoiled.edit(as_percent, factors=True)
    assert read_job(spoiled.house).library.ladder == before


def own_row(spoiled, title, **values):
    """Write the first row of one of the house workbook's own sheets, by column titles."""

    def write(book):
        header = next(row for row in book[title].iter_rows() if row[0].value == "Material")
        for cell in header:
            book[title].cell(row=header[0].row + 2, column=cell.column, value=values.get(cell.value))

    spoiled.edit(write)


def test_a_houses_own_material_and_carbon_factor_win_and_the_others_stay(spoiled):
    name = "Glass wool batts"
    before = read_job(spoiled.house).library
    own_row(
        spoiled,
        "Materials",
        **{
            "Material": name,
            "Description": "Denser batts, invented",
            "Family": before.materials[name].family,
            "Trade": before.materials[name].trade,
            "Item class": before.materials[name].item_class,
            "Density": 41,
            "Thickness": 170,
            "Wastage allowance": 7,
            "Source": "invented",
            "Standing": "invented for the demo",
        },
    )
    own_row(
        spoiled,
        "Carbon factors",
        **{
            "Material": name,
            "A1-A3": 3.5,
            "Unit": "kgCO2e/kg",
            "Source": "invented",
            "Standing": "invented for the demo",
        },
    )
    after = read_job(spoiled.house).library
    assert (after.materials[name].density, after.materials[name].wastage) == (41, pytest.approx(0.07))
    assert after.carbon[name].a1a3.value == 3.5
    assert after.carbon[name].origin.book == "heron_bank.xlsx"
    for own, practice in ((after.materials, before.materials), (after.carbon, before.carbon)):
        assert {key: row for key, row in own.items() if key != name} == {
            key: row for key, row in practice.items() if key != name
        }


@pytest.mark.parametrize("command", ["check", "measure", "compare", "issue"])
def test_no_command_changes_a_workbook(spoiled, command):
    paths = (spoiled.house, spoiled.factors)
    before = [(path.read_bytes(), path.stat().st_mtime_ns) for path in paths]
    assert CliRunner().invoke(app, [command, str(spoiled.house)]).exit_code == 0
    assert [(path.read_bytes(), path.stat().st_mtime_ns) for path in paths] == before
