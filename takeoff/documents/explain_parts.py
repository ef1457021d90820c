"""What an explanation is made of: sections of lines, each with the workbook cells that it came from."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents.wording import number
from takeoff.model.problem import Origin


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell of a workbook, written like `heron_bank.xlsx House!C7`, and what stands in it.

    `value` is what was read there, in SI, "" where nothing single is.
    """

    place: str
    what: str
    value: float | str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an explanation: what it tells, the text, the cells it came from."""

    label: str
    text: str
    cells: tuple[Cell, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """The lines of one subject under a heading."""

    heading: str
    lines: tuple[Line, ...]


def cells(*given: Cell | None) -> tuple[Cell, ...]:
    """Return the cells that there are, each place once."""
    return tuple({cell.place: cell for cell in given if cell is not None}.values())


def cell(origin: Origin | None, field: str, what: str, value: float | str = "") -> Cell | None:
    """Return the cell of one field of a record, None where the record was not read from a workbook."""
    if origin is None or not origin.row or field not in dict(origin.columns):
        return None
    return Cell(place=f"{origin.book} {origin.sheet}!{origin.cell(field)}", what=what, value=value)


def metres(value: float) -> str:
    """Return a dimension as it is written on dimension paper [m]."""
    return number(value, 3)


def precise(value: float, figures: int = 6) -> str:
    """Return a factor with as many significant figures as a reader needs to reckon with it.

    >>> precise(1.0), precise(0.0189), precise(12.3456789), precise(0.000012345678)
    ('1', '0.0189', '12.3457', '0.0000123457')
    """
    if not value:
        return "0"
    digits = len(str(int(abs(value))).lstrip("0"))
    leading = len(f"{abs(value):.15f}".split(".")[1]) - len(f"{abs(value):.15f}".split(".")[1].lstrip("0"))
    text = number(value, max(figures - digits + (leading if digits == 0 else 0), 0))
    return text.rstrip("0").rstrip(".") if "." in text else text


def listed(names: list[str]) -> str:
    """Return names in a row: a, b and c.

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
