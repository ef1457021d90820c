"""Copies of the demo workbooks to spoil."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook import Workbook


class Spoiled:
    """A copy of the demo workbooks, and ways to change a cell of it."""

    def __init__(self, folder: Path, demo: Path) -> None:
        self.folder = folder
        self.house = folder / "heron_bank.xlsx"
        self.factors = folder / "factors.xlsx"
        for name in ("heron_bank.xlsx", "factors.xlsx"):
            shutil.copy(demo / name, folder / name)

    def edit(self, change: Callable[[Workbook], object], *, factors: bool = False) -> None:
        path = self.factors if factors else self.house
        book = openpyxl.load_workbook(path)
        change(book)
        book.save(path)

    def setting(
        self, name: str, value: object = None, *, unit: str | None = None, sheet: str = "House"
    ) -> str:
        """Change a setting; return the cell of its value."""
        places: list[str] = []

        def change(book: Workbook) -> None:
            for row in book[sheet].iter_rows():
                if row[0].value == name:
                    if unit is None:
                        row[1].value = value
                    else:
                        row[2].value = unit
                    places.append(row[1].coordinate)

        self.edit(change)
        return places[0]

    def cell(
        self, sheet: str, key: str, title: str, value: object, *, factors: bool = False, nth: int = 0
    ) -> str:
        """Change a cell of a table by the first cell of its row; return the cell."""
        places: list[str] = []

        def change(book: Workbook) -> None:
            rows = list(book[sheet].iter_rows())
            header = next(i for i, row in enumerate(rows) if any(cell.value == title for cell in row))
            column = next(i for i, cell in enumerate(rows[header]) if cell.value == title)
            found = [row for row in rows[header + 1 :] if row[0].value == key]
            found[nth][column].value = value
            places.append(found[nth][column].coordinate)

        self.edit(change, factors=factors)
        return places[0]


@pytest.fixture
def spoiled(tmp_path: Path, demo_folder: Path) -> Spoiled:
    return Spoiled(tmp_path, demo_folder)
