"""Sheets with what is cut from them: pieces with their marks and sizes, offcuts hatched."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.cutting.sheets.packing import CutPiece, CutSheet, Offcut
from takeoff.cutting.sheets.plan import SheetPlan
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.offcut_hatch import hatched
from takeoff.documents.drawings.paper import LEADING, MARGIN, SCALES, Drawing
from takeoff.documents.drawings.piece_labels import (
    CLEAR,
    LABEL_TYPE,
    box,
    length_text,
    ranged,
    sale_text,
    word,
    words,
)
from takeoff.documents.drawings.shelves import Small, shelved
from takeoff.documents.drawings.svg import (
    EDGE,
    INK,
    OUTLINE,
    WHITE,
    path,
    rect,
)
from takeoff.documents.piece_marks import SheetPattern, laid_mark, sheet_mark
from takeoff.measure.surface import Surface

# The largest scale worth the paper.
_SCALES = SCALES[2:]
# A caption is set no narrower than this [mm].
_CAPTION = 26.0
# Height of a label of two lines, of one [mm].
_TWO, _ONE = 4.6, 2.4
_SAME = 1e-6


def sheet_scale(plans: Sequence[SheetPlan], surfaces: Sequence[Surface], *, paper_width_mm: float) -> int:
    """Return the largest scale at which all faces and sheets fit the paper width [mm]."""
    sheets = [size.length for plan in plans for size, _ in plan.bought]
    longest = max([*sheets, *(surface.face.width for surface in surfaces)], default=0.0)
    room = paper_width_mm - 2 * MARGIN - 0.6
    return next((scale for scale in _SCALES if longest * 1000 / scale <= room), _SCALES[-1])


def is_whole(pattern: SheetPattern) -> bool:
    """Whether a sheet is laid as it is bought, so that nothing is cut."""
    first = pattern.sheet.pieces[0]
    size = pattern.sheet.size
    return abs(first.length - size.length) < _SAME and abs(first.width - size.width) < _SAME


def cut_sheets_drawn(
    patterns: Sequence[SheetPattern],
    *,
    name: str,
    tone: str,
    scale: int,
    paper_width_mm: float,
    id_prefix: str,
) -> list[Drawing]:
    """Return the sheets that are cut, to scale, those cut alike once, several in a row.

    `name` is that of the material and `tone` its tint. Pieces carry their mark and the lengths of their sides where
    there is room; what is hatched is left over.
    """
    smalls = [
        _sheet(pattern, tone, scale, id=f"{id_prefix}-sheet-{pattern.numbers[0]}") for pattern in patterns
    ]
    return shelved(
        smalls,
        title=f"{name}, sheets as cut",
        desc="Each sheet with the pieces cut from it, their marks and sizes in m; offcuts are hatched.",
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=id_prefix,
    )


def _sheet(pattern: SheetPattern, tone: str, scale: int, *, id: str) -> Small:
    """Return one sheet with its pieces, its offcuts and its caption."""
    sheet = pattern.sheet
    mm = 1000 / scale
    long, wide = sheet.size.length * mm, sheet.size.width * mm
    x0 = y0 = 0.3
    boxes = [(x0 + cut.x * mm, y0 + cut.y * mm, cut.length * mm, cut.width * mm) for cut in sheet.pieces]
    elements = hatched([(x0, y0, long, wide)], id=f"{id}-offcuts")
    data = "".join(box(*place) for place in boxes)
    elements.append(path(data, width=EDGE, fill=tone, join="miter", id=f"{id}-pieces"))
    inside, left_out = [], []
    for cut, place, laid in zip(sheet.pieces, boxes, pattern.pieces, strict=True):
        marks = [laid_mark(piece) for piece in laid]
        written = _piece_words(marks, cut, sheet, place)
        inside += written
        if len(marks) > 1 or not written:
            left_out.append(ranged(marks))
    for offcut in sheet.offcuts:
        inside += _offcut_words(offcut, (x0 + offcut.x * mm, y0 + offcut.y * mm), mm)
    elements.append(rect(x0, y0, long, wide, stroke=INK, weight=OUTLINE))
    names = ranged([sheet_mark(place) for place in pattern.numbers])
    caption = f"{names} {_size_words(sheet)}" + (f": {'; '.join(left_out)}" if left_out else "")
    width = max(long + 0.6, _CAPTION)
    lines = wrapped(caption, LABEL_TYPE, width)
    inside += [
        word(text, (0.0, y0 + wide + line * LEADING), left=True) for line, text in enumerate(lines, start=1)
    ]
    elements.append(words(inside, id=f"{id}-words"))
    return Small(elements=tuple(elements), name=names, width=width, height=wide + 2.7 + len(lines) * LEADING)


def _size_words(sheet: CutSheet) -> str:
    """Return the size of a sheet, in m."""
    return f"{sale_text(sheet.size.length)} x {sale_text(sheet.size.width)}"


def _piece_words(
    marks: Sequence[str], cut: CutPiece, sheet: CutSheet, box: tuple[float, float, float, float]
) -> list[str]:
    """Return mark and size of a piece in its middle, as far as there is room; no mark where it has several."""
    x, y, long, wide = box
    size = _piece_size(cut, sheet)
    mark = marks[0] if len(marks) == 1 else ""
    at, middle = x + long / 2, y + wide / 2
    has_mark = bool(mark) and text_width(mark, LABEL_TYPE, semibold=True) + CLEAR <= long
    has_size = text_width(size, LABEL_TYPE) + CLEAR <= long
    if has_mark and has_size and wide >= _TWO:
        return [word(mark, (at, middle - 1.05), bold=True), word(size, (at, middle + 1.15))]
    if has_mark and wide >= _ONE:
        return [word(mark, (at, middle), bold=True)]
    if mark and long >= _ONE and text_width(mark, LABEL_TYPE, semibold=True) + CLEAR <= wide:
        return [word(mark, (at, middle), bold=True, upright=True)]
    if not mark and has_size and wide >= _ONE:
        return [word(size, (at, middle))]
    return []


def _piece_size(cut: CutPiece, sheet: CutSheet) -> str:
    """Return the size of a piece: its length alone where it is as wide as the sheet."""
    if abs(cut.width - sheet.size.width) < _SAME:
        return length_text(cut.length)
    return f"{length_text(cut.length)} x {length_text(cut.width)}"


def _offcut_words(offcut: Offcut, at: tuple[float, float], mm: float) -> list[str]:
    """Return the size of an offcut that is kept on a white ground, where there is room."""
    long, wide = offcut.length * mm, offcut.width * mm
    size = f"{length_text(offcut.length)} x {length_text(offcut.width)}"
    needed = text_width(size, LABEL_TYPE)
    if needed + CLEAR > long or wide < _ONE + 0.4:
        return []
    x, y = at[0] + long / 2, at[1] + wide / 2
    return [
        rect(x - needed / 2 - 0.3, y - 1.1, needed + 0.6, 2.2, fill=WHITE),
        word(size, (x, y)),
    ]
