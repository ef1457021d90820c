"""Lines above the cut in plan: support lines of the rafters, bulkheads, changes of ceiling height."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import NOTE_TYPE, Paper, metres
from takeoff.documents.drawings.places import Patch, about, between, nearest_place, on_paper
from takeoff.documents.drawings.plan_cut import joined
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    DETAIL,
    EDGE,
    GREY,
    WHITE,
    Segment,
    along,
    lettering,
    path,
)
from takeoff.measure.inside import Inside
from takeoff.measure.room_plan import Zone
from takeoff.model.geometry import what_is_left
from takeoff.model.house import House
from takeoff.model.room_edges import Box
from takeoff.model.wall_runs import party_gaps

# Between a wall and lettering clear of the marks [mm].
MARK_ROOM = 9.0
SUPPORT_DASH = "4 1.2 0.6 1.2"
# A light line within a wall that is cut, so fine that the wall does not look hollow [mm].
_ON_WALL = 0.1
_STEP_DASH = "0.9 0.6"
# From a line to the lettering beside it, and room about that [mm].
_BESIDE = 0.8
_CLEAR = 0.5
_ENDS = 1.5
_HIGH = (CAP_HEIGHT + 0.22) * NOTE_TYPE
_SAME = 1e-6


def support_words(y: float) -> str:
    """Return what is written at a support line."""
    return f"support line, {metres(y)} from low side"


def support_lines(house: House, inwards: float, paper: Paper, id_prefix: str) -> list[str]:
    """Return the inner lines that carry rafters, each with its distance from the low side."""
    elements = []
    for index, y in enumerate(house.support_lines):
        start, end = paper.at(inwards, y), paper.at(house.length - inwards, y)
        words = support_words(y)
        if text_width(words, NOTE_TYPE) + 2 * MARK_ROOM > end[0] - start[0]:
            words = metres(y)
        elements += [
            path(
                along([(*start, *end)]), width=EDGE, dash=SUPPORT_DASH, id=f"{id_prefix}-support-{index + 1}"
            ),
            lettering(words, (end[0] - MARK_ROOM, end[1] - 1.0), size=NOTE_TYPE, anchor="end", fill=GREY),
        ]
    return elements


@dataclass(frozen=True, slots=True)
class LineAbove:
    """A support line among rooms: its place [m], where it runs over rooms and over walls along x [m].

    `beside` are the places of what lettering may stand against: the line, or the faces of walls under it.
    """

    y: float
    over_rooms: tuple[tuple[float, float], ...]
    over_walls: tuple[tuple[float, float], ...]
    beside: tuple[float, ...]

    def patches(self, paper: Paper) -> list[Patch]:
        """Return the paper that it takes in rooms."""
        return [between(paper.at(a, self.y), paper.at(b, self.y), clear=0.1) for a, b in self.over_rooms]


def supports_above(house: House, inside: Inside, rooms: Sequence[Box], inwards: float) -> list[LineAbove]:
    """Return the support lines of a house with rooms, whose floors are given as rectangles."""
    lines = []
    for y in house.support_lines:
        free = joined((b.from_x, b.to_x) for b in rooms if b.from_y - _SAME < y < b.to_y + _SAME)
        packed = [(g.from_x, g.to_x) for g in party_gaps(inside.runs, house) if g.from_y < y < g.to_y]
        walls = what_is_left(inwards, house.length - inwards, [*free, *packed])
        marks = {run.mark for run in inside.runs if run.axis == "x" and abs(run.at - y) <= run.depth / 2}
        faces = {face.at for face in inside.plan.faces if face.along and face.wall in marks}
        lines.append(LineAbove(y, tuple(free), tuple(walls), tuple(sorted({y, *faces}))))
    return lines


def draw_support(line: LineAbove, paper: Paper, *, id: str) -> list[str]:
    """Return a support line, light where it runs over a wall that is cut."""

    def data(stretches: Iterable[tuple[float, float]]) -> str:
        return along([(*paper.at(a, line.y), *paper.at(b, line.y)) for a, b in stretches])

    drawn = [path(data(line.over_rooms), width=EDGE, dash=SUPPORT_DASH, id=id)] if line.over_rooms else []
    if line.over_walls:
        drawn.append(
            path(data(line.over_walls), stroke=WHITE, width=_ON_WALL, dash=SUPPORT_DASH, id=f"{id}-on-wall")
        )
    return drawn


def label_support(
    line: LineAbove, paper: Paper, area: Sequence[Patch], taken: Sequence[Patch]
) -> tuple[str, Patch] | None:
    """Return the lettering of a support line where it finds room beside it, towards the right-hand side."""
    levels = []
    for v in line.beside:
        middle = paper.at(0, v)[1]
        away = _BESIDE + _HIGH / 2 + _CLEAR
        levels += [middle - away, middle + away]
    right = max(patch.right for patch in area)
    for words in (support_words(line.y), f"support line, {metres(line.y)}", f"support {metres(line.y)}"):
        wide = text_width(words, NOTE_TYPE)
        ideal = (right - MARK_ROOM - wide / 2, paper.at(0, line.y)[1] - _HIGH)
        place = nearest_place(
            wide + 2 * _ENDS, _HIGH + 2 * _CLEAR, ideal=ideal, area=area, taken=taken, levels=levels
        )
        if place is not None:
            baseline = place[1] + _HIGH / 2 - 0.22 * NOTE_TYPE
            drawn = lettering(words, (place[0], baseline), size=NOTE_TYPE, anchor="middle", fill=GREY)
            return drawn, about(place, wide, _HIGH)
    return None


def ceiling_steps(inside: Inside, paper: Paper) -> list[Segment]:
    """Return the lines where a flat ceiling meets another height or a raked ceiling, on paper."""
    zones = inside.plan.zones
    segments = []
    for step in inside.plan.steps:
        one, other = (zones[number].flat_height for number in step.zones)
        if one == other:
            continue
        if step.axis == "x":
            segments.append((*paper.at(step.start, step.at), *paper.at(step.end, step.at)))
        else:
            segments.append((*paper.at(step.at, step.start), *paper.at(step.at, step.end)))
    return segments


def draw_steps(segments: Sequence[Segment], id_prefix: str) -> list[str]:
    """Return changes of ceiling height as fine dashed lines."""
    if not segments:
        return []
    return [path(along(segments), width=DETAIL, dash=_STEP_DASH, id=f"{id_prefix}-steps")]


def bulkhead_words(zone: Zone) -> str:
    """Return what is written in a bulkhead: its name and its underside."""
    bulkhead = zone.bulkhead
    return "" if bulkhead is None else f"{bulkhead.name}, underside {metres(bulkhead.underside)}"


def label_bulkhead(zone: Zone, paper: Paper, taken: Sequence[Patch]) -> tuple[str, Patch] | None:
    """Return the lettering of a bulkhead where it finds room within it, level or upright."""
    area = [on_paper(paper, box) for box in zone.boxes]
    if not area:
        return None
    words = bulkhead_words(zone)
    wide = text_width(words, NOTE_TYPE)
    ideal = max(area, key=lambda patch: patch.wide * patch.high).middle
    for upright in (False, True):
        size = (_HIGH, wide) if upright else (wide, _HIGH)
        place = nearest_place(size[0] + 2 * _CLEAR, size[1] + 2 * _CLEAR, ideal=ideal, area=area, taken=taken)
        if place is not None:
            drop = _HIGH / 2 - 0.22 * NOTE_TYPE
            at = (place[0] + drop, place[1]) if upright else (place[0], place[1] + drop)
            drawn = lettering(words, at, size=NOTE_TYPE, anchor="middle", fill=GREY, upright=upright)
            return drawn, about(place, *size)
    return None
