"""The sheet Allowances as typed: what is read, and what is told with its cell."""

from __future__ import annotations

import pytest
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.workbook.reading import read_job


def problems_of(spoiled) -> list[str]:
    """Run check; return its problem lines without the closing count."""
    check = CliRunner().invoke(app, ["check", str(spoiled.house)])
    assert check.exit_code == 1
    return check.stderr.strip().splitlines()[:-1]


def clear(spoiled) -> None:
    """Take every row below the units out of the sheet."""

    def change(book):
        rows = list(book["Allowances"].iter_rows())
        head = next(row[0].row for row in rows if row[0].value == "Allowance")
        for row in rows:
            if row[0].row > head + 1:
                for cell in row:
                    cell.value = None

    spoiled.edit(change)


def test_the_demo_has_allowances_of_every_kind_and_basis(job):
    assert {a.kind for a in job.allowances} == {"firm", "provisional sum", "prime-cost sum"}
    assert {a.basis for a in job.allowances} == {"Item", "Nr", "m2 of floor", "kW"}
    assert 10 <= len(job.allowances) <= 16
    assert all("invented for the demo" in a.note for a in job.allowances)
    # carbon is derived, with its arithmetic, or not assessed
    assert [a.standing for a in job.allowances if a.carbon is not None] == ["derived", "derived"]
    assert all(not a.standing for a in job.allowances if a.carbon is None)


def test_the_derived_carbon_of_the_demo_is_its_arithmetic(job):
    by_name = {a.name: a for a in job.allowances}
    path, wardrobes = by_name["Gravel path and turning place"], by_name["Wardrobes"]
    assert path.mass == pytest.approx(35 * 0.1 * 1800)
    assert path.carbon == pytest.approx(35 * 0.1 * 1800 * 0.005)
    assert wardrobes.mass == pytest.approx(14 * 0.016 * 750)
    assert wardrobes.carbon == pytest.approx(14 * 0.016 * 750 * 0.54, abs=0.05)


def test_a_practices_ladder_holds_no_sums_of_a_house(job):
    assert [s.name for s in job.library.ladder if s.kind == "sum"] == []


@pytest.mark.parametrize(("name", "basis"), [("Solar panels", "kW"), ("Hot water cylinder", "Nr")])
def test_a_count_without_a_quantity(spoiled, name, basis):
    place = spoiled.cell("Allowances", name, "Quantity", None)
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Allowances!{place}: Quantity is blank for {name!r}, measured by {basis}; "
        f"expected a number of {basis}."
    ]


def test_a_quantity_of_nothing(spoiled):
    place = spoiled.cell("Allowances", "Solar panels", "Quantity", 0)
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Allowances!{place}: a quantity of 0 for 'Solar panels'; expected a number over 0. "
        "Delete the row of what is not allowed for."
    ]


@pytest.mark.parametrize(
    ("name", "kind"), [("Wardrobes", "firm"), ("Electrical installation", "a provisional sum")]
)
def test_fixing_of_what_is_supply_and_work_already(spoiled, name, kind):
    place = spoiled.cell("Allowances", name, "Fixing", 300)
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Allowances!{place}: fixing for {name!r}, which is {kind}; expected fixing for a "
        "prime-cost sum only; the rate of any other is supply and work. Leave Fixing blank and put it into "
        "the rate, or make the kind a prime-cost sum."
    ]


def test_problems_of_allowances_stand_among_the_others(spoiled):
    spoiled.setting("pitch", 60)
    spoiled.cell("Allowances", "Solar panels", "Quantity", None)
    spoiled.cell("Allowances", "Wardrobes", "Fixing", 300)
    lines = problems_of(spoiled)
    assert len(lines) == 3
    assert [line.split()[1].split("!")[0] for line in lines] == ["Allowances", "Allowances", "House"]


def test_a_name_that_gives_an_id_twice_is_told_by_check(spoiled):
    place = spoiled.cell("Allowances", "Kitchen appliances", "Allowance", "KITCHEN")
    assert problems_of(spoiled) == [
        f"heron_bank.xlsx Allowances!{place}: 'KITCHEN' gives the id FT.kitchen, which the allowance 'Kitchen' "
        "has already; expected a name of its own within its element. Rename the allowance."
    ]


def test_standing_without_carbon_and_a_fixing_of_0_are_fine(spoiled):
    spoiled.cell("Allowances", "Solar panels", "Standing", "from memory")
    spoiled.cell("Allowances", "Solar panels", "Fixing", 0)
    assert CliRunner().invoke(app, ["check", str(spoiled.house)]).exit_code == 0


def test_a_sheet_without_rows_or_no_sheet_at_all_means_no_allowances(spoiled):
    clear(spoiled)
    assert read_job(spoiled.house).allowances == ()
    spoiled.edit(lambda book: book.remove(book["Allowances"]))
    assert read_job(spoiled.house).allowances == ()
