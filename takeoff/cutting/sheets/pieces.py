"""Cutting a sheet's place on a face to the face: the rake takes its corner, openings notch or split it."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.model.geometry import Face, Void

# what is thinner is no piece but what floating point leaves [m]
HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class Trapezoid:
    """A part of a face between two upright lines, with level foot and straight top [m]."""

    left: float
    right: float
    bottom: float
    top_left: float
    top_right: float

    @property
    def area(self) -> float:
        """Area [m2]."""
        return (self.right - self.left) * ((self.top_left + self.top_right) / 2 - self.bottom)


@dataclass(frozen=True, slots=True)
class Place:
    """The rectangle of a face that a whole sheet would cover [m]."""

    left: float
    bottom: float
    right: float
    top: float


def cut_to_face(face: Face, voids: Iterable[Void], place: Place) -> list[tuple[Trapezoid, ...]]:
    """Return the connected parts of a sheet's place that lie on the face and in no void, as trapezoids [m].

    Parts that meet in a corner only are two. What is thinner than a thousandth of a mm is left out.
    """
    left, right = max(place.left, 0.0), min(place.right, face.width)
    if right - left <= HAIR:
        return []
    here = [
        v
        for v in voids
        if v.left < right and v.right > left and v.bottom < place.top and v.top > place.bottom
    ]
    if not here and place.top <= min(face.top_at(left), face.top_at(right)) + 1e-9:
        return [(Trapezoid(left, right, place.bottom, place.top, place.top),)]
    lines = _upright_lines(face, here, Place(left, place.bottom, right, place.top))
    slabs = [_free_in_slab(face, here, place, a, b) for a, b in itertools.pairwise(lines)]
    return _connected(slabs)


def _upright_lines(face: Face, voids: Sequence[Void], place: Place) -> list[float]:
    """Return the ends of a place and the lines between which nothing begins, ends or crosses."""
    lines = {place.right}
    levels = {place.bottom, place.top}
    for void in voids:
        lines |= {void.left, void.right}
        levels |= {void.bottom, void.top}
    rise = face.top_right - face.top_left
    if rise:
        lines |= {face.width * (level - face.top_left) / rise for level in levels}
    kept = [place.left]
    for line in sorted(lines):
        if kept[-1] + HAIR < line < place.right - HAIR:
            kept.append(line)
    return [*kept, place.right]


def _free_in_slab(
    face: Face, voids: Sequence[Void], place: Place, left: float, right: float
) -> list[Trapezoid]:
    """Return what is free of voids between two neighbouring lines, from below."""
    tops = min(face.top_at(left), place.top), min(face.top_at(right), place.top)
    middle, head = (left + right) / 2, (tops[0] + tops[1]) / 2
    foot, free = place.bottom, []
    for void in sorted((v for v in voids if v.left < middle < v.right), key=lambda v: v.bottom):
        if void.bottom >= head:
            break
        if void.bottom > foot + HAIR:
            free.append(Trapezoid(left, right, foot, void.bottom, void.bottom))
        foot = max(foot, void.top)
    if head > foot + HAIR:
        free.append(Trapezoid(left, right, foot, max(tops[0], foot), max(tops[1], foot)))
    return free


def _connected(slabs: Sequence[Sequence[Trapezoid]]) -> list[tuple[Trapezoid, ...]]:
    """Return trapezoids of slabs from left to right, grouped where they share an edge."""
    group_of: dict[Trapezoid, list[Trapezoid]] = {}
    before: Sequence[Trapezoid] = ()
    for slab in slabs:
        for trapezoid in slab:
            group = group_of[trapezoid] = [trapezoid]
            for other in before:
                if _share_an_edge(other, trapezoid) and group_of[other] is not group:
                    group = _merge(group_of[other], group, group_of)
        before = slab
    groups = {id(group): group for group in group_of.values()}
    return [tuple(group) for group in groups.values()]


def _merge(
    one: list[Trapezoid], other: list[Trapezoid], group_of: dict[Trapezoid, list[Trapezoid]]
) -> list[Trapezoid]:
    """Put two groups together and return the one that is left."""
    one.extend(other)
    for trapezoid in other:
        group_of[trapezoid] = one
    return one


def _share_an_edge(left: Trapezoid, right: Trapezoid) -> bool:
    """Whether two trapezoids of neighbouring slabs meet in more than a point."""
    return min(left.top_right, right.top_left) - max(left.bottom, right.bottom) > HAIR
