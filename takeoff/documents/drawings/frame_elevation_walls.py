"""The walls of a framing elevation: what each is called, from where it is seen, and its sticks as drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import partial

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.frame_marks import own_mark
from takeoff.framing.internal_walls import InternalFrame
from takeoff.framing.member import Member
from takeoff.framing.walls import WallFrame
from takeoff.model.geometry import Face, Void, compass_of

PLATES = ("top plate", "bottom plate")
_NEAR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A stick in the plane of its frame [m]: both ends, its height above s, half its depth, its slope.

    `marks` are its own and those of the plies hidden behind it.
    """

    member: Member
    marks: tuple[str, ...]
    left: float
    right: float
    half: float
    slope: float = 0.0

    def middle_at(self, s: float) -> float:
        """Return the height of its middle at s [m]."""
        return self.member.z + (s - self.member.s) * self.slope

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners, from the lower left one round [m]."""
        left, right = self.middle_at(self.left), self.middle_at(self.right)
        return (
            (self.left, left - self.half),
            (self.right, right - self.half),
            (self.right, right + self.half),
            (self.left, left + self.half),
        )

    @property
    def upright(self) -> bool:
        """Whether it stands."""
        return self.member.run == "upright"

    def within(self, start: float, end: float) -> Stick | None:
        """Return what of it lies between two places, None where nothing does."""
        left, right = max(self.left, start), min(self.right, end)
        return replace(self, left=left, right=right) if right - left > _NEAR else None


@dataclass(frozen=True, slots=True, kw_only=True)
class FramedWall:
    """One wall to be drawn, or the stretch of it from `start` to `end` [m].

    `part` and `parts` number the stretches of a wall too long for the sheet.
    """

    mark: str
    name: str
    seen: str
    outer: bool
    spacing: float
    face: Face
    members: tuple[Member, ...]
    openings: tuple[Void, ...]
    gaps: tuple[tuple[float, float], ...]
    start: float
    end: float
    part: int = 1
    parts: int = 1

    @property
    def slope(self) -> float:
        """Rise of its top from left to right, per metre."""
        return (self.face.top_right - self.face.top_left) / self.face.width

    @property
    def width(self) -> float:
        """Length of what is drawn [m]."""
        return self.end - self.start

    @property
    def high(self) -> float:
        """Height of the highest place drawn [m]."""
        return max(self.face.top_at(self.start), self.face.top_at(self.end))

    def sticks(self) -> list[Stick]:
        """Return every stick that is seen between its ends."""
        plies: dict[tuple[str, float, float], list[Member]] = {}
        for member in self.members:
            # only plies of one lintel stand at the same place
            plies.setdefault((member.use, member.s, member.z), []).append(member)
        drawn = (_stick(group, self.slope).within(self.start, self.end) for group in plies.values())
        return [stick for stick in drawn if stick is not None]


def _stick(plies: list[Member], slope: float) -> Stick:
    """Return a stick with the plies behind it; plates and noggings lie flat, lintels stand on edge."""
    member = max(plies, key=lambda ply: ply.seen_width)
    long, half, rise = member.length, member.thickness / 2, 0.0
    if member.run == "upright":
        long, half = member.thickness, member.length / 2
    elif member.use == "lintel":
        half = member.depth / 2
    elif member.run == "rake":
        # the top is measured along the slope, and across it
        rise, factor = slope, math.hypot(1.0, slope)
        long, half = member.length / factor, half * factor
    return Stick(
        member=member,
        marks=tuple(own_mark(ply.mark) for ply in plies),
        left=member.s - long / 2,
        right=member.s + long / 2,
        half=half,
        slope=rise,
    )


def framed_walls(result: Result) -> list[FramedWall]:
    """Return every external wall, then every internal wall and leaf of a party wall."""
    runs = {run.mark: run for run in result.measured.inside.runs}
    walls = [_outer(result, frame) for frame in result.measured.wall_frames if frame.members]
    inside = (frame for frame in result.measured.inside.wall_frames if frame.members)
    return [*walls, *(_inner(result, inner, runs[inner.run].axis) for inner in inside)]


def _outer(result: Result, frame: WallFrame) -> FramedWall:
    """Return an external wall, seen from outside."""
    return FramedWall(
        mark=frame.members[0].mark.rpartition("-")[0],
        name=f"{frame.side.capitalize()} wall, faces {compass_of(result.design.house, frame.side)}",
        seen="outside",
        outer=True,
        spacing=result.design.stud_spacing,
        face=frame.face,
        members=frame.members,
        openings=tuple(
            Void(o.position, o.sill, o.width, o.height, o.mark) for o in (f.opening for f in frame.openings)
        ),
        gaps=frame.gaps,
        start=0.0,
        end=frame.face.width,
    )


def _inner(result: Result, frame: InternalFrame, axis: str) -> FramedWall:
    """Return a frame of an internal wall, its start at the left."""
    mark = frame.members[0].mark.rpartition("-")[0]
    layers = result.design.build_ups[frame.build_up]
    layer = layers.layers[layers.frame_index() or 0]
    kind = "Leaf of party wall" if frame.party else "Internal wall"
    return FramedWall(
        mark=mark,
        name=f"{kind} {mark}",
        # whoever sees x run to the right looks up the slope, whoever sees y do so looks to the left
        seen=f"the {'low' if axis == 'x' else 'right'} side of the house",
        outer=False,
        spacing=layer.spacing or result.design.stud_spacing,
        face=frame.face,
        members=frame.members,
        openings=tuple(
            Void(o.position, o.sill, o.width, o.height, o.mark) for o in (f.opening for f in frame.openings)
        ),
        gaps=(),
        start=0.0,
        end=frame.face.width,
    )


def stretches(wall: FramedWall, longest: float) -> list[FramedWall]:
    """Return a wall in stretches no longer than a length [m], cut beside common studs that only plates pass.

    Where no stud is in reach, as in an opening wider than that, it is cut through what is there.
    """
    possible = _cuts(wall) if wall.width > longest else []
    places = [wall.start]
    while wall.end - places[-1] > longest + _NEAR:
        start, left = places[-1], wall.end - places[-1]
        ideal = start + left / math.ceil(left / longest - _NEAR)
        inside = (cut for cut in possible if start + _NEAR < cut <= start + longest)
        places.append(min(inside, key=partial(_apart, ideal), default=ideal))
    ends = [*places[1:], wall.end]
    return [
        replace(wall, start=start, end=end, part=number, parts=len(ends))
        for number, (start, end) in enumerate(zip(places, ends, strict=True), 1)
    ]


def _apart(one: float, other: float) -> float:
    """Return the distance of two places [m]."""
    return abs(one - other)


def _cuts(wall: FramedWall) -> list[float]:
    """Return the left faces of common studs that no stick but plates runs across [m]."""
    sticks = wall.sticks()
    level = [(s.left, s.right) for s in sticks if not s.upright and s.member.use not in PLATES]
    level += [(void.left, void.right) for void in wall.openings]
    level += [(s.left, s.right) for s in sticks if s.upright]
    return [
        stick.left
        for stick in sticks
        if stick.member.use == "stud" and not any(a + _NEAR < stick.left < b - _NEAR for a, b in level)
    ]
