"""What a mark of a chart says of itself: its name, its figure and what the figure is, as the title of its group.

Browsers show the title of the group under the pointer; in print it is not seen.
"""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape

from takeoff.documents.drawings.svg import Point, element, group, number


def mark(elements: Iterable[str], *, says: str, of: str, id: str | None = None) -> str:
    """Return the elements of one bar, point or line as a group; `says` has its name and figure, `of` the unit."""
    return group([element("title", escape(f"{says}\n{of}")), *elements], id=id)


def touch_area(x: float, y: float, width: float, height: float) -> str:
    """Return a rectangle that is not seen and takes the pointer for the mark it stands in [mm]."""
    return element("rect", x=x, y=y, width=width, height=height, fill="none", pointer_events="all")


def touch_point(at: Point, radius: float) -> str:
    """Return a round area that is not seen and takes the pointer for the mark it stands in [mm]."""
    return element("circle", cx=number(at[0]), cy=number(at[1]), r=radius, fill="none", pointer_events="all")
