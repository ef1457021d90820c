"""Framing elevations: every wall frame stick by stick with its piece marks, one scale for the whole house."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.dimensions import (
    STRING_GAP,
    STRING_PITCH,
    dimension_string,
    figures_reach,
    stations_of,
)
from takeoff.documents.drawings.frame_elevation_marks import room_above, set_marks
from takeoff.documents.drawings.frame_elevation_sticks import draw_openings, draw_sticks, openings_drawn
from takeoff.documents.drawings.frame_elevation_walls import FramedWall, Stick, framed_walls, stretches
from takeoff.documents.drawings.frame_words import opening_entry, set_entries, stick_list
from takeoff.documents.drawings.letters import wrapped
from takeoff.documents.drawings.paper import (
    ALL_SCALES,
    LEADING,
    MARGIN,
    NOTE_TYPE,
    Drawing,
    Paper,
    level_text,
    metres,
    note_lines,
    scale_bar,
)
from takeoff.documents.drawings.svg import INK, group, lettering, picture

# Beside a wall: strings of its heights, whose figures stand to the left of their lines [mm].
_LEFT, _RIGHT = STRING_GAP + 3.1, STRING_GAP + 1.3
# Between walls side by side, and the least width for the words under one [mm].
_BETWEEN, _LEAST = 5.0, 50.0
# Walls are drawn in stretches rather than smaller than this: a stud of 45 mm is 0.6 mm wide.
_SMALLEST_SCALE = 75


@dataclass(frozen=True, slots=True)
class _Block:
    """A wall on the sheet: its sticks, its left edge and the width for its words [mm]."""

    wall: FramedWall
    sticks: Sequence[Stick]
    left: float
    wide: float


def _scale(walls: Sequence[FramedWall], room: float) -> int:
    """Return the largest trade scale at which every wall fits, or the smallest that marks can be read at."""
    longest = max(wall.width for wall in walls)
    fitting = (scale for scale in ALL_SCALES if longest * 1000 / scale <= room + 1e-9)
    return min(next(fitting, ALL_SCALES[-1]), _SMALLEST_SCALE)


def _rows(walls: Sequence[FramedWall], *, scale: int, sheet: float) -> list[list[_Block]]:
    """Return the walls in rows, each in the first row with room for it; outer walls keep to their own rows."""
    rows: list[list[_Block]] = []
    for wall in walls:
        wide = max(wall.width * 1000 / scale + _LEFT + _RIGHT, _LEAST)
        for row in rows:
            left = row[-1].left + row[-1].wide + _BETWEEN
            if row[0].wall.outer == wall.outer and left + wide <= sheet - MARGIN + 1e-6:
                break
        else:
            row, left = [], MARGIN
            rows.append(row)
        row.append(_Block(wall, wall.sticks(), left, wide))
    return rows


def frame_elevations(
    result: Result, *, paper_width_mm: float, id_prefix: str, name: str = "the house"
) -> list[Drawing]:
    """Return the framing elevations of every external and internal wall, all to one scale.

    Each stick is drawn to scale with its piece mark; `id_prefix` and a number begin the ids of each drawing,
    and a stick's id ends in its whole mark. Short walls stand side by side; a wall that does not fit at the
    smallest scale its marks can be read at is drawn in stretches. `name` is that of the house, for the title.
    """
    walls = framed_walls(result)
    room = paper_width_mm - 2 * MARGIN - _LEFT - _RIGHT
    scale = _scale(walls, room)
    parts = [part for wall in walls for part in stretches(wall, room * scale / 1000)]
    rows = _rows(parts, scale=scale, sheet=paper_width_mm)
    return [
        _sheet(result, row, scale=scale, sheet=paper_width_mm, id_prefix=f"{id_prefix}-{number}", name=name)
        for number, row in enumerate(rows, 1)
    ]


def _sheet(
    result: Result, row: Sequence[_Block], *, scale: int, sheet: float, id_prefix: str, name: str
) -> Drawing:
    """Return one drawing with a row of walls on one foot line."""
    above = max(block.wall.high * 1000 / scale + room_above(block.wall, block.sticks) for block in row)
    foot = MARGIN + above
    elements: list[str] = []
    drawn = []
    for block in row:
        wall = block.wall
        paper = Paper(
            scale, block.left + _LEFT - wall.start * 1000 / scale, foot + wall.face.bottom * 1000 / scale
        )
        found, lowest, untold = _wall(result, block, paper, id_prefix)
        elements += found
        drawn.append((block, lowest, untold))
    base = max(lowest for _, lowest, _ in drawn) + 4.6
    last = base
    for block, _, untold in drawn:
        elements.append(lettering(_heading(block.wall), (block.left, base), size=2.6, weight=600))
        lines = _notes(block.wall, untold, block.wide)
        elements += note_lines(lines, (block.left, base + LEADING + 0.4), fill=INK)
        last = max(last, base + LEADING * len(lines) + 0.4)
    foot_line = last + 6.0
    bar, taken = scale_bar(sheet - MARGIN, foot_line, scale=scale, room_mm=sheet * 0.25, id_prefix=id_prefix)
    legend = _legend(result, [block.wall for block in row])
    lines = wrapped(legend, NOTE_TYPE, sheet - 2 * MARGIN - taken - 4.0)
    elements += [bar, *note_lines(lines, (MARGIN, foot_line - 2.2))]
    height = max(foot_line, foot_line - 2.2 + LEADING * (len(lines) - 1)) + 1.2
    title = f"Framing of {_listed([_called(block.wall) for block in row])} of {name}"
    desc = f"Framing elevation at 1:{scale}. " + " ".join(_told(block.wall) for block in row)
    svg = picture(elements, width_mm=sheet, height_mm=height, title=title, desc=desc, id_prefix=id_prefix)
    return Drawing(svg=svg, title=title, width_mm=sheet, height_mm=height, scale=scale)


def _wall(result: Result, block: _Block, paper: Paper, id_prefix: str) -> tuple[list[str], float, list[str]]:
    """Return a wall with marks and dimensions, how low it reaches [mm], and the marks left for the words."""
    wall, sticks = block.wall, block.sticks
    prefix = f"{id_prefix}-{wall.mark}"
    openings, capsules, taken = draw_openings(wall, paper)
    marks = set_marks(wall, sticks, paper, taken)
    left, foot = paper.at(wall.start, wall.face.bottom)
    right = paper.at(wall.end, 0)[0]
    elements = [
        *openings,
        *draw_sticks(sticks, paper, steel=result.measured.steel, id_prefix=prefix),
        *capsules,
        *marks.elements(),
    ]
    elements += _heights(wall, left, right, paper, prefix)
    at = max(marks.lowest, foot) + 4.6
    last = at
    for number, stations in enumerate(_stations(wall)):
        if number:
            at = max(at + STRING_PITCH - 1.0, last + 3.3)
        elements.append(
            dimension_string(
                stations,
                edge="bottom",
                line_at=at,
                paper=paper,
                drawn_from=at - 1.6,
                id=f"{prefix}-string-{number + 1}",
            )
        )
        last = at + figures_reach(stations, edge="bottom", scale=paper.scale)
    return [group(elements, id=prefix)], last, marks.untold


def _heights(wall: FramedWall, left: float, right: float, paper: Paper, prefix: str) -> list[str]:
    """Return the height strings at both ends."""
    ends = (("left", wall.start, left, -1.0), ("right", wall.end, right, 1.0))
    return [
        dimension_string(
            [wall.face.bottom, wall.face.top_at(s)],
            edge="left",
            line_at=x + sign * (STRING_GAP if edge == "left" else STRING_GAP + 0.6),
            paper=paper,
            drawn_from=x + sign * 1.2,
            write=metres,
            id=f"{prefix}-height-{edge}",
        )
        for edge, s, x, sign in ends
    ]


def _stations(wall: FramedWall) -> list[list[float]]:
    """Return the strings of a wall: openings and gaps where there are any, and its whole length."""
    spans = [(void.left, void.right) for void in openings_drawn(wall)]
    spans += [gap for gap in wall.gaps if wall.start <= gap[0] and gap[1] <= wall.end]
    whole = [wall.start, wall.end]
    if not spans:
        return [whole]
    inner = sorted({*whole, *(place for span in spans for place in span)})
    return [[s for s in stations_of([(a, a) for a in inner], wall.end) if s >= wall.start - 1e-9], whole]


def _called(wall: FramedWall) -> str:
    """Return what a wall is called within a sentence."""
    called = wall.name.split(",")[0]
    text = called[0].lower() + called[1:]
    return text if wall.parts == 1 else f"{text}, part {wall.part} of {wall.parts}"


def _heading(wall: FramedWall) -> str:
    """Return the heading under a wall."""
    return wall.name if wall.parts == 1 else f"{wall.name}: part {wall.part} of {wall.parts}"


def _listed(names: Sequence[str]) -> str:
    """Return names as one says them."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _notes(wall: FramedWall, untold: Sequence[str], wide: float) -> list[str]:
    """Return what is said under a wall within a width [mm]."""
    centres = f"studs at {wall.spacing * 1000:g} mm centres from the left end"
    if wall.gaps:
        centres += " and from each gap"
    words = f"Seen from {wall.seen}; marks {wall.mark}-…; {centres}."
    if wall.parts > 1:
        words += f" From {metres(wall.start)} to {metres(wall.end)} of {metres(wall.face.width)} m."
    lines = wrapped(words, NOTE_TYPE, wide)
    openings = [opening_entry(void) for void in openings_drawn(wall)]
    lines += set_entries("Openings: ", openings, wide)
    if wall.part == wall.parts:
        lines += set_entries("Whole wall: " if wall.parts > 1 else "", stick_list(wall.members), wide)
    return lines + set_entries("Without room for its mark: ", untold, wide)


def _legend(result: Result, walls: Sequence[FramedWall]) -> str:
    """Return what lines and tints stand for, as far as they are in a drawing."""
    members = [member for wall in walls for member in wall.members]
    lintels = [m for m in members if m.use == "lintel"]
    words = "Lengths and heights in m, to the ends of the frame; sections in mm."
    if any(m.material not in result.measured.steel for m in lintels):
        words += " Crossed: timber lintel, plies one behind the other."
    if any(m.material in result.measured.steel for m in lintels):
        words += " Dark: steel lintel."
    if any(m.use in ("jamb stud", "corner stud", "junction stud") for m in members):
        words += " Grey: what frames openings, corners and junctions."
    dashed = ["gap of a party wall"] if any(wall.gaps for wall in walls) else []
    dashed += ["where the drawing is cut"] if any(wall.parts > 1 for wall in walls) else []
    if dashed:
        words += f" Dash and dot: {', '.join(dashed)}."
    return words


def _told(wall: FramedWall) -> str:
    """Return a wall in words for those who can't see it."""
    heights = level_text(wall.face.top_left)
    if abs(wall.slope) > 1e-9:
        heights += f" m high at the left, {level_text(wall.face.top_right)} m at the right"
    else:
        heights += " m high"
    return (
        f"{_heading(wall)}, seen from {wall.seen}, {metres(wall.face.width)} m long, {heights}: "
        f"{'; '.join(stick_list(wall.members))}."
    )
