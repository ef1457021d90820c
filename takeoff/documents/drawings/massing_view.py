"""How the picture of the whole house is seen: from which corner, along which axes, and in which light.

The picture is dimetric: the front at 7 degrees and heights are at the scale, the side at 42 degrees at half of it, so
that the front looks much as in its elevation. Source: ISO 5456-3, dimetric axonometry, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.svg import Point
from takeoff.model.geometry import height_at, overhang_over, plan_point, side_length
from takeoff.model.house import House, Side

Place = tuple[float, float, float]

_FRONT, _SIDE = math.radians(7), math.radians(42)
_SIDE_SHARE = 0.5
# The light falls on the front from the far end of it: along the front, into it and down.
LIGHT_ALONG, LIGHT_IN, LIGHT_DOWN = 0.5, 1.0, 1.4
_NEXT: dict[Side, Side] = {"low": "right", "right": "high", "high": "left", "left": "low"}


@dataclass(frozen=True, slots=True)
class SlantedPaper(Paper):
    """The transform from a face of the house to paper: `along` is a metre along its foot, y downwards [mm].

    (x0, y0) is where the foot of its left end at floor level falls; `upright` is a metre upright [mm].
    """

    along: Point
    upright: float

    def at(self, x: float, y: float) -> Point:
        """Return the place on paper [mm] of a point of the face [m]."""
        return (self.x0 + x * self.along[0], self.y0 + x * self.along[1] - y * self.upright)


@dataclass(frozen=True, slots=True, kw_only=True)
class MassingView:
    """The house seen over a corner: the side at the left of it and that at the right; one of them is the front.

    Places are (u, v, z): along the left side from its far end, along the right side from the corner, upright [m].
    `origin` is where (0, 0, 0) falls on paper [mm].
    """

    house: House
    left: Side
    right: Side
    front: Side
    scale: int
    origin: Point = (0.0, 0.0)

    @property
    def second(self) -> Side:
        """The side seen beside the front."""
        return self.right if self.front == self.left else self.left

    @property
    def long(self) -> tuple[float, float]:
        """Length of the left and of the right side [m]."""
        return side_length(self.house, self.left), side_length(self.house, self.right)

    def axis(self, side: Side) -> Point:
        """Return a metre along a side on paper, from left to right, y downwards [mm]."""
        angle, share = (_FRONT, 1.0) if side == self.front else (_SIDE, _SIDE_SHARE)
        wide, down = (part * share * 1000 / self.scale for part in (math.cos(angle), math.sin(angle)))
        return wide, down if side == self.left else -down

    def at(self, place: Place) -> Point:
        """Return where a place falls on paper [mm]."""
        u, v, z = place
        (ax, ay), (bx, by) = self.axis(self.left), self.axis(self.right)
        return self.origin[0] + u * ax + v * bx, self.origin[1] + u * ay + v * by - z * 1000 / self.scale

    def placed(self, x: float, y: float, z: float) -> Place:
        """Return a place of the model as (u, v, z)."""
        zero, one = (plan_point(self.house, self.left, s) for s in (0.0, 1.0))
        along = (one[0] - zero[0], one[1] - zero[1])
        dx, dy = x - zero[0], y - zero[1]
        return dx * along[0] + dy * along[1], dy * along[0] - dx * along[1], z

    def under_roof(self, x: float, y: float) -> Place:
        """Return the underside of the roof over a place of the plan."""
        return self.placed(x, y, height_at(self.house, y))

    def reach(self, side: Side) -> float:
        """Return the overhang of the roof over a side [m]."""
        return overhang_over(self.house, side)

    def paper_of(self, side: Side, *, crowded: bool = False) -> SlantedPaper:
        """Return the transform of one of the two sides; `crowded` keeps lines along the slanted axis farther apart."""
        u = 0.0 if side == self.left else self.long[0]
        x, y = self.at((u, 0.0, 0.0))
        closer = crowded and side != self.front
        scale = round(self.scale / _SIDE_SHARE) if closer else self.scale
        return SlantedPaper(scale, x, y, self.axis(side), 1000 / self.scale)

    def to_reader(self) -> Place:
        """Return the direction from the house to the reader: places along it fall on one another."""
        (ax, ay), (bx, by) = self.axis(self.left), self.axis(self.right)
        v = -ax / bx
        return 1.0, v, (ay + v * by) * self.scale / 1000

    def shadow(self, place: Place, z: float) -> Place:
        """Return where the shadow of a place falls at a height."""
        u, v, height = place
        fall = (height - z) / LIGHT_DOWN
        if self.front == self.left:
            return u + LIGHT_ALONG * fall, v + LIGHT_IN * fall, z
        return u - LIGHT_IN * fall, v - LIGHT_ALONG * fall, z


def view_over(house: House, front: Side, second: Side, *, scale: int) -> MassingView:
    """Return the view over the corner of two sides. Raises ValueError where they have no corner in common."""
    for left, right in ((front, second), (second, front)):
        if _NEXT[left] == right:
            return MassingView(house=house, left=left, right=right, front=front, scale=scale)
    raise ValueError(f"the sides {front} and {second} have no corner in common")


def hull(points: Sequence[Point]) -> list[Point]:
    """Return the corners of the smallest convex area that holds all points.

    >>> hull([(0, 0), (2, 0), (1, 1), (2, 2), (0, 2)])
    [(0, 0), (2, 0), (2, 2), (0, 2)]
    """
    ordered = sorted(set(points))

    def chain(those: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for point in those:
            while len(kept) > 1 and _turn(kept[-2], kept[-1], point) <= 0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return chain(ordered) + chain(ordered[::-1])


def common_area(area: Sequence[Point], convex: Sequence[Point]) -> list[Point]:
    """Return the part of a convex area within another, both counter-clockwise; empty where they are apart.

    >>> common_area([(0, 0), (4, 0), (4, 4), (0, 4)], [(2, 1), (6, 1), (6, 3), (2, 3)])
    [(4.0, 1.0), (4.0, 3.0), (2.0, 3.0), (2.0, 1.0)]
    """
    kept = list(area)
    for a, b in zip(convex, [*convex[1:], convex[0]], strict=True):
        cut: list[Point] = []
        for p, q in zip(kept, [*kept[1:], *kept[:1]], strict=True):
            here, there = _turn(a, b, p), _turn(a, b, q)
            if here >= 0:
                cut.append((float(p[0]), float(p[1])))
            if (here >= 0) != (there >= 0):
                share = here / (here - there)
                cut.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
        kept = list(dict.fromkeys(cut))
    return kept


def _turn(a: Point, b: Point, c: Point) -> float:
    """Return twice the area of a triangle, positive where it goes counter-clockwise."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def mixed(colour: str, other: str, share: float) -> str:
    """Return a colour with a share of another in it.

    >>> mixed("#ffffff", "#000000", 0.2)
    '#cccccc'
    """
    ends = [[int(each[i : i + 2], 16) for i in (1, 3, 5)] for each in (colour, other)]
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in zip(*ends, strict=True))
