"""The sheets of the quantity surveyor and the measurement profile: what is read, and what is told with its cell."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.model.bill import Override
from takeoff.workbook.bill_sheets import BILL_SHEETS
from takeoff.workbook.grid import WorkbookError
from takeoff.workbook.reading import read_job

TYPED = ("SB.concrete-25-mpa", "quantity", 20, "m3", None, "Deeper at the low side", "J. Sedge", "2026-09-02")
FIELDS = ("id", "figure", "value", "unit", "option", "reason", "who", "date")


def fill(spoiled, sheet: str, *rows: Sequence[object]) -> int:
    """Type rows into a sheet in place of all its own; return the row of the first."""
    firsts: list[int] = []

    def change(book):
        paper = book[sheet]
        head = next(row[0].row for row in paper.iter_rows() if row[0].font.bold and row[0].row > 2)
        firsts.append(head + 2)
        for row in paper.iter_rows(min_row=head + 2):
            for cell in row:
                cell.value = None
        for number, values in enumerate(rows, start=head + 2):
            for column, value in enumerate(values, start=1):
                paper.cell(number, column).value = value

    spoiled.edit(change)
    return firsts[0]


def row(**more: object) -> list[object]:
    return list({**dict(zip(FIELDS, TYPED, strict=True)), **more}.values())


def problems_of(spoiled) -> list[str]:
    """Read the workbook; return its problem lines."""
    with pytest.raises(WorkbookError) as error:
        read_job(spoiled.house)
    return [problem.line() for problem in error.value.problems]


def test_the_demos_have_queries_information_issues_and_one_has_overrides(job, demo_folder):
    assert job.overrides == ()
    assert [query.reference for query in job.queries] == ["Q1", "Q2", "Q3"]
    assert [query.answer != "" for query in job.queries] == [True, True, False]
    assert [each.element for each in job.to_take] == ["substructure", "external walls"]
    assert [each.name for each in job.information] == ["SK-01 rev B", "SK-02 rev A", "SCH-1 rev B"]
    assert job.information[0].elements == ()
    assert job.information[1].elements == ("roof", "external walls", "ceiling finishes")
    assert [(issue.issue, issue.date, issue.stage) for issue in job.issues] == [("A", "2026-09-01", "sketch")]
    assert job.project.bill_order == "element"

    wharf = read_job(demo_folder / "wharf_pair.xlsx")
    assert [(each.id, each.figure, each.value, each.unit) for each in wharf.overrides] == [
        ("ED.d01", "rate", 912.5, "m2"),
        ("FF.carpet.carpet-nylon-500-g-pile", "wastage", 0.29, ""),
    ]
    # 6,898.50 for 7.56 m2
    assert wharf.overrides[0].value == pytest.approx(6898.50 / 7.56)
    # 12.3 m of a roll 3.66 m wide for 34.85 m2
    assert wharf.overrides[1].value == pytest.approx(12.3 * 3.66 / 34.85 - 1, abs=0.005)
    assert all(each.reason and each.who and each.date == "2026-08-28" for each in wharf.overrides)


def test_the_measurement_profile_of_the_demo(job):
    profile = job.library.measurement
    assert profile["cladding"].rounding == 0.01
    assert profile["fixings"].rounding == 1.0
    assert all(rule.unit is None and rule.sort_code for rule in profile.values())
    assert len({rule.sort_code for rule in profile.values()}) == len(profile)


def test_an_override_is_read_with_its_unit_and_option(spoiled):
    fill(
        spoiled,
        "Overrides",
        TYPED,
        row(figure="rate", value=560, unit="per m3", option="all timber"),
        row(figure="Rate", value=570, unit="m3"),
        row(figure="wastage", value=7.5, unit="%"),
    )
    common = {"id": TYPED[0], "reason": TYPED[5], "who": TYPED[6], "date": TYPED[7]}
    assert read_job(spoiled.house).overrides == (
        Override(figure="quantity", value=20.0, unit="m3", **common),
        Override(figure="rate", value=560.0, unit="m3", option="All timber", **common),
        Override(figure="rate", value=570.0, unit="m3", **common),
        Override(figure="wastage", value=0.075, unit="", **common),
    )


def test_wastage_in_a_cell_of_the_office_programs_per_cent(spoiled):
    first = fill(spoiled, "Overrides", row(figure="wastage", value=0.10, unit="%"))

    def as_per_cent(book):
        book["Overrides"].cell(first, 3).number_format = "0 %"

    spoiled.edit(as_per_cent)
    assert read_job(spoiled.house).overrides[0].value == pytest.approx(0.10)


def test_all_of_it_again_may_be_bought(spoiled):
    fill(spoiled, "Overrides", row(figure="wastage", value=100, unit="%"))
    (override,) = read_job(spoiled.house).overrides
    assert override.value == pytest.approx(1.0)


def test_text_that_begins_like_a_formula_stays_text(spoiled):
    first = fill(spoiled, "Overrides", row(reason="+ 0.3 m at the low side"), row(figure="rate", reason="-"))

    def plain(book):
        for number in (first, first + 1):
            book["Overrides"].cell(number, 6).data_type = "s"

    spoiled.edit(plain)
    assert [each.reason for each in read_job(spoiled.house).overrides] == ["+ 0.3 m at the low side", "-"]


@pytest.mark.parametrize(
    ("typed", "column", "told"),
    [
        ({"id": None}, "A", "Id is blank; expected the id of an item."),
        ({"figure": None}, "B", "Figure is blank; expected one of quantity, rate, wastage."),
        ({"reason": None}, "F", "Reason is blank; expected why the figure is overridden."),
        ({"who": None}, "G", "Who is blank; expected a name."),
        ({"date": None}, "H", "Date is blank; expected a date, such as 2026-09-01."),
        ({"value": None}, "C", "Value is blank; expected a number."),
        ({"value": -1}, "C", "-1; expected at least 0 and at most 10,000,000."),
        ({"value": "20 m3"}, "C", "text '20 m3'; expected a number."),
        (
            {"figure": "quantaty"},
            "B",
            "text 'quantaty'; expected one of quantity, rate, wastage. Did you mean 'quantity'?",
        ),
        ({"unit": "per m3"}, "D", "per m3 for a quantity; expected the unit of the item, such as m2."),
        ({"unit": "%"}, "D", "% for a quantity; expected the unit of the item, such as m2."),
        (
            {"figure": "rate", "unit": "%"},
            "D",
            "% for a rate; expected the unit of the item, such as per m2.",
        ),
        ({"figure": "wastage"}, "D", "m3 for a wastage; expected %."),
        (
            {"figure": "wastage", "unit": "%", "value": 110},
            "C",
            "wastage of 110 %; expected at least 0 and at most 100 %.",
        ),
        (
            {"option": "All tinber"},
            "E",
            "'All tinber' is no option; expected the name of an option of the sheet Options, or blank for all. "
            "Did you mean 'All timber'?",
        ),
        (
            {"option": "xyz"},
            "E",
            "'xyz' is no option; expected the name of an option of the sheet Options, or blank for all.",
        ),
    ],
)
def test_an_override_that_cant_be_taken(spoiled, typed, column, told):
    first = fill(spoiled, "Overrides", row(**typed))
    assert problems_of(spoiled) == [f"heron_bank.xlsx Overrides!{column}{first}: {told}"]


def test_a_unit_that_no_item_has_is_told_with_those_there_are(spoiled):
    first = fill(spoiled, "Overrides", row(unit="bags"))
    units = "m3, m2, m, kg, Nr, h, Item, kW"
    per = ", ".join(f"per {unit}" for unit in units.split(", "))
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Overrides!D{first}: text 'bags'; expected one of {units}, {per}, %."
    ]


@pytest.mark.parametrize(("option", "words"), [(None, ""), ("All timber", " in option 'All timber'")])
def test_a_figure_overridden_a_second_time(spoiled, option, words):
    first = fill(spoiled, "Overrides", row(option=option), row(option=option, value=21))
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Overrides!A{first + 1}: the quantity of 'SB.concrete-25-mpa'{words} is overridden in row "
        f"{first} already; expected each figure of an item once, or once an option. Delete one of the rows or name "
        "another option."
    ]


def test_an_id_and_a_unit_that_do_not_fit_the_house_are_told_by_check(spoiled):
    first = fill(spoiled, "Overrides", row(unit="m2"), row(id="SB.concrete-25mpa"))
    check = CliRunner().invoke(app, ["check", str(spoiled.house)])
    assert check.exit_code == 1
    assert check.stderr.splitlines() == [
        f"heron_bank.xlsx Overrides!D{first}: m2 for 'SB.concrete-25-mpa', which is measured in m3; expected m3.",
        f"heron_bank.xlsx Overrides!A{first + 1}: no item 'SB.concrete-25mpa' in any option; expected the id of an "
        "item, as takeoff measure shows it. Did you mean 'SB.concrete-25-mpa'?",
        "2 problems.",
    ]


@pytest.mark.parametrize(
    ("sheet", "typed", "cell", "told"),
    [
        ("Queries", [["Q1", None, "Me", "2026-09-02"]], "B6", "Question is blank; expected a question."),
        ("Queries", [["Q1", "Why?", None, "2026-09-02"]], "C6", "Asked by is blank; expected a name."),
        (
            "Queries",
            [["Q1", "Why?", "Me", None]],
            "D6",
            "Asked on is blank; expected a date, such as 2026-09-01.",
        ),
        (
            "Queries",
            [["Q1", "Why?", "Me", "2026-09-02"], ["Q1", "What?", "Me", "2026-09-02"]],
            "A7",
            "'Q1' stands in row 6 already; expected each one once. Rename or delete one of the rows.",
        ),
        ("To take", [["Deck", None, None]], "C6", "Reason is blank; expected why it is not measured yet."),
        (
            "To take",
            [["Deck", "site work", "No plan"]],
            "B6",
            "text 'site work'; expected one of substructure, roof, external walls, windows, external doors, internal "
            "walls, internal doors, wall finishes, floor finishes, ceiling finishes, fitments, services, site works, "
            "preliminaries. Did you mean 'site works'?",
        ),
        ("Information", [["SK-01"]], "B6", "Title is blank; expected a title."),
        (
            "Information",
            [["SK-01", "Plan", "B", None, None, "roof; external wall"]],
            "F6",
            "'external wall' is no element; expected elements separated by semicolons, or blank for all. Did you mean "
            "'external walls'?",
        ),
        (
            "Information",
            [["SK-01", "Plan", "B"], ["SK-01", "Plan again", "B"]],
            "C7",
            "'SK-01, B' stands in row 6 already; expected each one once. Rename or delete one of the rows.",
        ),
        (
            "Issues",
            [["B", None, "sketch", "Doors"]],
            "B6",
            "Date is blank; expected a date, such as 2026-09-01.",
        ),
        ("Issues", [["B", "2026-09-02", None, None]], "D6", "What changed is blank; expected what changed."),
        (
            "Issues",
            [["B", "2026-09-02", "sketches", "Doors"]],
            "C6",
            "text 'sketches'; expected one of brief, sketch, design development, tender. Did you mean 'sketch'?",
        ),
    ],
)
def test_what_is_wrong_on_the_other_sheets(spoiled, sheet, typed, cell, told):
    assert fill(spoiled, sheet, *typed) == 6
    assert problems_of(spoiled) == [f"heron_bank.xlsx {sheet}!{cell}: {told}"]


@pytest.mark.parametrize("sheets_too", [False, True], ids=["rows removed", "sheets removed"])
def test_all_five_sheets_may_be_blank_or_left_out(spoiled, sheets_too):
    titles = [sheet.title for sheet in BILL_SHEETS]
    assert titles == ["Overrides", "Queries", "To take", "Information", "Issues"]
    for title in titles:
        if sheets_too:
            spoiled.edit(lambda book, title=title: book.remove(book[title]))
        else:
            fill(spoiled, title)
    job = read_job(spoiled.house)
    assert job.overrides == job.queries == job.to_take == job.information == job.issues == ()


@pytest.mark.parametrize(
    ("title", "value", "told"),
    [
        ("Unit", "bags", "text 'bags'; expected one of m3, m2, m, kg, Nr, h, t."),
        ("Rounding", 0, "0; expected at least 0.001 and at most 100."),
    ],
)
def test_a_profile_that_cant_be_billed_by(spoiled, title, value, told):
    place = spoiled.cell("Measurement", "frame", title, value, factors=True)
    assert problems_of(spoiled) == [f"factors.xlsx Measurement!{place}: {told}"]


def test_blank_cells_of_the_profile(spoiled):
    for title in ("Rounding", "Sort code"):
        spoiled.cell("Measurement", "frame", title, None, factors=True)
    spoiled.cell("Measurement", "battens", "Unit", "m3", factors=True)
    spoiled.cell("Measurement", "fixings", "Unit", "t", factors=True)
    spoiled.cell("Measurement", "battens", "Sort code", 20, factors=True)
    profile = read_job(spoiled.house).library.measurement
    assert (profile["frame"].unit, profile["frame"].rounding, profile["frame"].sort_code) == (None, 0.01, "")
    assert (profile["battens"].unit, profile["battens"].sort_code) == ("m3", "20")
    assert profile["fixings"].unit == "t"


def test_the_order_of_the_bill(spoiled):
    place = spoiled.setting("bill order", "trades", sheet="Project")
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Project!{place}: text 'trades'; expected one of element, trade, both. Did you mean 'trade'?"
    ]
    spoiled.setting("bill order", "both", sheet="Project")
    assert read_job(spoiled.house).project.bill_order == "both"
    spoiled.setting("bill order", None, sheet="Project")
    assert read_job(spoiled.house).project.bill_order == "element"
