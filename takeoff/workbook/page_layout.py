"""What every sheet has in common: heading, column widths, paper, footer."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from takeoff.workbook.sheet_plan import HELP_ROW, TITLE_ROW

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from takeoff.workbook.cell_styles import Style

A4 = 9
# Characters a help text may run to in one line, and those beyond which a sheet is printed on two pages
# side by side: at A4 landscape the lettering of anything wider would fall under 6 point.
HELP_WIDTH = 120.0
WIDEST_PAGE = 270.0
_LINE = 15.0


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
    paper.set_row(HELP_ROW, _LINE * math.ceil(len(help) / (0.95 * room)) + 3)
    if last:
        paper.merge_range(HELP_ROW, 0, HELP_ROW, last, "", styles["help"])
    paper.write_string(HELP_ROW, 0, help, styles["help"])


def lines_of(titles: Sequence[str], widths: Sequence[float]) -> int:
    """Return the number of lines that the longest of some wrapped titles takes."""
    most = 1
    for title, width in zip(titles, widths, strict=True):
        lines, length = 1, 0.0
        for word in title.split():
            if length and length + 1 + len(word) > width - 1.5:
                lines, length = lines + 1, 0.0
            length += len(word) + (1 if length else 0)
        most = max(most, lines)
    return most


def header_height(titles: Sequence[str], widths: Sequence[float]) -> float:
    """Return the height of a header row (points)."""
    return _LINE * lines_of(titles, widths) + 4


def set_up_page(
    paper: Worksheet, *, widths: Sequence[float], footer: str, repeat: tuple[int, int] | None = None
) -> None:
    """Set up a sheet for A4 landscape, one page wide (the widest: two), with its name and page numbers."""
    paper.set_paper(A4)
    paper.set_landscape()
    paper.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    wide = sum(widths) > WIDEST_PAGE
    paper.fit_to_pages(2 if wide else 1, 0)
    if wide:
        paper.repeat_columns(0)
    if repeat:
        paper.repeat_rows(*repeat)
    # An ampersand has to be doubled in a footer, where it starts a code.
    paper.set_footer(f'&L&"Calibri"&8{footer.replace("&", "&&")}&C&8&A&R&8Page &P of &N')
