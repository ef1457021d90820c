"""Where the marks of openings and doors go in a plan with rooms: clear of walls, leaves, lines and each other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from takeoff.documents.drawings.paper import MARK_HEIGHT, mark_width
from takeoff.documents.drawings.places import Patch, about, between, nearest_place
from takeoff.documents.drawings.plan_doors import DoorInWall, Hanging, hinge_points
from takeoff.documents.drawings.plan_openings import LEAF, Jambs, mark_place
from takeoff.documents.drawings.svg import Point
from takeoff.model.geometry import overhang_over

# Clear of a mark from what it stands beside, and how far it may stand from its opening [mm].
_CLEAR = 0.5
_REACH = 14.0
# A small move from where a mark belongs [mm].
_NUDGE = 3.0


def mark_patch(mark: str, at: Point) -> Patch:
    """Return the paper that a mark takes about its middle."""
    return about(at, mark_width(mark), MARK_HEIGHT)


def opening_mark(
    jambs: Jambs,
    area: Sequence[Patch],
    everywhere: Sequence[Patch],
    own: Sequence[Patch],
    taken: Sequence[Patch],
    marks: Sequence[Patch],
) -> Point:
    """Return the middle of the mark of an opening of an external wall.

    Its usual place comes first, then the nearest free one in `area`, the rooms behind it, then under the eaves,
    then the nearest one inside that is clear of other `marks`. `own` is the paper its swing takes.
    """
    mark = jambs.opening.mark
    wide, high = mark_width(mark) + 2 * _CLEAR, MARK_HEIGHT + 2 * _CLEAR
    usual = mark_place(jambs)
    patch = about(usual, wide, high)
    if patch.lies_in(everywhere) and not any(patch.overlaps(p) for p in (*taken, *marks)):
        return usual
    near = nearest_place(wide, high, ideal=usual, area=area, taken=[*taken, *marks, *own], reach=_REACH)
    if near is not None:
        return near
    under_eaves = _under_eaves(jambs)
    if under_eaves is not None:
        return under_eaves
    return nearest_place(wide, high, ideal=usual, area=everywhere, taken=marks) or usual


def _under_eaves(jambs: Jambs) -> Point | None:
    """Return the place of a mark outside, between cladding and roof edge, None where it does not fit."""
    o, paper = jambs.opening, jambs.paper
    along, across = mark_width(o.mark), MARK_HEIGHT
    if o.side in ("left", "right"):
        along, across = across, along
    room = paper.mm(overhang_over(jambs.house, o.side) + jambs.outside)
    if room < across + 1.0 or paper.mm(o.width) < along + 1.0:
        return None
    return jambs.at((o.position + o.right) / 2, jambs.outside - paper.metres(room / 2))


def door_mark(
    door: DoorInWall,
    way: Hanging,
    area: Sequence[Patch],
    own: Sequence[Patch],
    taken: Sequence[Patch],
    marks: Sequence[Patch],
    *,
    flipped: bool = False,
) -> Point:
    """Return the middle of the mark of a door between rooms, within `area`, its two rooms.

    It stands within the swing, else beyond the wall, else on the side of the leaf; the other way round where
    it is `flipped`. `own` is the paper that its leaves take. Where nothing is free, it keeps clear of other
    `marks` alone.
    """
    wide, high = mark_width(door.door.mark) + 2 * _CLEAR, MARK_HEIGHT + 2 * _CLEAR
    across = door.paper.metres((high if door.placed.run.axis == "x" else wide) / 2 + 0.4)
    middle = sum(door.ends) / 2
    within = door.at(middle, door.face(way.into) + way.into * across)
    beyond = door.at(middle, door.face(-way.into) - way.into * across)
    if door.door.kind == "door" and not flipped and _in_swing(door, way, about(within, wide, high)):
        patch = about(within, wide, high)
        if patch.lies_in(area) and not any(patch.overlaps(p) for p in (*taken, *marks)):
            return within
    one, other = (within, beyond) if flipped else (beyond, within)
    tries = ((one, _REACH), (other, _REACH)) if flipped else ((one, _NUDGE), (other, _NUDGE), (one, _REACH))
    every = [*taken, *marks, *own]
    for ideal, reach in (*tries, (other, None)):
        found = nearest_place(wide, high, ideal=ideal, area=area, taken=every, reach=reach)
        if found is not None:
            return found
    return nearest_place(wide, high, ideal=beyond, area=area, taken=marks) or beyond


def _in_swing(door: DoorInWall, way: Hanging, patch: Patch) -> bool:
    """Whether a mark stands within the swing of a single leaf, clear of arc and leaf."""
    if len(way.leaves) != 1:
        return False
    hinge, tip, closing = next(hinge_points(door, way))
    reach = math.dist(hinge, closing)
    corners = [(x, y) for x in (patch.left, patch.right) for y in (patch.top, patch.bottom)]
    leaf = between(hinge, tip, clear=door.paper.mm(LEAF))
    return all(math.dist(hinge, corner) < reach for corner in corners) and not patch.overlaps(leaf)
