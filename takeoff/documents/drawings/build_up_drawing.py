"""Draws the layers of a build-up cut across, upright for walls and lying for roofs and floors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.build_up_hatches import blank, draw_cut, membrane, ribs
from takeoff.documents.drawings.build_up_stack import Piece, Stack
from takeoff.documents.drawings.svg import (
    CUT,
    DETAIL,
    EDGE,
    INK,
    OUTLINE,
    WHITE,
    Point,
    along,
    circle,
    path,
    through,
)

# A layer thinner than this on paper is drawn this thick, the void over a flat ceiling is drawn this high [mm].
LEAST_DRAWN = 0.5
VOID_DRAWN = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The paper a build-up is drawn on: its outer corner, its length along the layers [mm], its scale.

    An upright strip has its layers side by side, the outside at the left; a lying one has them one below the other.
    """

    corner: Point
    long: float
    scale: int
    upright: bool

    def at(self, u: float, v: float) -> Point:
        """Return the place on paper of u along the layers and v across them [mm]."""
        x, y = self.corner
        return (x + v, y + u) if self.upright else (x + u, y + v)

    def extent(self, piece: Piece) -> tuple[float, float]:
        """Return where a piece begins and ends across the strip [mm]; what hangs below a void is moved by it."""
        moved = VOID_DRAWN if piece.hung else 0.0
        start = piece.start * 1000 / self.scale + moved
        end = piece.end * 1000 / self.scale + moved
        return start, max(end, start + LEAST_DRAWN) if piece.end > piece.start else start

    def box(self, u1: float, u2: float, v1: float, v2: float) -> list[Point]:
        """Return the corners of a rectangle, one long edge first."""
        return [self.at(u1, v1), self.at(u2, v1), self.at(u2, v2), self.at(u1, v2)]


def draw_stack(stack: Stack, strip: Strip, sticks_at: dict[int, float], *, id_prefix: str) -> list[str]:
    """Return all pieces of a build-up; `sticks_at` is the middle of the stick of each row along the strip [mm]."""
    order = {
        "solid": 0,
        "profile": 0,
        "air": 0,
        "infill": 1,
        "sticks": 2,
        "bearers": 2,
        "mesh": 3,
        "face": 4,
        "membrane": 5,
    }
    elements: list[str] = []
    zones = [piece for piece in stack.pieces if piece.shape == "sticks"]
    elements += [blank(strip.box(0.0, strip.long, *strip.extent(piece)), weight=EDGE) for piece in zones]
    for piece in sorted(stack.pieces, key=lambda each: order[each.shape]):
        name = f"{id_prefix}-layer-{piece.number}" if piece.number else None
        elements += _draw(piece, strip, sticks_at, id=name, among=stack.pieces)
    if stack.void_at is not None:
        elements += _void(strip, stack.void_at)
    return elements


def _draw(
    piece: Piece, strip: Strip, sticks_at: dict[int, float], *, id: str | None, among: Sequence[Piece]
) -> list[str]:
    """Return one piece."""
    start, end = strip.extent(piece)
    long = strip.long
    if piece.shape == "solid":
        return draw_cut(strip.box(0.0, long, start, end), piece.cut, weight=OUTLINE, id=id)
    if piece.shape == "infill":
        return draw_cut(strip.box(0.0, long, start, end), piece.cut, weight=EDGE, id=id)
    if piece.shape == "air":
        return [blank(strip.box(0.0, long, start, end), weight=DETAIL, id=id)]
    if piece.shape == "profile":
        return _profile(piece, strip, start, end, id=id)
    if piece.shape == "membrane":
        return [membrane(strip.at(0.0, start), strip.at(long, start), id=id)]
    if piece.shape == "mesh":
        a, b = strip.at(0.0, start), strip.at(long, start)
        return [path(along([(*a, *b)]), width=OUTLINE, dash="3 0.7 0.5 0.7", id=id)]
    if piece.shape == "face":
        a, b = strip.at(0.0, start), strip.at(long, start)
        return [path(along([(*a, *b)]), width=CUT, id=id)]
    number = piece.number or next((p.number for p in among if p.layer is piece.layer and p.number), 0)
    half = piece.wide * 1000 / strip.scale / 2
    middle = min(max(sticks_at.get(number, long / 2), half), long - half)
    return draw_cut(strip.box(middle - half, middle + half, start, end), "timber", weight=OUTLINE, id=id)


def _profile(piece: Piece, strip: Strip, start: float, end: float, *, id: str | None) -> list[str]:
    """Return a profiled sheet: its room, and the sheet itself as a bold line with its ribs."""
    pitch = (piece.material.cover or 0.2) / 4 * 1000 / strip.scale
    frame = path(through(strip.box(0.0, strip.long, start, end), closed=True), width=0.05, fill=WHITE, id=id)
    # the pans lie on the battens, the ribs stand outwards
    a, b = strip.at(0.0, end - 0.25), strip.at(strip.long, end - 0.25)
    if strip.upright:
        a, b = b, a
    return [frame, ribs(a, b, pitch=pitch, height=end - start - 0.5, weight=CUT)]


def _void(strip: Strip, at: float) -> list[str]:
    """Return the break of the void over a flat ceiling: both its sides broken off."""
    v1 = at * 1000 / strip.scale
    v2 = v1 + VOID_DRAWN
    lines = []
    for u in (0.0, strip.long):
        middle = (v1 + v2) / 2
        points = [
            (u, v1),
            (u, middle - 1.2),
            (u - 1.2, middle - 0.4),
            (u + 1.2, middle + 0.4),
            (u, middle + 1.2),
            (u, v2),
        ]
        lines.append(path(through([strip.at(*point) for point in points]), width=DETAIL))
    return lines


def dot(at: Point) -> str:
    """Return the dot that a leader begins with."""
    return circle(at, 0.4, fill=INK, stroke=WHITE, width=0.15)
