"""What every sheet of the schedule has in common: heading, paper, repeated rows, foot."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.documents.schedule.grid import Column, Paper
from takeoff.documents.schedule.plain_sheet import PlainSheet
from takeoff.workbook.cell_styles import TYPEFACE
from takeoff.workbook.page_layout import A4, short_footer, wrapped_lines

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

HEADER_ROW = 4
_WIDEST = 240.0


def new_sheet(paper: Paper, title: str, help: str, columns: Sequence[Column]) -> Worksheet:
    """Return a new sheet with its title and what it holds, column widths set."""
    sheet = paper.book.add_worksheet(title, PlainSheet)
    sheet.hide_gridlines(2)
    for place, column in enumerate(columns):
        sheet.set_column(place, place, column.width)
    sheet.set_row(0, 28)
    sheet.write_string(0, 0, title, paper.looks.text("title"))
    width, last = columns[0].width, 0
    while last + 1 < len(columns) and width < 130:
        last += 1
        width += columns[last].width
    if last:
        sheet.merge_range(1, 0, 1, last, "", paper.looks.text("help"))
    sheet.write_string(1, 0, help, paper.looks.text("help"))
    sheet.set_row(1, 13.5 * wrapped_lines(help, width) + 3)
    return sheet


def finish(
    sheet: Worksheet,
    columns: Sequence[Column],
    *,
    footer: str,
    last: int,
    header: int | None = HEADER_ROW,
    printed: int | None = None,
    frozen: int = 0,
    filtered: bool = False,
) -> None:
    """Set up a sheet for A4 landscape with repeated headings and numbered pages.

    Rows are counted from 1. `printed` is the number of columns that are printed, all of them if not given; those beyond
    are for the screen. `frozen` is the number of columns that stay in view.
    """
    shown = columns[:printed] if printed else columns
    sheet.set_paper(A4)
    sheet.set_landscape()
    sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
    # the widest take two pages side by side: at one their lettering would be too small to read
    wide = header is not None and sum(column.width for column in shown) > _WIDEST
    sheet.fit_to_pages(2 if wide else 1, 0)
    if wide:
        sheet.repeat_columns(0, max(frozen - 1, 0))
    sheet.print_area(0, 0, last - 1, len(shown) - 1)
    if header is not None:
        sheet.repeat_rows(header - 1)
        sheet.freeze_panes(header, frozen)
        if filtered:
            sheet.autofilter(header - 1, 0, last - 1, len(columns) - 1)
    sheet.set_footer(f'&L&"{TYPEFACE}"&8{short_footer(footer)}&C&8&A&R&8Page &P of &N')
