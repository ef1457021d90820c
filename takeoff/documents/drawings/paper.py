"""The sheet: the one transform from metres to paper, trade scales, scale bar, north point, marks, levels."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    WHITE,
    Picture,
    Point,
    circle,
    group,
    lettering,
    line,
    number,
    path,
    rect,
    through,
)

SCALES = (50, 75, 100, 150, 200)
# Only for a house too long for the paper at all of these.
SMALLER_SCALES = (250, 500, 1000, 2000)
ALL_SCALES = (*SCALES, *SMALLER_SCALES)

DIMENSION_TYPE = 2.3
NOTE_TYPE = 2.3
TITLE_TYPE = 3.0
LEADING = 3.1
# Between the edge of a picture and what is drawn in it [mm].
MARGIN = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing(Picture):
    """A picture drawn to scale: 1 mm of paper is `scale` mm of house."""

    scale: int


@dataclass(frozen=True, slots=True)
class Paper:
    """The transform from metres to paper: (x0, y0) is where the model's origin falls [mm]."""

    scale: int
    x0: float
    y0: float

    def at(self, x: float, y: float) -> Point:
        """Return the place on paper [mm] of a point of the model [m], y upwards there."""
        return (self.x0 + self.mm(x), self.y0 - self.mm(y))

    def mm(self, length: float) -> float:
        """Return a length of the model [m] on paper [mm]."""
        return length * 1000 / self.scale

    def metres(self, length_mm: float) -> float:
        """Return a length on paper [mm] in the model [m]."""
        return length_mm * self.scale / 1000


def scale_for(width: float, *, margins_mm: float, paper_width_mm: float) -> int:
    """Return the largest trade scale at which a width [m] and its margins [mm] fit the paper width [mm]."""
    for scale in ALL_SCALES:
        if width * 1000 / scale + margins_mm <= paper_width_mm + 1e-9:
            return scale
    return ALL_SCALES[-1]


def metres(value: float) -> str:
    """Return a length in m to two decimals, to three where its millimetres would be lost."""
    thousandths = round(value * 1000)
    text = f"{thousandths / 1000:.2f}" if thousandths % 10 == 0 else f"{thousandths / 1000:.3f}"
    return text.replace("-", "−")


def level_text(value: float) -> str:
    """Return a height in m to two decimals, with a true minus sign."""
    return f"{round(value, 2) + 0.0:.2f}".replace("-", "−")


def scale_bar(right: float, y: float, *, scale: int, room_mm: float, id_prefix: str) -> tuple[str, float]:
    """Return a scale bar with the scale in words before it, and the width both take [mm].

    The bar ends at `right`; y is the foot of the bar. It is the longest of 1, 2, 5, 10, 20 ... m within
    the room given.
    """
    whole = max((n for n in (1, 2, 5, 10, 20, 50, 100) if n * 1000 / scale <= min(room_mm, 52.0)), default=1)
    parts = {1: 2, 2: 4, 5: 5, 10: 5, 20: 4, 50: 5, 100: 5}[whole]
    length, height = whole * 1000 / scale, 1.1
    step = length / parts
    left = right - length
    unit = f"{whole} m"
    dark = [rect(left + i * step, y - height, step, height, fill=INK) for i in range(parts) if i % 2 == 0]
    words = f"1:{scale}"
    end_overhang = text_width(unit, 2.0) / 2
    shift = -end_overhang
    before = text_width(words, TITLE_TYPE) + 3.5
    elements = [
        *dark,
        rect(left, y - height, length, height, stroke=INK, weight=DETAIL, id=f"{id_prefix}-scale-bar"),
        lettering("0", (left, y - height - 0.8), size=2.0, anchor="middle"),
        lettering(unit, (right, y - height - 0.8), size=2.0, anchor="middle"),
        lettering(words, (left - before, y), size=TITLE_TYPE, id=f"{id_prefix}-scale"),
    ]
    return (
        group(elements, transform=f"translate({number(shift)} 0)"),
        length + before + end_overhang,
    )


def north_point(centre: Point, angle: float, *, radius: float = 4.2) -> str:
    """Return a north point: `angle` is that of north, clockwise from up the sheet [degrees]."""
    cx, cy = centre

    def turned(along_north: float, across: float) -> Point:
        a = math.radians(angle)
        return (
            cx + along_north * math.sin(a) + across * math.cos(a),
            cy - along_north * math.cos(a) + across * math.sin(a),
        )

    tip, tail = turned(radius, 0), turned(-radius * 0.55, 0)
    half = radius * 0.34
    left, right = turned(-radius * 0.75, -half), turned(-radius * 0.75, half)
    label = turned(radius + 2.1, 0)
    return group(
        [
            circle(centre, radius, stroke=INK, width=DETAIL),
            path(through([tip, left, tail], closed=True), width=DETAIL, fill=INK, join="round"),
            path(through([tip, right, tail], closed=True), width=DETAIL, fill=WHITE, join="round"),
            lettering("N", label, size=2.6, weight=600, anchor="middle", centred=True),
        ]
    )


def mark_width(mark: str) -> float:
    """Return the width of the capsule that holds a mark [mm]."""
    return max(text_width(mark, 2.1, semibold=True) + 2.0, 4.6)


MARK_HEIGHT = 3.2


def mark_capsule(mark: str, centre: Point) -> str:
    """Return the mark of an opening in a white capsule, so that it reads on any hatch."""
    width = mark_width(mark)
    x, y = centre
    return group(
        [
            rect(
                x - width / 2,
                y - MARK_HEIGHT / 2,
                width,
                MARK_HEIGHT,
                fill=WHITE,
                stroke=INK,
                weight=DETAIL,
                radius=MARK_HEIGHT / 2,
            ),
            lettering(mark, (x, y), size=2.1, weight=600, anchor="middle", centred=True),
        ]
    )


LEVEL_WIDTH = 9.0


def level_mark(at: Point, text: str, *, hanging: bool = False) -> str:
    """Return a level: a short line at its height, a triangle on it and the figure above (or below) it."""
    x, y = at
    tip, side = 1.3, 0.75
    up = 1 if hanging else -1
    return group(
        [
            line((x, y), (x + LEVEL_WIDTH - 0.6, y), width=DETAIL),
            path(
                through(
                    [(x + 1.1, y), (x + 1.1 - side, y + up * tip), (x + 1.1 + side, y + up * tip)],
                    closed=True,
                ),
                width=DETAIL,
                fill=WHITE if hanging else INK,
            ),
            lettering(text, (x + 2.5, y + (2.2 if hanging else -0.6)), size=2.2),
        ]
    )


def note_lines(lines: list[str], at: Point, *, size: float = NOTE_TYPE, fill: str = GREY) -> list[str]:
    """Return lines of text one below the other, the first on the baseline given."""
    x, y = at
    return [lettering(text, (x, y + i * LEADING), size=size, fill=fill) for i, text in enumerate(lines)]


def dashed_edge(points: list[Point], *, id: str | None = None, dash: str = "2.2 1") -> str:
    """Return a closed dashed outline for what lies above the cut."""
    return path(through(points, closed=True), width=EDGE, stroke=INK, dash=dash, id=id)
