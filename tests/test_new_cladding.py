"""A new cladding is rows in the workbook and no line of code."""

from __future__ import annotations

import csv
import io
import json
import math
import re
import shutil
from itertools import pairwise
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook
from typer.testing import CliRunner

from takeoff.cli import app
from takeoff.compare.evaluate import evaluate
from takeoff.documents.drawings import elevation
from takeoff.workbook.reading import read_job

NAME = "Cork boards 20"
COVER = 0.3


def add_row(book: Workbook, sheet: str, **values: object) -> None:
    """Write a row below the last one of a table, by column titles (underscores for spaces)."""
    cells = list(book[sheet].iter_rows())
    wanted = {title.replace("_", " "): value for title, value in values.items()}
    header = next(row for row in cells if set(wanted) <= {cell.value for cell in row})
    last = max(
        row[0].row
        for row in cells
        if (row[0].row > header[0].row and row[0].value is not None) or row is header
    )
    target = max(last, header[0].row + 1) + 1
    for cell in header:
        book[sheet].cell(row=target, column=cell.column, value=wanted.get(cell.value))


@pytest.fixture
def house(tmp_path: Path, demo_folder: Path) -> Path:
    for name in ("heron_bank.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, tmp_path / name)
    path = tmp_path / "heron_bank.xlsx"
    book = openpyxl.load_workbook(path)
    add_row(
        book,
        "Materials",
        Material=NAME,
        Description="Expanded cork boards, invented",
        Family="wood board",
        Trade="cladding",
        Item_class="cladding",
        Density=160,
        Thickness=20,
        Width=310,
        Cover=300,
        Wastage_allowance=10,
        Source="invented",
        Standing="invented for the demo",
    )
    add_row(book, "Prices", Material=NAME, Price=50, Unit="per m2", Basis="invented", Source="invented")
    add_row(
        book,
        "Carbon factors",
        **{
            "Material": NAME,
            "A1-A3": 0.5,
            "Unit": "kgCO2e/kg",
            "Source": "invented",
            "Standing": "invented for the demo",
        },
    )
    add_row(
        book,
        "Build-ups",
        **{
            "Build-up": "Cork",
            "Part": "cladding",
            "Layer": 1,
            "Material": NAME,
            "Measured by": "boards by cover",
            "Direction": "horizontal",
        },
    )
    add_row(book, "Palettes", Palette="Cork all round", Low="Cork", High="Cork", Left="Cork", Right="Cork")
    for row in book["House"].iter_rows():
        if row[0].value == "palette":
            row[1].value = "Cork all round"
    book.save(path)
    return path


def test_it_reaches_quantities_cost_and_carbon(house):
    result = CliRunner().invoke(app, ["measure", str(house), "--csv", "-"])
    assert result.exit_code == 0, result.stderr
    rows = [row for row in csv.DictReader(io.StringIO(result.stdout)) if row["item"] == NAME]
    assert [row["location"] for row in rows] == ["low side", "high side", "left side", "right side"]
    for row in rows:
        net, required, order = (float(row[name]) for name in ("net", "required", "order"))
        assert 0 < net < required < order
        assert order == pytest.approx(required * 1.10, abs=2e-6)
        # 50 for one m2 ordered; 160 kg/m3 x 0.020 m x 0.5 kgCO2e/kg = 1.6 kgCO2e/m2
        assert float(row["cost"]) == pytest.approx(order * 50, rel=1e-6)
        assert float(row["a1a3"]) == pytest.approx(required * 1.6, rel=1e-6)
        # what is not built in goes the way of the family at its end of life: C2, C3 and C4 of one m2
        end = sum(float(row[module] or 0) for module in ("c2", "c3", "c4")) / required
        assert end > 0
        assert float(row["a5_wastage"]) == pytest.approx((order - required) * (1.6 + end), rel=1e-4)
        assert row["a4"] == ""


def test_it_is_drawn_at_its_cover(house):
    job = read_job(house)
    design = evaluate(job, job.base).design
    drawing = elevation(design, job.library, "low", paper_width_mm=180, id_prefix="low")
    assert "Expanded cork boards, invented" in drawing.svg
    height = design.house.low_height + design.house.cladding_drop
    quantity = next(
        line.quantity
        for line in evaluate(job, job.base).lines
        if line.quantity.id == "EW.CL.low.cork-boards-20"
    )
    # the lowest courses run the whole length, one for each cover up to the head
    full = sum(piece.count for piece in quantity.pieces if piece.length == design.house.length)
    assert 0 < full <= math.ceil(height / COVER) == 10


def test_it_reaches_the_report_and_results(house):
    result = CliRunner().invoke(app, ["issue", str(house)])
    assert result.exit_code == 0, result.stderr
    folder = house.parent / "heron_bank_issue"
    page = (folder / "comparison.html").read_text(encoding="utf-8")
    assert page.count(NAME) >= 3
    assert "Cork all round" in page
    option = json.loads((folder / "results.json").read_text(encoding="utf-8"))["options"][0]
    assert option["by_trade"]["cladding"]["cost"] > 0


def test_its_lines_stand_a_cover_apart(house):
    job = read_job(house)
    design = evaluate(job, job.base).design
    drawing = elevation(design, job.library, "low", paper_width_mm=180, id_prefix="low")
    lines = re.search(r'<path id="low-cladding-1-lines" d="([^"]+)"', drawing.svg)
    assert lines
    heights = sorted({float(y) for y in re.findall(r"M[\d.]+ ([\d.]+)H", lines.group(1))})
    assert len(heights) >= 9
    apart = COVER * 1000 / drawing.scale
    assert [b - a for a, b in pairwise(heights)] == pytest.approx([apart] * (len(heights) - 1), abs=0.002)


def test_it_may_be_an_option_beside_the_base(house):
    def offer(book):
        for row in book["House"].iter_rows():
            if row[0].value == "palette":
                row[1].value = "Mixed"
        sheet = book["Options"]
        header = next(row for row in sheet.iter_rows() if row[0].value == "Setting")[0].row
        column = next(cell.column for cell in sheet[header] if cell.value == "All timber")
        sheet.cell(row=header, column=column, value="Cork")
        for row in sheet.iter_rows(min_row=header + 1):
            if row[column - 1].value is not None and row[0].value != "description":
                row[column - 1].value = "Cork all round" if row[0].value == "palette" else None

    book = openpyxl.load_workbook(house)
    offer(book)
    book.save(house)
    result = CliRunner().invoke(app, ["compare", str(house), "--json", "-"])
    assert result.exit_code == 0, result.stderr
    options = {option["name"]: option for option in json.loads(result.stdout)["options"]}
    assert options["Cork"]["by_trade"]["cladding"] != options["As drawn"]["by_trade"]["cladding"]
    assert options["Cork"]["by_trade"]["roofing"] == options["As drawn"]["by_trade"]["roofing"]
    csv_text = CliRunner().invoke(app, ["measure", str(house), "--csv", "-"]).stdout
    assert NAME not in csv_text
    csv_text = CliRunner().invoke(app, ["measure", str(house), "--option", "Cork", "--csv", "-"]).stdout
    assert csv_text.count(f",{NAME},") == 4
