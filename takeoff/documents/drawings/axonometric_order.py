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
    centre = tuple(sum(corner[axis] for corner in solid.corners) / 8 for axis in range(3))
    found = []
    faces: list[Quad] = [near, far]
    faces += [(near[i], near[(i + 1) % 4], far[(i + 1) % 4], far[i]) for i in range(4)]
    for face in faces:
        normal = _normal(face)
        middle = tuple(sum(corner[axis] for corner in face) / 4 for axis in range(3))
        outward = sum(n * (m - c) for n, m, c in zip(normal, middle, centre, strict=True))
        if outward < 0:
            normal = (-normal[0], -normal[1], -normal[2])
        if sum(n * v for n, v in zip(normal, TO_READER, strict=True)) > 1e-9:
            named = max(
                (("side", abs(normal[0])), ("front", abs(normal[1])), ("top", abs(normal[2]))),
                key=lambda each: each[1],
            )
            found.append((named[0], face))
    return found


def _normal(face: Quad) -> Place:
    """Return a direction square to a face."""
    a, b, _, d = face
    u = tuple(q - p for p, q in zip(a, b, strict=True))
    v = tuple(q - p for p, q in zip(a, d, strict=True))
    return (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])


def back_to_front(solids: Sequence[Solid], rise: float) -> list[int]:
    """Return the places of solids in the order to draw them; `rise` is the tangent of the pitch.

    Of two that overlap in the view, the one is behind that lies wholly behind a plane between them: square to x, y
    or z, or along the roof. Where three hide one another in turn, the farther of them comes first.
    """
    if not solids:
        return []
    corners = np.array([solid.corners for solid in solids])
    across = np.stack([corners @ _between(rise), *(corners[:, :, axis] for axis in range(3))], axis=-1)
    low, high = across.min(axis=1), across.max(axis=1)
    facing = np.array([np.dot(_between(rise), TO_READER), *TO_READER])
    touching = _overlap_in_view(corners, rise)
    # behind[i, j]: i has to be drawn before j
    behind = np.zeros((len(solids), len(solids)), dtype=bool)
    settled = np.zeros_like(behind)
    for axis, towards in enumerate(facing):
        below = high[:, None, axis] <= low[None, :, axis] + _TOUCHING
        first = below if towards > 0 else below.T
        if abs(towards) < 1e-9:
            continue
        behind |= first & ~settled & ~first.T
        settled |= first ^ first.T
    behind &= touching
    depth = corners.mean(axis=1) @ np.array(TO_READER)
    return _sorted(behind, depth)


def _between(rise: float) -> Array:
    """Return the direction square to the roof."""
    return np.array((0.0, -rise, 1.0))


def _overlap_in_view(corners: Array, rise: float) -> npt.NDArray[np.bool_]:
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


def _sorted(behind: npt.NDArray[np.bool_], depth: Array) -> list[int]:
    """Return all places so that each comes after those behind it, as far as that can be."""
    waiting = behind.sum(axis=0)
    before = [[int(other) for other in np.flatnonzero(row)] for row in behind]
    ready = [(float(depth[place]), int(place)) for place in np.flatnonzero(waiting == 0)]
    heapq.heapify(ready)
    order: list[int] = []
    left = set(range(len(depth)))
    while left:
        if ready:
            _, place = heapq.heappop(ready)
        else:
            place = min(left, key=lambda each: (float(depth[each]), each))
        if place not in left:
            continue
        left.remove(place)
        order.append(place)
        for other in before[place]:
            waiting[other] -= 1
            if waiting[other] == 0 and other in left:
                heapq.heappush(ready, (float(depth[other]), other))
    return order
