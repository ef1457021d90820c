"""The hatch of what is left of a length or a sheet: lines at 45 degrees, the same on all cutting plans."""

from __future__ import annotations

from collections.abc import Iterator

from takeoff.documents.drawings.hatches import HATCH_INK
from takeoff.documents.drawings.svg import Segment, along, path

# Distance of the lines along an edge [mm].
PITCH = 1.4
WEIGHT = 0.09
# What is narrower shows as the end of the bar, with no room for a hatch [mm].
LEAST = 0.2


def hatch_lines(x: float, y: float, width: float, height: float) -> Iterator[Segment]:
    """Yield the lines of the hatch in a rectangle from its upper left corner [mm].

    Lines rise to the right and go through points of one grid all over the picture, so that neighbouring
    rectangles read as one.
    """
    if width < LEAST or height < LEAST:
        return
    # each line is x + y = c on paper, whose y goes down
    c = (int((x + y) / PITCH) + 1) * PITCH
    while c < x + width + y + height:
        left, right = max(x, c - y - height), min(x + width, c - y)
        if right - left > 1e-9:
            yield left, c - left, right, c - right
        c += PITCH


def hatched(rectangles: list[tuple[float, float, float, float]], *, id: str) -> list[str]:
    """Return the hatch of rectangles, each x, y, width, height [mm], as one path; nothing without any."""
    segments = [segment for rectangle in rectangles for segment in hatch_lines(*rectangle)]
    if not segments:
        return []
    return [path(along(segments), stroke=HATCH_INK, width=WEIGHT, id=id)]
