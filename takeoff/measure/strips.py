"""Cuts a face into boards, sheets and battens of their own lengths, interrupted by openings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from takeoff.measure.quantity import Piece
from takeoff.model.geometry import Face, Void, what_is_left

_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Strip:
    """One piece of a board, sheet or batten: from `start` to `end` along its run, at `place` across it [m].

    Upright strips run up and are placed along the face, level ones the other way round. `joints` are the
    places along the piece where it crosses a support it may be joined on [m], None where none is known.
    """

    place: float
    start: float
    end: float
    joints: tuple[float, ...] | None = None

    @property
    def length(self) -> float:
        """Length of the piece [m]."""
        return self.end - self.start


def strip_count(extent: float, cover: float) -> int:
    """Return how many strips of a cover width close an extent [m].

    >>> strip_count(12.0, 3.33)
    4
    """
    return max(math.ceil(extent / cover - _TOLERANCE), 0)


def upright_strips(face: Face, voids: Sequence[Void], *, cover: float) -> list[Strip]:
    """Return upright boards or sheets, from the left end of the face on.

    Each is cut to the longest edge of its strip, so that a raking top is covered; the last is ripped to
    width but counted whole. An opening cuts a strip in two where it takes its whole width; a strip that
    it takes in part is notched and runs through.
    """
    strips: list[Strip] = []
    for number in range(strip_count(face.width, cover)):
        left, right = number * cover, min((number + 1) * cover, face.width)
        cuts = [
            (void.bottom, void.top)
            for void in voids
            if void.left <= left + _TOLERANCE and void.right >= right - _TOLERANCE
        ]
        top = face.highest_between(left, right)
        strips += [Strip(left, foot, head) for foot, head in what_is_left(face.bottom, top, cuts)]
    return strips


def level_strips(face: Face, voids: Sequence[Void], *, cover: float) -> list[Strip]:
    """Return level boards or sheets, from the foot of the face up.

    The counterpart of `upright_strips`: each course runs as far as its longer edge reaches under a
    raking top, and the top course is ripped but counted whole.
    """
    strips: list[Strip] = []
    highest = max(face.top_left, face.top_right)
    for number in range(strip_count(highest - face.bottom, cover)):
        foot = face.bottom + number * cover
        head = min(foot + cover, highest)
        left, right = face.extent_at(foot)
        cuts = [
            (void.left, void.right)
            for void in voids
            if void.bottom <= foot + _TOLERANCE and void.top >= head - _TOLERANCE
        ]
        strips += [Strip(foot, start, end) for start, end in what_is_left(left, right, cuts)]
    return strips


def upright_lines(face: Face, voids: Sequence[Void], *, places: Iterable[float]) -> list[Strip]:
    """Return upright battens at places along the face [m], cut out at the openings they would cross."""
    lines: list[Strip] = []
    for place in places:
        cuts = [(void.bottom, void.top) for void in voids if void.left < place < void.right]
        lines += [
            Strip(place, foot, head) for foot, head in what_is_left(face.bottom, face.top_at(place), cuts)
        ]
    return lines


def level_lines(face: Face, voids: Sequence[Void], *, places: Iterable[float]) -> list[Strip]:
    """Return level battens at heights above floor level [m], cut out at the openings they would cross."""
    lines: list[Strip] = []
    for place in places:
        left, right = face.extent_at(place)
        cuts = [(void.left, void.right) for void in voids if void.bottom < place < void.top]
        lines += [Strip(place, start, end) for start, end in what_is_left(left, right, cuts)]
    return lines


def over_supports(strips: Iterable[Strip], supports: Sequence[float]) -> list[Strip]:
    """Return strips that may be joined on the supports they cross, places along their run [m].

    Without supports nothing is known of where they may be joined.
    """
    if not supports:
        return list(strips)
    return [
        replace(
            strip,
            joints=tuple(
                round(place - strip.start, 6) for place in supports if strip.start < place < strip.end
            ),
        )
        for strip in strips
    ]


def pieces_of(strips: Iterable[Strip]) -> tuple[Piece, ...]:
    """Return the strips as pieces, equal ones (to the mm) together, longest first."""
    counts: dict[tuple[int, tuple[float, ...] | None], int] = {}
    for strip in strips:
        key = (math.ceil(strip.length * 1000 - 1e-6), strip.joints)
        counts[key] = counts.get(key, 0) + 1
    ordered = sorted(counts.items(), key=lambda item: (-item[0][0], item[0][1] or ()))
    return tuple(Piece(length / 1000, count, joints=joints) for (length, joints), count in ordered)
