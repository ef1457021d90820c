"""What the tags of a PDF say beyond what the layout program writes."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pydyf


def add_scopes(pdf: pydyf.PDF) -> None:
    """Say of each head of a table whether it heads a row or a column.

    Cells name their heads one by one already; readers that do not follow those names go by the scope. A
    head in the first rows heads a column, and so does one across the table that stands over a group of rows.
    Source: ISO 32000-1, table 349.
    """
    import pydyf

    for head in pdf.objects:
        if isinstance(head, pydyf.Dictionary) and head.get("S") == "/TH":
            row = _parent(pdf, head)
            over = _parent(pdf, row).get("S") == "/THead" or head["A"].get("ColSpan", 1) > 1
            head["A"]["Scope"] = "/Column" if over else "/Row"


def _parent(pdf: pydyf.PDF, tag: pydyf.Dictionary) -> pydyf.Dictionary:
    """Return the tag above a tag."""
    return pdf.objects[int(tag["P"].split()[0])]
