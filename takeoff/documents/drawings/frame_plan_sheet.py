"""What stands about a framing plan: its strings, the names of its sides, title, scale, north point and notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.dimensions import STRING_GAP, Edge, dimension_string, figures_reach
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    TITLE_TYPE,
    Paper,
    metres,
    north_point,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.places import Patch
from takeoff.documents.drawings.svg import CAP_HEIGHT, INK, group, lettering
from takeoff.model.geometry import COMPASS_POINTS, compass_of
from takeoff.model.house import House, Side

_PITCH = 6.0
_NAME_TYPE = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanFrame:
    """A framing plan on its sheet: what is drawn from `left` to `right` and `foot` to `head` [m].

    `below` and `beside` are the strings below it and at its left, from the inner one out [m]; `marks` and `over`
    are the paper kept for marks beside it, and over and under it [mm].
    """

    left: float
    right: float
    foot: float
    head: float
    below: Sequence[Sequence[float]]
    beside: Sequence[Sequence[float]]
    marks: float
    over: float = 0.0

    def _depths(self, strings: Sequence[Sequence[float]], edge: Edge, scale: int) -> list[float]:
        """Return how far each string stands from the drawing [mm]."""
        gap = STRING_GAP + (1.0 + self.over if edge == "bottom" else 0.0)
        depths: list[float] = []
        out = gap
        for stations in strings:
            depths.append(max(out, depths[-1] + _PITCH) if depths else gap)
            reach = figures_reach(stations, edge=edge, scale=scale)
            out = depths[-1] + reach + (3.3 if edge == "bottom" else 1.6)
        return depths

    def left_room(self, scale: int) -> float:
        """Return the paper needed at the left [mm]."""
        last = self._depths(self.beside, "left", scale)[-1]
        return MARGIN + self.marks + last + figures_reach(self.beside[-1], edge="left", scale=scale) + 0.4

    def paper(self, sheet: float) -> Paper:
        """Return the largest trade scale at which it fits the width of a sheet [mm], in its place there."""
        for scale in ALL_SCALES:
            needed = self.left_room(scale) + (self.right - self.left) * 1000 / scale + self.marks + MARGIN
            if needed <= sheet + 1e-9:
                break
        head = MARGIN + _NAME_TYPE + 2.4 + self.over
        return Paper(scale, self.left_room(scale) - self.left * 1000 / scale, head + self.head * 1000 / scale)

    def patch(self, paper: Paper) -> Patch:
        """Return the paper that is drawn on."""
        left, foot = paper.at(self.left, self.foot)
        right, head = paper.at(self.right, self.head)
        return Patch(left, head, right, foot)

    def draw_strings(self, paper: Paper, id_prefix: str) -> tuple[list[str], float]:
        """Return the strings, and the foot of the lowest figure [mm]."""
        drawn = self.patch(paper)
        elements = []
        low = drawn.bottom
        for number, (stations, depth) in enumerate(
            zip(self.below, self._depths(self.below, "bottom", paper.scale), strict=True), 1
        ):
            line = drawn.bottom + depth
            elements.append(
                dimension_string(
                    stations,
                    edge="bottom",
                    line_at=line,
                    paper=paper,
                    drawn_from=drawn.bottom + 1.0 + self.over if number == 1 else line - 1.8,
                    write=_metres,
                    id=f"{id_prefix}-string-below-{number}",
                )
            )
            low = line + figures_reach(stations, edge="bottom", scale=paper.scale)
        for number, (stations, depth) in enumerate(
            zip(self.beside, self._depths(self.beside, "left", paper.scale), strict=True), 1
        ):
            line = drawn.left - self.marks - depth
            elements.append(
                dimension_string(
                    stations,
                    edge="left",
                    line_at=line,
                    paper=paper,
                    drawn_from=line + (2.4 if number == 1 else 1.8),
                    write=_metres,
                    id=f"{id_prefix}-string-left-{number}",
                )
            )
        return elements, low


def _metres(length: float) -> str:
    """Return a length in m; equal bays that end in half a millimetre are all written alike."""
    return metres(length + 1e-7)


def draw_side_names(house: House, drawn: Patch, low: float, *, over: float = 0.0) -> tuple[list[str], float]:
    """Return the names of the high side over a plan and of the low side under its strings, and how low they reach."""
    x = drawn.middle[0]
    base = low + 2.0 + CAP_HEIGHT * _NAME_TYPE
    sides: tuple[tuple[Side, float], ...] = (("high", drawn.top - over - 1.8), ("low", base))
    names = [
        lettering(
            f"{side.capitalize()} side, {compass_of(house, side)}",
            (x, y),
            size=_NAME_TYPE,
            weight=600,
            anchor="middle",
        )
        for side, y in sides
    ]
    return names, base + 0.6


def draw_title(
    house: House, heading: str, notes: Sequence[str], *, top: float, sheet: float, scale: int, id_prefix: str
) -> tuple[list[str], float]:
    """Return heading, scale bar, north point and notes under a plan, and the height of the whole [mm]."""
    radius = 3.6
    base = top + 3.0 + 2 * radius
    north = -45.0 * COMPASS_POINTS.index(house.high_side_faces)
    point = (sheet - MARGIN - radius - 3.4, base - radius)
    bar, _ = scale_bar(point[0] - radius - 7.0, base, scale=scale, room_mm=sheet * 0.3, id_prefix=id_prefix)
    first = base + 2.1 * LEADING
    elements = [
        lettering(heading, (MARGIN, base), size=TITLE_TYPE, weight=600),
        bar,
        group([north_point(point, north, radius=radius)], id=f"{id_prefix}-north"),
        *note_lines(list(notes), (MARGIN, first), fill=INK),
    ]
    return elements, first + (len(notes) - 1) * LEADING + 1.2
