"""Windows and doors in section: frame, glass or leaf, sill, and the jamb seen beyond."""

from __future__ import annotations

from takeoff.documents.drawings.section_walls import CutWall, outside_depth
from takeoff.documents.drawings.svg import DETAIL, EDGE, INK, WHITE, along, path, rect
from takeoff.measure.cladding import cladding_regions

# Sizes that only the drawing uses [m]: drawing conventions, measured nowhere.
FRAME_HIGH, FRAME_DEEP = 0.06, 0.08
GLASS_DEEP = 0.024
LEAF = 0.045
_GLASS = "#dfe7ec"


def draw_opening(wall: CutWall) -> list[str]:
    """Return the opening that a wall is cut through, nothing where there is none."""
    opening, view = wall.opening, wall.view
    if opening is None:
        return []
    name = next(iter(cladding_regions(view.design, wall.side)))[0]
    outside = -outside_depth(wall, name)
    inside = abs((wall.room.start if wall.side == "low" else wall.room.end) - wall.y(0.0))
    paper, sill, head = view.paper, opening.sill, opening.head

    def box(d1: float, d2: float, z1: float, z2: float, fill: str, weight: float = EDGE) -> str:
        (x1, y1), (x2, y2) = paper.at(wall.y(d1), z1), paper.at(wall.y(d2), z2)
        return rect(
            min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1), fill=fill, stroke=INK, weight=weight
        )

    jambs = [(*paper.at(wall.y(d), sill), *paper.at(wall.y(d), head)) for d in (outside, inside)]
    ends = [(*paper.at(wall.y(outside), z), *paper.at(wall.y(inside), z)) for z in (sill, head)]
    near = 0.02
    elements = [
        box(outside, inside, sill, head, WHITE, DETAIL),
        path(along([*jambs]), width=DETAIL),
        path(along(ends), width=EDGE + 0.05),
    ]
    if opening.kind == "door":
        elements.append(box(near, near + LEAF, sill + 0.02, head - FRAME_HIGH, "#c9cacb"))
        elements.append(box(near, near + FRAME_DEEP, head - FRAME_HIGH, head, WHITE))
    else:
        middle = near + FRAME_DEEP / 2
        elements += [
            box(near, near + FRAME_DEEP, sill, sill + FRAME_HIGH, WHITE),
            box(near, near + FRAME_DEEP, head - FRAME_HIGH, head, WHITE),
            box(
                middle - GLASS_DEEP / 2,
                middle + GLASS_DEEP / 2,
                sill + FRAME_HIGH,
                head - FRAME_HIGH,
                _GLASS,
                DETAIL,
            ),
        ]
    if sill > 0:
        drip = [(*paper.at(wall.y(near), sill + 0.012), *paper.at(wall.y(outside - 0.04), sill - 0.015))]
        elements.append(path(along(drip), width=EDGE))
    return elements
