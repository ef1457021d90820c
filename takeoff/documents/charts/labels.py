"""Labels beside points, moved round them until none lies on another, on a point or outside the plot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.svg import Point, Segment


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper [mm], y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def overlap(self, other: Box) -> float:
        """Return the area that two boxes share [mm2]."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.bottom, other.bottom) - max(self.top, other.top)
        return wide * high if wide > 0 and high > 0 else 0.0

    def outside(self, frame: Box) -> float:
        """Return how far the box sticks out of a frame [mm]."""
        return (
            max(0.0, frame.left - self.left)
            + max(0.0, self.right - frame.right)
            + max(0.0, frame.top - self.top)
            + max(0.0, self.bottom - frame.bottom)
        )

    def length_within(self, segment: Segment) -> float:
        """Return how much of a straight line runs through the box [mm]."""
        x1, y1, x2, y2 = segment
        enter, leave = 0.0, 1.0
        for at, step, low, high in (
            (x1, x2 - x1, self.left, self.right),
            (y1, y2 - y1, self.top, self.bottom),
        ):
            if abs(step) < 1e-12:
                if not low <= at <= high:
                    return 0.0
                continue
            near, far = sorted(((low - at) / step, (high - at) / step))
            enter, leave = max(enter, near), min(leave, far)
        return max(0.0, leave - enter) * math.hypot(x2 - x1, y2 - y1)


# Directions tried round a point: right and left first, then above, below and aslant.
_DIRECTIONS = ((1, 0), (-1, 0), (0, -1), (0, 1), (0.8, -0.8), (-0.8, -0.8), (0.8, 0.8), (-0.8, 0.8))
_RINGS = (1.0, 2.0, 3.2, 4.6, 6.2, 8.0)


def _box_at(point: Point, direction: Point, away: float, wide: float, high: float) -> Box:
    """Return the box of a label that touches a ring round its point on one side."""
    dx, dy = direction
    x, y = point[0] + dx * away, point[1] + dy * away
    left = x if dx > 0 else x - wide if dx < 0 else x - wide / 2
    top = y - high if dy < 0 else y if dy > 0 else y - high / 2
    return Box(left, top, left + wide, top + high)


def place_labels(
    points: Sequence[Point],
    sizes: Sequence[Point],
    *,
    radius: float,
    frame: Box,
    lines: Sequence[Segment] = (),
    order: Sequence[int] | None = None,
) -> list[Box]:
    """Return a box for the label of each point, in the order of the points.

    `sizes` are widths and heights, `radius` that of the markers [mm]; `lines` are better not written
    over; `order` says which point chooses first.
    """
    markers = [Box(x - radius, y - radius, x + radius, y + radius) for x, y in points]
    placed: dict[int, Box] = {}
    for index in order or range(len(points)):
        wide, high = sizes[index]
        best, least = None, math.inf
        for ring in _RINGS:
            for preference, direction in enumerate(_DIRECTIONS):
                box = _box_at(points[index], direction, radius * ring + 0.7, wide, high)
                cost = (
                    200 * sum(box.overlap(other) for other in placed.values())
                    + 100 * sum(box.overlap(marker) for marker in markers)
                    + 500 * box.outside(frame)
                    + 6 * sum(box.length_within(segment) for segment in lines)
                    + 3 * (ring - 1)
                    + 0.4 * preference
                )
                if cost < least:
                    best, least = box, cost
        assert best is not None
        placed[index] = best
    return [placed[index] for index in range(len(points))]
