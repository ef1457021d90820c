"""Windows and doors in elevation: frame, lights, leaves, sill and mark."""

from __future__ import annotations

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import MARK_HEIGHT, Paper, mark_capsule, mark_width
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    INK,
    WHITE,
    along,
    circle,
    group,
    lettering,
    path,
    rect,
    through,
)
from takeoff.model.geometry import Face
from takeoff.model.house import Opening

GLASS = "#dfe7ec"
LEAF = "#c9cacb"
# Sizes that only the drawing uses [m]: drawing conventions, measured nowhere.
FRAME = 0.05
STILE = 0.06
SILL_HEIGHT = 0.035
SILL_REACH = 0.04


def _box(
    paper: Paper, left: float, bottom: float, right: float, top: float
) -> tuple[float, float, float, float]:
    """Return x, y, width and height on paper of a rectangle of the model."""
    x, y = paper.at(left, top)
    return x, y, paper.mm(right - left), paper.mm(top - bottom)


def _pane(paper: Paper, left: float, bottom: float, right: float, top: float, border: float) -> list[str]:
    """Return a glazed rectangle within a border of frame or stile."""
    border = min(border, (right - left) / 3, (top - bottom) / 3)
    return [
        rect(*_box(paper, left, bottom, right, top), fill=WHITE, stroke=INK, weight=DETAIL),
        rect(
            *_box(paper, left + border, bottom + border, right - border, top - border),
            fill=GLASS,
            stroke=INK,
            weight=DETAIL,
        ),
    ]


def _units(opening: Opening) -> list[tuple[float, float]]:
    """Return the ends of each coupled unit, from left to right [m]."""
    wide = opening.width / opening.number
    return [(opening.position + i * wide, opening.position + (i + 1) * wide) for i in range(opening.number)]


def _window(opening: Opening, paper: Paper) -> list[str]:
    """Return the lights of a window and its sill."""
    lights = [
        piece
        for left, right in _units(opening)
        for piece in _pane(paper, left, opening.sill, right, opening.head, FRAME)
    ]
    sill = rect(
        *_box(
            paper,
            opening.position - SILL_REACH,
            opening.sill - SILL_HEIGHT,
            opening.right + SILL_REACH,
            opening.sill,
        ),
        fill=WHITE,
        stroke=INK,
        weight=DETAIL,
    )
    return [*lights, sill]


def _sliding_door(opening: Opening, paper: Paper) -> list[str]:
    """Return two leaves for each unit, the right one in front, with the arrow of its way."""
    pieces: list[str] = []
    for left, right in _units(opening):
        middle, lap = (left + right) / 2, STILE / 2
        pieces += _pane(paper, left, opening.sill, middle + lap, opening.head, STILE)
        pieces += _pane(paper, middle - lap, opening.sill, right, opening.head, STILE)
        tip_x, y = paper.at(middle + (right - middle) * 0.3, opening.sill + opening.height * 0.3)
        tail_x = paper.at(middle + (right - middle) * 0.75, 0)[0]
        head = min(1.1, (tail_x - tip_x) / 3)
        pieces.append(
            path(
                along([(tail_x, y, tip_x, y)])
                + through([(tip_x + head, y - head / 2), (tip_x, y), (tip_x + head, y + head / 2)]),
                width=DETAIL,
            )
        )
    return pieces


def _door(opening: Opening, paper: Paper) -> list[str]:
    """Return frame, leaves and handles; a pair closes in the middle, others on the right."""
    pieces = [
        rect(
            *_box(paper, opening.position, opening.sill, opening.right, opening.head),
            fill=WHITE,
            stroke=INK,
            weight=DETAIL,
        )
    ]
    for index, (left, right) in enumerate(_units(opening)):
        border = min(FRAME, (right - left) / 4)
        pieces.append(
            rect(
                *_box(paper, left + border, opening.sill, right - border, opening.head - border),
                fill=LEAF,
                stroke=INK,
                weight=DETAIL,
            )
        )
        meets_on_left = opening.number == 2 and index == 1
        s = left + border + 0.08 if meets_on_left else right - border - 0.08
        pieces.append(circle(paper.at(s, opening.sill + opening.height * 0.48), 0.35, fill=INK))
    return pieces


def draw_opening(opening: Opening, paper: Paper, *, id: str) -> str:
    """Return an opening as seen from outside, in the outline of its structural opening."""
    drawn = {"window": _window, "sliding door": _sliding_door, "door": _door}[opening.kind](opening, paper)
    edge = rect(
        *_box(paper, opening.position, opening.sill, opening.right, opening.head),
        stroke=INK,
        weight=EDGE + 0.05,
        id=f"{id}-edge",
    )
    return group([*drawn, edge], id=id)


def _mark_height(opening: Opening, face: Face, paper: Paper) -> float:
    """Return the height of the middle of a mark: within the opening where it fits, else over or under it."""
    high = paper.metres(MARK_HEIGHT + 1.0)
    middle = (opening.sill + opening.head) / 2
    if opening.height >= high and opening.width >= paper.metres(mark_width(opening.mark) + 1.0):
        return middle
    half = paper.metres(MARK_HEIGHT / 2 + 0.6)
    if opening.head + high <= min(face.top_at(opening.position), face.top_at(opening.right)):
        return opening.head + half
    return opening.sill - SILL_HEIGHT - half if opening.sill >= high else middle


def draw_mark(opening: Opening, face: Face, paper: Paper) -> list[str]:
    """Return the mark of an opening, with an S beside it where it has a shutter."""
    x, y = paper.at((opening.position + opening.right) / 2, _mark_height(opening, face, paper))
    marks = [mark_capsule(opening.mark, (x, y))]
    if opening.shutter:
        size = 2.0
        beside = x + mark_width(opening.mark) / 2 + 0.5
        box = text_width("S", size, semibold=True) + 0.9
        marks.append(rect(beside, y - 1.2, box, 2.4, fill=WHITE, stroke=INK, weight=DETAIL))
        marks.append(
            lettering("S", (beside + box / 2, y), size=size, weight=600, anchor="middle", centred=True)
        )
    return marks
