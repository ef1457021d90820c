"""How wide the columns of a table are on paper, by what stands in them.

Stated widths let a table be set row by row: without them its every cell is set three times to find them out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width

# a table on an A4 sheet that stands or lies [em of the table's type]
UPRIGHT, WIDE = 61.0, 91.0
# what stands between two columns, and between figures, which end at their right, and words after them [em]
BETWEEN, AFTER_FIGURES = 0.75, 1.85
# what is longer than this is set in several lines before others are [em]
LONG_TEXT = 24.0
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

    None is narrower than its longest word. What is left over is shared out by what each would take beyond that, as
    CSS 2.1 (17.5.2.2) suggests, first as far as `LONG_TEXT`: one long text does not take from all others what they
    need. What nobody needs widens all alike.
    """
    between = [
        AFTER_FIGURES if before and before.figures and not column.figures else BETWEEN
        for before, column in zip([None, *columns], columns, strict=False)
    ]
    widths = [_least(column) + space for column, space in zip(columns, between, strict=True)]
    most = [_most(column) + space for column, space in zip(columns, between, strict=True)]
    spare = max(width - sum(widths), 0.0)
    for goals in ([min(goal, LONG_TEXT) for goal in most], most):
        wishes = [max(goal - now, 0.0) for goal, now in zip(goals, widths, strict=True)]
        given = min(spare / sum(wishes), 1.0) if any(wishes) else 0.0
        widths = [now + given * wish for now, wish in zip(widths, wishes, strict=True)]
        spare -= given * sum(wishes)
    return tuple(round(100 * one / sum(widths), 1) for one in widths)


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
