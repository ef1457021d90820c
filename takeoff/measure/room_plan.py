"""The plan at the finished faces: which part of it is room, which is wall, and the faces between them.

The plan is cut along every face into cells. A cell lies in a wall or in a zone of a room; where the two meet
is a face of that wall, which belongs to that room. So every face has one room, and the areas of rooms and
walls make up the plan exactly.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from takeoff.measure.linings import lining_depth, structure_inset
from takeoff.model.house import Bulkhead, Design, Room
from takeoff.model.library import Library
from takeoff.model.room_edges import TOLERANCE, Axis, Box, merged_boxes, rooms_of
from takeoff.model.wall_runs import WallRun, on_outline, reach_at_end

_DECIMALS = 7
HalfThickness = Callable[[WallRun, str], float]


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of a room under one ceiling: its bulkhead, or the rest of it, as rectangles at finished faces."""

    room: Room
    bulkhead: Bulkhead | None
    boxes: tuple[Box, ...]

    @property
    def area(self) -> float:
        """Floor area [m2]."""
        return sum(box.area for box in self.boxes)

    @property
    def flat_height(self) -> float | None:
        """Height of its flat ceiling above floor level [m], None where it rakes."""
        return self.bulkhead.underside if self.bulkhead else self.room.flat_ceiling


@dataclass(frozen=True, slots=True, kw_only=True)
class WallFace:
    """The face of a wall in a zone of a room: along an axis, at a place across it [m].

    `wall` is the side of an external wall or the mark of an internal one, `build_up` its build-up. `along`
    tells the face of a wall from its free end.
    """

    zone: int
    wall: str
    build_up: str
    axis: Axis
    at: float
    start: float
    end: float
    along: bool

    @property
    def length(self) -> float:
        """Length of the face [m]."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class CeilingStep:
    """The line on which two zones meet without a wall between them [m]; zones by number."""

    axis: Axis
    at: float
    start: float
    end: float
    zones: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomPlan:
    """The plan at the finished faces; areas in m2."""

    zones: tuple[Zone, ...]
    faces: tuple[WallFace, ...]
    steps: tuple[CeilingStep, ...]
    inside: float
    internal_walls: float

    def floor_of(self, room: Room) -> float:
        """Return the floor area of a room, net of walls [m2]."""
        return sum(zone.area for zone in self.zones if zone.room.name == room.name)


@dataclass(frozen=True, slots=True)
class _Wall:
    """A rectangle of wall: what it is, which way it runs."""

    box: Box
    name: str
    build_up: str
    axis: Axis
    external: bool


def room_plan(design: Design, library: Library, runs: Sequence[WallRun]) -> RoomPlan:
    """Return the plan of a design at the finished faces of its walls.

    A wall is as thick as its frame with what lines it in the room on each side. The walls of a corner close
    it; where a wall ends free, its end is a face too.
    """
    rooms = rooms_of(design)
    walls = [
        *_internal(design, library, rooms, runs),
        *_external(design, library, rooms),
    ]
    areas: list[tuple[Room, Bulkhead | None, Box]] = [
        (room, None, Box(room.from_x, room.to_x, room.from_y, room.to_y)) for room in rooms
    ]
    by_name = {room.name: room for room in rooms}
    areas += [
        (by_name[b.room], b, Box(b.from_x, b.to_x, b.from_y, b.to_y))
        for b in design.bulkheads
        if b.room in by_name
    ]
    return _Cells(walls, areas).plan()


def _external(design: Design, library: Library, rooms: Sequence[Room]) -> Iterator[_Wall]:
    """Yield the external walls, room by room, from the outside face of the frame to the finished face."""
    house = design.house
    name = house.external_wall
    behind = structure_inset(design, library)
    for room in rooms:
        inset = behind + lining_depth(design, library, room, design.build_ups[name])
        x0, x1, y0, y1 = room.from_x, room.to_x, room.from_y, room.to_y
        if y0 < TOLERANCE:
            yield _Wall(Box(x0, x1, 0.0, inset), "low", name, "x", True)
        if y1 > house.span - TOLERANCE:
            yield _Wall(Box(x0, x1, house.span - inset, house.span), "high", name, "x", True)
        if x0 < TOLERANCE:
            yield _Wall(Box(0.0, inset, y0, y1), "left", name, "y", True)
        if x1 > house.length - TOLERANCE:
            yield _Wall(Box(house.length - inset, house.length, y0, y1), "right", name, "y", True)


def _internal(
    design: Design, library: Library, rooms: Sequence[Room], runs: Sequence[WallRun]
) -> Iterator[_Wall]:
    """Yield the internal walls, edge by edge."""
    by_name = {room.name: room for room in rooms}

    def half(run: WallRun, room: str) -> float:
        wall = design.build_ups[run.build_up]
        return run.depth / 2 + lining_depth(design, library, by_name[room], wall)

    for run in runs:
        for index, edge in enumerate(run.edges):
            start, end = edge.start, edge.end
            if index == 0:
                start -= _closing(run, runs, design, half, at_start=True)
            if index == len(run.edges) - 1:
                end += _closing(run, runs, design, half, at_start=False)
            low, high = run.at - half(run, edge.before), run.at + half(run, edge.after)
            box = Box(start, end, low, high) if run.axis == "x" else Box(low, high, start, end)
            yield _Wall(box, run.mark, run.build_up, run.axis, False)


def _closing(
    run: WallRun, runs: Sequence[WallRun], design: Design, half: HalfThickness, *, at_start: bool
) -> float:
    """Return how far a wall goes beyond its node to close a corner [m]."""
    place = run.start if at_start else run.end
    if on_outline(design.house, run, place):
        return 0.0
    wall, face = reach_at_end(run, runs, at_start=at_start)
    if wall is None or face <= 0:
        return 0.0
    nearest = wall.edges[0] if abs(wall.start - run.at) < TOLERANCE else wall.edges[-1]
    return half(wall, nearest.before if at_start else nearest.after)


class _Cells:
    """The plan cut into cells along every face."""

    def __init__(self, walls: list[_Wall], areas: list[tuple[Room, Bulkhead | None, Box]]) -> None:
        """Cut the plan and tell of each cell which walls and which zone it lies in."""
        self.walls, self.areas = walls, areas
        boxes = [*(wall.box for wall in walls), *(box for _, _, box in areas)]
        self.xs = _cuts(x for box in boxes for x in (box.from_x, box.to_x))
        self.ys = _cuts(y for box in boxes for y in (box.from_y, box.to_y))
        columns, rows = len(self.xs) - 1, len(self.ys) - 1
        self.zone = [[-1] * rows for _ in range(columns)]
        self.wall: list[list[list[int]]] = [[[] for _ in range(rows)] for _ in range(columns)]
        for number, (_, _, box) in enumerate(areas):
            for i, j in self._within(box):
                self.zone[i][j] = number
        for number, wall in enumerate(walls):
            for i, j in self._within(wall.box):
                self.wall[i][j].append(number)

    def _within(self, box: Box) -> Iterator[tuple[int, int]]:
        """Yield the cells in a rectangle."""
        columns = range(_index(self.xs, box.from_x), _index(self.xs, box.to_x))
        return itertools.product(columns, range(_index(self.ys, box.from_y), _index(self.ys, box.to_y)))

    def _box(self, i: int, j: int) -> Box:
        """Return the rectangle of a cell."""
        return Box(self.xs[i], self.xs[i + 1], self.ys[j], self.ys[j + 1])

    def _free(self, i: int, j: int) -> int | None:
        """Return the zone of a cell that no wall takes, None of others and beyond the plan."""
        if not (0 <= i < len(self.zone) and 0 <= j < len(self.zone[0])):
            return None
        return None if self.wall[i][j] or self.zone[i][j] < 0 else self.zone[i][j]

    def plan(self) -> RoomPlan:
        """Return zones, faces and areas."""
        cells: list[list[Box]] = [[] for _ in self.areas]
        inside = internal = 0.0
        for i, j in itertools.product(range(len(self.xs) - 1), range(len(self.ys) - 1)):
            box, zone = self._box(i, j), self._free(i, j)
            if zone is not None:
                cells[zone].append(box)
            external = any(self.walls[number].external for number in self.wall[i][j])
            if not external and self.zone[i][j] >= 0:
                inside += box.area
                internal += box.area if zone is None else 0.0
        faces, steps = self._lines()
        return RoomPlan(
            zones=tuple(
                Zone(room, bulkhead, tuple(merged_boxes(boxes)))
                for (room, bulkhead, _), boxes in zip(self.areas, cells, strict=True)
            ),
            faces=tuple(sorted(faces, key=lambda face: face.zone)),
            steps=tuple(steps),
            inside=inside,
            internal_walls=internal,
        )

    def _lines(self) -> tuple[list[WallFace], list[CeilingStep]]:
        """Return the faces of walls and the lines where zones meet, neighbouring pieces joined."""
        faces: dict[tuple[int, str, str, Axis, float, bool, bool], list[tuple[float, float]]] = {}
        steps: dict[tuple[Axis, float, tuple[int, int]], list[tuple[float, float]]] = {}
        for axis, at, stretch, one, other in self._boundaries():
            a, b = self._free(*one), self._free(*other)
            if a is not None and b is not None:
                if a != b:
                    steps.setdefault((axis, at, (a, b)), []).append(stretch)
            elif a is not None or b is not None:
                zone, cell, before = (a, other, True) if a is not None else (b, one, False)
                wall = self._wall_at(cell, axis, at, lesser=before)
                if zone is not None and wall is not None:
                    along = wall.axis == axis
                    key = (zone, wall.name, wall.build_up, axis, at, along, before)
                    faces.setdefault(key, []).append(stretch)
        return (
            [
                WallFace(
                    zone=zone,
                    wall=name,
                    build_up=build_up,
                    axis=axis,
                    at=at,
                    start=start,
                    end=end,
                    along=along,
                )
                for (zone, name, build_up, axis, at, along, _), pieces in faces.items()
                for start, end in _joined(pieces)
            ],
            [
                CeilingStep(axis=axis, at=at, start=start, end=end, zones=zones)
                for (axis, at, zones), pieces in steps.items()
                for start, end in _joined(pieces)
            ],
        )

    def _boundaries(
        self,
    ) -> Iterator[tuple[Axis, float, tuple[float, float], tuple[int, int], tuple[int, int]]]:
        """Yield every line between two neighbouring cells, the one on the lesser side first."""
        columns, rows = len(self.xs) - 1, len(self.ys) - 1
        for i, j in itertools.product(range(1, columns), range(rows)):
            yield "y", self.xs[i], (self.ys[j], self.ys[j + 1]), (i - 1, j), (i, j)
        for j, i in itertools.product(range(1, rows), range(columns)):
            yield "x", self.ys[j], (self.xs[i], self.xs[i + 1]), (i, j - 1), (i, j)

    def _wall_at(self, cell: tuple[int, int], axis: Axis, at: float, *, lesser: bool) -> _Wall | None:
        """Return the wall in a cell whose face lies on a line; one that runs along the line comes first."""
        i, j = cell
        found = [
            self.walls[number]
            for number in self.wall[i][j]
            if abs(_edge(self.walls[number].box, axis, lesser=lesser) - at) < TOLERANCE
        ]
        return min(found, key=lambda wall: wall.axis != axis, default=None)


def _edge(box: Box, axis: Axis, *, lesser: bool) -> float:
    """Return the edge of a rectangle that lies along an axis: the lesser or the greater one."""
    if axis == "x":
        return box.from_y if lesser else box.to_y
    return box.from_x if lesser else box.to_x


def _cuts(values: Iterator[float]) -> list[float]:
    """Return coordinates in order, those that differ by rounding alone once."""
    return sorted({round(value, _DECIMALS) for value in values})


def _index(cuts: list[float], value: float) -> int:
    """Return the place of a coordinate among the cuts."""
    return bisect_left(cuts, round(value, _DECIMALS))


def _joined(pieces: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return stretches of a line with those that touch made one."""
    result: list[tuple[float, float]] = []
    for start, end in sorted(pieces):
        if result and abs(result[-1][1] - start) < TOLERANCE:
            result[-1] = (result[-1][0], end)
        else:
            result.append((start, end))
    return result
