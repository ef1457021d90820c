"""The command schedule, typed as a quantity surveyor would."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner

from takeoff.cli import app


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def house(tmp_path, demo_folder) -> Path:
    for name in ("dune_studio.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    return tmp_path / "dune_studio.xlsx"


def changed(path: Path) -> bytes:
    """Save a workbook as an office program does after somebody has typed into it."""
    book = openpyxl.load_workbook(path)
    book["Queries"]["A9"] = "mine"
    book.save(path)
    return path.read_bytes()


def test_it_is_written_beside_the_workbook(house):
    code, out, _ = run("schedule", house)
    path = house.parent / "dune_studio_schedule.xlsx"
    assert code == 0
    assert out.endswith(f"Wrote {path}.\n")
    assert openpyxl.load_workbook(path)["About"]["B8"].value == "As drawn"


def test_another_option_under_another_name(house, tmp_path):
    path = tmp_path / "steel.xlsx"
    assert run("schedule", house, "--option", "all steel", "--out", path)[0] == 0
    assert openpyxl.load_workbook(path)["About"]["B8"].value == "All steel"
    assert run("schedule", house, "--option", "none such")[0] == 2


def test_the_same_schedule_may_be_written_again_but_not_over_a_changed_one(house, tmp_path):
    path = tmp_path / "s.xlsx"
    assert run("schedule", house, "--out", path)[0] == 0
    first = path.read_bytes()
    assert run("schedule", house, "--out", path)[0] == 0
    assert path.read_bytes() == first
    mine = changed(path)
    code, _, err = run("schedule", house, "--out", path)
    assert code == 2
    assert err == (
        f"{path} is no document of this program, or was changed since, and is left as it is; choose another name.\n"
    )
    assert path.read_bytes() == mine


def test_no_workbook_of_a_house_is_written_over(house):
    before = house.read_bytes()
    assert run("schedule", house, "--out", house)[0] == 2
    assert house.read_bytes() == before
    assert run("schedule", house, "--out", house.parent / "factors.xlsx")[0] == 2
    code, _, err = run("schedule", house, "--out", house.parent / "bill.pdf")
    assert code == 2
    assert err == f"{house.parent / 'bill.pdf'} has to end in .xlsx.\n"


def test_an_issue_keeps_a_schedule_that_was_changed(house, tmp_path):
    out = tmp_path / "issue"
    out.mkdir()
    assert run("schedule", house, "--out", out / "schedule.xlsx")[0] == 0
    mine = changed(out / "schedule.xlsx")
    assert run("issue", house, "--out", out)[0] == 2
    assert [path.name for path in out.iterdir()] == ["schedule.xlsx"]
    assert (out / "schedule.xlsx").read_bytes() == mine


def test_the_bill_as_csv_goes_to_the_screen(house):
    code, out, _ = run("schedule", house, "--csv", "-")
    assert code == 0
    rows = list(csv.DictReader(io.StringIO(out)))
    assert rows[0]["item"] == "1"
    assert rows[0]["element"] == "substructure"
    assert not (house.parent / "dune_studio_schedule.xlsx").exists()


def test_a_wrong_workbook_leaves_nothing(house, tmp_path):
    book = openpyxl.load_workbook(house)
    book["House"]["B7"] = "wide"
    book.save(house)
    code, _, err = run("schedule", house, "--out", tmp_path / "s.xlsx")
    assert code == 1
    assert "House!B7" in err
    assert not (tmp_path / "s.xlsx").exists()
