"""Sets small drawings of different sizes side by side in rows, a picture a row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.paper import MARGIN, Drawing
from takeoff.documents.drawings.svg import group, number, picture

_BETWEEN = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Small:
    """A small drawing from its upper left corner: its elements, what it is called, the paper it takes [mm]."""

    elements: tuple[str, ...]
    name: str
    width: float
    height: float


def rows_of(smalls: Sequence[Small], room: float) -> Iterator[list[Small]]:
    """Yield small drawings in rows as wide as the room [mm], in the order in which they come."""
    row: list[Small] = []
    wide = 0.0
    for small in smalls:
        if row and wide + _BETWEEN + small.width > room:
            yield row
            row, wide = [], 0.0
        wide += small.width + (_BETWEEN if row else 0.0)
        row.append(small)
    if row:
        yield row


def shelved(
    smalls: Sequence[Small], *, title: str, desc: str, scale: int, paper_width_mm: float, id_prefix: str
) -> list[Drawing]:
    """Return small drawings in rows, one picture a row; its title names what is in it."""
    drawings = []
    for place, row in enumerate(rows_of(smalls, paper_width_mm - 2 * MARGIN), start=1):
        prefix = f"{id_prefix}-{place}"
        x, elements = MARGIN, []
        height = max(small.height for small in row)
        for small in row:
            # feet in one line
            shift = f"translate({number(x)} {number(MARGIN)})"
            elements.append(group(small.elements, transform=shift))
            x += small.width + _BETWEEN
        named = f"{title}: {', '.join(small.name for small in row)}, at 1:{scale}"
        svg = picture(
            elements,
            width_mm=paper_width_mm,
            height_mm=height + 2 * MARGIN,
            title=named,
            desc=desc,
            id_prefix=prefix,
        )
        drawings.append(
            Drawing(svg=svg, title=named, width_mm=paper_width_mm, height_mm=height + 2 * MARGIN, scale=scale)
        )
    return drawings
