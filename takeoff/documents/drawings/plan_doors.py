"""Doors between rooms in plan: where they cut the wall, leaf and swing, sliding leaf, and where the mark goes.

The workbook says neither hand nor swing of an internal door. It is drawn opening into the room with fewer
doors, against the nearer wall, unless the leaf would strike something there: indicative.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.paper import Paper, mark_capsule
from takeoff.documents.drawings.places import Patch, between
from takeoff.documents.drawings.plan_floors import RoomFloor
from takeoff.documents.drawings.plan_openings import LEAF, OVERLAP, swing, swing_patches
from takeoff.documents.drawings.svg import DETAIL, EDGE, GREY, WHITE, Point, along, group, path, through
from takeoff.framing.internal_walls import PlacedDoor
from takeoff.measure.inside import Inside
from takeoff.model.house import InternalDoor
from takeoff.model.room_edges import Box

_HEAD_DASH = "0.9 0.6"
# Between a wall and the leaf that slides along it [m]: a drawing convention, measured nowhere.
_STAND_OFF = 0.03


@dataclass(frozen=True, slots=True)
class DoorInWall:
    """A door between rooms with the finished faces of its wall, `low` and `high` across the run [m]."""

    placed: PlacedDoor
    low: float
    high: float
    paper: Paper

    @property
    def door(self) -> InternalDoor:
        """The door."""
        return self.placed.door

    def box(self) -> Box:
        """Return what it cuts out of the wall."""
        start, end = self.placed.position, self.placed.right
        if self.placed.run.axis == "x":
            return Box(start, end, self.low, self.high)
        return Box(self.low, self.high, start, end)

    def at(self, u: float, v: float) -> Point:
        """Return a place on paper: u along the run, v across it [m]."""
        return self.paper.at(u, v) if self.placed.run.axis == "x" else self.paper.at(v, u)

    def face(self, into: int) -> float:
        """Return the finished face on one side of the wall: -1 the lesser, +1 the greater [m]."""
        return self.high if into > 0 else self.low

    @property
    def ends(self) -> tuple[float, float]:
        """Its jambs along the run [m]."""
        return self.placed.position, self.placed.right

    def room(self, into: int) -> str:
        """Return the name of the room on one side of the wall."""
        middle, edges = sum(self.ends) / 2, self.placed.run.edges
        edge = next((e for e in edges if e.start <= middle <= e.end), edges[0])
        return edge.after if into > 0 else edge.before

    def ring(self, u1: float, v1: float, u2: float, v2: float) -> str:
        """Return path data of a rectangle along the run."""
        return through([self.at(u1, v1), self.at(u2, v1), self.at(u2, v2), self.at(u1, v2)], closed=True)

    def patch(self, u1: float, v1: float, u2: float, v2: float, *, clear: float = 0.0) -> Patch:
        """Return the paper that such a rectangle takes."""
        return between(self.at(u1, v1), self.at(u2, v2), clear=clear)

    def units(self) -> list[tuple[float, float]]:
        """Return the ends of each leaf along the run [m]."""
        wide = self.door.width / self.door.number
        start = self.placed.position
        return [(start + i * wide, start + (i + 1) * wide) for i in range(self.door.number)]


@dataclass(frozen=True, slots=True)
class Hanging:
    """How a door is drawn: the side of the wall it opens to, and of each leaf two places along the run [m].

    Of a hinged leaf they are hinge and closing edge; of a sliding one its ends when it is open.
    """

    into: int
    leaves: tuple[tuple[float, float], ...]


def doors_in_walls(inside: Inside, paper: Paper) -> list[DoorInWall]:
    """Return the doors between rooms with the finished faces on both sides of each."""
    found = []
    for placed in inside.doors:
        middle, run = (placed.position + placed.right) / 2, placed.run
        faces = [
            face.at
            for face in inside.plan.faces
            if face.along and face.wall == run.mark and face.start <= middle <= face.end
        ]
        low = max((at for at in faces if at <= run.at), default=run.at - run.depth / 2)
        high = min((at for at in faces if at > run.at), default=run.at + run.depth / 2)
        found.append(DoorInWall(placed, low, high, paper))
    return found


def hang_doors(
    doors: Sequence[DoorInWall], floors: Sequence[RoomFloor], taken: Sequence[Patch]
) -> tuple[list[Hanging], list[list[Patch]]]:
    """Return how each door is drawn, and the paper its leaves take, clear of what is taken and each other."""
    counts = Counter(room for door in doors for room in door.door.rooms)
    by_name = {floor.room.name: floor for floor in floors}
    fronts = [door.patch(u1, door.low - 0.1, u2, door.high + 0.1) for door in doors for u1, u2 in [door.ends]]
    hangings: list[Hanging] = []
    patches: list[list[Patch]] = []
    for index, door in enumerate(doors):
        others = [*taken, *itertools.chain(*patches), *fronts[:index], *fronts[index + 1 :]]
        best = min(_ways(door), key=lambda way: _awkward(door, way, by_name, counts, others))
        best = _within(door, best, [patch for floor in floors for patch in floor.patches])
        hangings.append(best)
        patches.append(leaf_patches(door, best))
    return hangings, patches


def _ways(door: DoorInWall) -> Iterator[Hanging]:
    """Yield the ways a door may be hung or slide."""
    units = door.units()
    for into in (1, -1):
        if door.door.kind == "opening":
            yield Hanging(into, ())
        elif len(units) == 1:
            left, right = units[0]
            wide = right - left
            if door.door.kind == "door":
                yield from (Hanging(into, ((left, right),)), Hanging(into, ((right, left),)))
            else:
                yield from (Hanging(into, ((left + d, right + d),)) for d in (-wide, wide))
        elif door.door.kind == "door":
            half = len(units) / 2
            yield Hanging(into, tuple(u if i < half else (u[1], u[0]) for i, u in enumerate(units)))
        else:
            half, wide = len(units) / 2, door.door.width / 2
            yield Hanging(
                into,
                tuple(
                    (a + d, b + d) for i, (a, b) in enumerate(units) for d in [-wide if i < half else wide]
                ),
            )


def _awkward(
    door: DoorInWall,
    way: Hanging,
    floors: dict[str, RoomFloor],
    counts: Counter[str],
    others: Sequence[Patch],
) -> tuple[int, int, int, float]:
    """Return how badly a way of hanging a door fits: what it strikes, then habit, then how far from a wall."""
    room = door.room(way.into)
    other = door.room(-way.into)
    area = [patch for floor in floors.values() for patch in floor.patches]
    patches = [patch.grown(-0.35) for patch in leaf_patches(door, way)]
    strikes_wall = sum(not patch.lies_in(area) for patch in patches)
    strikes = sum(patch.overlaps(taken) for patch in patches for taken in others)
    habit = int((counts[room], -floors[room].area) > (counts[other], -floors[other].area))
    return (strikes_wall, strikes, habit, _to_wall(door, way, floors[room].largest))


def _within(door: DoorInWall, way: Hanging, area: Sequence[Patch]) -> Hanging:
    """Return a way to hang a door without the open place of a sliding leaf that no room has wall for."""
    if door.door.kind != "sliding door":
        return way
    front, back = _sliding_faces(door, way)
    free = (leaf for leaf in way.leaves if door.patch(leaf[0], front, leaf[1], back).lies_in(area))
    return Hanging(way.into, tuple(free))


def _to_wall(door: DoorInWall, way: Hanging, box: Box) -> float:
    """Return the distance from the hinge, or the open sliding leaf, to the end of its room's wall [m]."""
    if not way.leaves:
        return 0.0
    start, end = (box.from_x, box.to_x) if door.placed.run.axis == "x" else (box.from_y, box.to_y)
    if door.door.kind == "door":
        hinge, edge = way.leaves[0]
        return hinge - start if edge > hinge else end - hinge
    # a leaf slides to where there is more wall
    return -min(way.leaves[0][0] - start, end - way.leaves[-1][1])


def hinge_points(door: DoorInWall, way: Hanging) -> Iterator[tuple[Point, Point, Point]]:
    """Yield hinge, tip and closing edge of each hinged leaf on paper."""
    face = door.face(way.into)
    for hinge, edge in way.leaves:
        tip = face + way.into * abs(edge - hinge)
        yield door.at(hinge, face), door.at(hinge, tip), door.at(edge, face)


def leaf_patches(door: DoorInWall, way: Hanging) -> list[Patch]:
    """Return the paper that the leaves of a door take, open and shut."""
    if door.door.kind == "door":
        return [patch for points in hinge_points(door, way) for patch in swing_patches(*points)]
    front, back = _sliding_faces(door, way)
    stretches = [*way.leaves, *door.units()] if door.door.kind == "sliding door" else []
    return [door.patch(a, front, b, back, clear=0.3) for a, b in stretches]


def _sliding_faces(door: DoorInWall, way: Hanging) -> tuple[float, float]:
    """Return the two faces of a leaf that slides along the wall, across the run [m]."""
    front = door.face(way.into) + way.into * _STAND_OFF
    return front, front + way.into * LEAF


def draw_door(door: DoorInWall, way: Hanging, mark_at: Point, *, id: str) -> str:
    """Return a door between rooms with its mark: leaf and swing, sliding leaf, or the head of an opening."""
    face = door.face(way.into)
    drawn: list[str] = []
    if door.door.kind == "door":
        boxes = [
            door.ring(
                hinge,
                face,
                hinge + math.copysign(LEAF, edge - hinge),
                face + way.into * abs(edge - hinge),
            )
            for hinge, edge in way.leaves
        ]
        swings = [swing(*points) for points in hinge_points(door, way)]
        drawn = [
            path("".join(swings), width=DETAIL, stroke=GREY),
            path("".join(boxes), width=EDGE, fill=WHITE),
        ]
    elif door.door.kind == "sliding door":
        front, back = _sliding_faces(door, way)
        shut, slid = door.units(), way.leaves
        lap = OVERLAP / 2
        ends = [(a - lap * (i == 0), b + lap * (i == len(shut) - 1)) for i, (a, b) in enumerate(shut)]
        opened = "".join(door.ring(a, front, b, back) for a, b in slid)
        drawn = [path(opened, width=DETAIL, stroke=GREY, dash=_HEAD_DASH)] if opened else []
        drawn.append(path("".join(door.ring(a, front, b, back) for a, b in ends), width=EDGE, fill=WHITE))
    else:
        left, right = door.ends
        heads = [(*door.at(left, v), *door.at(right, v)) for v in (door.low, door.high)]
        drawn = [path(along(heads), width=DETAIL, dash=_HEAD_DASH)]
    return group([*drawn, mark_capsule(door.door.mark, mark_at)], id=id)
