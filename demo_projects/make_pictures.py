"""Makes the pictures of the README out of the real documents of a demo house.

Needs `pdftoppm` (poppler-utils) and `soffice` (LibreOffice Calc) on the machine: python demo_projects/make_pictures.py
"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from pypdf import PdfReader

HERE = Path(__file__).resolve().parent
PICTURES = HERE.parent / "takeoff" / "guide" / "pictures"
RESOLUTION = "80"


def page_with(pdf: Path, *texts: str) -> int:
    """Return the number of the first page that holds all of some texts, counted from 1."""
    for number, page in enumerate(PdfReader(pdf).pages, start=1):
        words = page.extract_text()
        if all(text in words for text in texts):
            return number
    raise LookupError(f"no page of {pdf.name} holds {' and '.join(texts)}")


def picture(pdf: Path, page: int, name: str) -> None:
    """Write one page of a PDF as a picture."""
    target = PICTURES / name
    subprocess.run(
        ["pdftoppm", "-png", "-singlefile", "-r", RESOLUTION, "-f", str(page), "-l", str(page), pdf, target],
        check=True,
    )


def sheet_as_pdf(workbook: Path, folder: Path) -> Path:
    """Return a workbook as the office program prints it."""
    subprocess.run(
        ["soffice", "--headless", "--convert-to", "pdf", "--outdir", folder, workbook],
        check=True,
        capture_output=True,
    )
    return folder / f"{workbook.stem}.pdf"


def main() -> None:
    """Issue the demo house and picture its documents."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        subprocess.run(
            ["takeoff", "issue", HERE / "heron_bank.xlsx", "--out", folder / "issue"],
            check=True,
            capture_output=True,
        )
        comparison = folder / "issue" / "comparison.pdf"
        picture(comparison, page_with(comparison, "Decisions, and what each choice"), "comparison-decisions")
        picture(comparison, page_with(comparison, "Palettes by elevation"), "comparison-palettes")
        picture(comparison, page_with(comparison, "Plan and elevations", "Low side"), "comparison-drawings")
        picture(comparison, page_with(comparison, "Frame, axonometric"), "comparison-frame")
        appendix = folder / "issue" / "comparison_appendix.pdf"
        picture(appendix, page_with(appendix, "Framing of roof, floor and walls"), "comparison-framing")
        picture(appendix, page_with(appendix, "Build-ups", "Together"), "comparison-build-ups")
        picture(appendix, page_with(appendix, "Appendix: cutting plans"), "comparison-cutting")
        client = folder / "issue" / "client.pdf"
        picture(client, 1, "client-glance")
        picture(client, 2, "client-options")
        schedule = sheet_as_pdf(folder / "issue" / "schedule.xlsx", folder)
        picture(schedule, page_with(schedule, "Roof, total"), "schedule-bill")
        picture(schedule, page_with(schedule, "tan 5", "Ddt"), "schedule-dimensions")
        factors = sheet_as_pdf(HERE / "factors.xlsx", folder)
        picture(factors, page_with(factors, "A1-A3", "Concrete 25 MPa"), "factors-carbon")


if __name__ == "__main__":
    main()
