"""Walls cut in plan: cladding tinted, frame and linings poched, faces and jambs as cut lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from takeoff.documents.drawings.hatches import OFF_WHITE, STRAW, facing_of
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.plan_cut import CutPlan
from takeoff.documents.drawings.svg import CUT, EDGE, Segment, along, path, through
from takeoff.model.geometry import plan_point, side_length, what_is_left
from takeoff.model.house import SIDES, Design, House, Opening, Side
from takeoff.model.library import Library
from takeoff.model.room_edges import merged_boxes

POCHE = "#63666a"
# Strokes for the packing between the leaves of a party wall: their weight and pitch on paper [mm].
_PACKING_LINE = 0.07
_PACKING_STEP = 0.9


@dataclass(frozen=True, slots=True)
class Walls:
    """The walls of a plan: thickness inwards from the frame's outside face, cladding outside it [m]."""

    house: House
    inwards: float
    cladding: Mapping[Side, float]

    def ends(self, side: Side) -> tuple[float, float]:
        """Return how far the cladding of the neighbours reaches past the left and right end of a side [m]."""
        left: dict[Side, Side] = {"low": "left", "right": "low", "high": "right", "left": "high"}
        right: dict[Side, Side] = {"low": "right", "right": "high", "high": "left", "left": "low"}
        return self.cladding[left[side]], self.cladding[right[side]]


def stands_over_another(opening: Opening, openings: Iterable[Opening]) -> bool:
    """Whether an opening stands above another of its wall, so that the plan cuts only the lower one."""
    return any(
        other.sill < opening.sill
        and other.position < opening.right - 1e-9
        and opening.position < other.right - 1e-9
        for other in openings
    )


def _spans(openings: tuple[Opening, ...]) -> list[tuple[float, float]]:
    """Return the two jambs of each opening that the plan cuts [m]."""
    return [(o.position, o.right) for o in openings if not stands_over_another(o, openings)]


def _strip(house: House, side: Side, s1: float, s2: float, d1: float, d2: float, paper: Paper) -> str:
    """Return path data of a strip of wall."""
    corners = [(s1, d1), (s2, d1), (s2, d2), (s1, d2)]
    return through([paper.at(*plan_point(house, side, s, d)) for s, d in corners], closed=True)


def _claddings(
    design: Design, library: Library, walls: Walls, paper: Paper, id_prefix: str
) -> tuple[list[str], str]:
    """Return the tints of the cladding on each side, and its lines."""
    house = design.house
    tints: list[str] = []
    skins: list[Segment] = []
    for side in SIDES:
        length, skin = side_length(house, side), walls.cladding[side]
        if skin <= 0:
            continue
        before, after = walls.ends(side)
        spans = _spans(design.openings_in(side))
        pieces = what_is_left(-before, length + after, spans)
        facing = facing_of(design.build_ups[design.palette.build_up_for(side)], library)
        tints.append(
            path(
                "".join(_strip(house, side, a, b, -skin, 0, paper) for a, b in pieces),
                stroke=None,
                fill=facing.tone if facing else OFF_WHITE,
            )
        )
        drawn = _drawn(house, side, paper)
        skins += [drawn(a, -skin, b, -skin) for a, b in pieces]
        skins += [drawn(s, -skin, s, 0) for span in spans for s in span]
    return tints, path(along(skins), width=EDGE, cap="square", id=f"{id_prefix}-cladding")


def _drawn(house: House, side: Side, paper: Paper) -> Callable[[float, float, float, float], Segment]:
    """Return what draws a line of one wall between two places along it and depths in it."""

    def drawn(s1: float, d1: float, s2: float, d2: float) -> Segment:
        return (*paper.at(*plan_point(house, side, s1, d1)), *paper.at(*plan_point(house, side, s2, d2)))

    return drawn


def draw_walls(design: Design, library: Library, walls: Walls, paper: Paper, id_prefix: str) -> list[str]:
    """Return the cut walls: cladding tinted, frame and linings poched, faces and jambs as cut lines."""
    house = design.house
    solid: list[str] = []
    faces: list[Segment] = []
    for side in SIDES:
        length = side_length(house, side)
        spans = _spans(design.openings_in(side))
        inside = (walls.inwards, length - walls.inwards)
        drawn = _drawn(house, side, paper)
        solid += [
            _strip(house, side, a, b, 0, walls.inwards, paper) for a, b in what_is_left(0.0, length, spans)
        ]
        faces += [drawn(a, 0, b, 0) for a, b in what_is_left(0.0, length, spans)]
        faces += [drawn(a, walls.inwards, b, walls.inwards) for a, b in what_is_left(*inside, spans)]
        faces += [drawn(s, 0, s, walls.inwards) for span in spans for s in span]
    tints, skins = _claddings(design, library, walls, paper, id_prefix)
    return [
        *tints,
        path("".join(solid), stroke=None, fill=POCHE, id=f"{id_prefix}-poche"),
        skins,
        path(along(faces), width=CUT, cap="square", id=f"{id_prefix}-faces"),
    ]


def draw_cut_walls(
    design: Design, library: Library, walls: Walls, cut: CutPlan, paper: Paper, id_prefix: str
) -> list[str]:
    """Return external and internal walls as one: cladding tinted, what is cut poched, its faces as cut lines.

    The packed gap between the leaves of a party wall is left light, with strokes across it for the packing.
    """

    def lines(segments: Iterable[Segment]) -> str:
        return along([(*paper.at(x1, y1), *paper.at(x2, y2)) for x1, y1, x2, y2 in segments])

    tints, skins = _claddings(design, library, walls, paper, id_prefix)
    solid = "".join(
        through([paper.at(*corner) for corner in ring], closed=True) for ring in cut.outlines("wall")
    )
    gaps = "".join(
        through([paper.at(*corner) for corner in ring], closed=True) for ring in cut.outlines("gap")
    )
    packing = [
        path(gaps, stroke=None, fill=STRAW, rule="evenodd", id=f"{id_prefix}-gap"),
        path(lines(_packing(cut, paper)), width=_PACKING_LINE, id=f"{id_prefix}-packing"),
    ]
    return [
        *tints,
        path(solid, stroke=None, fill=POCHE, rule="evenodd", id=f"{id_prefix}-poche"),
        *(packing if gaps else []),
        skins,
        path(
            lines(cut.lines("wall", ("outside", "opening", "room"))),
            width=CUT,
            cap="square",
            id=f"{id_prefix}-faces",
        ),
    ]


def _packing(cut: CutPlan, paper: Paper) -> list[Segment]:
    """Return the strokes across the gap between two leaves [m]."""
    step = paper.metres(_PACKING_STEP)
    strokes = []
    for box in merged_boxes(cut.boxes("gap")):
        wide, deep = box.to_x - box.from_x, box.to_y - box.from_y
        upright = deep > wide
        start, end, across = (box.from_y, box.to_y, wide) if upright else (box.from_x, box.to_x, deep)
        for index in range(int((end - start - across) / step) + 1):
            a = start + index * step
            strokes.append(
                (box.from_x, a, box.to_x, a + across) if upright else (a, box.from_y, a + across, box.to_y)
            )
    return strokes
