"""Places for lettering: rectangles of paper that are taken, and the nearest free one to where a label belongs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.svg import Point
from takeoff.model.room_edges import Box

_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Patch:
    """A rectangle of paper, y downwards [mm]."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> Point:
        """Its middle."""
        return ((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    @property
    def wide(self) -> float:
        """Its width [mm]."""
        return self.right - self.left

    @property
    def high(self) -> float:
        """Its height [mm]."""
        return self.bottom - self.top

    def overlaps(self, other: Patch) -> bool:
        """Whether two rectangles have more than an edge in common."""
        return (
            self.left < other.right - _SAME
            and other.left < self.right - _SAME
            and self.top < other.bottom - _SAME
            and other.top < self.bottom - _SAME
        )

    def grown(self, by: float) -> Patch:
        """Return it with so much more on every side [mm]."""
        return Patch(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def lies_in(self, area: Iterable[Patch]) -> bool:
        """Whether it lies wholly in rectangles that do not overlap each other."""
        common = sum(
            max(0.0, min(self.right, p.right) - max(self.left, p.left))
            * max(0.0, min(self.bottom, p.bottom) - max(self.top, p.top))
            for p in area
        )
        return common >= self.wide * self.high - _SAME


def about(middle: Point, wide: float, high: float) -> Patch:
    """Return the rectangle of a size about a point [mm]."""
    x, y = middle
    return Patch(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def between(one: Point, other: Point, *, clear: float = 0.0) -> Patch:
    """Return the rectangle between two points, or the line where they stand in one, with room about it [mm]."""
    (x1, y1), (x2, y2) = one, other
    return Patch(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)).grown(clear)


def on_paper(paper: Paper, box: Box) -> Patch:
    """Return a rectangle of the plan on paper."""
    return between(paper.at(box.from_x, box.from_y), paper.at(box.to_x, box.to_y))


def nearest_place(
    wide: float,
    high: float,
    *,
    ideal: Point,
    area: Sequence[Patch],
    taken: Sequence[Patch],
    reach: float | None = None,
    levels: Sequence[float] | None = None,
) -> Point | None:
    """Return the middle of the free place nearest to the ideal one, None where there is none [mm].

    The rectangle must lie in `area` and clear of what is `taken`; `reach` bounds how far it may move, and
    `levels`, where given, are the only heights of its middle. Among rectangles the nearest free place is
    the ideal one or touches an edge, so only such places are tried.
    """
    near = [p for p in taken if any(p.overlaps(part) for part in area)]
    xs = {ideal[0], *(e for p in near for e in (p.left - wide / 2, p.right + wide / 2))}
    xs |= {e for p in area for e in (p.left + wide / 2, p.right - wide / 2)}
    if levels is None:
        ys = {ideal[1], *(e for p in near for e in (p.top - high / 2, p.bottom + high / 2))}
        ys |= {e for p in area for e in (p.top + high / 2, p.bottom - high / 2)}
    else:
        ys = set(levels)

    def distance(place: Point) -> tuple[float, float, float]:
        squared = (place[0] - ideal[0]) ** 2 + (place[1] - ideal[1]) ** 2
        return (round(squared, 6), place[1], place[0])

    for place in sorted(((x, y) for x in xs for y in ys), key=distance):
        if reach is not None and distance(place)[0] > reach**2:
            return None
        patch = about(place, wide, high)
        if patch.lies_in(area) and not any(patch.overlaps(p) for p in near):
            return place
    return None
