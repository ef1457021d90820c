"""External walls cut in plan: cladding tinted, frame and linings poched, faces and jambs as cut lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from takeoff.documents.drawings.hatches import OFF_WHITE, facing_of
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.regions import without
from takeoff.documents.drawings.svg import CUT, EDGE, Segment, along, path, through
from takeoff.model.geometry import plan_point, side_length
from takeoff.model.house import SIDES, Design, House, Opening, Side
from takeoff.model.library import Library

POCHE = "#63666a"


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


def draw_walls(design: Design, library: Library, walls: Walls, paper: Paper, id_prefix: str) -> list[str]:
    """Return the cut walls: cladding tinted, frame and linings poched, faces and jambs as cut lines."""
    house = design.house
    claddings, solid = [], []
    faces: list[Segment] = []
    skins: list[Segment] = []
    for side in SIDES:
        length, skin = side_length(house, side), walls.cladding[side]
        before, after = walls.ends(side)
        spans = _spans(design.openings_in(side))
        inside = (walls.inwards, length - walls.inwards)

        def drawn(s1: float, d1: float, s2: float, d2: float, side: Side = side) -> Segment:
            return (
                *paper.at(*plan_point(house, side, s1, d1)),
                *paper.at(*plan_point(house, side, s2, d2)),
            )

        solid += [_strip(house, side, a, b, 0, walls.inwards, paper) for a, b in without((0, length), spans)]
        faces += [drawn(a, 0, b, 0) for a, b in without((0, length), spans)]
        faces += [drawn(a, walls.inwards, b, walls.inwards) for a, b in without(inside, spans)]
        faces += [drawn(s, 0, s, walls.inwards) for span in spans for s in span]
        if skin > 0:
            pieces = without((-before, length + after), spans)
            facing = facing_of(design.build_ups[design.palette.build_up_for(side)], library)
            claddings.append(
                path(
                    "".join(_strip(house, side, a, b, -skin, 0, paper) for a, b in pieces),
                    stroke=None,
                    fill=facing.tone if facing else OFF_WHITE,
                )
            )
            skins += [drawn(a, -skin, b, -skin) for a, b in pieces]
            skins += [drawn(s, -skin, s, 0) for span in spans for s in span]
    return [
        *claddings,
        path("".join(solid), stroke=None, fill=POCHE, id=f"{id_prefix}-poche"),
        path(along(skins), width=EDGE, cap="square", id=f"{id_prefix}-cladding"),
        path(along(faces), width=CUT, cap="square", id=f"{id_prefix}-faces"),
    ]
