"""What a row says against itself: ends of ranges, lives, what a landfill lets go, a share typed for a percentage."""

from __future__ import annotations

import pytest
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.model.life_cycle import ROUTES
from takeoff.workbook.field_words import message_number
from takeoff.workbook.life_cycle_sheets import KEEPING_ROUTES
from takeoff.workbook.material_kinds import WOOD_FAMILIES
from takeoff.workbook.nearest import nearest
from takeoff.workbook.reading import read_job

WOOL = "Glass wool batts"
EUROPE = "Single-family houses, timber frame, Europe"
LANDFILL = "wood to landfill, little decay"


def problems_of(spoiled) -> list[str]:
    """Run check; return its problem lines without the closing count."""
    check = CliRunner().invoke(app, ["check", str(spoiled.house)])
    assert check.exit_code == 1
    assert check.stdout == ""
    return check.stderr.strip().splitlines()[:-1]


def is_sound(spoiled) -> bool:
    """Whether check finds nothing."""
    return CliRunner().invoke(app, ["check", str(spoiled.house)]).exit_code == 0


def fill(spoiled, sheet: str, key: str, cells: dict[str, object]) -> dict[str, str]:
    """Fill in cells of a row of the factors workbook; return where each stands."""
    return {
        title: spoiled.cell(sheet, key, title, value, factors=True, nth=0) for title, value in cells.items()
    }


def test_a_landfill_of_wood_says_how_much_decays(spoiled):
    place = spoiled.cell("End of life", LANDFILL, "Released", None, factors=True)
    assert problems_of(spoiled) == [
        f"factors.xlsx End of life!{place}: Released is blank for 'softwood' in a landfill; expected the share of its "
        "stored carbon that decays there, in %. Write 100 where all of it is to count as decayed."
    ]


@pytest.mark.parametrize("family", WOOD_FAMILIES)
def test_every_family_with_wood_or_plants_needs_it(spoiled, family):
    place = fill(spoiled, "End of life", LANDFILL, {"Released": None, "Family": family, "Scenario": "other"})[
        "Released"
    ]
    (line,) = problems_of(spoiled)
    assert line.startswith(
        f"factors.xlsx End of life!{place}: Released is blank for {family!r} in a landfill;"
    )


def test_a_landfill_of_what_stores_nothing_may_leave_it_blank(spoiled):
    fill(spoiled, "End of life", LANDFILL, {"Released": None, "Family": "glass", "Scenario": "other"})
    assert is_sound(spoiled)


@pytest.mark.parametrize("route", [route for route in ROUTES if route not in KEEPING_ROUTES])
def test_what_leaves_the_system_is_released_in_full(spoiled, route):
    place = fill(spoiled, "End of life", "wood reused", {"Route": route, "Released": 62.5})["Released"]
    assert problems_of(spoiled) == [
        f"factors.xlsx End of life!{place}: Released of 62.5 % for 'softwood' by the route {route!r}; expected 100 %, "
        "since what is burnt, reused or recycled leaves the system."
    ]


@pytest.mark.parametrize("route", ["landfill", "fill", "left in the ground"])
def test_what_is_laid_in_the_ground_may_keep_its_carbon(spoiled, route):
    fill(spoiled, "End of life", "wood reused", {"Route": route, "Released": 0})
    assert is_sound(spoiled)


@pytest.mark.parametrize(
    ("sheet", "key", "ends"),
    [
        ("Carbon factors", WOOL, (1.2, 1.5)),
        ("Prices", WOOL, (80, 95)),
        ("Service lives", WOOL, (60, 140)),
        ("Benchmarks", EUROPE, (300, 600)),
    ],
)
def test_a_range_has_both_ends_or_neither(spoiled, sheet, key, ends):
    for blank, given, values in (("Low", "High", (None, ends[1])), ("High", "Low", (ends[0], None))):
        places = fill(spoiled, sheet, key, dict(zip(("Low", "High"), values, strict=True)))
        assert problems_of(spoiled) == [
            f"factors.xlsx {sheet}!{places[blank]}: {blank} is blank for {key!r}, but {given} is filled in; expected "
            "both ends of the range, or neither."
        ]
    fill(spoiled, sheet, key, {"Low": None, "High": None})
    assert is_sound(spoiled)


@pytest.mark.parametrize(
    ("lives", "at", "message"),
    [
        (
            (20, None, 50),
            "Exposed",
            "Exposed of 50 year for 'Glass wool batts', longer than its Sheltered of 20 year; expected at most 20 "
            "year, since nothing lasts longer for more sun and weather.",
        ),
        (
            (20, 30, 10),
            "Moderate",
            "Moderate of 30 year for 'Glass wool batts', longer than its Sheltered of 20 year; expected at most 20 "
            "year, since nothing lasts longer for more sun and weather.",
        ),
        (
            (30, 15, 20),
            "Exposed",
            "Exposed of 20 year for 'Glass wool batts', longer than its Moderate of 15 year; expected at most 15 "
            "year, since nothing lasts longer for more sun and weather.",
        ),
        (
            (30, 15, None),
            "Exposed",
            "Exposed is blank for 'Glass wool batts', so 30 year as Sheltered, longer than its Moderate of 15 year; "
            "expected at most 15 year, since nothing lasts longer for more sun and weather.",
        ),
    ],
)
def test_nothing_lasts_longer_for_being_exposed(spoiled, lives, at, message):
    titles = ("Sheltered", "Moderate", "Exposed")
    places = fill(spoiled, "Service lives", WOOL, dict(zip(titles, lives, strict=True)))
    assert problems_of(spoiled) == [f"factors.xlsx Service lives!{places[at]}: {message}"]


@pytest.mark.parametrize(
    ("rate", "message"),
    [
        (0.03, "0.03 % a year; expected 0 %, or at least 0.1 %. Did you mean 3 %?"),
        ("0.00045 share", "0.045 % a year; expected 0 %, or at least 0.1 %. Did you mean 4.5 %?"),
        (0.0005, "0.0005 % a year; expected 0 %, or at least 0.1 %."),
    ],
)
def test_a_discount_rate_too_low_to_be_meant(spoiled, rate, message):
    place = spoiled.setting("discount rate", rate, sheet="Study")
    assert problems_of(spoiled) == [f"heron_bank.xlsx Study!{place}: {message}"]


@pytest.mark.parametrize("rate", [0, 0.1, 3])
def test_a_discount_rate_that_may_be_meant(spoiled, rate):
    spoiled.setting("discount rate", rate, sheet="Study")
    assert is_sound(spoiled)


def test_a_range_below_nought_typed_the_wrong_way_round(spoiled):
    places = fill(spoiled, "Carbon factors", WOOL, {"A1-A3": -1.2, "Low": -1, "High": -1.5})
    assert problems_of(spoiled) == [
        f"factors.xlsx Carbon factors!{places['Low']}: Low of -1 and High of -1.5 for 'Glass wool batts', the wrong "
        "way round about its A1-A3 of -1.2; expected the lower number in Low, which below 0 is the one further from "
        "0. Change them over."
    ]


def test_a_price_range_typed_the_wrong_way_round(spoiled):
    places = fill(spoiled, "Prices", WOOL, {"Price": 88, "Low": 95, "High": 80})
    assert problems_of(spoiled) == [
        f"factors.xlsx Prices!{places['Low']}: Low of 95 and High of 80 for 'Glass wool batts', the wrong way round "
        "about its Price of 88; expected the lower number in Low. Change them over."
    ]


def test_a_factor_below_nought_is_read_with_its_range(spoiled):
    # 1 t is 1000 kg: -1200 kgCO2e/t is -1.2 kgCO2e/kg
    fill(spoiled, "Carbon factors", WOOL, {"A1-A3": -1200, "Unit": "kgCO2e/t", "Low": -1500, "High": -1000})
    factor = read_job(spoiled.house).library.carbon[WOOL]
    assert (factor.a1a3.value, factor.low, factor.high) == (-1.2, -1.5, -1.0)
    assert factor.a1a3.per == "kg"


@pytest.mark.parametrize(
    ("word", "known", "meant"),
    [
        ("NNW", ("N", "NE", "NW", "W"), "NW"),
        ("A-D", ("A1-A3", "A1-A5", "A-C"), "A-C"),
        ("GLASS WOL BATTS", (WOOL, "Wood fibre batts"), WOOL),
        ("tin", ("Plywood", "Gravel"), None),
    ],
)
def test_the_word_that_was_meant_is_spelt_as_it_is_known(word, known, meant):
    assert nearest(word, known) == meant


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (1e6, "1,000,000"),
        (-20000, "-20,000"),
        (7200, "7200"),
        (1234567.5, "1,234,567.5"),
        (0.1 + 0.2, "0.3"),
        (0.0000012, "0.0000012"),
        (1e-12, "1e-12"),
        (1e300, "1e+300"),
        (0, "0"),
    ],
)
def test_numbers_in_messages_are_written_for_people(number, words):
    assert message_number(number) == words


UNITS_ROW = 5


def row_below_titles(book: Workbook, sheet: str, values: dict[str, object] | None) -> None:
    """Write a row over that of the units, or take that row out."""
    paper = book[sheet]
    titles = {str(cell.value): cell.column for cell in paper[UNITS_ROW - 1] if cell.value}
    if values is None:
        paper.delete_rows(UNITS_ROW)
        return
    for column in titles.values():
        paper.cell(UNITS_ROW, column).value = None
    for title, value in values.items():
        paper.cell(UNITS_ROW, titles[title]).value = value


LIFE = {"Material": "Wood fibre batts", "Renewal": "B4", "Sheltered": 60, "Source": "memory"}
NO_UNITS = (
    "no units in the row below the column titles; expected the unit of each column of numbers there, such as year for "
    "Sheltered. Insert a row below the titles and write the units in it."
)


@pytest.mark.parametrize("values", [LIFE, {}, None], ids=["a record over it", "blank", "taken out"])
def test_a_sheet_without_its_row_of_units_is_one_problem(spoiled, values):
    def change(book: Workbook) -> None:
        names = [row[0].value for row in book["Service lives"].iter_rows(min_row=6)]
        record = None if values is None else dict(values)
        if record:
            # a material that has no row yet, so that nothing else is wrong
            materials = [row[0].value for row in book["Materials"].iter_rows(min_row=6) if row[0].value]
            record["Material"] = next(name for name in materials if name not in names)
            record["Standing"] = "from memory"
        row_below_titles(book, "Service lives", record)

    spoiled.edit(change, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Service lives!C5: {NO_UNITS}"]


def test_a_record_without_its_name_over_the_units_is_told_as_such(spoiled):
    record = {"Renewal": "B4", "Sheltered": 60, "Source": "memory", "Standing": "from memory"}
    spoiled.edit(lambda book: row_below_titles(book, "Service lives", record), factors=True)
    assert problems_of(spoiled) == [
        "factors.xlsx Service lives!A5: Material is blank; expected a name from the column Materials, Material.",
        f"factors.xlsx Service lives!C5: {NO_UNITS}",
    ]
