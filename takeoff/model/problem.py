"""Where something was typed, and what is wrong with it."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Origin:
    """The workbook row (or cell) a record was read from.

    `columns` pairs each field of the record with the letters of the column it was typed in.
    """

    book: str = ""
    sheet: str = ""
    row: int = 0
    columns: tuple[tuple[str, str], ...] = ()

    def cell(self, field: str | None = None) -> str:
        """Return the cell of one field (`D7`), or of the first column of the row."""
        letters = dict(self.columns)
        if field is not None and field in letters:
            return f"{letters[field]}{self.row}"
        return f"{next(iter(letters.values()), 'A')}{self.row}" if self.row else ""


@dataclass(frozen=True, slots=True)
class WorkbookProblem:
    """One thing wrong with a workbook: where, what was found, what was expected, how to mend it."""

    sheet: str
    cell: str
    found: str
    expected: str
    mend: str = ""
    book: str = ""

    def sort_key(self) -> tuple[str, str, int, str]:
        """Order by workbook, sheet, row and column."""
        match = re.match(r"([A-Z]+)(\d+)", self.cell)
        row = int(match.group(2)) if match else 0
        column = match.group(1).rjust(3) if match else ""
        return (self.book, self.sheet, row, column)

    def line(self) -> str:
        """Return the problem as one line of text."""
        place = "!".join(part for part in (self.sheet, self.cell) if part)
        where = " ".join(part for part in (self.book, place) if part)
        text = (
            f"{where}: {self.found}; expected {self.expected}" if self.expected else f"{where}: {self.found}"
        )
        if not self.mend:
            return f"{text}."
        stop = "" if self.mend.endswith("?") else "."
        return f"{text}. {self.mend}{stop}"


def at(
    origin: Origin, field: str | None, *, found: str, expected: str = "", mend: str = ""
) -> WorkbookProblem:
    """Return a problem located at one field of the row that `origin` names."""
    return WorkbookProblem(
        book=origin.book,
        sheet=origin.sheet,
        cell=origin.cell(field),
        found=found,
        expected=expected,
        mend=mend,
    )
