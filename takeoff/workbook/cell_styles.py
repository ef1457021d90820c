"""The looks of a new workbook: one typeface, greys, one blue that marks titles and cells to fill in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format

Style = Literal[
    "title",
    "help",
    "heading",
    "header",
    "header_optional",
    "header_number",
    "header_number_optional",
    "units",
    "units_number",
    "setting",
    "setting_optional",
    "text",
    "number",
    "value",
    "date",
    "unit",
    "note",
    "listed",
    "body",
    "body_bold",
    "link",
]

TYPEFACE = "Calibri"
INK = "#1F2023"
GREY_INK = "#5B636B"
GREY_LINE = "#C4CAD0"
GREY_FILL = "#E9EBED"
PALE_FILL = "#F5F6F7"
ACCENT = "#2B5C8A"
# A pale tint of the accent: light enough for black lettering, told from white without telling hues apart.
INPUT_FILL = "#E8F0F8"

_BASE: dict[str, Any] = {"font_name": TYPEFACE, "font_size": 11, "font_color": INK, "valign": "top"}
_BOX: dict[str, Any] = {"border": 1, "border_color": GREY_LINE, "align": "left", "indent": 1}
_HEADER: dict[str, Any] = {
    **_BOX,
    "bg_color": GREY_FILL,
    "text_wrap": True,
    "valign": "bottom",
    "bottom": 2,
    "bottom_color": ACCENT,
}
_INPUT: dict[str, Any] = {**_BOX, "bg_color": INPUT_FILL}
_UNITS: dict[str, Any] = {**_BOX, "bg_color": PALE_FILL, "italic": True, "font_color": GREY_INK}
# No indent here: some programs indent only part of the numbers of a column.
_RIGHT: dict[str, Any] = {"align": "right", "indent": 0}

# The format @ keeps what is typed as text, so that no name turns into a date or a formula.
_LOOKS: dict[Style, dict[str, Any]] = {
    "title": {"bold": True, "font_size": 18, "font_color": ACCENT, "valign": "vcenter"},
    "help": {"font_color": GREY_INK, "text_wrap": True},
    "heading": {"bold": True, "font_size": 13, "font_color": ACCENT, "bottom": 1, "bottom_color": ACCENT},
    "header": {**_HEADER, "bold": True},
    "header_optional": _HEADER,
    "header_number": {**_HEADER, "bold": True, **_RIGHT},
    "header_number_optional": {**_HEADER, **_RIGHT},
    "units": _UNITS,
    "units_number": {**_UNITS, **_RIGHT},
    "setting": {**_BOX, "bg_color": PALE_FILL, "bold": True},
    "setting_optional": {**_BOX, "bg_color": PALE_FILL},
    "text": {**_INPUT, "text_wrap": True, "num_format": "@"},
    "number": {**_INPUT, **_RIGHT},
    "value": {**_INPUT, "text_wrap": True},
    "date": {**_INPUT, "num_format": "yyyy-mm-dd"},
    "unit": {**_INPUT, "italic": True, "font_color": GREY_INK, "num_format": "@"},
    "note": {**_BOX, "text_wrap": True, "font_color": GREY_INK, "num_format": "@"},
    "listed": {**_BOX, "text_wrap": True},
    "body": {"text_wrap": True},
    "body_bold": {"bold": True, "text_wrap": True},
    "link": {"font_color": ACCENT, "underline": 1},
}


def add_styles(book: Workbook) -> dict[Style, Format]:
    """Return every style as a format of one workbook, by name."""
    return {name: book.add_format({**_BASE, **look}) for name, look in _LOOKS.items()}
