"""The looks of the schedule's cells: one for what is typed, one for what is computed, one for controls."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from takeoff.workbook.cell_styles import (
    ACCENT,
    GREY_FILL,
    GREY_INK,
    GREY_LINE,
    INK,
    INPUT_FILL,
    PALE_FILL,
    TYPEFACE,
)

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format

Look = Literal[
    "text",
    "small",
    "count",
    "quantity",
    "dimension",
    "squaring",
    "money",
    "rate",
    "share",
    "factor",
    "carbon",
]
# `given` is what the program states and nobody need change, such as a name; `input` may be typed over.
Role = Literal["given", "input", "computed", "control", "total", "section"]

_NUMBERS: dict[Look, str] = {
    "text": "@",
    "small": "@",
    "count": "0",
    "quantity": "#,##0.00",
    "dimension": "0.00#",
    "squaring": '#,##0.00;(#,##0.00);"nil"',
    "money": "#,##0.00",
    "rate": "#,##0.00",
    "share": "0.0%",
    "factor": "#,##0.0000",
    "carbon": "#,##0.0",
}
_BASE: dict[str, Any] = {
    "font_name": TYPEFACE,
    "font_size": 10,
    "font_color": INK,
    "valign": "top",
    "border": 1,
    "border_color": GREY_LINE,
}
_ROLES: dict[Role, dict[str, Any]] = {
    "given": {},
    "input": {"bg_color": INPUT_FILL},
    "computed": {},
    "control": {"bg_color": PALE_FILL, "italic": True},
    "total": {"bold": True, "top": 2, "top_color": ACCENT},
    "section": {"bold": True, "bg_color": GREY_FILL},
}
_TEXTS: dict[str, dict[str, Any]] = {
    "title": {"bold": True, "font_size": 18, "font_color": ACCENT, "border": 0, "valign": "vcenter"},
    "help": {"font_color": GREY_INK, "text_wrap": True, "border": 0},
    "heading": {
        "bold": True,
        "font_size": 13,
        "font_color": ACCENT,
        "border": 0,
        "bottom": 1,
        "bottom_color": ACCENT,
    },
    "header": {
        "bold": True,
        "bg_color": GREY_FILL,
        "text_wrap": True,
        "valign": "bottom",
        "align": "left",
        "indent": 1,
        "bottom": 1,
        "bottom_color": ACCENT,
    },
    "header_number": {
        "bold": True,
        "bg_color": GREY_FILL,
        "text_wrap": True,
        "valign": "bottom",
        "align": "right",
        "bottom": 1,
        "bottom_color": ACCENT,
    },
}


@dataclass(slots=True)
class Looks:
    """The formats of one workbook, each made once."""

    book: Workbook
    made: dict[tuple[str, str], Format] = field(default_factory=dict)

    def of(self, role: Role, look: Look) -> Format:
        """Return the format of a cell."""
        key = (role, look)
        if key not in self.made:
            shown: dict[str, Any] = {"num_format": _NUMBERS[look]}
            if look in ("text", "small"):
                # the heading of a section runs on over the cells beside it
                shown |= {"text_wrap": role != "section", "align": "left", "indent": 1}
                if look == "small":
                    shown |= {"font_size": 9, "font_color": GREY_INK}
            else:
                shown["align"] = "right"
            self.made[key] = self.book.add_format({**_BASE, **shown, **_ROLES[role]})
        return self.made[key]

    def text(self, name: Literal["title", "help", "heading", "header", "header_number"]) -> Format:
        """Return the format of a heading."""
        key = ("words", name)
        if key not in self.made:
            self.made[key] = self.book.add_format({**_BASE, **_TEXTS[name]})
        return self.made[key]
