"""Windows and doors in plan: what stands in the wall, leaf and swing, and where the mark goes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.documents.drawings.paper import MARK_HEIGHT, Paper, mark_capsule, mark_width
from takeoff.documents.drawings.places import Patch, between
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    WHITE,
    Point,
    Segment,
    along,
    group,
    number,
    path,
    through,
)
from takeoff.model.geometry import plan_point
from takeoff.model.house import House, Opening

# Sizes that only the drawing uses [m]: drawing conventions, measured nowhere.
GLASS = 0.04
LEAF = 0.045
OVERLAP = 0.08
# A swing is taken in so many strips where lettering keeps clear of it, and that clear [mm].
_STRIPS = 8
_SWING_CLEAR = 0.3


@dataclass(frozen=True, slots=True)
class Jambs:
    """An opening with the wall it stands in: `outside` and `inside` are the depths of its two faces [m]."""

    house: House
    opening: Opening
    outside: float
    inside: float
    paper: Paper

    def at(self, s: float, depth: float) -> Point:
        """Return a place on paper: s from the left end of the side, depth inside the frame [m]."""
        return self.paper.at(*plan_point(self.house, self.opening.side, s, depth))

    def line(self, s1: float, d1: float, s2: float, d2: float) -> Segment:
        """Return a line between two such places."""
        return (*self.at(s1, d1), *self.at(s2, d2))

    def box(self, s1: float, d1: float, s2: float, d2: float) -> str:
        """Return path data of a rectangle along the wall."""
        return through([self.at(s1, d1), self.at(s2, d1), self.at(s2, d2), self.at(s1, d2)], closed=True)

    @property
    def middle(self) -> float:
        """Depth of the middle of the wall [m]."""
        return (self.outside + self.inside) / 2

    def units(self) -> list[tuple[float, float]]:
        """Return the ends of each coupled unit, from left to right [m]."""
        o = self.opening
        wide = o.width / o.number
        return [(o.position + i * wide, o.position + (i + 1) * wide) for i in range(o.number)]


def _sill_lines(jambs: Jambs) -> str:
    """Return the edges of sill or threshold, at both faces of the wall."""
    o = jambs.opening
    both = [jambs.line(o.position, depth, o.right, depth) for depth in (jambs.outside, jambs.inside)]
    return path(along(both), width=DETAIL)


def _window(jambs: Jambs) -> list[str]:
    """Return a window: the double line of its glass, and a stop where units are coupled."""
    o, mid = jambs.opening, jambs.middle
    glass = [jambs.line(o.position, mid + d, o.right, mid + d) for d in (-GLASS / 2, GLASS / 2)]
    stops = [jambs.line(s, mid - 1.6 * GLASS, s, mid + 1.6 * GLASS) for unit in jambs.units() for s in unit]
    return [_sill_lines(jambs), path(along(glass + stops), width=EDGE)]


def _sliding_door(jambs: Jambs) -> list[str]:
    """Return a sliding door: for each unit two leaves that overlap, one behind the other."""
    boxes = []
    for left, right in jambs.units():
        mid = (left + right) / 2
        lap = min(OVERLAP, (right - left) / 4)
        boxes.append(jambs.box(left, jambs.middle - LEAF, mid + lap, jambs.middle))
        boxes.append(jambs.box(mid - lap, jambs.middle, right, jambs.middle + LEAF))
    return [_sill_lines(jambs), path("".join(boxes), width=EDGE, fill=WHITE)]


def leaves(opening: Opening) -> list[tuple[float, float]]:
    """Return hinge and closing edge of each leaf of a door [m].

    A pair is hinged at both jambs; any other leaf is hinged on the left seen from outside, for want of a
    hand in the workbook.
    """
    wide = opening.width / opening.number
    places = [opening.position + i * wide for i in range(opening.number)]
    hung = [(left, left + wide) for left in places]
    return [hung[0], (hung[1][1], hung[1][0])] if opening.number == 2 else hung


def swing(hinge: Point, tip: Point, closing: Point) -> str:
    """Return path data of the swing of a leaf: the arc about its hinge from its tip to the closing jamb."""
    # the turn of the arc follows from the three points
    turn = (tip[0] - hinge[0]) * (closing[1] - hinge[1]) - (tip[1] - hinge[1]) * (closing[0] - hinge[0])
    radius = number(math.dist(hinge, tip))
    arc = f"A{radius} {radius} 0 0 {1 if turn > 0 else 0} {number(closing[0])} {number(closing[1])}"
    return f"M{number(tip[0])} {number(tip[1])}{arc}"


def swing_patches(hinge: Point, tip: Point, closing: Point) -> list[Patch]:
    """Return the paper that a leaf and its swing take, in strips across the leaf."""
    reach = math.dist(hinge, tip)
    ux, uy = (tip[0] - hinge[0]) / reach, (tip[1] - hinge[1]) / reach
    vx, vy = (closing[0] - hinge[0]) / reach, (closing[1] - hinge[1]) / reach
    patches = []
    for index in range(_STRIPS):
        a, b = reach * index / _STRIPS, reach * (index + 1) / _STRIPS
        out = math.sqrt(reach**2 - a**2)
        one = (hinge[0] + ux * a, hinge[1] + uy * a)
        other = (hinge[0] + ux * b + vx * out, hinge[1] + uy * b + vy * out)
        patches.append(between(one, other, clear=_SWING_CLEAR))
    return patches


def _door(jambs: Jambs) -> list[str]:
    """Return a door that opens inwards: each leaf at a right angle to the wall, and its swing."""
    boxes, swings = [], []
    face = jambs.inside
    for hinge, edge in leaves(jambs.opening):
        reach = abs(edge - hinge)
        inwards = 1 if edge > hinge else -1
        boxes.append(jambs.box(hinge, face, hinge + inwards * LEAF, face + reach))
        swings.append(swing(jambs.at(hinge, face), jambs.at(hinge, face + reach), jambs.at(edge, face)))
    return [
        _sill_lines(jambs),
        path("".join(swings), width=DETAIL, stroke=GREY),
        path("".join(boxes), width=EDGE, fill=WHITE),
    ]


def door_patches(jambs: Jambs) -> list[Patch]:
    """Return the paper that the swings of an opening take; none but a hinged door has one."""
    if jambs.opening.kind != "door":
        return []
    face = jambs.inside
    return [
        patch
        for hinge, edge in leaves(jambs.opening)
        for patch in swing_patches(
            jambs.at(hinge, face), jambs.at(hinge, face + abs(edge - hinge)), jambs.at(edge, face)
        )
    ]


def _mark_depth(jambs: Jambs) -> float:
    """Return how far inside the frame the middle of the mark stands [m]."""
    o, paper = jambs.opening, jambs.paper
    sideways = o.side in ("left", "right")
    half_mm = (mark_width(o.mark) if sideways else MARK_HEIGHT) / 2
    clear = paper.metres(half_mm + 1.3)
    if o.kind != "door":
        return jambs.inside + clear
    reach = o.width / o.number
    # Within the swing where there is room for it, else beyond.
    room = paper.mm(reach) >= 2 * half_mm + (MARK_HEIGHT if sideways else mark_width(o.mark)) + 1.0
    return jambs.inside + (clear if room else reach + clear)


def mark_place(jambs: Jambs) -> Point:
    """Return where the mark of an opening belongs: inside, in the middle of its width."""
    return jambs.at((jambs.opening.position + jambs.opening.right) / 2, _mark_depth(jambs))


def draw_opening(jambs: Jambs, *, hidden: bool = False, mark_at: Point | None = None, id: str) -> str:
    """Return an opening with its mark; one that stands over another is `hidden` and drawn dashed.

    `mark_at` is the middle of the mark, where it can't stand in its usual place.
    """
    o = jambs.opening
    if hidden:
        return group([path(jambs.box(o.position, jambs.outside, o.right, jambs.inside), dash="1 0.7")], id=id)
    drawn = {"window": _window, "sliding door": _sliding_door, "door": _door}[o.kind](jambs)
    return group([*drawn, mark_capsule(o.mark, mark_at or mark_place(jambs))], id=id)
