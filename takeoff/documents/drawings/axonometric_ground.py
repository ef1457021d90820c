"""What a frame stands on in axonometric: the slab or the stumps, the line of the ground, and the north point."""

from __future__ import annotations

import math
from collections.abc import Callable

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.elevation_parts import STUMP
from takeoff.documents.drawings.stick_solids import Place
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    INK,
    WHITE,
    Point,
    group,
    lettering,
    path,
    through,
)
from takeoff.model.geometry import COMPASS_POINTS
from takeoff.model.house import House

Projection = Callable[[Place], Point]

_FLOOR, _FRONT, _SIDE = "#f6f6f4", "#f1f1ee", "#dcdcd8"
_RING = 48


def outline_at(house: House, z: float) -> list[Place]:
    """Return the outside of the frame at a height, from the corner of low and left side on [m]."""
    return [(0.0, 0.0, z), (house.length, 0.0, z), (house.length, house.span, z), (0.0, house.span, z)]


def draw_ground(result: Result, at: Projection, *, id_prefix: str) -> list[str]:
    """Return what lies under the sticks: the edge of a slab down to the ground, or ground line and stumps."""
    house = result.design.house
    low = -house.floor_above_ground
    frame = result.measured.floor_frame
    floor = [at(place) for place in outline_at(house, 0.0)]
    ground = [at(place) for place in outline_at(house, low)]
    if frame is None:
        faces = ((_FRONT, 0, 1), (_SIDE, 1, 2)) if low < 0 else ()
        return [
            path(through(floor, closed=True), width=DETAIL, fill=_FLOOR, id=f"{id_prefix}-outline"),
            *(
                path(
                    through([floor[a], floor[b], ground[b], ground[a]], closed=True), width=DETAIL, fill=fill
                )
                for fill, a, b in faces
            ),
            path(through(ground[:3]), width=EDGE, id=f"{id_prefix}-ground"),
        ]
    joists = max((member.depth for member in frame.joists), default=0.0)
    foot = -joists - max((member.depth for member in frame.bearers), default=0.0)
    stumps = sorted(frame.stumps, key=lambda place: place[0] - place[1])
    return [
        path(through(ground, closed=True), width=DETAIL, dash="2.2 1", id=f"{id_prefix}-ground"),
        *(_stump(place, low, foot, at) for place in stumps),
        path(through(floor, closed=True), width=DETAIL, id=f"{id_prefix}-outline"),
    ]


def _stump(place: tuple[float, float], foot: float, head: float, at: Projection) -> str:
    """Return the two upright faces of a stump that are seen."""
    x, y = place
    half = STUMP / 2
    front, corner, side = (x - half, y - half), (x + half, y - half), (x + half, y + half)
    return group(
        path(
            through(
                [at((*a, foot)), at((*b, foot)), at((*b, head)), at((*a, head))],
                closed=True,
            ),
            width=0.1,
            fill=fill,
        )
        for a, b, fill in ((front, corner, WHITE), (corner, side, _SIDE))
    )


def plan_north(house: House) -> tuple[float, float]:
    """Return the direction of north in the plan: its parts along the eaves and up the slope."""
    bearing = math.radians(360 / len(COMPASS_POINTS) * COMPASS_POINTS.index(house.high_side_faces))
    return -math.sin(bearing), math.cos(bearing)


def lying_north_point(house: House, seen: Callable[[Place], Point], centre: Point, *, radius: float) -> str:
    """Return a north point that lies in the plan; `seen` gives places upwards, `radius` is along the axes [mm]."""
    north = plan_north(house)

    def placed(along: float, across: float) -> Point:
        x, y = seen(
            (
                radius * (along * north[0] + across * north[1]),
                radius * (along * north[1] - across * north[0]),
                0.0,
            )
        )
        return centre[0] + x, centre[1] - y

    turns = [2 * math.pi * i / _RING for i in range(_RING)]
    ring = [placed(math.cos(turn), math.sin(turn)) for turn in turns]
    tip, tail = placed(1.0, 0.0), placed(-0.55, 0.0)
    left, right = placed(-0.75, -0.34), placed(-0.75, 0.34)
    return group(
        [
            path(through(ring, closed=True), width=DETAIL),
            path(through([tip, left, tail], closed=True), width=DETAIL, fill=INK, join="round"),
            path(through([tip, right, tail], closed=True), width=DETAIL, fill=WHITE, join="round"),
            lettering("N", placed(1.55, 0.0), size=2.6, weight=600, anchor="middle", centred=True),
        ]
    )
