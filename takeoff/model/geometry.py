"""Plane geometry of the single-pitch house: faces, roof, areas and volumes.

x runs along the eaves, y up the slope, z up from the finished structural floor level. The outline is
the outside face of the structural frame. Elevations are seen from outside, s running from left to right.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.model.house import SIDES, House, Side

COMPASS_POINTS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
_QUARTER_TURNS: dict[Side, int] = {"high": 0, "right": 2, "low": 4, "left": 6}


@dataclass(frozen=True, slots=True)
class Void:
    """A rectangular void in a face: its left edge and foot, width and height [m]."""

    left: float
    bottom: float
    width: float
    height: float
    mark: str = ""

    @property
    def right(self) -> float:
        """Right edge [m]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Head [m]."""
        return self.bottom + self.height

    @property
    def area(self) -> float:
        """Area [m2]."""
        return self.width * self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A rectangle of the plan that no timber crosses: the gap between the leaves of a party wall [m]."""

    from_x: float
    to_x: float
    from_y: float
    to_y: float


@dataclass(frozen=True, slots=True)
class Face:
    """An upright face with a level foot and a straight, level or raking top.

    `bottom`, `top_left` and `top_right` are heights above floor level, `width` its length [m].
    """

    width: float
    bottom: float
    top_left: float
    top_right: float

    @property
    def mean_height(self) -> float:
        """Mean height [m]."""
        return (self.top_left + self.top_right) / 2 - self.bottom

    @property
    def area(self) -> float:
        """Area [m2]."""
        return self.width * self.mean_height

    @property
    def rake(self) -> float:
        """Length of the top edge [m]."""
        return math.hypot(self.width, self.top_right - self.top_left)

    def top_at(self, s: float) -> float:
        """Return the height of the top at s [m] from the left end."""
        if self.width == 0:
            return self.top_left
        return self.top_left + (self.top_right - self.top_left) * s / self.width

    def highest_between(self, left: float, right: float) -> float:
        """Return the greatest height of the top between two places [m]."""
        return max(self.top_at(left), self.top_at(right))

    def extent_at(self, z: float) -> tuple[float, float]:
        """Return the left and right ends of the face at height z [m]; equal where it is empty."""
        low, high = min(self.top_left, self.top_right), max(self.top_left, self.top_right)
        if z < self.bottom or z >= high:
            return (0.0, 0.0)
        if z <= low:
            return (0.0, self.width)
        crossing = self.width * (z - self.top_left) / (self.top_right - self.top_left)
        return (crossing, self.width) if self.top_right > self.top_left else (0.0, crossing)

    def holds(self, void: Void, tolerance: float = 1e-9) -> bool:
        """Whether a void lies within the face, touching no edge."""
        return (
            void.left > tolerance
            and void.right < self.width - tolerance
            and void.bottom > self.bottom + tolerance
            and void.top < min(self.top_at(void.left), self.top_at(void.right)) - tolerance
        )

    def clip(self, void: Void) -> Void | None:
        """Return the part of a void within the face's width, foot and highest top, or None."""
        left, right = max(void.left, 0.0), min(void.right, self.width)
        bottom = max(void.bottom, self.bottom)
        top = min(void.top, max(self.top_left, self.top_right))
        if right - left <= 1e-9 or top - bottom <= 1e-9:
            return None
        return Void(left, bottom, right - left, top - bottom, void.mark)

    def part(self, left: float, right: float) -> Face:
        """Return the part of the face between two places along it [m]."""
        return Face(right - left, self.bottom, self.top_at(left), self.top_at(right))

    def band(self, bottom: float | None, top: float | None) -> list[tuple[float, Face]]:
        """Return the part of the face between two heights [m] as faces, each with its place along this one.

        Where a bound crosses a raking top the part is cut there, so that each piece has a straight top.
        """
        foot = self.bottom if bottom is None else max(bottom, self.bottom)
        head = math.inf if top is None else top
        pieces = []
        for left, right in itertools.pairwise(self._crossings(foot, head)):
            middle = self.top_at((left + right) / 2)
            if middle <= foot or head <= foot:
                continue
            tops = (min(self.top_at(left), head), min(self.top_at(right), head))
            pieces.append((left, Face(right - left, foot, max(tops[0], foot), max(tops[1], foot))))
        return pieces

    def _crossings(self, *heights: float) -> list[float]:
        """Return the ends of the face and the places where its top crosses heights, in order."""
        rise = self.top_right - self.top_left
        places = {0.0, self.width}
        for height in heights:
            if rise and math.isfinite(height):
                place = self.width * (height - self.top_left) / rise
                if 1e-9 < place < self.width - 1e-9:
                    places.add(place)
        return sorted(places)

    def between(self, bottom: float, top: float) -> Face:
        """Return the part of the face between two heights, the upper one below its lowest top."""
        return Face(self.width, max(bottom, self.bottom), min(top, self.top_left), min(top, self.top_right))


def rise_per_metre(house: House) -> float:
    """Return the tangent of the pitch."""
    return math.tan(math.radians(house.pitch))


def slope_factor(house: House) -> float:
    """Return the length on the slope for one metre measured level (secant of the pitch)."""
    return 1 / math.cos(math.radians(house.pitch))


def height_at(house: House, y: float) -> float:
    """Return the height of the roof's underside at y [m] from the outside face of the low wall."""
    return house.low_height + y * rise_per_metre(house)


def side_length(house: House, side: Side) -> float:
    """Return the length of one side, to the outside face of the frame [m]."""
    return house.length if side in ("low", "high") else house.span


def _y_at_ends(house: House, side: Side, inset: float = 0.0) -> tuple[float, float]:
    """Return y at the left and right end of a side seen from outside, `inset` from each corner."""
    near, far = inset, house.span - inset
    return {"low": (near, near), "high": (far, far), "left": (far, near), "right": (near, far)}[side]


def wall_face(house: House, side: Side, *, bottom: float = 0.0) -> Face:
    """Return the outside face of one wall frame, from `bottom` to the underside of the roof."""
    left, right = _y_at_ends(house, side)
    return Face(side_length(house, side), bottom, height_at(house, left), height_at(house, right))


def inside_face(house: House, side: Side, *, wall_inset: float, ceiling_drop: float) -> Face:
    """Return the inside face of one external wall, floor to raked ceiling.

    `wall_inset` is the distance of that face from the outside face of the frame, `ceiling_drop` the
    level distance between the underside of the rafters and that of the ceiling, measured upright [m].
    """
    left, right = _y_at_ends(house, side, wall_inset)
    return Face(
        side_length(house, side) - 2 * wall_inset,
        0.0,
        height_at(house, left) - ceiling_drop,
        height_at(house, right) - ceiling_drop,
    )


def gross_wall_area(house: House) -> float:
    """Return the area of the four outside faces of the frame, floor to roof, openings included [m2]."""
    return sum(wall_face(house, side).area for side in SIDES)


def roof_width(house: House) -> float:
    """Return the length of the roof along the eaves, verges included [m]."""
    return house.length + house.overhang_left + house.overhang_right


def slope_length(house: House) -> float:
    """Return the length of the roof on the slope, overhangs included [m]."""
    return (house.span + house.overhang_low + house.overhang_high) * slope_factor(house)


def roof_area(house: House) -> float:
    """Return the area of the roof on the slope [m2]."""
    return slope_length(house) * roof_width(house)


def roof_plan_area(house: House) -> float:
    """Return the area of the roof measured level [m2]."""
    return (house.span + house.overhang_low + house.overhang_high) * roof_width(house)


def outside_area(house: House) -> float:
    """Return the floor area to the outside face of the frame [m2]."""
    return house.length * house.span


def inside_area(house: House, wall_inset: float) -> float:
    """Return the floor area to the inside face of the external walls [m2]."""
    return (house.length - 2 * wall_inset) * (house.span - 2 * wall_inset)


def enclosed_volume(house: House) -> float:
    """Return the volume under the roof to the outside face of the frame [m3]."""
    return outside_area(house) * (house.low_height + height_at(house, house.span)) / 2


def overhang_over(house: House, side: Side) -> float:
    """Return the level overhang of the roof beyond a wall [m]."""
    return {
        "low": house.overhang_low,
        "high": house.overhang_high,
        "left": house.overhang_left,
        "right": house.overhang_right,
    }[side]


def compass_of(house: House, side: Side) -> str:
    """Return the compass point that a side faces."""
    start = COMPASS_POINTS.index(house.high_side_faces)
    return COMPASS_POINTS[(start + _QUARTER_TURNS[side]) % len(COMPASS_POINTS)]


def side_from(house: House, text: str) -> Side | None:
    """Return the side that a name or compass point means, or None where the house has no such side."""
    wanted = text.strip()
    for side in SIDES:
        if wanted.lower() == side or wanted.upper() == compass_of(house, side):
            return side
    return None


def plan_point(house: House, side: Side, s: float, depth: float = 0.0) -> tuple[float, float]:
    """Return (x, y) of a place s along a side seen from outside, `depth` inside its outside face [m]."""
    return {
        "low": (s, depth),
        "high": (house.length - s, house.span - depth),
        "left": (depth, house.span - s),
        "right": (house.length - depth, s),
    }[side]


def what_is_left(start: float, end: float, cuts: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return what is left of a stretch when parts are cut out of it, in order [m].

    >>> what_is_left(0.0, 10.0, [(8.0, 12.0), (2.0, 3.0)])
    [(0.0, 2.0), (3.0, 8.0)]
    """
    here, left = start, []
    for cut_start, cut_end in sorted(cuts):
        if min(cut_start, end) > here + 1e-9:
            left.append((here, min(cut_start, end)))
        here = max(here, cut_end)
    if here < end - 1e-9:
        left.append((here, end))
    return left
