"""Writes the demo workbooks of this folder anew: three invented houses, the factors they share, and one logo.

Heron Bank is what a new project starts with; the others have their content in `content/`, one folder each, one
file a sheet. Run it with `python demo_projects/make_demos.py` after a change of sheets, columns or content.
"""

from __future__ import annotations

from pathlib import Path

from draw_logo import logo_png

from takeoff.workbook.house_sheets import HOUSE_WORKBOOK
from takeoff.workbook.starter_content import (
    StarterBook,
    example_house,
    factors_starter,
    file_name,
    house_starter,
    read_folder,
)
from takeoff.workbook.writing import write_book

HERE = Path(__file__).resolve().parent
CONTENT = HERE / "content"
# The sheet Project of Wharf Pair names it.
LOGO = "bracken_and_tide.png"


def demo_houses() -> dict[str, StarterBook]:
    """Return the workbooks of the invented houses by the name of their file.

    Raises ValueError where a file of content belongs to no sheet, so that none is left out in silence.
    """
    sheets = {file_name(sheet.title) for sheet in HOUSE_WORKBOOK.sheets}
    books = {"heron_bank.xlsx": house_starter()}
    for folder in sorted(path for path in CONTENT.iterdir() if path.is_dir()):
        astray = sorted(file.name for file in folder.glob("*.csv") if file.name not in sheets)
        if astray:
            raise ValueError(f"{folder.name}: no sheet for {', '.join(astray)}")
        books[f"{folder.name}.xlsx"] = example_house(read_folder(HOUSE_WORKBOOK, folder))
    return books


def main() -> None:
    """Write all workbooks, replacing those that are there."""
    for name, book in {**demo_houses(), "factors.xlsx": factors_starter()}.items():
        write_book(HERE / name, book)
        print(f"{name} written")
    (HERE / LOGO).write_bytes(logo_png())
    print(f"{LOGO} written")


if __name__ == "__main__":
    main()
