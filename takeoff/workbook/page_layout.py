"""What every sheet has in common: heading, column widths, paper, footer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from takeoff.workbook.cell_styles import TYPEFACE
from takeoff.workbook.sheet_plan import HELP_ROW, TITLE_ROW

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from takeoff.workbook.cell_styles import Style

A4 = 9
# Characters a help text may run to in one line, and those beyond which a sheet is printed on two pages
# side by side: at A4 landscape its lettering would fall under 5 point.
HELP_WIDTH = 120.0
WIDEST_PAGE = 300.0
LINE = 15.0
_FOOTER = 90
# Letters of running text to one character of width, which is that of a digit; and those that the indent
# and a run of wide letters take. Estimates, on the safe side: a row too high is better than a line cut off.
_LETTERS, _INDENT = 1.17, 2.5


def write_heading(
    paper: Worksheet, styles: Mapping[Style, Format], *, title: str, help: str, widths: Sequence[float]
) -> None:
    """Set the column widths (characters), and write the title of a sheet and its help text below it."""
    for column, width in enumerate(widths):
        paper.set_column(column, column, width)
    # All cells to fill in have lines of their own; those of the grid would only compete with them.
    paper.hide_gridlines(2)
    paper.set_row(TITLE_ROW, 30)
    paper.write_string(TITLE_ROW, 0, title, styles["title"])
    last, room = 0, widths[0]
    while last + 1 < len(widths) and room < HELP_WIDTH:
        last += 1
        room += widths[last]
    paper.set_row(HELP_ROW, LINE * wrapped_lines(help, room) + 3)
    if last:
        paper.merge_range(HELP_ROW, 0, HELP_ROW, last, "", styles["help"])
    paper.write_string(HELP_ROW, 0, help, styles["help"])


def wrapped_lines(text: str, width: float) -> int:
    """Return the lines a text takes when wrapped in a column of some width (characters), as estimated."""
    room = _LETTERS * width - _INDENT
    lines = 0
    for paragraph in text.split("\n"):
        lines, length = lines + 1, 0.0
        for word in paragraph.split():
            if length and length + 1 + len(word) > room:
                lines, length = lines + 1, 0.0
            length += len(word) + (1 if length else 0)
    return lines


def lines_of(text: str, width: float) -> int:
    """Return the lines that a text takes; an id has no spaces and breaks within."""
    longest = max((len(word) for word in text.split()), default=0)
    return max(wrapped_lines(text, width), math.ceil(longest / width))


def row_height(texts: Sequence[str], widths: Sequence[float]) -> float | None:
    """Return the height (points) that a row of wrapped texts needs, or None where one line will do.

    Rows keep the usual height by themselves; not every program makes room for wrapped text on opening.
    """
    lines = max(wrapped_lines(text, width) for text, width in zip(texts, widths, strict=True))
    return LINE * lines if lines > 1 else None


def fitted_width(width: float, texts: Sequence[str]) -> float:
    """Return a column width (characters), widened by up to a third where that saves wrapping every row."""
    longest = max((len(text) for text in texts), default=0)
    wanted = (longest + _INDENT + 0.5) / _LETTERS
    return wanted if width < wanted <= width * 4 / 3 else width


def short_footer(text: str) -> str:
    """Return a text as it can stand in a footer, which holds no more than 255 signs with its codes.

    An ampersand has to be doubled there, since it starts a code.
    """
    whole = text if len(text) <= _FOOTER else f"{text[: _FOOTER - 1]}\u2026"
    return whole.replace("&", "&&")


def set_up_page(
    paper: Worksheet,
    *,
    widths: Sequence[float],
    last_row: int,
    footer: str,
    repeat: tuple[int, int] | None = None,
    one_page: bool = False,
) -> None:
    """Set up a sheet for A4 landscape, one page wide, with its name and page numbers at the foot.

    The widest sheets take two pages side by side: these repeat the first column and have the sheet's name
    at the head instead of title and help, which would be cut at the fold.
    """
    paper.set_paper(A4)
    paper.set_landscape()
    paper.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    if sum(widths) > WIDEST_PAGE and repeat:
        paper.fit_to_pages(2, 0)
        paper.repeat_columns(0)
        paper.print_area(repeat[0], 0, last_row, len(widths) - 1)
        paper.set_header(f'&L&"{TYPEFACE},Bold"&14&A')
    else:
        paper.fit_to_pages(1, 1 if one_page else 0)
    if repeat:
        paper.repeat_rows(*repeat)
    paper.set_footer(f'&L&"{TYPEFACE}"&8{short_footer(footer)}&C&8&A&R&8Page &P of &N')
