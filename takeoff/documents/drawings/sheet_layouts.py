"""Sheets as they are laid on every face: the outline of each piece with its place in the layout, and the openings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from takeoff.cutting.sheets.layout import LaidPiece
from takeoff.cutting.sheets.pieces import Trapezoid
from takeoff.documents.drawings.letters import text_width, wrapped
from takeoff.documents.drawings.paper import LEADING, Drawing, Paper
from takeoff.documents.drawings.piece_labels import CLEAR, LABEL_TYPE, word, words
from takeoff.documents.drawings.shelves import Small, shelved
from takeoff.documents.drawings.svg import (
    DETAIL,
    EDGE,
    GREY,
    OUTLINE,
    Segment,
    along,
    path,
    through,
)
from takeoff.measure.surface import Surface

# A caption is set no narrower than this [mm].
_CAPTION = 26.0
_SAME = 1e-6


def face_layouts(
    layout: Sequence[LaidPiece],
    surfaces: Sequence[Surface],
    *,
    name: str,
    tone: str,
    scale: int,
    paper_width_mm: float,
    id_prefix: str,
) -> list[Drawing]:
    """Return every face of a layout to scale with the sheets laid on it, several in a row.

    `surfaces` are the faces in the order in which the layout counts them, `name` is that of the material and `tone`
    its tint. A piece carries course and number along it; an opening is crossed.
    """
    on_face: dict[int, list[LaidPiece]] = defaultdict(list)
    for piece in layout:
        on_face[piece.surface].append(piece)
    smalls = [
        _face(place, surface, on_face[place], tone, scale, id=f"{id_prefix}-face-{place + 1}")
        for place, surface in enumerate(surfaces)
    ]
    return shelved(
        smalls,
        title=f"{name}, sheets as laid",
        desc="Each face with the pieces of sheet laid on it, marked by course and number along the course; "
        "openings are crossed.",
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=id_prefix,
    )


def _face(
    place: int, surface: Surface, pieces: Sequence[LaidPiece], tone: str, scale: int, *, id: str
) -> Small:
    """Return one face with its pieces, its openings and its caption."""
    face = surface.face
    high = max(face.top_left, face.top_right)
    paper = Paper(scale, 0.3, 0.3 + high * 1000 / scale)
    fill = "".join(_closed(trapezoid, paper) for piece in pieces for trapezoid in piece.trapezoids)
    edges = [edge for piece in pieces for edge in piece_edges(piece, paper)]
    elements = [path(fill, stroke=None, fill=tone, id=f"{id}-pieces")] if fill else []
    if edges:
        elements.append(path(along(edges), width=EDGE, cap="round", id=f"{id}-edges"))
    crossed = list(_openings(surface, paper))
    if crossed:
        elements.append(path(along(crossed), width=DETAIL, stroke=GREY, id=f"{id}-openings"))
    corners = [
        (0.0, face.bottom),
        (face.width, face.bottom),
        (face.width, face.top_right),
        (0.0, face.top_left),
    ]
    elements.append(
        path(through([paper.at(*corner) for corner in corners], closed=True), width=OUTLINE, join="miter")
    )
    labels = [label for piece in pieces for label in _label(piece, paper)]
    mark = f"F{place + 1}"
    foot = paper.at(0, face.bottom)[1]
    width = max(paper.mm(face.width) + 0.6, _CAPTION)
    lines = wrapped(f"{mark} {surface.note}", LABEL_TYPE, width)
    labels += [
        word(text, (0.0, foot + number * LEADING), left=True) for number, text in enumerate(lines, start=1)
    ]
    elements.append(words(labels, id=f"{id}-words"))
    return Small(elements=tuple(elements), name=mark, width=width, height=foot + 2.4 + len(lines) * LEADING)


def _closed(trapezoid: Trapezoid, paper: Paper) -> str:
    """Return path data of one trapezoid."""
    t = trapezoid
    corners = [(t.left, t.bottom), (t.right, t.bottom), (t.right, t.top_right), (t.left, t.top_left)]
    return through([paper.at(*corner) for corner in corners], closed=True)


def piece_edges(piece: LaidPiece, paper: Paper) -> Iterator[Segment]:
    """Yield the outline of a piece on paper [mm]: its feet, its heads, and its sides where it ends there."""
    sides: dict[int, list[tuple[float, float, float]]] = defaultdict(list)
    for t in piece.trapezoids:
        yield (*paper.at(t.left, t.bottom), *paper.at(t.right, t.bottom))
        yield (*paper.at(t.left, t.top_left), *paper.at(t.right, t.top_right))
        for at, top in ((t.left, t.top_left), (t.right, t.top_right)):
            if top - t.bottom > _SAME:
                sides[round(at * 1e5)].append((at, t.bottom, top))
    for runs in sides.values():
        at = runs[0][0]
        for low, high in _once(runs):
            yield (*paper.at(at, low), *paper.at(at, high))


def _once(runs: Sequence[tuple[float, float, float]]) -> Iterator[tuple[float, float]]:
    """Yield the parts of an upright line that an odd number of runs covers: where one side alone has sheet."""
    ends = sorted(height for _, low, high in runs for height in (low, high))
    yield from ((low, high) for low, high in zip(ends[::2], ends[1::2], strict=True) if high - low > _SAME)


def _openings(surface: Surface, paper: Paper) -> Iterator[Segment]:
    """Yield the crosses of the openings, as far as they are in the face."""
    face = surface.face
    for void in surface.voids:
        left, right = max(void.left, 0.0), min(void.right, face.width)
        bottom = max(void.bottom, face.bottom)
        if right <= left:
            continue
        at_left, at_right = min(void.top, face.top_at(left)), min(void.top, face.top_at(right))
        if min(at_left, at_right) > bottom:
            yield (*paper.at(left, bottom), *paper.at(right, at_right))
            yield (*paper.at(left, at_left), *paper.at(right, bottom))


def _label(piece: LaidPiece, paper: Paper) -> list[str]:
    """Return course and number in the largest part of a piece, nothing where there is no room."""
    largest = max(piece.trapezoids, key=lambda t: t.area)
    top = min(largest.top_left, largest.top_right)
    wide, high = paper.mm(largest.right - largest.left), paper.mm(top - largest.bottom)
    text = f"{piece.course}.{piece.number}"
    needed = text_width(text, LABEL_TYPE) + CLEAR
    level = needed <= wide and high >= LABEL_TYPE
    if not level and not (needed <= high and wide >= LABEL_TYPE):
        return []
    middle = paper.at((largest.left + largest.right) / 2, (largest.bottom + top) / 2)
    return [word(text, middle, upright=not level)]
