"""The list beside the detail of a build-up: its layers with their thicknesses, and the leaders that point to them."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.documents.drawings.build_up_drawing import Strip, dot
from takeoff.documents.drawings.build_up_stack import Listed, Piece, Stack, mm
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.paper import NOTE_TYPE
from takeoff.documents.drawings.svg import DETAIL, Point, lettering, line, path, through

LIST_ROW = 3.7
# How far a leader begins within the edge of a stick cut across [mm].
_STICK_WITHIN = 1.0


def row_places(rows: Sequence[Listed], top: float, *, long: float) -> dict[int, float]:
    """Return the height of the middle of each row of the list [mm]; rows of a wall spread along it."""
    pitch = max(LIST_ROW, long / max(len(rows), 1)) if long else LIST_ROW
    return {row.number: top + (index + 0.5) * pitch for index, row in enumerate(rows)}


def dots_of(stack: Stack, strip: Strip, row_at: dict[int, float]) -> dict[int, Point]:
    """Return where the leader of each row begins: u along the strip and v across it [mm]."""
    places: dict[int, Point] = {}
    if strip.upright:
        for piece in _numbered(stack):
            start, end = strip.extent(piece)
            places[piece.number] = (row_at[piece.number] - strip.corner[1], (start + end) / 2)
        return places
    last = -1.0
    for piece in sorted(_numbered(stack), key=lambda each: each.number):
        start, end = strip.extent(piece)
        share = {"sticks": 0.3, "infill": 0.72}.get(piece.shape, 0.5)
        v = start + (end - start) * share
        # leaders keep the order of the list; a layer without thickness has only its own line to begin on
        v = min(max(v, last + 0.35), end) if end > start else v
        last = max(last, v)
        half = piece.wide * 1000 / strip.scale / 2
        u = strip.long - (2.2 if piece.shape not in ("sticks", "bearers") else 6.0 + half)
        places[piece.number] = (u, v)
    return places


def _numbered(stack: Stack) -> list[Piece]:
    """Return the pieces that have rows in the list."""
    return [piece for piece in stack.pieces if piece.number]


def sticks_of(stack: Stack, strip: Strip, dots: dict[int, Point]) -> dict[int, float]:
    """Return the middle of the stick of each row along the strip [mm], so that its leader begins on it."""
    middles = {}
    for piece in _numbered(stack):
        if piece.shape not in ("sticks", "bearers"):
            continue
        half = piece.wide * 1000 / strip.scale / 2
        u = dots[piece.number][0]
        middles[piece.number] = u - half + min(_STICK_WITHIN, half) if strip.upright else u
    return middles


def draw_leaders(
    stack: Stack,
    strip: Strip,
    dots: dict[int, Point],
    row_at: dict[int, float],
    *,
    right: float,
    list_left: float,
) -> list[str]:
    """Return the leaders: from a dot in the layer level out of the drawing, then to the row of the list."""
    elements: list[str] = []
    for piece in _numbered(stack):
        x, y = strip.at(*dots[piece.number])
        row = row_at[piece.number]
        points = [(x, y), (right + 1.2, y), (list_left - 2.6, row), (list_left - 1.0, row)]
        elements += [path(through(points), width=0.1), dot((x, y))]
    return elements


def draw_list(
    stack: Stack,
    rows: Sequence[Listed],
    row_at: dict[int, float],
    *,
    left: float,
    right: float,
    id_prefix: str,
) -> tuple[list[str], float]:
    """Return the list of layers with their thicknesses and the sum of these, and its foot [mm]."""
    thick = max((text_width(row.thickness, NOTE_TYPE) for row in rows), default=0.0)
    named = max((text_width(row.name, NOTE_TYPE) for row in rows), default=0.0)
    end = min(right, left + 4.4 + named + 5.0 + thick)
    elements = []
    foot = 0.0
    for row in rows:
        y = row_at[row.number]
        name = _fitted(row.name, end - left - 4.4 - 2.0 - text_width(row.thickness, NOTE_TYPE))
        elements += [
            lettering(
                f"{row.number}", (left + 3.0, y), size=NOTE_TYPE, weight=600, anchor="end", centred=True
            ),
            lettering(name, (left + 4.4, y), size=NOTE_TYPE, centred=True),
            lettering(
                row.thickness,
                (end, y),
                size=NOTE_TYPE,
                anchor="end",
                centred=True,
                id=f"{id_prefix}-thickness-{row.number}",
            ),
        ]
        foot = max(foot, y + LIST_ROW / 2)
    elements.append(line((left, foot + 0.2), (end, foot + 0.2), width=DETAIL))
    y = foot + 0.2 + LIST_ROW / 2
    words = "Together"
    if stack.void_at is not None:
        words += ", void not counted"
    if any(piece.shape == "bearers" for piece in stack.pieces):
        words += ", bearers not counted"
    total = f"{mm(stack.depth)} mm"
    elements += [
        lettering(words, (left + 4.4, y), size=NOTE_TYPE, weight=600, centred=True),
        lettering(
            total, (end, y), size=NOTE_TYPE, weight=600, anchor="end", centred=True, id=f"{id_prefix}-total"
        ),
    ]
    return elements, y + 1.6


def _fitted(text: str, width: float) -> str:
    """Return a name within a width [mm], cut off with an ellipsis where it is longer."""
    if text_width(text, NOTE_TYPE) <= width:
        return text
    while text and text_width(f"{text}…", NOTE_TYPE) > width:
        text = text[:-1]
    return f"{text.rstrip(' ,')}…"
