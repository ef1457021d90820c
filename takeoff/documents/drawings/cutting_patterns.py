"""The cutting patterns of what is bought in lengths: a bar to scale for all lengths that are cut alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from takeoff.cutting.order_plan import CutLength, CutPiece, OrderPlan
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.offcut_hatch import hatched
from takeoff.documents.drawings.paper import MARGIN, SCALES, Drawing, Paper
from takeoff.documents.drawings.piece_labels import (
    CLEAR,
    LABEL_TYPE,
    box,
    labels_for,
    length_text,
    note_of,
    sale_text,
    word,
    words,
)
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    WHITE,
    Point,
    Segment,
    along,
    path,
    picture,
    rect,
)

BAR_HEIGHT = 5.0
# The largest scale worth the paper: two bars of 6 m stand beside each other on a page.
_SCALES = SCALES[1:]
# Before a bar: how many, over their length; between columns; between rows [mm].
_BEFORE, _BETWEEN, _BELOW = 7.4, 3.4, 1.8
_NOTE_LEADING = 2.5
# A picture is no higher than this, so that pages fill [mm].
_HIGHEST = 30.0
# Offcuts shorter than this are drawn, but not written [m].
_LEAST_WRITTEN = 0.01


@dataclass(slots=True)
class _Sheet:
    """What a picture has so far: outlines by kind as path data, and its lettering bar by bar."""

    paper: Paper
    pieces: list[str] = field(default_factory=list)
    bars: list[str] = field(default_factory=list)
    cuts: list[Segment] = field(default_factory=list)
    offcuts: list[tuple[float, float, float, float]] = field(default_factory=list)
    words: list[str] = field(default_factory=list)


def pattern_scale(plans: Sequence[OrderPlan], *, paper_width_mm: float) -> int:
    """Return the largest scale at which the bars of all plans fit the paper width [mm]."""
    longest = max((cut.length for plan in plans for cut in plan.lengths), default=0.0)
    room = paper_width_mm - _BEFORE - 2 * MARGIN
    return next((scale for scale in _SCALES if longest * 1000 / scale <= room), _SCALES[-1])


def cutting_patterns(
    plan: OrderPlan, *, tone: str, scale: int, paper_width_mm: float, id_prefix: str
) -> list[Drawing]:
    """Return the patterns of a plan, in as many pictures as let pages fill.

    A bar is one length on sale, its pieces from the left as they are listed, saw cuts as lines and the offcut
    hatched. Patterns go from left to right, then down. `tone` is the tint of the material.
    """
    longest = max(cut.length for cut in plan.lengths) * 1000 / scale
    columns = max(1, int((paper_width_mm - 2 * MARGIN + _BETWEEN) / (_BEFORE + longest + _BETWEEN) + 1e-6))
    step = (paper_width_mm - 2 * MARGIN + _BETWEEN) / columns
    rows = [plan.lengths[i : i + columns] for i in range(0, len(plan.lengths), columns)]
    drawings: list[Drawing] = []
    first = 1
    for part, several in enumerate(_parts(rows, scale, step - _BETWEEN)):
        prefix = f"{id_prefix}-{part + 1}"
        last = first + sum(len(row) for row in several) - 1
        drawing = _drawing(
            several,
            step=step,
            tone=tone,
            scale=scale,
            width=paper_width_mm,
            id_prefix=prefix,
            title=f"{plan.name}: cutting patterns {first} to {last} of {len(plan.lengths)}, at 1:{scale}",
        )
        drawings.append(drawing)
        first = last + 1
    return drawings


def _parts(
    rows: Sequence[Sequence[CutLength]], scale: int, room: float
) -> Iterator[list[Sequence[CutLength]]]:
    """Yield rows of bars in as many parts as keep each picture low."""
    part: list[Sequence[CutLength]] = []
    high = 0.0
    for row in rows:
        here = _row_height(row, scale, room)
        if part and high + here > _HIGHEST:
            yield part
            part, high = [], 0.0
        part.append(row)
        high += here
    if part:
        yield part


def _row_height(row: Sequence[CutLength], scale: int, room: float) -> float:
    """Return the height of a row of bars with the longest of their notes [mm]."""
    lines = max(len(_note_lines(cut, scale, room)) for cut in row)
    return BAR_HEIGHT + lines * _NOTE_LEADING + _BELOW


def _note_lines(cut: CutLength, scale: int, room: float) -> list[str]:
    """Return the note below a bar, wrapped to the room of its column [mm]: what has no room in it."""
    notes = note_of(cut, 1000 / scale)
    if _offcut_place(cut, scale, room) == "below":
        notes.append(f"offcut {length_text(cut.offcut)}")
    return wrapped("; ".join(notes), LABEL_TYPE, room - _BEFORE)


def _offcut_place(
    cut: CutLength, scale: int, room: float
) -> Literal["in it", "after it", "below", "nowhere"]:
    """Return where there is room for the length of an offcut, `room` being that of the column [mm]."""
    if cut.offcut < _LEAST_WRITTEN:
        return "nowhere"
    needed = text_width(length_text(cut.offcut), LABEL_TYPE) + CLEAR
    if needed <= cut.offcut * 1000 / scale:
        return "in it"
    return "after it" if needed <= room - _BEFORE - cut.length * 1000 / scale else "below"


def _drawing(
    rows: Sequence[Sequence[CutLength]],
    *,
    step: float,
    tone: str,
    scale: int,
    width: float,
    id_prefix: str,
    title: str,
) -> Drawing:
    """Return one picture of some rows of bars."""
    sheet = _Sheet(Paper(scale, 0.0, 0.0))
    top = MARGIN
    for number, row in enumerate(rows, start=1):
        for place, cut in enumerate(row):
            at = (MARGIN + place * step, top)
            _draw_bar(sheet, cut, at, step - _BETWEEN, id=f"{id_prefix}-bar-{number}-{place + 1}")
        top += _row_height(row, scale, step - _BETWEEN)
    height = top - _BELOW + MARGIN
    desc = (
        "A bar is one length on sale, to scale; before it its length in m, and how many are cut alike. Pieces with "
        "their marks and lengths, saw cuts as lines, the offcut hatched."
    )
    svg = picture(
        _elements(sheet, tone, id_prefix),
        width_mm=width,
        height_mm=height,
        title=title,
        desc=desc,
        id_prefix=id_prefix,
    )
    return Drawing(svg=svg, title=title, width_mm=width, height_mm=height, scale=scale)


def _elements(sheet: _Sheet, tone: str, id_prefix: str) -> list[str]:
    """Return what was drawn: tints and hatches first, lettering last."""
    elements = [path("".join(sheet.pieces), stroke=None, fill=tone, id=f"{id_prefix}-pieces")]
    elements += hatched(sheet.offcuts, id=f"{id_prefix}-offcuts")
    if sheet.cuts:
        elements.append(path(along(sheet.cuts), width=DETAIL, id=f"{id_prefix}-cuts"))
    elements.append(path("".join(sheet.bars), width=EDGE, join="miter", id=f"{id_prefix}-bars"))
    return elements + sheet.words


def _draw_bar(sheet: _Sheet, cut: CutLength, at: Point, room: float, *, id: str) -> None:
    """Draw one pattern from the upper left corner of its place: count and length, bar, offcut, note."""
    x, y = at
    mm, left = sheet.paper.mm, x + _BEFORE
    middle, before = y + BAR_HEIGHT / 2, left - _BEFORE / 2
    inside = [word(sale_text(cut.length), (before, middle + (1.15 if cut.count > 1 else 0.0)))]
    if cut.count > 1:
        inside.append(word(f"{cut.count} x", (before, middle - 1.05), bold=True))
    for start, piece in placed(cut):
        sheet.pieces.append(box(left + mm(start), y, mm(piece.length), BAR_HEIGHT))
        inside += _piece_words(piece, left + mm(start), y, mm(piece.length))
        end = left + mm(start + piece.length + cut.stock.kerf / 2)
        if end < left + mm(cut.length) - DETAIL:
            sheet.cuts.append((end, y, end, y + BAR_HEIGHT))
    sheet.bars.append(box(left, y, mm(cut.length), BAR_HEIGHT))
    offcut = (left + mm(cut.length - cut.offcut), y, mm(cut.offcut), BAR_HEIGHT)
    sheet.offcuts.append(offcut)
    inside += _offcut_words(cut, offcut, _offcut_place(cut, sheet.paper.scale, room))
    inside += [
        word(text, (left, y + BAR_HEIGHT + (number - 0.5) * _NOTE_LEADING + 0.3), left=True)
        for number, text in enumerate(_note_lines(cut, sheet.paper.scale, room), start=1)
    ]
    sheet.words.append(words(inside, id=id))


def placed(cut: CutLength) -> Iterator[tuple[float, CutPiece]]:
    """Yield the pieces of a pattern with the place where each begins along the length [m]."""
    start = 0.0
    for piece in cut.pieces:
        yield start, piece
        start += piece.length + cut.stock.kerf


def _piece_words(piece: CutPiece, x: float, y: float, width: float) -> list[str]:
    """Return mark and length in the middle of a piece, as far as there is room."""
    lines = labels_for(piece, width).lines
    middle = y + BAR_HEIGHT / 2
    heights = (middle - 1.05, middle + 1.15) if len(lines) == 2 else (middle,) * len(lines)
    return [
        word(text, (x + width / 2, at), bold=len(lines) == 2 and at < middle)
        for text, at in zip(lines, heights, strict=True)
    ]


def _offcut_words(cut: CutLength, offcut: tuple[float, float, float, float], where: str) -> list[str]:
    """Return the length of an offcut: in it on a white ground, or after the bar."""
    x, y, width, height = offcut
    text, middle = length_text(cut.offcut), y + height / 2
    if where == "in it":
        wide = text_width(text, LABEL_TYPE)
        ground = rect(x + width / 2 - wide / 2 - 0.3, middle - 1.1, wide + 0.6, 2.2, fill=WHITE)
        return [ground, word(text, (x + width / 2, middle))]
    if where == "after it":
        return [word(text, (x + width + CLEAR, middle), left=True)]
    return []


def sample_bar(cut: CutLength, *, tone: str, scale: int, id_prefix: str) -> tuple[list[str], float, float]:
    """Return one bar by itself for a key, and the width and height it takes [mm]."""
    sheet = _Sheet(Paper(scale, 0.0, 0.0))
    wide = _BEFORE + sheet.paper.mm(cut.length)
    _draw_bar(sheet, cut, (MARGIN, MARGIN), wide, id=f"{id_prefix}-bar")
    return _elements(sheet, tone, id_prefix), MARGIN + wide, _row_height((cut,), scale, wide)
