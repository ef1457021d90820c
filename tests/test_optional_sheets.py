"""A house without the sheets that may be left out still runs, and the report says what is not covered."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.cautions import cautions_of
from takeoff.compare.evaluate import evaluate
from takeoff.workbook.reading import read_job

OPTIONAL = (
    "Rooms",
    "Bulkheads",
    "Internal walls",
    "Allowances",
    # an override goes with the item it names
    "Overrides",
    "Queries",
    "To take",
    "Information",
    "Issues",
)
NO_ROOMS = "because the sheet Rooms has no rows"
NO_ALLOWANCES = "because the sheet Allowances has no rows"


def header_row(paper: Worksheet, title: str) -> int:
    return next(cell.row for row in paper.iter_rows() for cell in row if cell.value == title)


def stripped(demo: Path, folder: Path, name: str, *, sheets_too: bool) -> Path:
    """Return a copy of a demo without rooms and all that goes with them, allowances and what a QS adds."""
    for beside in ("factors.xlsx", "bracken_and_tide.png"):
        shutil.copy(demo / beside, folder)
    book = openpyxl.load_workbook(demo / name)
    doors = book["Openings"]
    room = next(cell.column for row in doors.iter_rows() for cell in row if cell.value == "Room")
    for row in range(doors.max_row, header_row(doors, "Mark") + 1, -1):
        if doors.cell(row, room).value is not None:
            doors.delete_rows(row)
    for title in OPTIONAL:
        if sheets_too:
            del book[title]
        else:
            paper = book[title]
            paper.delete_rows(header_row(paper, paper.cell(4, 1).value) + 2, paper.max_row)
    book.save(folder / name)
    return folder / name


@pytest.mark.parametrize("sheets_too", [False, True], ids=["rows removed", "sheets removed"])
@pytest.mark.parametrize("name", ["heron_bank.xlsx", "dune_studio.xlsx", "wharf_pair.xlsx"])
def test_every_optional_row_may_go(demo_folder, tmp_path, name, sheets_too):
    path = stripped(demo_folder, tmp_path, name, sheets_too=sheets_too)
    page, data = tmp_path / "c.html", tmp_path / "r.json"
    ran = CliRunner().invoke(app, ["compare", str(path), "--html", str(page), "--json", str(data)])
    assert ran.exit_code == 0, ran.stderr
    text = page.read_text(encoding="utf-8")
    assert NO_ROOMS in text
    assert NO_ALLOWANCES in text
    base = json.loads(data.read_text(encoding="utf-8"))["options"][0]
    assert base["covers"] == {"rooms": False, "allowances": False}
    assert base["rooms"] == base["internal_walls"] == base["allowances"] == []
    assert base["areas"]["rooms_floor_m2"] == pytest.approx(base["areas"]["inside_floor_m2"])


def test_a_support_line_without_a_wall_is_a_caution_that_says_what_to_do(demo_folder, tmp_path):
    job = read_job(stripped(demo_folder, tmp_path, "heron_bank.xlsx", sheets_too=True))
    (found,) = (c.text for c in cautions_of(evaluate(job, job.base)) if c.about == "Support lines")
    # from frame to frame: 0.170 to 12.000 - 0.170
    assert "at 3.6 m from the low wall, where no wall stands at x 0.17 to 11.83 m" in found
    assert "Put an edge of rooms on the line" in found


def test_the_demos_cover_rooms_and_have_no_bare_support_line(demo_folder):
    for name in ("heron_bank", "dune_studio", "wharf_pair"):
        job = read_job(demo_folder / f"{name}.xlsx")
        for option in job.options:
            about = {caution.about for caution in cautions_of(evaluate(job, option))}
            assert not about & {"Support lines", "Not priced", "Floor timber", "Plausibility"}, (
                name,
                option.name,
            )
