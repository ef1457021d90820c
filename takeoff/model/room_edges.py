"""What rooms share: the edges of rectangles that tile the plan, and what is wrong with a tiling."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from takeoff.model.house import Design, House, Room
from takeoff.model.problem import WorkbookProblem, at

Axis = Literal["x", "y"]
TOLERANCE = 1e-6
_DECIMALS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """The line that two rooms share [m]: along x or y, from `start` to `end`, at `at` across it.

    `before` is the room on the lesser side of the line, `after` the one on the greater.
    """

    axis: Axis
    at: float
    start: float
    end: float
    before: str
    after: str

    @property
    def length(self) -> float:
        """Length of the line [m]."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of the plan [m]."""

    from_x: float
    to_x: float
    from_y: float
    to_y: float

    @property
    def area(self) -> float:
        """Area [m2]."""
        return (self.to_x - self.from_x) * (self.to_y - self.from_y)

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies within."""
        return self.from_x < x < self.to_x and self.from_y < y < self.to_y


def rooms_of(design: Design) -> tuple[Room, ...]:
    """Return the rooms of a design; one without a name takes the whole plan where none are given.

    Edges that meet but for rounding are set on one line.
    """
    house = design.house
    if not design.rooms:
        return (Room(name="", dwelling="", from_x=0.0, to_x=house.length, from_y=0.0, to_y=house.span),)
    return tuple(
        replace(
            room,
            from_x=_snapped(room.from_x, house.length),
            to_x=_snapped(room.to_x, house.length),
            from_y=_snapped(room.from_y, house.span),
            to_y=_snapped(room.to_y, house.span),
        )
        for room in design.rooms
    )


def _snapped(value: float, extent: float) -> float:
    """Return a coordinate without rounding noise, exactly on the outline where it is meant to be."""
    return extent if abs(value - extent) < TOLERANCE else round(value, _DECIMALS)


def shared_edges(rooms: Sequence[Room]) -> list[Edge]:
    """Return every edge that two rooms share, along x first, each from the lesser coordinate on."""
    edges = [edge for one, other in itertools.permutations(rooms, 2) for edge in _between(one, other)]
    return sorted(edges, key=lambda edge: (edge.axis, edge.at, edge.start))


def _between(one: Room, other: Room) -> Iterator[Edge]:
    """Yield the edge along which `other` lies above or to the right of `one`."""
    left, right = max(one.from_x, other.from_x), min(one.to_x, other.to_x)
    if abs(one.to_y - other.from_y) < TOLERANCE and right - left > TOLERANCE:
        yield Edge(axis="x", at=one.to_y, start=left, end=right, before=one.name, after=other.name)
    low, high = max(one.from_y, other.from_y), min(one.to_y, other.to_y)
    if abs(one.to_x - other.from_x) < TOLERANCE and high - low > TOLERANCE:
        yield Edge(axis="y", at=one.to_x, start=low, end=high, before=one.name, after=other.name)


def tiling_problems(design: Design) -> list[WorkbookProblem]:
    """Return what keeps the rooms from tiling the plan: outside it, overlapping, or leaving a gap."""
    if not design.rooms:
        return []
    house, rooms = design.house, rooms_of(design)
    outside = [problem for room in rooms for problem in _outside(room, house)]
    if outside:
        return outside
    overlaps = [
        at(
            other.origin,
            "name",
            found=f"{other.name} overlaps {one.name} over {_extent(shared)}",
            expected="each place in one room only",
            mend="Move an edge of one of them",
        )
        for one, other in itertools.combinations(rooms, 2)
        if (shared := _overlap(one, other)) is not None
    ]
    return overlaps or list(_gaps(rooms, house))


def _outside(room: Room, house: House) -> Iterator[WorkbookProblem]:
    """Yield problems of a room with no extent or beyond the plan."""
    for low, high, extent, axis in (
        ("from_x", "to_x", house.length, "x"),
        ("from_y", "to_y", house.span, "y"),
    ):
        start, end = getattr(room, low), getattr(room, high)
        if end - start < TOLERANCE:
            yield at(
                room.origin,
                high,
                found=f"{room.name} runs from {axis} {start:g} to {end:g} m",
                expected="its second edge beyond its first",
            )
        elif start < -TOLERANCE or end > extent + TOLERANCE:
            yield at(
                room.origin,
                high if end > extent else low,
                found=f"{room.name} runs from {axis} {start:g} to {end:g} m",
                expected=f"within the plan, {axis} from 0 to {extent:g} m",
                mend="Rooms are measured to the outside face of the frame",
            )


def _overlap(one: Room, other: Room) -> Box | None:
    """Return what two rooms have in common."""
    box = Box(
        max(one.from_x, other.from_x),
        min(one.to_x, other.to_x),
        max(one.from_y, other.from_y),
        min(one.to_y, other.to_y),
    )
    wide, deep = box.to_x - box.from_x, box.to_y - box.from_y
    return box if wide > TOLERANCE and deep > TOLERANCE else None


def _extent(box: Box) -> str:
    """Return a rectangle in words."""
    return f"x {box.from_x:g} to {box.to_x:g}, y {box.from_y:g} to {box.to_y:g} m"


def _gaps(rooms: Sequence[Room], house: House) -> Iterator[WorkbookProblem]:
    """Yield a problem for each part of the plan that is in no room, at a cell of a room beside it."""
    boxes = [Box(room.from_x, room.to_x, room.from_y, room.to_y) for room in rooms]
    xs = sorted({0.0, house.length, *(x for b in boxes for x in (b.from_x, b.to_x))})
    ys = sorted({0.0, house.span, *(y for b in boxes for y in (b.from_y, b.to_y))})
    empty = [
        Box(left, right, low, high)
        for left, right in itertools.pairwise(xs)
        for low, high in itertools.pairwise(ys)
        if not any(box.holds((left + right) / 2, (low + high) / 2) for box in boxes)
    ]
    for gap in merged_boxes(empty):
        room, field = _beside(gap, rooms)
        yield at(
            room.origin,
            field,
            found=f"no room at {_extent(gap)}",
            expected="rooms that leave no gap",
            mend="Move an edge or add a room there",
        )


def _beside(gap: Box, rooms: Sequence[Room]) -> tuple[Room, str]:
    """Return a room that touches a gap, and the column of the edge that does."""
    for room in rooms:
        across = room.from_y < gap.to_y - TOLERANCE and room.to_y > gap.from_y + TOLERANCE
        along = room.from_x < gap.to_x - TOLERANCE and room.to_x > gap.from_x + TOLERANCE
        for touches, field, one, other in (
            (across, "to_x", room.to_x, gap.from_x),
            (across, "from_x", room.from_x, gap.to_x),
            (along, "to_y", room.to_y, gap.from_y),
            (along, "from_y", room.from_y, gap.to_y),
        ):
            if touches and abs(one - other) < TOLERANCE:
                return room, field
    return rooms[0], "to_x"


def merged_boxes(boxes: Sequence[Box]) -> list[Box]:
    """Return the same area in fewer rectangles: neighbours joined along x or y, whichever leaves fewer.

    Where both leave as many, the way with the largest rectangle is taken.
    """
    rows_first = _joined(_joined(boxes, "x"), "y")
    columns_first = _joined(_joined(boxes, "y"), "x")
    return min(
        rows_first,
        columns_first,
        key=lambda found: (len(found), -max((box.area for box in found), default=0.0)),
    )


def _joined(boxes: Sequence[Box], axis: Axis) -> list[Box]:
    """Return rectangles with those joined that touch along an axis and have the same extent across it."""
    result: list[Box] = []
    for box in sorted(boxes, key=lambda b: (*_across(b, axis), *_along(b, axis))):
        last = result[-1] if result else None
        if last is not None and _across(last, axis) == _across(box, axis):
            if axis == "x" and abs(last.to_x - box.from_x) < TOLERANCE:
                result[-1] = replace(last, to_x=box.to_x)
                continue
            if axis == "y" and abs(last.to_y - box.from_y) < TOLERANCE:
                result[-1] = replace(last, to_y=box.to_y)
                continue
        result.append(box)
    return result


def _along(box: Box, axis: Axis) -> tuple[float, float]:
    """Return the extent of a rectangle along an axis."""
    return (box.from_x, box.to_x) if axis == "x" else (box.from_y, box.to_y)


def _across(box: Box, axis: Axis) -> tuple[float, float]:
    """Return the extent of a rectangle across an axis."""
    return (box.from_y, box.to_y) if axis == "x" else (box.from_x, box.to_x)
