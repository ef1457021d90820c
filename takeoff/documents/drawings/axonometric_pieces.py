"""Sticks let into others, cut for the eye: what stands out of the stick they are let into."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.stick_solids import Place, Quad, Solid
from takeoff.model.geometry import what_is_left


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of a stick that is seen by itself: the place of the stick in the list, and the part as a solid."""

    stick: int
    solid: Solid


def pieces_of(solids: Sequence[Solid]) -> list[Piece]:
    """Return every stick, outriggers in the parts between the rafters that they are let into.

    No order of drawing is right for two solids of which each is partly before the other.
    """
    rafters = [solid for solid in solids if solid.member.place == "roof" and solid.member.run == "slope"]
    found: list[Piece] = []
    for stick, solid in enumerate(solids):
        if solid.member.use != "outrigger":
            found.append(Piece(stick, solid))
            continue
        left, right = _ends(solid, 0)
        let_into = [_ends(rafter, 0) for rafter in rafters if _meet(rafter, solid, 1)]
        parts = what_is_left(left, right, let_into) or [(left, right)]
        found += [Piece(stick, _between(solid, *part)) for part in parts]
    return found


def _ends(solid: Solid, axis: int) -> tuple[float, float]:
    """Return how far a solid reaches along an axis [m]."""
    along = [corner[axis] for corner in solid.corners]
    return min(along), max(along)


def _meet(one: Solid, other: Solid, axis: int) -> bool:
    """Return whether two solids stand side by side somewhere along an axis."""
    (low, high), (foot, head) = _ends(one, axis), _ends(other, axis)
    return low < head - 1e-9 and foot < high - 1e-9


def _between(solid: Solid, left: float, right: float) -> Solid:
    """Return the part of a solid along the eaves between two places [m]."""

    def kept(face: Quad) -> Quad:
        a, b, c, d = (_moved(corner, left, right) for corner in face)
        return a, b, c, d

    return Solid(solid.member, kept(solid.near), kept(solid.far))


def _moved(corner: Place, left: float, right: float) -> Place:
    """Return a corner of a stick along the eaves, moved to where its part ends."""
    x, y, z = corner
    return min(max(x, left), right), y, z
