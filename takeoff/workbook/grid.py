"""Opens a workbook and hands out its cells, formula and stored value together."""

from __future__ import annotations

import warnings
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from takeoff.model.problem import WorkbookProblem
from takeoff.workbook.unsaved_results import formulas_without_result

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook

    from takeoff.model.house import Design

_OLE_HEADER = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")


class WorkbookError(Exception):
    """A workbook that can't be used; `problems` lists everything found wrong with it.

    `design` is the house as far as it could be read, where that is enough to check it further.
    """

    def __init__(self, problems: list[WorkbookProblem], design: Design | None = None) -> None:
        """Keep the problems, sorted by place and each once."""
        self.design = design
        self.problems = sorted(set(problems), key=lambda problem: (problem.sort_key(), problem.found))
        super().__init__("\n".join(problem.line() for problem in self.problems))


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: its stored value, its place, and whether it is a formula without a stored result.

    `percent` tells that the cell is formatted as per cent: the stored 0.1 is shown as 10 %.
    """

    value: object
    row: int
    column: str
    empty_formula: bool = False
    percent: bool = False

    @property
    def place(self) -> str:
        """Letters and row, such as `D7`."""
        return f"{self.column}{self.row}"

    @property
    def blank(self) -> bool:
        """Whether nothing was typed."""
        return not self.empty_formula and (
            self.value is None or (isinstance(self.value, str) and not self.value.strip())
        )


@dataclass(frozen=True, slots=True)
class SheetCells:
    """All cells of one sheet, row by row from row 1."""

    book: str
    title: str
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Book:
    """A workbook as read: its file name and its sheets by title."""

    name: str
    sheets: dict[str, SheetCells]


def open_book(path: Path) -> Book:
    """Read every sheet of a workbook.

    Raises WorkbookError where the file is not there, is no workbook or is locked with a password.
    """
    name = path.name
    found = _why_unreadable(path)
    if found:
        raise WorkbookError([WorkbookProblem("", "", found[0], "an .xlsx workbook", found[1], name)])
    from openpyxl import load_workbook

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            stored = load_workbook(path, data_only=True)
            unsaved = formulas_without_result(path)
        except Exception as error:  # a damaged file fails in as many ways as it has parts
            problem = WorkbookProblem(
                "",
                "",
                f"it can't be read as a workbook ({type(error).__name__})",
                "an .xlsx workbook",
                "Open it in an office program and save it anew as .xlsx",
                name,
            )
            raise WorkbookError([problem]) from error
    return Book(name, {title: _cells(stored, unsaved, title, name) for title in stored.sheetnames})


def _why_unreadable(path: Path) -> tuple[str, str] | None:
    """Return what is wrong with the file as a file and how to mend it, or None."""
    if not path.exists():
        return (f"there is no file {path}", "Check the name and the folder")
    if path.is_dir():
        return (f"{path} is a folder", "Name the workbook itself")
    try:
        data = path.read_bytes()
    except OSError as error:
        return (f"the file can't be read ({error.strerror})", "Check who may read it")
    if data.startswith(_OLE_HEADER):
        if _ENCRYPTED in data:
            return (
                "it is protected with a password",
                "Save it without the password and run the command again",
            )
        return ("it is a workbook in an old format", "Save it as .xlsx")
    if not zipfile.is_zipfile(path):
        return ("it is not a workbook", "Name the .xlsx file")
    return None


def _cells(
    stored: Workbook, unsaved: Mapping[str, set[tuple[int, int]]], title: str, book: str
) -> SheetCells:
    """Return the cells of one sheet; a chart sheet has none. `unsaved` tells which formulas have no result."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.worksheet import Worksheet

    values = stored[title]
    if not isinstance(values, Worksheet):
        return SheetCells(book, title, ())
    letters = [get_column_letter(number + 1) for number in range(values.max_column or 0)]
    without: set[tuple[int, int]] = unsaved.get(title, set())
    rows = tuple(
        tuple(
            Cell(
                cell.value,
                number,
                letter,
                cell.value is None and (number, column) in without,
                isinstance(cell.value, float | int) and "%" in str(cell.number_format),
            )
            for column, (letter, cell) in enumerate(zip(letters, row, strict=False), start=1)
        )
        for number, row in enumerate(values.iter_rows(), start=1)
    )
    return SheetCells(book, title, rows)
