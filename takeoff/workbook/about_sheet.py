"""The sheet About of a new workbook: purpose, order of work, styles, sheets, units, cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.workbook.cell_styles import INK, Style
from takeoff.workbook.page_layout import row_height, set_up_page, write_heading

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

    from takeoff.workbook.fields import WorkbookLayout

ABOUT = "About"

PURPOSE = {
    "House workbook": "One small rectangular timber house under a single roof slope: its size, openings, "
    "build-ups, cladding and framing, and the options to compare. Quantities, cost and embodied carbon are "
    "worked out from this workbook and from the factors workbook that the sheet Project names. Both are "
    "only read, never written to.",
    "Factors workbook": "Materials, prices, labour, carbon and rules of measurement, shared by all houses of "
    "a practice. Every house workbook names it in its sheet Project. It is only read, never written to.",
}

ORDER_OF_WORK = {
    "House workbook": (
        ("Project", "Name, stage, currency, and the file name of the factors workbook."),
        ("House", "Length, span, height and pitch first; then studs, rafters and the rest."),
        (
            "Rooms",
            "Rectangles that tile the plan, with linings and finishes; then the sheets Bulkheads and Internal "
            "walls, where there are any.",
        ),
        ("Openings", "Every window and door by its structural opening, those between rooms too."),
        (
            "Build-ups",
            "What walls, roof, ceiling, floor, claddings, linings and surrounds are made of, by layer.",
        ),
        ("Palettes", "Which cladding goes on which side."),
        ("Framing", "How many plates and studs; with it the sheet Lintels, which the engineer confirms."),
        ("Options", "What to compare: only the settings that differ from the base."),
        (
            "Study",
            "Study period, end of life and what is added up, for carbon and upkeep over the whole life.",
        ),
        ("Allowances", "Services, fitments and site works, which are not measured from the plan."),
        (
            "Overrides",
            "Figures of the quantity surveyor in the place of ours, each with its reason; then the sheets Queries, To "
            "take, Information and Issues. All five may stay blank.",
        ),
        (
            "takeoff check",
            "Run it on this workbook: it lists everything that is wrong, each with its cell. "
            "Then takeoff issue writes all documents.",
        ),
    ),
    "Factors workbook": (
        ("Sources", "A key for every quotation, price book, declaration or table that values come from."),
        ("Gangs", "What an hour of each gang costs; then the sheet Labour: hours for one unit of work."),
        ("Materials", "What is bought, with its sizes, mass, wastage allowance and the work that fixes it."),
        ("Prices", "One row for each material that costs money."),
        (
            "Stock",
            "The lengths, sheets, rolls and packs it is sold in, where orders are to be made up of them.",
        ),
        ("Transport", "Ways of carrying goods; then the sheet Carbon factors: one row for each material."),
        (
            "Service lives",
            "How long each material stays; then the sheets End of life, Spreads and Benchmarks. All four may "
            "stay blank: what they would tell is then not assessed.",
        ),
        ("Cost ladder", "Sums and percentages from measured works to the total including tax, in order."),
        (
            "Measurement",
            "The measurement profile: smallest void deducted, what is deemed included, unit and rounding of the bill; "
            "then the sheet Accuracy.",
        ),
        (
            "takeoff check",
            "Run it on a house workbook that names this one: it lists everything that is wrong "
            "in both, each with its cell.",
        ),
    ),
}

STYLES: tuple[tuple[str, Style, str], ...] = (
    ("to fill in", "text", "A cell to fill in. Blank ones below the last row are for more rows."),
    ("Title", "header", "Title of a column or setting that has to be filled in (bold)."),
    (
        "Title",
        "header_optional",
        "Title of one that may be blank. Rest the pointer on a title to read its help.",
    ),
    ("mm", "units", "Row of units below the titles: the unit of every plain number in the column."),
    ("mm", "unit", "Unit of one setting. This unit and those of the row of units may be changed."),
    ("remark", "note", "Remarks, which nothing is worked out from."),
)

UNITS = (
    ("Number and unit", "2.7 in a cell with m in the row of units (or in the column Unit) is 2.7 m."),
    ("In the cell itself", "145 mm, 0.145 m or 14.5 cm: a unit typed behind the number wins over the other."),
    ("Lengths to volumes", "m, mm, cm, km, ft, in; m2, m3, ft2. Names of units are case-sensitive."),
    ("Slopes", "deg."),
    ("Shares", "10 with the unit % is ten in a hundred. Type 10 and leave the cell's number format alone."),
    ("Mass", "kg, t; density in kg/m3."),
    (
        "Amounts per unit",
        "Their unit is in the column beside them: per m2, per 1000 Nr, kg/m, kgCO2e/kg, kgCO2e/m3.",
    ),
    ("Lives and periods", "year."),
    ("Numbers, hours", "Nr counts pieces, h counts hours of a gang."),
)

CAUTIONS = (
    "An early-design estimate; not a quotation or tender.",
    "Not structural design, and not energy, bushfire, fire, acoustic or condensation advice.",
    "Sizes of timber, lintels and slabs are indicative; the engineer confirms them.",
    "Local codes, the engineer, the energy assessor, the certifier, the licensed quantity surveyor and the "
    "builder have the last word.",
    "Prices belong to their date and place.",
    "Carbon covers the modules and items stated, from the sources stated; what is not assessed is not nil.",
)
INVENTED_PRICES = "Prices, hours and rates marked invented are invented for the demo: never build on them."

MAY_STAY_BLANK = "May stay blank: for rows of this house alone."

_WIDTHS = (26.0, 110.0)


def write_about(
    book: Workbook,
    styles: Mapping[Style, Format],
    layout: WorkbookLayout,
    *,
    title: str,
    example: str,
    lists: str,
    footer: str,
) -> None:
    """Add the sheet About, the first one. `lists` is the help of the sheet Lists, blank if there is none."""
    paper = book.add_worksheet(ABOUT)
    paper.set_tab_color(INK)
    purpose = PURPOSE.get(layout.title, "")
    write_heading(paper, styles, title=title, help=purpose, widths=_WIDTHS)
    row = 3
    if example:
        row = _section(paper, styles, row, "The example", [("", example)])
    steps = ORDER_OF_WORK.get(layout.title, ())
    numbered = [(f"{number}  {name}", text) for number, (name, text) in enumerate(steps, start=1)]
    row = _section(paper, styles, row, "Order of work", numbered)
    row = _section(paper, styles, row, "Styles", [])
    for sample, style, text in STYLES:
        paper.write_string(row, 0, sample, styles[style])
        paper.write_string(row, 1, text, styles["body"])
        row += 1
    row = _section(paper, styles, row + 1, "Sheets", [])
    described = [
        (sheet.title, f"{sheet.help} {MAY_STAY_BLANK}" if sheet.shared else sheet.help)
        for sheet in layout.sheets
    ]
    for name, text in [*described, ("Lists", lists)] if lists else described:
        paper.write_url(row, 0, f"internal:'{name}'!A1", styles["link"], name)
        paper.write_string(row, 1, text, styles["body"])
        paper.set_row(row, row_height([text], _WIDTHS[1:]))
        row += 1
    row = _section(paper, styles, row + 1, "Units", UNITS)
    cautions = (INVENTED_PRICES, *CAUTIONS) if layout.title == "Factors workbook" else CAUTIONS
    last = _section(paper, styles, row, "Cautions", [("", text) for text in cautions])
    set_up_page(paper, widths=_WIDTHS, last_row=last, footer=footer)


def _section(
    paper: Worksheet, styles: Mapping[Style, Format], row: int, heading: str, lines: Iterable[tuple[str, str]]
) -> int:
    """Write a heading and its lines (name, text) and return the row to go on in.

    A line without a name starts at the left edge.
    """
    paper.set_row(row, 20)
    paper.write_string(row, 0, heading, styles["heading"])
    paper.write_blank(row, 1, None, styles["heading"])
    row += 1
    written = False
    for name, text in lines:
        if name:
            paper.write_string(row, 0, name, styles["body_bold"])
            paper.write_string(row, 1, text, styles["body"])
            paper.set_row(row, row_height([text], _WIDTHS[1:]))
        else:
            paper.merge_range(row, 0, row, 1, "", styles["body"])
            paper.write_string(row, 0, text, styles["body"])
            paper.set_row(row, row_height([text], [sum(_WIDTHS)]))
        row += 1
        written = True
    return row + 1 if written else row
