"""How wide the columns of a table are on paper, by what stands in them.

Stated widths let a table be set row by row: without them its every cell is set three times to find them out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width

# a table on an A4 sheet that stands or lies, and what stands between two columns [em of the table's type]
UPRIGHT, WIDE = 61.0, 91.0
_BETWEEN = 0.75
# a space that does not break keeps its words together
_BREAKS = re.compile(r"[ \n]+")


@dataclass(frozen=True, slots=True)
class ColumnTexts:
    """What stands in one column: title and unit, which may wrap, and its cells, which do not where they are figures."""

    title: str
    unit: str
    cells: Sequence[str]
    figures: bool


def column_shares(columns: Sequence[ColumnTexts], width: float) -> tuple[float, ...]:
    """Return each column of a table of a width [em] as a share of it [%], in tenths.

    Columns are as wide as their texts where these fit side by side. Otherwise none is narrower than its longest word,
    and what is left over is shared out by what each would take beyond that, as CSS 2.1 (17.5.2.2) suggests.
    """
    least = [_least(column) + _BETWEEN for column in columns]
    most = [max(_most(column) + _BETWEEN, low) for column, low in zip(columns, least, strict=True)]
    spare = width - sum(least)
    wish = sum(most) - sum(least)
    if spare >= wish or spare <= 0:
        widths = most if spare >= wish else least
    else:
        widths = [low + spare * (high - low) / wish for low, high in zip(least, most, strict=True)]
    return tuple(round(100 * width / sum(widths), 1) for width in widths)


def _least(column: ColumnTexts) -> float:
    """Return the longest word of a column, or its longest figure [em]."""
    words = [word for text in (column.title, column.unit) for word in _BREAKS.split(text)]
    words += (
        column.cells if column.figures else [word for text in column.cells for word in _BREAKS.split(text)]
    )
    return _longest(words)


def _most(column: ColumnTexts) -> float:
    """Return what a column takes with no cell wrapped and its title in two lines [em]."""
    return max(_longest([*column.cells, column.unit]), _em(column.title) / 2)


def _longest(texts: Iterable[str]) -> float:
    """Return the width of the longest of some texts [em]."""
    return max(map(_em, set(texts)), default=0.0)


def _em(text: str) -> float:
    """Return the width of a text, in the heavier weight [em]."""
    return text_width(text, 1.0, semibold=True)
