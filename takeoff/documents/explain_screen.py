"""An explanation as plain text, good at eighty columns and when it goes into a file."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from takeoff.documents.explain_parts import Cell, Line, Section

WIDTH = 80
_LABEL = 15
_WIDEST = 30
_HANGING = "  "


def explanation_text(sections: Sequence[Section], *, title: str) -> str:
    """Return an explanation as text: numbered headings, labels to the left, cells below what came from them."""
    parts = [_wrapped(title, "", "")]
    for number, section in enumerate(sections, start=1):
        heading = f"{number}  {section.heading}"
        width = min(max((len(line.label) for line in section.lines), default=0), _WIDEST)
        parts += [
            "",
            heading,
            "-" * len(heading),
            *(_line(line, max(width, _LABEL)) for line in section.lines),
        ]
    return "\n".join(parts) + "\n"


def _line(line: Line, width: int) -> str:
    """Return one line with its cells; a long label has a row of its own."""
    indent = " " * (width + 2)
    label = line.label
    if len(label) <= width:
        rows = [_wrapped(line.text, f"{label:<{width}}  ", indent + _HANGING)]
    else:
        rows = [_wrapped(label, "", _HANGING), _wrapped(line.text, indent, indent + _HANGING)]
    return "\n".join([*rows, *(_cell(cell, indent) for cell in line.cells)])


def _cell(cell: Cell, indent: str) -> str:
    """Return one cell: its place, and what stands there."""
    return _wrapped(f"< {cell.place}  {cell.what}", indent, indent + _HANGING * 2)


def _wrapped(text: str, first: str, rest: str) -> str:
    """Return a text broken at spaces to the width, ids and names of workbooks whole."""
    return "\n".join(
        textwrap.wrap(
            text,
            WIDTH,
            initial_indent=first,
            subsequent_indent=rest,
            break_long_words=False,
            break_on_hyphens=False,
            drop_whitespace=True,
        )
        or [first.rstrip()]
    )
