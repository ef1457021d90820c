"""Headless LibreOffice Calc recalculates every formula of the schedule of every option of every demo house.

Stored values are stripped first, since the program trusts those it finds. Skipped where it is not installed, unless
TAKEOFF_OFFICE_PROGRAM is set to "demanded". Tolerance 1e-9 relative, as in test_recalculation.py.
"""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.documents.schedule import schedule_workbook
from takeoff.workbook.reading import read_job

SOFFICE = shutil.which("soffice")
DEMANDED = os.environ.get("TAKEOFF_OFFICE_PROGRAM") == "demanded"
pytestmark = pytest.mark.skipif(SOFFICE is None and not DEMANDED, reason="LibreOffice Calc is not installed")

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
REL = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
PACKAGE = "{http://schemas.openxmlformats.org/package/2006/relationships}"


def sheets_of(package):
    """Return the parts of the sheets of a workbook by title."""
    targets = {
        relation.get("Id"): relation.get("Target")
        for relation in ElementTree.fromstring(package.read("xl/_rels/workbook.xml.rels")).iter(
            f"{PACKAGE}Relationship"
        )
    }
    book = ElementTree.fromstring(package.read("xl/workbook.xml"))
    return {
        sheet.get("name"): "xl/" + targets[sheet.get(f"{REL}id")].removeprefix("/xl/")
        for sheet in book.iter(f"{MAIN}sheet")
    }


def figures_of(data):
    """Return what every computed cell of a workbook holds, by sheet and cell."""
    figures = {}
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        for title, part in sheets_of(package).items():
            for cell in ElementTree.fromstring(package.read(part)).iter(f"{MAIN}c"):
                if cell.find(f"{MAIN}f") is not None:
                    text = cell.findtext(f"{MAIN}v")
                    is_text = cell.get("t") in ("str", "e")
                    figures[title, cell.get("r")] = text if is_text or text is None else float(text)
    return figures


def stripped(data):
    """Return a workbook without the values stored beside its formulas."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(data)) as package,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bare,
    ):
        for name in package.namelist():
            part = package.read(name)
            if name.startswith("xl/worksheets/"):
                part = re.sub(rb"(<c\b[^>]*?)(?: t=\"str\")?([^>]*>)(<f>.*?</f>)<v>.*?</v>", rb"\1\2\3", part)
            bare.writestr(name, part)
    return out.getvalue()


def recalculated(books, folder: Path):
    """Return workbooks as the office program saves them, by name."""
    assert SOFFICE is not None, "LibreOffice Calc is demanded and not installed"
    bare, done = folder / "bare", folder / "done"
    bare.mkdir()
    for name, data in books.items():
        (bare / f"{name}.xlsx").write_bytes(data)
    command = [
        SOFFICE,
        f"-env:UserInstallation={(folder / 'profile').as_uri()}",
        "--headless",
        "--convert-to",
        "xlsx",
        "--outdir",
        str(done),
        *map(str, sorted(bare.iterdir())),
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=900)
    return {name: (done / f"{name}.xlsx").read_bytes() for name in books}


def differing(stored, computed):
    """Return the cells whose computed figure is not the stored one."""
    found = []
    for cell, kept in stored.items():
        value = computed[cell]
        if isinstance(kept, float) and isinstance(value, float):
            if abs(value - kept) > 1e-9 * max(abs(kept), 1.0):
                found.append((cell, kept, value))
        elif kept != value:
            found.append((cell, kept, value))
    return found


@pytest.mark.parametrize("demo", ["dune_studio", "heron_bank", "wharf_pair"])
def test_every_option_recalculates_to_what_is_stored(demo_folder, tmp_path, demo):
    job = read_job(demo_folder / f"{demo}.xlsx")
    books = {
        f"option{number}": schedule_workbook(job, evaluate(job, option))
        for number, option in enumerate(job.options)
    }
    bare = {name: stripped(data) for name, data in books.items()}
    assert set(figures_of(bare["option0"]).values()) == {None}
    # a wrong figure planted beside a formula is seen
    stored = {name: figures_of(data) for name, data in books.items()}
    computed = {name: figures_of(data) for name, data in recalculated(bare, tmp_path).items()}
    for name, figures in stored.items():
        assert len(figures) > 5000
        assert differing(figures, computed[name]) == [], name
        results = [
            value for (sheet, cell), value in computed[name].items() if sheet == "Checks" and cell[0] in "GH"
        ]
        assert "satisfied" in results
        assert "not satisfied" not in results
    cell, kept = next(
        (cell, kept) for cell, kept in stored["option0"].items() if isinstance(kept, float) and kept > 1
    )
    planted = {**stored["option0"], cell: kept * (1 + 1e-8)}
    assert [found[0] for found in differing(planted, computed["option0"])] == [cell]
