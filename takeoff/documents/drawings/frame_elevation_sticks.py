"""Sticks and openings of a framing elevation on paper: lintels crossed, steel filled, openings with a light cross."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from takeoff.documents.drawings.frame_elevation_walls import FramedWall, Stick
from takeoff.documents.drawings.paper import MARK_HEIGHT, Paper, mark_capsule, mark_width
from takeoff.documents.drawings.places import Patch, about
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Segment,
    along,
    element,
    group,
    number,
    path,
    through,
)
from takeoff.model.geometry import Void

TINT = "#dcdcd8"
STEEL = "#7c7e82"
# What stands about an opening is told from the common studs by its tint.
_BREAK = 1.2
_TINTED = (
    "jamb stud",
    "stud under lintel",
    "corner stud",
    "junction stud",
    "lintel",
    "head trimmer",
    "sill trimmer",
)


def draw_sticks(
    sticks: Sequence[Stick], paper: Paper, *, steel: Collection[str], id_prefix: str
) -> list[str]:
    """Return the sticks, each a path with an id of its own, and the crosses of timber lintels."""
    drawn: dict[str, list[str]] = {}
    crosses: list[Segment] = []
    for stick in sticks:
        is_steel = stick.member.material in steel
        fill = STEEL if is_steel else TINT if stick.member.use in _TINTED else WHITE
        corners = [paper.at(*corner) for corner in stick.corners]
        name = f"{id_prefix}-{stick.marks[0]}"
        drawn.setdefault(fill, []).append(element("path", id=name, d=_closed(corners)))
        if stick.member.use == "lintel" and not is_steel:
            low_left, low_right, top_right, top_left = corners
            crosses += [(*low_left, *top_right), (*top_left, *low_right)]
    groups = [
        group(paths, fill=fill, stroke=INK, stroke_width=DETAIL if fill == WHITE else EDGE * 0.8)
        for fill, paths in drawn.items()
    ]
    if crosses:
        groups.append(path(along(crosses), width=DETAIL))
    return groups


def _closed(corners: Sequence[tuple[float, float]]) -> str:
    """Return the outline of a stick, a rectangle the short way."""
    (x1, y1), (x2, y2), (_, y3), (_, y4) = corners
    if abs(y1 - y2) < 5e-4 and abs(y3 - y4) < 5e-4:
        return f"{along([(x1, y1, x2, y1)])}V{number(y3)}H{number(x1)}Z"
    return through(corners, closed=True)


def openings_drawn(wall: FramedWall) -> list[Void]:
    """Return the openings of the stretch of a wall that is drawn."""
    return [void for void in wall.openings if wall.start < (void.left + void.right) / 2 < wall.end]


def draw_openings(wall: FramedWall, paper: Paper) -> tuple[list[str], list[str], list[Patch]]:
    """Return the crosses of openings and the lines of gaps and cuts, mark capsules, and the paper these take."""
    crosses: list[Segment] = []
    capsules, taken = [], []
    for void in openings_drawn(wall):
        left, foot = paper.at(void.left, void.bottom)
        right, head = paper.at(void.right, void.top)
        crosses += [(left, foot, right, head), (left, head, right, foot)]
        middle = ((left + right) / 2, (foot + head) / 2)
        capsules.append(mark_capsule(void.mark, middle))
        taken.append(about(middle, mark_width(void.mark) + 0.4, MARK_HEIGHT + 0.4))
    drawn = [path(along(crosses), stroke=PALE, width=DETAIL)] if crosses else []
    fine: list[Segment] = []
    for cut in {wall.start, wall.end} - {0.0, wall.face.width}:
        (x, foot), top = paper.at(cut, wall.face.bottom), paper.at(cut, wall.face.top_at(cut))[1]
        fine.append((x, foot + _BREAK, x, top - _BREAK))
    for left, right in wall.gaps:
        if wall.start <= left and right <= wall.end:
            gap = (left + right) / 2
            fine.append((*paper.at(gap, wall.face.bottom), *paper.at(gap, wall.face.top_at(gap))))
    if fine:
        drawn.append(path(along(fine), stroke=GREY, width=DETAIL, dash="2.2 0.8 0.4 0.8"))
    return drawn, capsules, taken
