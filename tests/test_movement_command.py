"""The command movement, typed as a quantity surveyor would."""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
import pytest
from openpyxl.cell import Cell
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.documents.movement_csv import COLUMNS


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture(scope="module")
def house(tmp_path_factory, demo_folder) -> Path:
    folder = tmp_path_factory.mktemp("issue A")
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, folder / name)
    return folder / "heron_bank.xlsx"


@pytest.fixture(scope="module")
def issued(house) -> Path:
    assert run("issue", house)[0] == 0
    return house.parent / "heron_bank_issue"


@pytest.fixture(scope="module")
def dearer(house, tmp_path_factory) -> Path:
    """The same house with cheaper gangs and one window less."""
    folder = tmp_path_factory.mktemp("issue B")
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(house.parent / name, folder / name)
    edit(folder / "factors.xlsx", "Gangs", cheaper)
    edit(folder / "heron_bank.xlsx", "Openings", single)
    return folder / "heron_bank.xlsx"


def edit(path: Path, sheet: str, change: Callable[[Sequence[Cell]], None]) -> None:
    book = openpyxl.load_workbook(path)
    for row in book[sheet].iter_rows():
        change(row)
    book.save(path)


def cheaper(row: Sequence[Cell]) -> None:
    if isinstance(row[1].value, int | float):
        row[1].value *= 0.9


def single(row: Sequence[Cell]) -> None:
    if row[0].value == "W02":
        row[7].value = 1


def test_two_workbooks_on_the_screen(house, dearer):
    code, out, err = run("movement", house, dearer)
    assert (code, err) == (0, "")
    assert f"Old: Heron Bank, A, 2026-09-01, As drawn ({house})" in out
    for title in (
        "Money, AUD",
        "Upfront carbon A1-A5",
        "Difference by reason",
        "Lines that moved",
        "Cost ladder",
    ):
        assert title in out
    assert "WN.w02" in out
    assert "labour rate" in out
    assert "RF.slope.roof-screws-with-washers" not in out


def test_a_folder_and_a_workbook_make_the_movement_that_two_workbooks_make(house, issued, dearer):
    _, from_workbook, _ = run("movement", house, dearer, "--csv", "-")
    code, from_folder, err = run("movement", issued, dearer, "--csv", "-")
    assert (code, err) == (0, "")
    rows = [list(csv.DictReader(io.StringIO(text))) for text in (from_workbook, from_folder)]
    assert len(rows[0]) == len(rows[1])
    for own, other in zip(*rows, strict=True):
        assert list(own) == list(COLUMNS)
        for column in ("id", "item", "unit_old", "unit_new", "reasons"):
            assert own[column] == other[column]
        assert float(own["money_difference"]) == pytest.approx(float(other["money_difference"]), abs=1e-8)


def test_an_issue_against_its_own_workbook_has_not_moved(house, issued):
    code, out, _ = run("movement", issued, house)
    assert code == 0
    assert "No line moved." in out


def test_the_differences_of_the_list_add_up_to_that_of_the_totals(issued, dearer, tmp_path):
    path = tmp_path / "movement.csv"
    code, out, err = run("movement", issued, dearer, "--csv", path)
    assert (code, out, err) == (0, "", "")
    rows = list(csv.DictReader(io.StringIO(path.read_text())))
    old = json.loads((issued / "results.json").read_text())["options"][0]["totals"]["total_inc_tax"]
    new = sum(float(row["money_new"] or 0.0) for row in rows)
    assert sum(float(row["money_difference"]) for row in rows) == pytest.approx(new - old, abs=1e-8)
    parts = ("quantity", "rate", "added", "omitted", "ladder")
    for row in rows:
        moved = sum(float(row[f"money_{part}"] or 0.0) for part in parts)
        assert moved == pytest.approx(float(row["money_difference"]), abs=1e-9)


def test_two_options_of_one_issue(issued, tmp_path):
    out = tmp_path / "movement.xlsx"
    code, screen, err = run(
        "movement", issued, issued, "--option", "as drawn", "--new-option", "All timber", "--out", out
    )
    assert (code, screen, err) == (0, "", "")
    paper = openpyxl.load_workbook(out, data_only=True)["Summary"]
    assert [paper["B8"].value, paper["C8"].value] == ["As drawn", "All timber"]
    # made here, so it may be written again
    assert run("movement", issued, issued, "--out", out)[0] == 0
    paper = openpyxl.load_workbook(out, data_only=True)["Summary"]
    assert [paper["B8"].value, paper["C8"].value] == ["As drawn", "As drawn"]


def test_no_workbook_is_written_over(house, issued):
    before = house.read_bytes()
    code, out, err = run("movement", issued, house, "--out", house)
    assert (code, out) == (2, "")
    assert err.startswith(f"{house} is no document of this program")
    assert err.endswith("is left as it is; choose another name.\n")
    assert house.read_bytes() == before


def test_a_sheet_has_the_name_of_one(issued, tmp_path):
    code, _, err = run("movement", issued, issued, "--out", tmp_path / "movement.csv")
    assert (code, err) == (2, f"{tmp_path / 'movement.csv'} has to end in .xlsx.\n")


def test_a_list_is_not_named_like_a_workbook(issued, tmp_path):
    code, _, err = run("movement", issued, issued, "--csv", tmp_path / "movement.xlsx")
    assert code == 2
    assert "is named like a workbook" in err


def test_an_option_that_a_side_does_not_have(house, issued):
    for old, new in ((house, issued), (issued, house)):
        code, out, err = run("movement", old, new, "--new-option", "Straw")
        assert (code, out) == (2, "")
        assert err.startswith("There is no option 'Straw'")


def test_a_folder_that_is_no_issue(house, tmp_path):
    code, out, err = run("movement", tmp_path, house)
    assert (code, out) == (1, "")
    assert err == f"{tmp_path} has no results.json: name a folder that takeoff issue wrote.\n"


def test_a_workbook_that_is_not_there(issued, tmp_path):
    code, out, err = run("movement", issued, tmp_path / "none.xlsx")
    assert (code, out) == (1, "")
    assert "none.xlsx" in err


def test_two_currencies_are_refused(issued, house, tmp_path):
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(house.parent / name, tmp_path / name)

    def other(row: Sequence[Cell]) -> None:
        for cell in row:
            if cell.value == "AUD":
                cell.value = "NZD"

    edit(tmp_path / "heron_bank.xlsx", "Project", other)
    code, out, err = run("movement", issued, tmp_path / "heron_bank.xlsx")
    assert (code, out) == (1, "")
    assert err == (
        "The old bill is in AUD and the new one in NZD: money of two currencies has no movement.\n"
    )
