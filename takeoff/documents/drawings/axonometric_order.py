"""The order in which solids are drawn so that the nearer hide the farther, and what of them is seen.

The view is isometric: x runs down to the right, y up to the right, z upright, and a metre along any of them is as long
on paper as along the others.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from takeoff.documents.drawings.stick_solids import Place, Quad, Solid

Array = npt.NDArray[np.float64]
Pairs = npt.NDArray[np.bool_]

ACROSS, ALONG = math.cos(math.radians(30)), math.sin(math.radians(30))
# From the house to the reader: places on this line fall on one another.
TO_READER = (1.0, -1.0, 1.0)
_TOUCHING = 1e-4


def seen(place: Place) -> tuple[float, float]:
    """Return where a place falls in the view, to the right and upwards [m at the scale of the axes].

    >>> [round(v, 6) for v in seen((2.0, 0.0, 0.0))], [round(v, 6) for v in seen((0.0, 0.0, 2.0))]
    ([1.732051, -1.0], [0.0, 2.0])
    """
    x, y, z = place
    return (x + y) * ACROSS, z + (y - x) * ALONG


def seen_faces(solid: Solid) -> list[tuple[str, Quad]]:
    """Return the faces of a solid that look to the reader: what each is, and its corners.

    They are called `front` where they look down the slope, `side` along the eaves, `top` upwards, whichever is nearest.
    """
    near, far = solid.near, solid.far
    found = []
    for one, other in (
        (near, far),
        ((near[0], near[1], far[1], far[0]), (near[3], near[2], far[2], far[3])),
        ((near[1], near[2], far[2], far[1]), (near[0], near[3], far[3], far[0])),
    ):
        square = _normal(one)
        # from the other face of the pair to this one: the faces of a stick are pairs of like ones
        outward = sum([n * (p - q) for n, p, q in zip(square, one[0], other[0], strict=True)])
        facing = square[0] * TO_READER[0] + square[1] * TO_READER[1] + square[2] * TO_READER[2]
        if abs(facing) < 1e-9 * max(map(abs, square)):
            continue
        named = max((abs(square[axis]), name) for axis, name in enumerate(("side", "front", "top")))[1]
        found.append((named, one if (outward > 0) == (facing > 0) else other))
    return found


def _normal(face: Quad) -> Place:
    """Return a direction square to a face."""
    (ax, ay, az), (bx, by, bz), _, (dx, dy, dz) = face
    ux, uy, uz, vx, vy, vz = bx - ax, by - ay, bz - az, dx - ax, dy - ay, dz - az
    return uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx


def back_to_front(solids: Sequence[Solid], rise: float) -> list[int]:
    """Return the places of solids in the order to draw them; `rise` is the tangent of the pitch.

    Of two that overlap in the view, the one is behind that lies behind a plane between them: square to x, y or z, or
    along the roof. Sticks that are let into each other go by the plane they cross least. Where three hide one another
    in turn, the farther of them comes first.
    """
    if not solids:
        return []
    corners = np.array([solid.corners for solid in solids])
    across = np.stack([corners @ _between(rise), *(corners[:, :, axis] for axis in range(3))], axis=-1)
    low, high = across.min(axis=1), across.max(axis=1)
    facing = np.array([np.dot(_between(rise), TO_READER), *TO_READER])
    # room[i, j]: the widest gap between i and j with i on the far side of it, less than none where they cross
    room = np.full((len(solids), len(solids)), -math.inf)
    for axis, towards in enumerate(facing):
        if abs(towards) < 1e-9:
            continue
        gap = low[None, :, axis] - high[:, None, axis]
        np.maximum(room, gap if towards > 0 else gap.T, out=room)
    depth = corners.mean(axis=1) @ np.array(TO_READER)
    farther = depth[:, None] < depth[None, :]
    even = np.abs(room - room.T) < _TOUCHING
    # behind[i, j]: i has to be drawn before j
    behind = np.where(even, farther, room > room.T) & _overlap_in_view(corners, rise)
    return _sorted(behind, behind & (room < -_TOUCHING), depth)


def _between(rise: float) -> Array:
    """Return the direction square to the roof."""
    return np.array((0.0, -rise, 1.0))


def _overlap_in_view(corners: Array, rise: float) -> Pairs:
    """Return which pairs of solids overlap in the view: no line along x, y, z or the slope parts them."""
    view = np.stack(
        [
            (corners[:, :, 0] + corners[:, :, 1]) * ACROSS,
            corners[:, :, 2] + (corners[:, :, 1] - corners[:, :, 0]) * ALONG,
        ],
        axis=-1,
    )
    overlap = np.ones((len(corners), len(corners)), dtype=bool)
    for direction in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, rise)):
        right, up = seen(direction)
        along = view @ np.array((-up, right))
        low, high = along.min(axis=1), along.max(axis=1)
        overlap &= low[:, None] < high[None, :] - _TOUCHING
        overlap &= low[None, :] < high[:, None] - _TOUCHING
    np.fill_diagonal(overlap, False)
    return overlap


def _sorted(behind: Pairs, crossing: Pairs, depth: Array) -> list[int]:
    """Return all places so that each comes after those behind it, as far as that can be.

    Where none is left without one behind it, that goes next which only crosses those that it waits for, the farthest
    of such; else the farthest of a ring of sticks that hide one another.
    """
    waiting, certain = behind.sum(axis=0), (behind & ~crossing).sum(axis=0)
    before = [[int(other) for other in np.flatnonzero(row)] for row in behind]
    ready = [(float(depth[place]), int(place)) for place in np.flatnonzero(waiting == 0)]
    heapq.heapify(ready)
    order: list[int] = []
    left = np.ones(len(depth), dtype=bool)
    while left.any():
        if ready:
            _, place = heapq.heappop(ready)
        else:
            loose = np.flatnonzero(left & (certain == 0))
            those = loose if len(loose) else _ring(behind & ~crossing, left)
            place = int(those[np.argmin(depth[those])])
        if not left[place]:
            continue
        left[place] = False
        order.append(place)
        for other in before[place]:
            waiting[other] -= 1
            certain[other] -= not crossing[place, other]
            if waiting[other] == 0 and left[other]:
                heapq.heappush(ready, (float(depth[other]), other))
    return order


def _ring(behind: Pairs, left: npt.NDArray[np.bool_]) -> npt.NDArray[np.intp]:
    """Return a ring of places, each behind the one before it, found by going from one to one behind it."""
    way = [int(np.flatnonzero(left)[0])]
    while True:
        further = int(np.flatnonzero(behind[:, way[-1]] & left)[0])
        if further in way:
            return np.array(way[way.index(further) :])
        way.append(further)
