"""Sets out the framing of flat ceilings and of the upright faces of bulkheads, stick by stick."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from takeoff.framing.member import MARKS, Member
from takeoff.framing.studs import stud_positions
from takeoff.framing.wall_setting_out import SHORTEST_STICK
from takeoff.model.room_edges import Axis, Box


@dataclass(frozen=True, slots=True, kw_only=True)
class JoistSection:
    """The timber of a flat ceiling: material, section and centres [m]."""

    material: str
    depth: float
    thickness: float
    spacing: float


def frame_flat_ceiling(box: Box, section: JoistSection, *, place: str) -> Iterator[Member]:
    """Yield ceiling joists across the shorter way of a rectangle, between a ledger on each longer side.

    The first and last joist are flush with the shorter sides. Source: common practice, no source.
    """
    wide, deep = box.to_x - box.from_x, box.to_y - box.from_y
    along: Axis = "x" if wide >= deep else "y"
    long, short = max(wide, deep), min(wide, deep)
    t = section.thickness
    if short <= 2 * t + SHORTEST_STICK:
        return
    for across in (t / 2, short - t / 2):
        yield _lying(section, "ledger", long, _point(box, along, long / 2, across), along, place)
    other: Axis = "y" if along == "x" else "x"
    for s in stud_positions(long, spacing=section.spacing, thickness=t):
        yield _lying(section, "ceiling joist", short - 2 * t, _point(box, along, s, short / 2), other, place)


def frame_upright_face(
    axis: Axis,
    at: float,
    start: float,
    end: float,
    height: Callable[[float], float],
    section: JoistSection,
    *,
    place: str,
) -> Iterator[Member]:
    """Yield the frame of a bulkhead's side: a rail at its foot and head, and studs between them.

    `height` gives the height of the face at a place along it [m]. Source: common practice, no source.
    """
    t, length = section.thickness, end - start
    middle = (start + end) / 2
    if length <= 2 * t or height(middle) <= 2 * t + SHORTEST_STICK:
        return
    point = (middle, at) if axis == "x" else (at, middle)
    yield _lying(section, "ledger", length, point, axis, place)
    # the head rail follows the rake of a raked ceiling
    rail = math.hypot(length, height(end) - height(start))
    yield _lying(section, "ledger", rail, point, axis, place)
    for s in stud_positions(length, spacing=section.spacing, thickness=t):
        stud = height(start + s) - 2 * t
        if stud > SHORTEST_STICK:
            spot = (start + s, at) if axis == "x" else (at, start + s)
            yield replace(_lying(section, "bulkhead stud", stud, spot, axis, place), run="upright")


def with_marks(members: Iterator[Member]) -> tuple[Member, ...]:
    """Return members with their piece marks, such as `C-CJ07`: ceilings, use, number."""
    counts: dict[str, int] = {}
    marked = []
    for member in members:
        counts[member.use] = counts.get(member.use, 0) + 1
        marked.append(replace(member, mark=f"C-{MARKS[member.use]}{counts[member.use]:02d}"))
    return tuple(marked)


def _point(box: Box, along: Axis, s: float, across: float) -> tuple[float, float]:
    """Return a place in a rectangle: s along its longer way, and across it."""
    return (box.from_x + s, box.from_y + across) if along == "x" else (box.from_x + across, box.from_y + s)


def _lying(
    section: JoistSection, use: str, length: float, point: tuple[float, float], axis: Axis, place: str
) -> Member:
    """Return a level stick of the section about a point of the plan."""
    return Member(
        use=use,
        material=section.material,
        thickness=section.thickness,
        depth=section.depth,
        length=length,
        place=place,
        s=point[0],
        z=point[1],
        seen_width=section.thickness,
        run="eaves" if axis == "x" else "slope",
    )
