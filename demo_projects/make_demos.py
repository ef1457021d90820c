"""Writes the demo workbooks of this folder anew: Heron Bank, an invented house, and its factors.

Run it with `python demo_projects/make_demos.py` after a change of sheets, columns or starter content.
"""

from __future__ import annotations

from pathlib import Path

from takeoff.workbook.starter_content import factors_starter, house_starter
from takeoff.workbook.writing import write_book

HERE = Path(__file__).resolve().parent


def main() -> None:
    """Write both workbooks, replacing those that are there."""
    for name, book in (("heron_bank.xlsx", house_starter()), ("factors.xlsx", factors_starter())):
        write_book(HERE / name, book)
        print(f"{name} written")


if __name__ == "__main__":
    main()
