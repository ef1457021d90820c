"""The guide is current: commands, sheets and columns it names exist, and the other way round."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.main import get_command

from takeoff.cli import app
from takeoff.compare.figures import FIGURES
from takeoff.documents.quantities_csv import COLUMNS
from takeoff.guide import page_names, page_text
from takeoff.workbook.factors_sheets import FACTORS_WORKBOOK
from takeoff.workbook.house_sheets import HOUSE_WORKBOOK
from takeoff.workbook.reference import reference_markdown

TOP = Path(__file__).resolve().parents[2]
COMMANDS = set(get_command(app).commands)


def test_the_reference_page_is_made_from_the_declarations():
    assert page_text("reference") == reference_markdown()


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_documents_at_the_top_name_real_commands(document):
    text = (TOP / document).read_text(encoding="utf-8")
    named = set(re.findall(r"(?:`|/|\\)takeoff ([a-z]+)", text))
    assert named
    assert named <= COMMANDS


def test_the_guide_names_every_command_and_no_other():
    text = "\n".join(page_text(name) for name in page_names())
    assert set(re.findall(r"`takeoff ([a-z]+)", text)) == COMMANDS


def test_every_page_has_a_title():
    assert next(iter(page_names())) == "start"
    for name, title in page_names().items():
        assert title, name
        assert page_text(name).startswith("# ")


def test_results_names_every_column_and_figure():
    page = page_text("results")
    for key in [*COLUMNS, *(figure.key for figure in FIGURES)]:
        assert f"| `{key}` |" in page


def test_sheets_named_in_the_guide_exist():
    titles = {s.title for s in (*HOUSE_WORKBOOK.sheets, *FACTORS_WORKBOOK.sheets)} | {"About", "Lists"}
    text = "\n".join(page_text(name) for name in page_names())
    for named in re.findall(r"the sheet ([A-Z][a-z-]+(?: (?:factors|ladder))?)", text):
        assert named in titles, named
