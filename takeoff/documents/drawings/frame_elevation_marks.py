"""Where piece marks of a framing elevation stand: uprights in rows under and over the wall, others by their stick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from takeoff.documents.drawings.frame_elevation_walls import PLATES, FramedWall, Stick
from takeoff.documents.drawings.frame_marks import (
    MARK_CAP,
    MARK_DROP,
    MARK_PITCH,
    Lettered,
    RowMark,
    in_a_row,
    in_runs,
    mark_room,
)
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.places import Patch, between
from takeoff.documents.drawings.svg import Point

# From the wall to a row of upright marks: room for their leaders [mm].
ROW_GAP = 1.5
# Beyond the ends of a wall that a row of marks may reach [mm].
ROW_OVER = 2.4
LEVEL_ROW = MARK_CAP + MARK_DROP + 0.5
_TO_STICK = 0.5
_STEP = 0.2


def stands_at_the_foot(stick: Stick, wall: FramedWall) -> bool:
    """Whether an upright stands nearer the bottom plates than the top plates."""
    low, high = stick.member.z - stick.half, stick.member.z + stick.half
    return low - wall.face.bottom < wall.face.top_at(stick.member.s) - high + 1e-6


def room_above(wall: FramedWall, sticks: Sequence[Stick]) -> float:
    """Return the paper needed over the highest place of a wall for its marks [mm]."""
    jacks = [s for s in sticks if s.upright and not stands_at_the_foot(s, wall)]
    longest = max((mark_room(in_runs(s.marks)) for s in jacks), default=-ROW_GAP)
    return longest + ROW_GAP + LEVEL_ROW + 1.4


def set_marks(wall: FramedWall, sticks: Sequence[Stick], paper: Paper, capsules: Sequence[Patch]) -> Lettered:
    """Return the marks of every stick of a wall, set clear of sticks, capsules and each other."""
    sheet = Lettered()
    for patch in capsules:
        sheet.take(patch)
    for stick in sticks:
        if not stick.slope:
            sheet.take(_patch(stick, paper))
    uprights = [stick for stick in sticks if stick.upright]
    foot = [stick for stick in uprights if stands_at_the_foot(stick, wall)]
    bottoms = _pieces([stick for stick in sticks if stick.member.use == "bottom plate"])
    row = _row(foot, paper)
    placed = in_a_row(row, *_limits(wall, paper))
    short = [piece for piece in bottoms if not _room_under(piece, [x for _, x in placed], paper)]
    longest_below = _row_below(sheet, [*row, *(_of_plates(piece, paper) for piece in short)], wall, paper)
    _row_above(sheet, _row([stick for stick in uprights if stick not in foot], paper), wall, paper)
    tops = _pieces([stick for stick in sticks if stick.member.use == "top plate"])
    over = paper.at(0, wall.high)[1] - room_above(wall, sticks) + LEVEL_ROW + 0.2
    below = paper.at(0, wall.face.bottom)[1] + ROW_GAP + longest_below + MARK_CAP + 0.4
    for piece in tops:
        _mark_plates(sheet, piece, wall, paper, over)
    for piece in bottoms:
        if piece not in short:
            _mark_plates(sheet, piece, wall, paper, below)
    whole = between(paper.at(wall.start, wall.face.bottom), paper.at(wall.end, wall.high))
    for stick in sticks:
        if not stick.upright and stick.member.use not in PLATES:
            _mark_level(sheet, stick, paper, whole)
    return sheet


def _patch(stick: Stick, paper: Paper) -> Patch:
    """Return the paper that a stick takes."""
    corners = [paper.at(*corner) for corner in stick.corners]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Patch(min(xs), min(ys), max(xs), max(ys))


def _limits(wall: FramedWall, paper: Paper) -> tuple[float, float]:
    """Return from where to where a row of marks may reach [mm]."""
    return paper.at(wall.start, 0)[0] - ROW_OVER + MARK_CAP, paper.at(wall.end, 0)[0] + ROW_OVER - MARK_CAP


def _row(sticks: Sequence[Stick], paper: Paper) -> list[RowMark]:
    """Return the marks of uprights for a row."""
    return [RowMark(paper.at(stick.member.s, 0)[0], stick.marks) for stick in sticks]


def _of_plates(piece: Sequence[Stick], paper: Paper) -> RowMark:
    """Return the mark of a short bottom plate for the row of uprights."""
    marks = tuple(mark for plate in reversed(piece) for mark in plate.marks)
    return RowMark(paper.at((piece[0].left + piece[0].right) / 2, 0)[0], marks)


def _room_under(piece: Sequence[Stick], row: Sequence[float], paper: Paper) -> bool:
    """Whether the mark of bottom plates fits between those of uprights at places of a row [mm]."""
    left, right = (paper.at(s, 0)[0] for s in (piece[0].left, piece[0].right))
    needed = mark_room(_plates_text(piece))
    edges = [left, *(x for x in sorted(row) if left < x < right), right]
    return any(b - a >= needed + MARK_PITCH + 0.8 for a, b in pairwise(edges))


def _plates_text(piece: Sequence[Stick]) -> str:
    """Return the marks of plates on one another, the uppermost first."""
    return " over ".join(in_runs(plate.marks) for plate in piece)


def _row_below(sheet: Lettered, row: Sequence[RowMark], wall: FramedWall, paper: Paper) -> float:
    """Write the marks of what stands on the ground in a row below the wall; return the length of the longest [mm]."""
    plate = paper.at(0, wall.face.bottom)[1]
    top = plate + ROW_GAP
    placed = in_a_row(row, *_limits(wall, paper))
    for mark, x in placed:
        sheet.upright(mark.text, (x, top + mark_room(mark.text)))
        sheet.leader((mark.at, plate + 0.1), (x, top - 0.25))
        sheet.take(between((mark.at, plate), (x, top)).grown(0.1))
    return max((mark_room(mark.text) for mark, _ in placed), default=0.0)


def _row_above(sheet: Lettered, row: Sequence[RowMark], wall: FramedWall, paper: Paper) -> None:
    """Write the marks of the uprights under the top plate in a row above it."""
    for mark, x in in_a_row(row, *_limits(wall, paper)):
        tops = [paper.at(0, wall.face.top_at(paper.metres(at - paper.x0)))[1] for at in (mark.at, x)]
        foot = min(tops) - ROW_GAP
        sheet.upright(mark.text, (x, foot))
        sheet.leader((mark.at, tops[0] - 0.1), (x, foot + 0.25))
        sheet.take(between((mark.at, tops[0]), (x, foot)).grown(0.1))


def _pieces(plates: Sequence[Stick]) -> list[list[Stick]]:
    """Return plates that lie on one another together, the uppermost first."""
    pieces: dict[tuple[float, float], list[Stick]] = {}
    for plate in plates:
        pieces.setdefault((round(plate.left, 4), round(plate.right, 4)), []).append(plate)
    return [sorted(piece, key=lambda plate: -plate.middle_at(plate.left)) for piece in pieces.values()]


def _mark_plates(
    sheet: Lettered, piece: Sequence[Stick], wall: FramedWall, paper: Paper, second: float
) -> None:
    """Write the marks of plates on one another beside them, or in a second row where the first is full.

    `second` is the baseline of that row [mm].
    """
    text = _plates_text(piece)
    left, right = (paper.at(s, 0)[0] for s in (piece[0].left, piece[0].right))
    middle, half = (left + right) / 2, mark_room(text) / 2
    above = piece[0].member.use == "top plate"

    def beside(x: float) -> float:
        if not above:
            return paper.at(0, wall.face.bottom)[1] + 0.6 + MARK_CAP
        ends = (paper.metres(x - half - paper.x0), paper.metres(x + half - paper.x0))
        return min(paper.at(0, wall.face.top_at(s))[1] for s in ends) - 0.9

    for x in _along(middle, (right - left) / 2 - half):
        if sheet.put(text, [((x, beside(x)), False)], clear=0.25):
            return
    edge = second + MARK_DROP if above else second - MARK_CAP - 0.2
    for x in _along(middle, max((right - left) / 2, 4 * half)):
        foot = min(max(x, left + 0.2), right - 0.2)
        outside, s = beside(foot) + (-0.1 if above else -0.3), paper.metres(foot - paper.x0)
        corridor = between((foot, outside), (x, edge)).grown(0.15)
        if sheet.free(corridor) and sheet.put(text, [((x, second), False)], clear=0.25):
            sheet.leader(paper.at(s, piece[0].middle_at(s)), (x, edge))
            sheet.take(corridor)
            return
    sheet.untold.append(text)


def _along(middle: float, reach: float) -> Iterator[float]:
    """Yield places from the middle outwards, as far as it reaches to both sides [mm]."""
    if reach >= 0:
        yield middle
    for step in range(1, int(reach / _STEP) + 1):
        yield from (middle - step * _STEP, middle + step * _STEP)


def _mark_level(sheet: Lettered, stick: Stick, paper: Paper, whole: Patch) -> None:
    """Write the mark of a nogging by it, of a lintel or trimmer in the opening it bounds."""
    text = in_runs(stick.marks)
    patch = _patch(stick, paper)
    x, y = patch.middle
    wide = mark_room(text)
    over, under = patch.top - _TO_STICK - 0.05, patch.bottom + _TO_STICK + MARK_CAP - 0.1
    use = stick.member.use
    if use in ("lintel", "head trimmer", "sill trimmer"):
        first, second = (over, under) if use == "sill trimmer" else (under, over)
        for baseline in (first, second):
            at = (x, baseline)
            box = Patch(x - wide / 2, baseline - MARK_CAP, x + wide / 2, baseline + MARK_DROP)
            if wide <= patch.wide and sheet.free(box.grown(0.12)):
                sheet.level(text, at, halo=True)
                return
    places: list[tuple[Point, bool]] = []
    if wide + 0.5 <= patch.wide:
        places = [((x, over), False), ((x, under), False)]
    if patch.wide >= MARK_CAP + MARK_DROP + 0.2:
        upright_x = x - MARK_DROP / 2
        places += [((upright_x, over), True), ((upright_x, patch.bottom + _TO_STICK + wide), True)]
    if not sheet.put(text, places, clear=0.08):
        sheet.put_near(text, (x, y), within=whole)
