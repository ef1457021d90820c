"""The reference page names every sheet, column, setting and way of measuring, and nothing else."""

from __future__ import annotations

import re

import pytest

from takeoff.model.measuring_ways import WAYS
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK, MATERIALS, PRICES
from takeoff.workbook.field_words import choice_words, comment_words, need_words, plain_number, unit_words
from takeoff.workbook.fields import Field, Sheet
from takeoff.workbook.house_sheets import HOUSE, HOUSE_WORKBOOK, OPENINGS, PALETTES
from takeoff.workbook.reference import reference_markdown

PAGE = reference_markdown()


def sections() -> dict[tuple[str, str], list[list[str]]]:
    """Return the table rows of each section, by workbook and sheet."""
    found: dict[tuple[str, str], list[list[str]]] = {}
    book = sheet = ""
    for line in PAGE.splitlines():
        if line.startswith("## "):
            book, sheet = line[3:], ""
        elif line.startswith("### "):
            sheet = line[4:]
        elif line.startswith("| "):
            found.setdefault((book, sheet), []).append(re.split(r" \| ", line[2:-2]))
    return found


@pytest.mark.parametrize("layout", [HOUSE_WORKBOOK, FACTORS_WORKBOOK], ids=lambda layout: layout.title)
def test_every_sheet_and_column_is_described_in_order(layout) -> None:
    tables = sections()
    for sheet in layout.sheets:
        if sheet.shared or sheet.layout == "options":
            continue
        rows = tables[layout.title, sheet.title]
        assert rows[0] == [
            "Column" if sheet.layout == "table" else "Setting",
            "What it is",
            "Unit",
            "Choices and limits",
            "Required or default",
        ]
        assert [row[0] for row in rows[2:]] == [field.title for field in sheet.fields]
        assert [row[1] for row in rows[2:]] == [field.help for field in sheet.fields]


def test_sheets_that_may_stand_in_either_workbook_are_named_once_more() -> None:
    assert (
        "The sheets Materials, Prices, Stock, Carbon factors, Service lives and Sources may stand in the house "
        "workbook too" in PAGE
    )


def test_every_way_of_measuring_is_described_in_order() -> None:
    rows = sections()["Ways of measuring a layer", ""][2:]
    assert [(row[0], row[1], row[3]) for row in rows] == [
        (way.name, way.unit, way.help) for way in WAYS.values()
    ]
    needs = {row[0]: row[4] for row in rows}
    assert needs["battens at spacing"] == "Direction, Spacing, width and thickness of the material"
    assert needs["panels"] == "width and length of the material"
    assert needs["coats"] == "Rate"
    assert needs["area"] == ""


def test_tables_have_as_many_cells_in_each_row() -> None:
    for rows in sections().values():
        assert len({len(row) for row in rows}) == 1


def test_limits_are_given_in_the_unit_shown() -> None:
    # 0.07 m and 0.4 m, shown in mm
    assert "| stud depth | Depth of the wall studs. | mm | From 70 to 400 mm | Required |" in PAGE
    # 0.12 of the dry mass, shown in %
    assert "| % | From 0 to 60 % | Blank: 12 % |" in PAGE
    # 30,000,000 m
    assert "| Distance | Way to the site. | km | From 0 to 30,000 km | May be blank |" in PAGE
    # 1e-5 kgCO2e for one kg over one m is 10 for one t over one km
    assert "From 0 to 10 kgCO2e/(t km)" in PAGE


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (0.1, "0.1"),
        (1000, "1,000"),
        (3e7, "30,000,000"),
        (0.30479999999999996, "0.3048"),
        (-0.9, "-0.9"),
        (0, "0"),
    ],
)
def test_numbers_are_written_out(number: float, words: str) -> None:
    assert plain_number(number) == words


@pytest.mark.parametrize(
    ("field", "words"),
    [
        (HOUSE.field("rafter_blocking"), "yes or no"),
        (HOUSE.field("downpipes"), "From 0 to 12, whole number"),
        (HOUSE.field("support_lines"), "Distances, separated by semicolons"),
        (HOUSE.field("palette"), "From the sheet Palettes, column Palette"),
        (PALETTES.field("band_sides"), "Out of low, high, left, right, separated by semicolons"),
        (PRICES.field("tax"), "excluded"),
        (OPENINGS.field("kind"), "One of: window, sliding door, door, opening"),
        (Field(name="x", title="X", help="", kind="number"), "A number"),
        (Field(name="x", title="X", help="", kind="number", whole=True), "A whole number"),
        (Field(name="x", title="X", help="", kind="number", low=2), "2 or more"),
        (
            Field(name="x", title="X", help="", kind="quantity", unit="m", shown="mm", high=2),
            "Up to 2,000 mm",
        ),
        (Field(name="x", title="X", help=""), ""),
    ],
)
def test_choices_and_limits_in_words(field: Field, words: str) -> None:
    assert choice_words(field) == words


@pytest.mark.parametrize(
    ("field", "words"),
    [
        (HOUSE.field("length"), "Required"),
        (HOUSE.field("stud_spacing"), "May be blank"),
        (HOUSE.field("rafter_blocking"), "Blank: yes"),
        (PRICES.field("wastage_in_price"), "Blank: no"),
        (HOUSE.field("downpipes"), "Blank: 2"),
        (HOUSE.field("overhang_low"), "Blank: 0 m"),
        (MATERIALS.field("wastage_base"), "Blank: net"),
        (HOUSE.field("support_lines"), "May be blank"),
    ],
)
def test_what_a_blank_stands_for_in_words(field: Field, words: str) -> None:
    assert need_words(field) == words


def test_the_unit_of_a_rate_is_that_of_its_own_column() -> None:
    assert unit_words(MATERIALS.field("mass"), MATERIALS) == "in the column Mass unit"
    assert unit_words(MATERIALS.field("lap"), MATERIALS) == "mm"
    assert unit_words(MATERIALS.field("note"), MATERIALS) == ""


def test_a_comment_does_not_say_the_same_twice_nor_list_forty_choices() -> None:
    assert comment_words(HOUSE.field("palette"), HOUSE) == (
        "A row of the Palettes sheet: the cladding of each side.\nRequired."
    )
    build_ups: Sheet = HOUSE_WORKBOOK.sheet("Build-ups")
    assert comment_words(build_ups.field("measured_by"), build_ups) == (
        "How the layer is measured.\nChoose from the list in the cell.\nRequired."
    )
