"""The command explain, typed as somebody would who wonders at a figure."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from typer.testing import CliRunner

from takeoff.cli import app

BOARDS = "EW.CL.low.shiplap-board-durable-hardwood-135-x-20"


@pytest.fixture
def house(demo_folder):
    return demo_folder / "heron_bank.xlsx"


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.exit_code, result.stdout, result.stderr


def test_the_base_is_explained_where_no_option_is_named(house):
    code, text, complaint = run("explain", house, BOARDS)
    assert (code, complaint) == (0, "")
    lines = text.splitlines()
    assert lines[:5] == [
        "Heron Bank, As drawn",
        "",
        "1  What it is",
        "-" * 13,
        f"id                 {BOARDS}",
    ]
    assert [line for line in lines if line[:1].isdigit() and line[1:3] == "  "] == [
        "1  What it is",
        "2  Dimensions",
        "3  Required",
        "4  Order",
        "5  Rate build-up",
        "6  Carbon by module",
        "7  Where to see it",
    ]
    assert "< heron_bank.xlsx House!B5  length 12.000 m" in text


def test_an_option_is_explained_with_its_own_cells(house):
    code, text, _ = run("explain", house, "rf.slope.PROFILED", "--option", "pitch 3 deg")
    assert code == 0
    assert text.startswith("Heron Bank, Pitch 3 deg\n")
    assert "< heron_bank.xlsx Options!J6  pitch 3 deg" in text
    assert "(7.200 + 0.600 +" in text


def test_an_unknown_option_is_a_wrong_command(house):
    code, text, complaint = run("explain", house, BOARDS, "--option", "Thatch")
    assert (code, text) == (2, "")
    assert complaint.startswith("There is no option 'Thatch'. Options: As drawn, All timber, ")


def test_an_unknown_id_is_a_wrong_command_that_names_the_nearest(house):
    code, text, complaint = run("explain", house, "RF.high-eave.high-eave-flashing-color-coated-steel")
    assert (code, text) == (2, "")
    assert complaint == (
        "There is no item 'RF.high-eave.high-eave-flashing-color-coated-steel' in 'As drawn'. Nearest:\n"
        "  RF.high-eave.high-eave-flashing-colour-coated-steel\n"
        "  WN.heads.head-flashing-colour-coated-steel\n"
        "  ED.heads.head-flashing-colour-coated-steel\n"
    )


def test_a_beginning_of_several_ids_is_a_wrong_command_that_lists_them(house):
    code, text, complaint = run("explain", house, "WN.W04")
    # an id that is the beginning of others is that item
    assert (code, complaint) == (0, "")
    assert "Window W04" in text
    code, text, complaint = run("explain", house, "rf.fr")
    assert (code, text) == (2, "")
    assert complaint == (
        "3 items of 'As drawn' begin with 'rf.fr':\n"
        "  RF.FR.rafters.softwood-rafters-structural.240x45\n"
        "  RF.FR.blocking.softwood-rafters-structural.240x45\n"
        "  RF.FR.outriggers.softwood-rafters-structural.90x45\n"
    )


def test_what_is_piped_has_no_escape_codes_and_keeps_to_eighty_columns(house):
    command = [sys.executable, "-c", "from takeoff.cli import main; main()", "explain", str(house), BOARDS]
    # a program that wants colour at any price must not get it into a file
    environment = {**os.environ, "FORCE_COLOR": "1", "PYTHONIOENCODING": "utf-8"}
    done = subprocess.run(command, capture_output=True, check=True, env=environment)
    text = done.stdout.decode()
    assert "\x1b" not in text
    assert max(map(len, text.splitlines())) <= 80


def test_a_workbook_with_a_problem_is_told_as_elsewhere(house, tmp_path):
    code, text, complaint = run("explain", tmp_path / "none.xlsx", BOARDS)
    assert (code, text) == (1, "")
    assert complaint.endswith("1 problem.\n")
