"""What contradicts itself in the sheets of carbon over the whole life, each with sheet and cell."""

from __future__ import annotations

import pytest
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

from takeoff.cli import app

WOOL = "Glass wool batts"
BOARDS = "Timber boards, vertical"


def problems_of(spoiled) -> list[str]:
    """Run check; return its problem lines without the closing count."""
    check = CliRunner().invoke(app, ["check", str(spoiled.house)])
    assert check.exit_code == 1
    assert check.stdout == ""
    return check.stderr.strip().splitlines()[:-1]


@pytest.mark.parametrize(
    ("sheet", "key"),
    [
        ("Carbon factors", WOOL),
        ("Service lives", WOOL),
        ("End of life", "wood reused"),
        ("Spreads", "gang rate"),
        ("Benchmarks", "One timber-frame house in Belgium"),
    ],
)
def test_no_row_goes_without_a_source(spoiled, sheet, key):
    place = spoiled.cell(sheet, key, "Source", None, factors=True)
    assert problems_of(spoiled) == [
        f"factors.xlsx {sheet}!{place}: Source is blank; expected a name from the column Sources, Key."
    ]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        ("Low", 1.4, "Low of 1.4 for 'Glass wool batts', above its A1-A3 of 1.35; expected at most 1.35."),
        ("High", 1.2, "High of 1.2 for 'Glass wool batts', below its A1-A3 of 1.35; expected at least 1.35."),
        ("Biogenic", 0.4, "0.4; expected at least -100,000 and at most 0."),
        ("Reliability", 6, "6; expected at least 1 and at most 5."),
        ("Time", 2.5, "2.5; expected a whole number."),
        (
            "Geography",
            None,
            "Geography is blank for 'Glass wool batts', which has other scores; expected all five scores, or none of "
            "them.",
        ),
        (
            "Standard",
            "EN 15804+A3",
            "text 'EN 15804+A3'; expected one of EN 15804+A1, EN 15804+A2, EN 15804, ISO 14067, none stated. Did you "
            "mean 'EN 15804+A2'?",
        ),
    ],
)
def test_a_carbon_factor(spoiled, title, value, message):
    place = spoiled.cell("Carbon factors", WOOL, title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Carbon factors!{place}: {message}"]


def test_the_range_of_a_factor_is_held_against_it_as_typed(spoiled):
    spoiled.cell("Carbon factors", WOOL, "Unit", "kgCO2e/t", factors=True)
    for title, value in (("A1-A3", 1350), ("Low", 1350), ("High", 1350)):
        spoiled.cell("Carbon factors", WOOL, title, value, factors=True)
    assert CliRunner().invoke(app, ["check", str(spoiled.house)]).exit_code == 0
    place = spoiled.cell("Carbon factors", WOOL, "High", 1349, factors=True)
    assert problems_of(spoiled) == [
        f"factors.xlsx Carbon factors!{place}: High of 1349 for 'Glass wool batts', below its A1-A3 of 1350; "
        "expected at least 1350."
    ]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        ("Low", 90, "Low of 90 for 'Glass wool batts', above its Price of 88; expected at most 88."),
        ("High", 80, "High of 80 for 'Glass wool batts', below its Price of 88; expected at least 88."),
    ],
)
def test_the_range_of_a_price(spoiled, title, value, message):
    place = spoiled.cell("Prices", WOOL, title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Prices!{place}: {message}"]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        ("Material", "Glass woool", None),
        ("Renewal", "B5", "text 'B5'; expected one of B2, B3, B4."),
        ("Sheltered", 0, "0 year; expected at least 0.25 year and at most 1000 year."),
        ("Sheltered", None, "Sheltered is blank; expected a number in year."),
        ("Exposed", -5, "-5 year; expected at least 0.25 year and at most 1000 year."),
        ("Low", 120, "120 %; expected at least 5 % and at most 100 %."),
        ("High", 90, "90 %; expected at least 100 % and at most 1000 %."),
        ("Share renewed", 0, "0 %; expected at least 1 % and at most 100 %."),
        ("Taking down", -10, "-10 %; expected at least 0 % and at most 300 %."),
    ],
)
def test_a_service_life(spoiled, title, value, message):
    place = spoiled.cell("Service lives", WOOL, title, value, factors=True)
    message = message or (
        "'Glass woool' is not defined; expected a name from the column Material of the sheet Materials. Did you mean "
        "'Glass wool batts'?"
    )
    assert problems_of(spoiled) == [f"factors.xlsx Service lives!{place}: {message}"]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        (
            "Family",
            "timber",
            "text 'timber'; expected one of softwood, hardwood, engineered wood, wood board, steel, aluminium, clay, "
            "cement, gypsum, glass, mineral insulation, plant insulation, plastic foam, plastic, coating, stone and "
            "soil, composite, work only.",
        ),
        (
            "Route",
            "burial",
            "text 'burial'; expected one of reuse, recycling, energy recovery, landfill, fill, left in the ground.",
        ),
        (
            "Transport",
            None,
            "Transport is blank, but Distance is filled in; expected both for C2, or neither where it is not assessed.",
        ),
        (
            "Distance",
            None,
            "Distance is blank, but Transport is filled in; expected both for C2, or neither where it is not assessed.",
        ),
        ("Released", 120, "120 %; expected at least 0 % and at most 100 %."),
        ("C4", 30000, "30,000 kgCO2e/t; expected at least -20,000 kgCO2e/t and at most 20,000 kgCO2e/t."),
    ],
)
def test_a_row_of_the_end_of_life(spoiled, title, value, message):
    place = spoiled.cell("End of life", "wood reused", title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx End of life!{place}: {message}"]


def test_a_family_twice_in_a_scenario(spoiled):
    place = spoiled.cell("End of life", "wood reused", "Family", "softwood", factors=True, nth=1)
    row = int("".join(c for c in place if c.isdigit()))
    assert problems_of(spoiled) == [
        f"factors.xlsx End of life!{place}: 'wood reused, softwood' stands in row {row - 1} already; expected each one "
        "once. Rename or delete one of the rows."
    ]


@pytest.mark.parametrize(
    ("of", "title", "value", "message"),
    [
        (
            "gang rate",
            "Name",
            "Roofings",
            "'Roofings' is not defined; expected a row of the sheet Gangs, or all. Did you mean 'Roofing'?",
        ),
        (
            "price basis",
            "Name",
            "rumour",
            "'rumour' is not defined; expected a basis of prices (quote, price book, guess, invented), or all. Add a "
            "row for it or correct the name.",
        ),
        (
            "quantity",
            "Name",
            "claddings",
            "'claddings' is not defined; expected an item class, or all. Did you mean 'cladding'?",
        ),
        (
            "allowance",
            "Name",
            "firmly",
            "'firmly' is not defined; expected a kind of allowance (firm, provisional sum, prime-cost sum), or all. "
            "Did you mean 'firm'?",
        ),
        (
            "transport",
            "Name",
            "Rails",
            "'Rails' is not defined; expected a row of the sheet Transport, or all. Did you mean 'Rail'?",
        ),
        (
            "labour constant",
            "Name",
            "Wall framings",
            "'Wall framings' is not defined; expected a row of the sheet Labour, or all. Did you mean 'Wall framing'?",
        ),
        (
            "site work",
            "Name",
            "Excavatex",
            "'Excavatex' is not defined; expected a row of the sheet Labour, or all. Did you mean 'Excavate'?",
        ),
        (
            "maintenance",
            "Name",
            "Glass wool bats",
            "'Glass wool bats' is not defined; expected a row of the sheet Materials, or all. Did you mean 'Glass wool "
            "batts'?",
        ),
        (
            "service life",
            "Name",
            "Glass wool bats",
            "'Glass wool bats' is not defined; expected a row of the sheet Materials, or all. Did you mean 'Glass wool "
            "batts'?",
        ),
        (
            "end of life",
            "Name",
            "softwoods",
            "'softwoods' is not defined; expected a family of materials, or all. Did you mean 'softwood'?",
        ),
        ("gang rate", "Low", 10, "10 %; expected at least -95 % and at most 0 %."),
        ("gang rate", "High", -10, "-10 %; expected at least 0 % and at most 1000 %."),
    ],
)
def test_a_spread(spoiled, of, title, value, message):
    place = spoiled.cell("Spreads", of, title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Spreads!{place}: {message}"]


EUROPE = "Single-family houses, timber frame, Europe"
LETI = "LETI, homes, 2030 target"


@pytest.mark.parametrize(
    ("key", "title", "value", "message"),
    [
        (
            EUROPE,
            "Low",
            460,
            f"Low of 460 kgCO2e/m2 for {EUROPE!r}, above its Value of 453 kgCO2e/m2; expected at most 453 kgCO2e/m2.",
        ),
        (
            EUROPE,
            "High",
            450,
            f"High of 450 kgCO2e/m2 for {EUROPE!r}, below its Value of 453 kgCO2e/m2; expected at least 453 kgCO2e/m2.",
        ),
        (
            LETI,
            "Study period",
            60,
            f"Study period is filled in for {LETI!r}, which covers A1-A5; expected a blank cell: those modules end "
            "when the house is built.",
        ),
        (
            LETI,
            "Area basis",
            "net",
            "text 'net'; expected one of outside of frame, inside faces, gross, outside of cladding.",
        ),
        (LETI, "Modules", "B6", "text 'B6'; expected one of A1-A3, A1-A5, A-C."),
    ],
)
def test_a_benchmark(spoiled, key, title, value, message):
    place = spoiled.cell("Benchmarks", key, title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Benchmarks!{place}: {message}"]


MODULES = "A1-A3, A4, A5 wastage, A5 site, B2, B3, B4, C1, C2, C3, C4"


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("study period", 0, "0 year; expected at least 1 year and at most 500 year."),
        ("replacements", "none", "text 'none'; expected one of whole, annualised."),
        ("discount rate", -1, "-1 %; expected at least 0 % and at most 25 %."),
        ("draws", 500, "500; expected at least 1000 and at most 100,000."),
        ("draws", 1500.5, "1500.5; expected a whole number."),
        ("seed", 1.5, "1.5; expected a whole number."),
        (
            "end of life",
            "wood re-used",
            "'wood re-used' is not defined; expected a name from the column Scenario of the sheet End of life. Did you "
            "mean 'wood reused'?",
        ),
        (
            "modules",
            "A1-A3; D",
            f"module D among those added up; expected modules out of {MODULES}, separated by semicolons. Leave D out: "
            "it lies beyond the life cycle and is told apart.",
        ),
        ("modules", "A1-A3; B6", f"text 'B6'; expected modules out of {MODULES}, separated by semicolons."),
        ("modules", "A4; A4", "A4 stands twice; expected each module once."),
        ("modules", ";", f"no module; expected modules out of {MODULES}, separated by semicolons."),
    ],
)
def test_a_setting_of_the_study(spoiled, name, value, message):
    place = spoiled.setting(name, value, sheet="Study")
    assert problems_of(spoiled) == [f"heron_bank.xlsx Study!{place}: {message}"]


def test_an_unknown_setting_of_the_study(spoiled):
    def change(book: Workbook) -> None:
        for row in book["Study"].iter_rows():
            if row[0].value == "seed":
                row[0].value = "sed"

    spoiled.edit(change)
    (line,) = problems_of(spoiled)
    assert line.endswith("unknown setting 'sed'; expected a setting of this sheet. Did you mean 'seed'?")
    assert line.startswith("heron_bank.xlsx Study!A")


def without_usual(book: Workbook) -> None:
    for row in book["End of life"].iter_rows():
        if row[0].value == "usual":
            row[0].value = "as before"


def test_a_study_without_a_scenario_needs_the_usual_one(spoiled):
    spoiled.setting("end of life", None, sheet="Study")
    spoiled.edit(without_usual, factors=True)
    (line,) = problems_of(spoiled)
    assert line == (
        "factors.xlsx End of life!A6: no row of the scenario 'usual'; expected rows of the scenario that a study "
        "without one goes by. Add them, or name one of the others in the sheet Study."
    )
    spoiled.edit(lambda book: book.remove(book["Study"]))
    assert problems_of(spoiled) == [line]


def test_a_study_that_names_a_scenario_needs_no_usual_one(spoiled):
    spoiled.edit(without_usual, factors=True)
    spoiled.setting("end of life", "wood reused", sheet="Study")
    assert CliRunner().invoke(app, ["check", str(spoiled.house)]).exit_code == 0


def test_without_the_sheet_end_of_life_only_the_usual_scenario_may_be_named(spoiled):
    spoiled.edit(lambda book: book.remove(book["End of life"]), factors=True)
    assert CliRunner().invoke(app, ["check", str(spoiled.house)]).exit_code == 0
    place = spoiled.setting("end of life", "wood reused", sheet="Study")
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Study!{place}: 'wood reused' is not defined; expected a name from the column Scenario of the "
        "sheet End of life. Add a row for it or correct the name."
    ]


@pytest.mark.parametrize(
    ("layer", "with_layer", "message"),
    [
        (
            1,
            12,
            f"renewed with layer 12, which {BOARDS!r} does not have; expected one of its layers 1, 2, 3, 4, 5, 6, "
            "7.",
        ),
        (
            2,
            2,
            f"layer 2 of {BOARDS!r} is renewed with itself; expected the number of another layer. Leave the cell "
            "blank: its own life is in the sheet Service lives.",
        ),
        (
            1,
            4,
            f"renewed with layer 4 of {BOARDS!r}, which is itself renewed with layer 2; expected a layer that is "
            "renewed by itself. Name layer 2 here too.",
        ),
        (1, 0, "0; expected at least 1 and at most 40."),
    ],
)
def test_a_layer_renewed_with_another(spoiled, layer, with_layer, message):
    place = spoiled.cell("Build-ups", BOARDS, "Renewed with", with_layer, nth=layer - 1)
    assert problems_of(spoiled) == [f"heron_bank.xlsx Build-ups!{place}: {message}"]


def test_two_layers_renewed_with_each_other(spoiled):
    brick = "Clay brick veneer"
    first = spoiled.cell("Build-ups", brick, "Renewed with", 2, nth=0)
    second = spoiled.cell("Build-ups", brick, "Renewed with", 1, nth=1)
    lines = problems_of(spoiled)
    assert lines[0] == (
        f"heron_bank.xlsx Build-ups!{first}: renewed with layer 2 of {brick!r}, which is itself renewed with layer 1; "
        "expected a layer that is renewed by itself."
    )
    assert lines[1].startswith(
        f"heron_bank.xlsx Build-ups!{second}: renewed with layer 1 of {brick!r}, which"
    )
    # ties and damp-proof flashing are renewed with the bricks too
    assert len(lines) == 4


@pytest.mark.parametrize(
    ("name", "value", "message"),
    [
        ("weather from", "NNW", "text 'NNW'; expected one of N, NE, E, SE, S, SW, W, NW. Did you mean 'NW'?"),
        ("site exposure", "windy", "text 'windy'; expected one of sheltered, moderate, exposed."),
        ("sheltering overhang", -5, "-5 %; expected at least 0 % and at most 500 %."),
        ("exposure low", "some", "text 'some'; expected one of sheltered, moderate, exposed."),
    ],
)
def test_a_setting_of_exposure(spoiled, name, value, message):
    place = spoiled.setting(name, value)
    assert problems_of(spoiled) == [f"heron_bank.xlsx House!{place}: {message}"]


@pytest.mark.parametrize(
    ("title", "value", "message"),
    [
        ("Conductivity", 0, "0 W/(m K); expected at least 0.005 W/(m K) and at most 500 W/(m K)."),
        ("Carbon fraction", 80, "80 %; expected at least 30 % and at most 70 %."),
    ],
)
def test_a_material(spoiled, title, value, message):
    place = spoiled.cell("Materials", WOOL, title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Materials!{place}: {message}"]


def test_the_service_life_of_an_allowance(spoiled):
    place = spoiled.cell("Allowances", "Solar panels", "Service life", 0)
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Allowances!{place}: 0 year; expected at least 1 year and at most 500 year."
    ]


def test_an_allowance_on_carbon(spoiled):
    place = spoiled.cell("Accuracy", "brief", "Phase allowance", 60, factors=True)
    assert problems_of(spoiled) == [
        f"factors.xlsx Accuracy!{place}: 60 %; expected at least 0 % and at most 50 %."
    ]
