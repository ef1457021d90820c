"""What a plan cuts: the walls that are left between rooms, openings and gaps, as outlines and as lines."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from takeoff.documents.drawings.svg import Point, Segment
from takeoff.model.house import House
from takeoff.model.room_edges import Box

Kind = Literal["outside", "wall", "gap", "opening", "room"]
_DECIMALS = 7
_SAME = 1e-9


@dataclass(frozen=True, slots=True)
class CutPlan:
    """The plan of a house in cells, each of one kind; `xs` and `ys` are the lines between them [m]."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    kinds: tuple[tuple[Kind, ...], ...]

    def _kind(self, i: int, j: int) -> Kind:
        """Return the kind of a cell; beyond the plan is outside."""
        if 0 <= i < len(self.kinds) and 0 <= j < len(self.kinds[0]):
            return self.kinds[i][j]
        return "outside"

    def boxes(self, kind: Kind) -> list[Box]:
        """Return the cells of a kind."""
        return [
            Box(self.xs[i], self.xs[i + 1], self.ys[j], self.ys[j + 1])
            for i, column in enumerate(self.kinds)
            for j, found in enumerate(column)
            if found == kind
        ]

    def _edges(self, kind: Kind, beyond: Container[Kind]) -> Iterator[tuple[Point, Point]]:
        """Yield the edges between cells of a kind and others, those of the kind on the left of each."""
        for i, column in enumerate(self.kinds):
            for j, found in enumerate(column):
                if found != kind:
                    continue
                x0, x1, y0, y1 = self.xs[i], self.xs[i + 1], self.ys[j], self.ys[j + 1]
                for neighbour, start, end in (
                    ((i, j - 1), (x0, y0), (x1, y0)),
                    ((i + 1, j), (x1, y0), (x1, y1)),
                    ((i, j + 1), (x1, y1), (x0, y1)),
                    ((i - 1, j), (x0, y1), (x0, y0)),
                ):
                    other = self._kind(*neighbour)
                    if other != kind and other in beyond:
                        yield start, end

    def outlines(self, kind: Kind) -> list[list[Point]]:
        """Return the closed outlines of all cells of a kind, outer and inner ones, corners only [m]."""
        following: dict[Point, list[Point]] = {}
        for start, end in self._edges(kind, _ANY):
            following.setdefault(start, []).append(end)
        rings = []
        while following:
            first = at = next(iter(following))
            ring = []
            while at in following:
                ring.append(at)
                ends = following[at]
                at = ends.pop()
                if not ends:
                    del following[ring[-1]]
                if at == first:
                    break
            rings.append(_corners(ring))
        return rings

    def lines(self, kind: Kind, beyond: Container[Kind]) -> list[Segment]:
        """Return the lines between cells of a kind and those of others, as long as they go [m]."""
        rows: dict[tuple[bool, float], list[tuple[float, float]]] = {}
        for (x1, y1), (x2, y2) in self._edges(kind, beyond):
            level = y1 == y2
            stretch = (min(x1, x2), max(x1, x2)) if level else (min(y1, y2), max(y1, y2))
            rows.setdefault((level, y1 if level else x1), []).append(stretch)
        return [
            (a, at, b, at) if level else (at, a, at, b)
            for (level, at), pieces in rows.items()
            for a, b in joined(pieces)
        ]


_ANY: frozenset[Kind] = frozenset(("outside", "wall", "gap", "opening", "room"))


def cut_plan(
    house: House, *, rooms: Iterable[Box], openings: Iterable[Box] = (), gaps: Iterable[Box] = ()
) -> CutPlan:
    """Return what a plan cuts within the outline of the frame: all that is no room, opening or gap is wall.

    `rooms` are their floors at the finished faces; where a room overlaps an opening or a gap, it is room,
    and openings come before gaps.
    """
    layers: list[tuple[Kind, list[Box]]] = [
        ("gap", list(gaps)),
        ("opening", list(openings)),
        ("room", list(rooms)),
    ]
    every = [box for _, boxes in layers for box in boxes]
    xs = _cuts((x for b in every for x in (b.from_x, b.to_x)), house.length)
    ys = _cuts((y for b in every for y in (b.from_y, b.to_y)), house.span)
    kinds: list[list[Kind]] = [["wall"] * (len(ys) - 1) for _ in range(len(xs) - 1)]
    for kind, boxes in layers:
        for box in boxes:
            columns = range(_index(xs, box.from_x), _index(xs, box.to_x))
            for i, j in itertools.product(columns, range(_index(ys, box.from_y), _index(ys, box.to_y))):
                kinds[i][j] = kind
    return CutPlan(tuple(xs), tuple(ys), tuple(tuple(column) for column in kinds))


def _cuts(places: Iterable[float], extent: float) -> list[float]:
    """Return the lines between cells along an axis, none beyond the outline."""
    return sorted({0.0, extent, *(round(p, _DECIMALS) for p in places if 0 < round(p, _DECIMALS) < extent)})


def _index(cuts: list[float], place: float) -> int:
    """Return the place of a coordinate among the cuts; beyond them it is at their end."""
    return min(bisect_left(cuts, round(place, _DECIMALS)), len(cuts) - 1)


def _corners(ring: list[Point]) -> list[Point]:
    """Return a closed ring without the points along its straight edges."""
    return [
        point
        for before, point, after in zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True)
        if not (before[0] == point[0] == after[0] or before[1] == point[1] == after[1])
    ]


def joined(pieces: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches of a line in order, those that touch or overlap made one."""
    result: list[tuple[float, float]] = []
    for start, end in sorted(pieces):
        if result and start <= result[-1][1] + _SAME:
            result[-1] = (result[-1][0], max(result[-1][1], end))
        else:
            result.append((start, end))
    return result


def largest_box(boxes: Iterable[Box]) -> Box:
    """Return the largest rectangle in an area given as rectangles that do not overlap.

    Raises ValueError where there are none.
    """
    parts = list(boxes)
    xs = sorted({round(x, _DECIMALS) for b in parts for x in (b.from_x, b.to_x)})
    ys = sorted({round(y, _DECIMALS) for b in parts for y in (b.from_y, b.to_y)})
    candidates = (
        Box(x0, x1, y0, y1)
        for x0, x1 in itertools.combinations(xs, 2)
        for y0, y1 in itertools.combinations(ys, 2)
    )
    return max((box for box in candidates if _covered(box, parts)), key=lambda box: box.area)


def _covered(box: Box, parts: list[Box]) -> bool:
    """Whether a rectangle lies wholly in an area."""
    common = sum(
        max(0.0, min(box.to_x, p.to_x) - max(box.from_x, p.from_x))
        * max(0.0, min(box.to_y, p.to_y) - max(box.from_y, p.from_y))
        for p in parts
    )
    return common >= box.area - 1e-6
