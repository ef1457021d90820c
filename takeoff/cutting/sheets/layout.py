"""Where every piece of sheet lies on its face: courses of the sheet's width, sheets end to end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from takeoff.cutting.sheets.pieces import HAIR, Place, Trapezoid, cut_to_face
from takeoff.cutting.sheets.sizes import SheetSize
from takeoff.cutting.sheets.starts import apart, usual_starts
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void

Direction = Literal["vertical", "horizontal"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidPiece:
    """A piece of sheet on a face: its shape, and the rectangle it is cut from [m].

    `surface` is the place of its face in the list of surfaces; `course` and `number`, along the course, count
    from 1. `left`, `right`, `bottom` and `top` bound the shape; `upright` tells that sheets run up the face.
    """

    surface: int
    course: int
    number: int
    upright: bool
    trapezoids: tuple[Trapezoid, ...]
    left: float
    bottom: float
    right: float
    top: float

    @property
    def mark(self) -> str:
        """Surface, course and number along the course, each counted from 1."""
        return f"{self.surface + 1}.{self.course}.{self.number}"

    @property
    def length(self) -> float:
        """Length along the sheet of the rectangle it is cut from [m]."""
        return self.top - self.bottom if self.upright else self.right - self.left

    @property
    def width(self) -> float:
        """Width across the sheet of the rectangle it is cut from [m]."""
        return self.right - self.left if self.upright else self.top - self.bottom

    @property
    def area(self) -> float:
        """Area of the piece itself [m2]."""
        return sum(trapezoid.area for trapezoid in self.trapezoids)


def lay_out(
    surfaces: Sequence[Surface],
    *,
    size: SheetSize,
    direction: Direction,
    stagger: float,
    joint: float = 0.0,
    starts: tuple[float, ...] | None = None,
) -> tuple[LaidPiece, ...]:
    """Return the pieces of sheets of one size laid on surfaces, face by face and course by course.

    Level courses ("horizontal") go from the foot up, columns ("vertical") from the left end. `stagger` is how
    far the end joints of neighbouring courses are apart at least, `joint` the open joint between sheets both ways,
    `starts` the lengths of the first sheets course by course, used again and again: by default a whole and a half
    sheet in turns, or whole ones where no stagger is asked for [m]. A course that one sheet can serve has no end
    joint. Raises ValueError where joints can't be that far apart.
    """
    chosen = usual_starts(size, stagger=stagger, joint=joint) if starts is None else starts
    return tuple(
        replace(piece, surface=place)
        for place, surface in enumerate(surfaces)
        for piece in lay_surface(
            surface.face, surface.voids, size, direction, stagger=stagger, joint=joint, starts=chosen
        )
    )


@lru_cache(maxsize=8192)
def lay_surface(
    face: Face,
    voids: tuple[Void, ...],
    size: SheetSize,
    direction: Direction,
    *,
    stagger: float,
    joint: float,
    starts: tuple[float, ...],
) -> tuple[LaidPiece, ...]:
    """Return the pieces on one face, as the first in the list of surfaces; arguments as for `lay_out`."""
    if any(not 0 < start <= size.length + HAIR for start in starts):
        raise ValueError(f"a course can't start with {starts} m of a sheet {size.length:g} m long")
    upright = direction == "vertical"
    pieces: list[LaidPiece] = []
    before: float | None = None
    for course, (origin, end, low, high) in enumerate(_courses(face, size, upright, joint)):
        start = None
        if end - origin > size.length + HAIR:
            # from the face's own end, also under a rake, so that joints keep their distance
            start, origin = starts[course % len(starts)], face.bottom if upright else 0.0
            if before is not None and apart(before, start, size.length + joint) < stagger - HAIR:
                raise ValueError(f"end joints of sheets {size.length:g} m long can't be {stagger:g} m apart")
        before = start
        number = 0
        for first, last in _along(origin, end, start or size.length, size.length, joint):
            place = Place(low, first, high, last) if upright else Place(first, low, last, high)
            for shape in _in_order(cut_to_face(face, voids, place), upright):
                number += 1
                pieces.append(_piece(course + 1, number, upright, shape))
    return tuple(pieces)


def longest_course(face: Face, direction: Direction) -> float:
    """Return the greatest length that a course on a face can have [m]."""
    return max(face.top_left, face.top_right) - face.bottom if direction == "vertical" else face.width


def count_of_courses(face: Face, size: SheetSize, direction: Direction, joint: float) -> int:
    """Return how many courses of sheets lie on a face."""
    return sum(1 for _ in _courses(face, size, direction == "vertical", joint))


def _courses(
    face: Face, size: SheetSize, upright: bool, joint: float
) -> Iterator[tuple[float, float, float, float]]:
    """Yield each course: where it begins and ends along its sheets, and from where to where it goes across."""
    low = 0.0 if upright else face.bottom
    limit = face.width if upright else max(face.top_left, face.top_right)
    while low < limit - HAIR and face.width > HAIR:
        high = low + size.width
        if upright:
            yield face.bottom, face.highest_between(low, min(high, face.width)), low, high
        else:
            yield *face.extent_at(low), low, high
        low = high + joint


def _along(
    origin: float, end: float, start: float, length: float, joint: float
) -> Iterator[tuple[float, float]]:
    """Yield where the sheets of one course begin and end."""
    here, there = origin, origin + start
    while here < end - HAIR:
        yield here, there
        here = there + joint
        there = here + length


def _in_order(shapes: list[tuple[Trapezoid, ...]], upright: bool) -> list[tuple[Trapezoid, ...]]:
    """Return the parts of one sheet's place in the order along its course."""
    if len(shapes) < 2:
        return shapes

    def corner(shape: tuple[Trapezoid, ...]) -> tuple[float, float]:
        left, bottom = min(part.left for part in shape), min(part.bottom for part in shape)
        return (bottom, left) if upright else (left, bottom)

    return sorted(shapes, key=corner)


def _piece(course: int, number: int, upright: bool, shape: tuple[Trapezoid, ...]) -> LaidPiece:
    """Return a piece with the rectangle that bounds its shape."""
    return LaidPiece(
        surface=0,
        course=course,
        number=number,
        upright=upright,
        trapezoids=shape,
        left=min(part.left for part in shape),
        bottom=min(part.bottom for part in shape),
        right=max(part.right for part in shape),
        top=max(max(part.top_left, part.top_right) for part in shape),
    )
