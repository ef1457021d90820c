"""The sheet Lists of a house workbook: what its drop-downs offer where no column holds each name just once.

Build-ups take several rows each, so their names are gathered by formulas, one list a part; the ways of
measuring are too many for a list kept in the cell. The sheet is for looking up, not for filling in.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlsxwriter.utility import xl_col_to_name

from takeoff.model.house import PARTS
from takeoff.model.measuring_ways import WAYS
from takeoff.workbook.cell_styles import GREY_LINE, Style
from takeoff.workbook.page_layout import row_height, set_up_page, write_heading
from takeoff.workbook.sheet_plan import HEADER_ROW, PlannedSheet

if TYPE_CHECKING:
    from collections.abc import Mapping

    from xlsxwriter import Workbook
    from xlsxwriter.format import Format

LISTS = "Lists"
LISTS_HELP = (
    "What the drop-downs of the other sheets offer. Nothing is to be filled in here: the build-ups are "
    "gathered from the sheet Build-ups by formulas."
)
_WAY_COLUMNS = (("Measured by", 26.0), ("Unit", 7.0), ("Used for", 40.0), ("What is measured", 62.0))
_FIRST_PART_COLUMN = len(_WAY_COLUMNS) + 1
_FIRST_ROW = HEADER_ROW + 2


def needs_lists(sheets: Mapping[str, PlannedSheet]) -> bool:
    """Whether a workbook has build-ups, and so the sheet Lists."""
    return "Build-ups" in sheets


def ways_source() -> str:
    """Return the formula of the range of the ways of measuring."""
    return f"={LISTS}!$A${_FIRST_ROW + 1}:$A${_FIRST_ROW + len(WAYS)}"


def build_ups_source(part: str) -> str:
    """Return the formula of the names of the build-ups of a part, as far as the list is filled."""
    letter = xl_col_to_name(_FIRST_PART_COLUMN + PARTS.index(part))
    first, last = _FIRST_ROW + 1, _FIRST_ROW + len(WAYS)
    count = f'COUNTIF({LISTS}!${letter}${first}:${letter}${last},"?*")'
    return f"=OFFSET({LISTS}!${letter}${first},0,0,MAX(1,{count}),1)"


def write_lists(
    book: Workbook, styles: Mapping[Style, Format], sheets: Mapping[str, PlannedSheet], footer: str
) -> None:
    """Add the sheet Lists: ways of measuring with their meaning, and the build-ups of each part."""
    paper = book.add_worksheet(LISTS)
    paper.set_tab_color(GREY_LINE)
    widths = [width for _, width in _WAY_COLUMNS] + [3.0] + [25.0] * len(PARTS)
    write_heading(paper, styles, title=LISTS, help=LISTS_HELP, widths=widths)
    for column, (title, _) in enumerate(_WAY_COLUMNS):
        paper.write_string(HEADER_ROW, column, title, styles["header"])
        paper.write_blank(HEADER_ROW + 1, column, None, styles["units"])
    for row, way in enumerate(WAYS.values(), start=_FIRST_ROW):
        texts = (way.name, way.unit, ", ".join(way.parts), way.help)
        paper.set_row(row, row_height(texts, widths[: len(texts)]))
        for column, text in enumerate(texts):
            paper.write_string(row, column, text, styles["listed"])
    build_ups = sheets["Build-ups"]
    for number, part in enumerate(PARTS):
        column = _FIRST_PART_COLUMN + number
        paper.write_string(HEADER_ROW, column, part, styles["header"])
        paper.write_string(HEADER_ROW + 1, column, "build-ups", styles["units"])
        names = _names_of(build_ups, part)
        for place in range(len(WAYS)):
            row = _FIRST_ROW + place
            formula = _next_name(build_ups, letter=xl_col_to_name(column), row=row)
            value = names[place] if place < len(names) else ""
            paper.write_array_formula(row, column, row, column, formula, styles["body"], value)
    paper.freeze_panes(_FIRST_ROW, 1)
    last_row = _FIRST_ROW + len(WAYS) - 1
    set_up_page(paper, widths=widths, last_row=last_row, footer=footer, repeat=(HEADER_ROW, HEADER_ROW + 1))


def _names_of(build_ups: PlannedSheet, part: str) -> list[str]:
    """Return the names of the build-ups of a part, each once, in the order of the sheet."""
    name, of = build_ups.column("Build-up"), build_ups.column("Part")
    return list(dict.fromkeys(record[name] for record in build_ups.records if record[of] == part))


def _next_name(build_ups: PlannedSheet, *, letter: str, row: int) -> str:
    """Return the formula of the first build-up of the part in the header that the rows above do not hold.

    The rows above start with the quiet row below the header: a build-up may be called like its part.
    """
    first, last = build_ups.first_row + 1, build_ups.last_row + 1
    names, parts = (
        f"'Build-ups'!${xl_col_to_name(build_ups.column(title))}${first}"
        f":${xl_col_to_name(build_ups.column(title))}${last}"
        for title in ("Build-up", "Part")
    )
    above = f"{letter}${_FIRST_ROW}:{letter}{row}"
    missing = f"COUNTIF({above},{names})+({parts}<>{letter}${HEADER_ROW + 1})"
    return f'{{=IFERROR(INDEX({names},MATCH(0,{missing},0)),"")}}'
