"""Parts of a wall face to be filled or ruled: between two heights, under the rake, clear of openings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.svg import Point
from takeoff.model.geometry import Face, Void, what_is_left


@dataclass(frozen=True, slots=True)
class Region:
    """The part of a face between two heights, with the openings in it [m]."""

    face: Face
    bottom: float
    top: float
    voids: tuple[Void, ...] = ()

    def outline(self) -> list[Point]:
        """Return the corners of the region, openings left aside, in metres."""
        face = self.face
        corners = [
            (0.0, face.bottom),
            (face.width, face.bottom),
            (face.width, face.top_right),
            (0.0, face.top_left),
        ]
        return _cut(_cut(corners, self.top, keep_below=True), self.bottom, keep_below=False)

    def holes(self) -> list[Void]:
        """Return the part of each opening that lies within the region's width and heights."""
        cut = []
        for void in self.voids:
            bottom, top = max(void.bottom, self.bottom), min(void.top, self.top)
            inside = (
                self.face.clip(Void(void.left, bottom, void.width, top - bottom)) if top > bottom else None
            )
            if inside is not None:
                cut.append(inside)
        return cut

    def level_runs(self, z: float) -> list[tuple[float, float]]:
        """Return the stretches of a level line at height z within the region."""
        if not self.bottom - 1e-9 <= z <= self.top + 1e-9:
            return []
        ends = self.face.extent_at(z)
        taken = [(v.left, v.right) for v in self.voids if v.bottom + 1e-9 < z < v.top - 1e-9]
        return what_is_left(*ends, taken)

    def upright_runs(self, s: float) -> list[tuple[float, float]]:
        """Return the stretches of an upright line at s within the region."""
        ends = (max(self.bottom, self.face.bottom), min(self.top, self.face.top_at(s)))
        taken = [(v.bottom, v.top) for v in self.voids if v.left + 1e-9 < s < v.right - 1e-9]
        return what_is_left(*ends, taken)

    @property
    def highest(self) -> float:
        """Height of the highest point of the region [m]."""
        return min(self.top, max(self.face.top_left, self.face.top_right))


def _cut(corners: Sequence[Point], z: float, *, keep_below: bool) -> list[Point]:
    """Return a convex polygon cut off at a height."""
    sign = 1 if keep_below else -1
    kept: list[Point] = []
    for (x1, z1), (x2, z2) in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        inside, next_inside = sign * (z - z1) >= 0, sign * (z - z2) >= 0
        if inside:
            kept.append((x1, z1))
        if inside != next_inside:
            share = (z - z1) / (z2 - z1)
            kept.append((x1 + share * (x2 - x1), z))
    return kept
