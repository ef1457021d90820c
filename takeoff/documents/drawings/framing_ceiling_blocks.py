"""One flat ceiling on plan, or one upright face of a bulkhead in elevation: sticks, marks, walls, dimensions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from takeoff.documents.drawings.dimensions import Edge, dimension_string, figures_reach
from takeoff.documents.drawings.frame_elevation_marks import room_above, set_marks
from takeoff.documents.drawings.frame_elevation_sticks import TINT, draw_sticks
from takeoff.documents.drawings.frame_elevation_walls import FramedWall
from takeoff.documents.drawings.frame_marks import MARK_CAP, MARK_TYPE, Lettered, mark_room
from takeoff.documents.drawings.frame_plan_sticks import mark_sticks, plan_stick, stick_paths
from takeoff.documents.drawings.framing_ceilings import FlatCeiling
from takeoff.documents.drawings.paper import Paper, metres
from takeoff.documents.drawings.places import Patch, between, on_paper
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    INK,
    PALE,
    WHITE,
    Segment,
    along,
    group,
    lettering,
    path,
    rect,
)
from takeoff.measure.room_plan import WallFace
from takeoff.model.house import SIDES

# A wall is a strip along its face, with its name outside it [mm].
_WALL, _BESIDE = 1.2, 0.5
# From a ceiling to what stands outside its walls: clear of their names [mm].
ABOUT = _WALL + _BESIDE + MARK_CAP + 1.0
# From there to a line of dimensions, and from an upright face to those of its heights [mm].
_TO_LINE, _TO_HEIGHT = 3.0, 3.4
# The figure of a height at the right stands within its line.
_FIGURE, _SPARE = 2.0, 0.2
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Drawn:
    """A block on paper: its elements, how low they reach [mm], and the marks left for the words."""

    elements: list[str]
    lowest: float
    untold: list[str]


def _beside(low: float, high: float, scale: int) -> float:
    """Return how far the figure of a height reaches to the left of its line [mm]."""
    return figures_reach([low, high], edge="left", scale=scale) + _SPARE


def ceiling_sides(ceiling: FlatCeiling, scale: int) -> tuple[float, float]:
    """Return the paper needed at the left and right of a ceiling [mm]."""
    extent = ceiling.extent
    return ABOUT + _TO_LINE + _beside(extent.from_y, extent.to_y, scale), ABOUT


def face_sides(wall: FramedWall, scale: int) -> tuple[float, float]:
    """Return the paper needed at the left and right of an upright face [mm]."""
    foot = wall.face.bottom
    beyond = figures_reach([foot, wall.face.top_at(wall.end)], edge="right", scale=scale) + _SPARE
    return _TO_HEIGHT + _beside(foot, wall.face.top_at(0.0), scale), _TO_HEIGHT + _FIGURE + beyond


def draw_ceiling(ceiling: FlatCeiling, paper: Paper, *, id_prefix: str) -> Drawn:
    """Return a flat ceiling on plan, the high side up the sheet."""
    sticks = [plan_stick(member, y=member.z) for member in ceiling.members]
    ledgers = [stick for stick in sticks if stick.member.use == "ledger"]
    joists = [stick for stick in sticks if stick.member.use != "ledger"]
    extent = ceiling.extent
    whole = on_paper(paper, extent)
    sheet = Lettered()
    for stick in sticks:
        sheet.take(stick.on(paper))
    # a ledger has only the bays between joists for its mark, a joist its whole length
    mark_sticks(sheet, ledgers, paper, whole)
    mark_sticks(sheet, joists, paper, whole)
    below = whole.bottom + ABOUT + _TO_LINE
    beside = whole.left - ABOUT - _TO_LINE
    across, up = [extent.from_x, extent.to_x], [extent.from_y, extent.to_y]
    elements = [
        *_walls(ceiling, paper),
        group(stick_paths(joists, paper, id_prefix=id_prefix), fill=WHITE, stroke=INK, stroke_width=DETAIL),
        group(stick_paths(ledgers, paper, id_prefix=id_prefix), fill=TINT, stroke=INK, stroke_width=DETAIL),
        *_open_edges(ceiling, paper),
        *sheet.elements(),
        dimension_string(
            across,
            edge="bottom",
            line_at=below,
            paper=paper,
            drawn_from=below - 1.6,
            id=f"{id_prefix}-across",
        ),
        dimension_string(
            up, edge="left", line_at=beside, paper=paper, drawn_from=beside + 1.6, id=f"{id_prefix}-up"
        ),
    ]
    lowest = below + figures_reach(across, edge="bottom", scale=paper.scale)
    return Drawn([group(elements, id=id_prefix)], lowest, sheet.untold)


def _walls(ceiling: FlatCeiling, paper: Paper) -> Iterator[str]:
    """Yield the walls about a ceiling, each a strip along its face with its name where there is room for it."""
    named: list[Patch] = []
    for wall in sorted(ceiling.walls, key=lambda face: -face.length):
        level, out = wall.axis == "x", _outwards(wall, ceiling)
        ends = (
            ((wall.start, wall.at), (wall.end, wall.at))
            if level
            else ((wall.at, wall.start), (wall.at, wall.end))
        )
        (x1, y1), (x2, y2) = (paper.at(*end) for end in ends)
        strip = between((x1, y1), (x2, y2 + out * _WALL) if level else (x2 + out * _WALL, y2))
        yield rect(strip.left, strip.top, strip.wide, strip.high, fill=PALE)
        words = f"{wall.wall} wall" if wall.wall in SIDES else wall.wall
        away = out * (_WALL / 2 + _BESIDE + MARK_CAP / 2)
        x, y = strip.middle
        at = (x, y + away) if level else (x + away, y)
        half = (mark_room(words) / 2 + 0.4, MARK_CAP)
        half_wide, half_high = half if level else half[::-1]
        patch = Patch(at[0] - half_wide, at[1] - half_high, at[0] + half_wide, at[1] + half_high)
        # a strip much shorter than its name is a step between linings, or the end of a wall
        long = strip.wide if level else strip.high
        if 2 * long > mark_room(words) and not any(patch.overlaps(other) for other in named):
            named.append(patch)
            yield lettering(
                words, at, size=MARK_TYPE, anchor="middle", fill=GREY, upright=not level, centred=True
            )


def _outwards(wall: WallFace, ceiling: FlatCeiling) -> float:
    """Return the sign of the way out of a ceiling across the face of a wall, on paper (y downwards)."""
    before = any(
        abs((box.to_y if wall.axis == "x" else box.to_x) - wall.at) < _SAME
        and (box.from_x if wall.axis == "x" else box.from_y) < wall.end - _SAME
        and (box.to_x if wall.axis == "x" else box.to_y) > wall.start + _SAME
        for box in ceiling.boxes
    )
    if wall.axis == "x":
        return -1.0 if before else 1.0
    return 1.0 if before else -1.0


def _open_edges(ceiling: FlatCeiling, paper: Paper) -> list[str]:
    """Return the lines on which a ceiling meets another, dashed."""
    lines: list[Segment] = []
    for step in ceiling.open_edges:
        ends = (
            ((step.start, step.at), (step.end, step.at))
            if step.axis == "x"
            else ((step.at, step.start), (step.at, step.end))
        )
        lines.append((*paper.at(*ends[0]), *paper.at(*ends[1])))
    return [path(along(lines), width=EDGE, dash="1.8 0.8")] if lines else []


def _railed(wall: FramedWall) -> FramedWall:
    """Return an upright face whose rails are marked as plates are: under the foot and over the head."""
    foot, head, *studs = wall.members
    rails = (replace(foot, use="bottom plate"), replace(head, use="top plate"))
    return replace(wall, members=(*rails, *studs))


def room_over(wall: FramedWall) -> float:
    """Return the paper needed over an upright face for its marks [mm]."""
    return room_above(wall, wall.sticks())


def draw_face(wall: FramedWall, paper: Paper, *, id_prefix: str) -> Drawn:
    """Return an upright face in elevation, the start of its line at the left."""
    sticks = wall.sticks()
    railed = _railed(wall)
    marks = set_marks(railed, railed.sticks(), paper, ())
    (left, foot), right = paper.at(0.0, wall.face.bottom), paper.at(wall.end, 0.0)[0]
    below = max(marks.lowest, foot) + 4.6
    ends = [0.0, wall.end]
    elements = [*draw_sticks(sticks, paper, steel=(), id_prefix=id_prefix), *marks.elements()]
    sides: tuple[tuple[Edge, float, float, float], ...] = (
        ("left", 0.0, left - _TO_HEIGHT, left - 1.2),
        ("right", wall.end, right + _TO_HEIGHT + _FIGURE, right + 1.2),
    )
    for edge, s, line_at, from_ in sides:
        elements.append(
            dimension_string(
                [wall.face.bottom, wall.face.top_at(s)],
                edge=edge,
                line_at=line_at,
                paper=paper,
                drawn_from=from_,
                write=metres,
                id=f"{id_prefix}-height-{edge}",
            )
        )
    elements.append(
        dimension_string(
            ends, edge="bottom", line_at=below, paper=paper, drawn_from=below - 1.6, id=f"{id_prefix}-along"
        )
    )
    lowest = below + figures_reach(ends, edge="bottom", scale=paper.scale)
    return Drawn([group(elements, id=id_prefix)], lowest, marks.untold)
