"""What is written of the pieces of a cutting pattern: in the bar where there is room, else in a note below it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Literal
from xml.sax.saxutils import escape

from takeoff.cutting.order_plan import CutLength, CutPiece
from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.svg import CAP_HEIGHT, INK, Point, element, group, number

LABEL_TYPE = 2.0
# Paper that a label keeps clear of the ends of its piece, both together [mm].
CLEAR = 0.7
# From so many marks in a row on they are written as the first to the last.
_IN_A_ROW = 3
_NUMBERED = re.compile(r"^(.*?)(\d+)$")


@dataclass(frozen=True, slots=True)
class Labels:
    """Lines written in a piece, the mark before the length, and what is left to the note below the bar."""

    lines: tuple[str, ...]
    noted: Literal["", "mark", "mark and length"]


def word(text: str, at: Point, *, bold: bool = False, upright: bool = False, left: bool = False) -> str:
    """Return a word centred on a place, or from its left end there, within `words` that give type and colour.

    Cutting plans have words by the thousand: what they share is written once.
    """
    x, y = at
    drop = CAP_HEIGHT * LABEL_TYPE / 2
    place: dict[str, str | float | None] = {"x": x, "y": y + drop}
    if upright:
        place = {"transform": f"translate({number(x + drop)} {number(y)}) rotate(-90)"}
    return element(
        "text",
        escape(text),
        **place,
        font_weight="600" if bold else None,
        text_anchor="start" if left else None,
    )


def words(elements: Iterable[str], *, id: str | None = None) -> str:
    """Return words in a group that gives their type, their colour and their place in the middle."""
    return group(elements, id=id, font_size=LABEL_TYPE, text_anchor="middle", fill=INK)


def box(x: float, y: float, width: float, height: float) -> str:
    """Return path data of a rectangle from its upper left corner [mm]."""
    return f"M{number(x)} {number(y)}h{number(width)}v{number(height)}h{number(-width)}z"


def length_text(length: float) -> str:
    """Return a length as cut: in m, to the millimetre.

    >>> length_text(2.4)
    '2.400'
    """
    return f"{length:.3f}"


def sale_text(length: float) -> str:
    """Return a length on sale [m] with the places it needs, one at least.

    >>> sale_text(6), sale_text(2.39)
    ('6.0', '2.39')
    """
    text = f"{length:.3f}".rstrip("0")
    return f"{text}0" if text.endswith(".") else text


def piece_mark(mark: str, part: str) -> str:
    """Return the mark of a piece, with its number where it is one of several that make up a member.

    >>> piece_mark("L-TP01", "2 of 3"), piece_mark("L-S04", "")
    ('L-TP01/2', 'L-S04')
    """
    return f"{mark}/{part.split()[0]}" if part else mark


def marks_of(piece: CutPiece) -> list[str]:
    """Return the marks of a piece in all the lengths cut alike: one where they share it."""
    marks = [piece_mark(mark, piece.part) for mark in piece.marks]
    return marks[:1] if len(set(marks)) == 1 else marks


def labels_for(piece: CutPiece, room: float) -> Labels:
    """Return what can be written in a piece with so much room along it [mm]."""
    marks, length = marks_of(piece), length_text(piece.length)
    fits = text_width(length, LABEL_TYPE) + CLEAR <= room
    if not fits:
        return Labels((), noted="mark and length")
    if len(marks) == 1 and text_width(marks[0], LABEL_TYPE, semibold=True) + CLEAR <= room:
        return Labels((marks[0], length), noted="")
    return Labels((length,), noted="mark")


def note_of(cut: CutLength, mm: float) -> list[str]:
    """Return what has no room in a bar, from the left, equal pieces together; `mm` of paper go to one m.

    Lengths stand here only where the bar has none.
    """
    texts = []
    for (length, noted), alike in groupby(
        cut.pieces, key=lambda piece: (piece.length, labels_for(piece, piece.length * mm).noted)
    ):
        marks = [mark for piece in alike for mark in marks_of(piece)]
        if noted == "mark":
            texts.append(ranged(marks))
        elif noted:
            texts.append(f"{length_text(length)} {ranged(marks)}")
    return texts


def ranged(marks: Sequence[str]) -> str:
    """Return marks as text, several in a row as the first to the last, equal ones with their number.

    >>> ranged(["RF-B01", "RF-B02", "RF-B03", "RF-B07"]), ranged(["P04", "P04"]), ranged(["L-TP01/1"])
    ('RF-B01 to RF-B03, RF-B07', '2 of P04', 'L-TP01/1')
    """
    counts = Counter(marks)
    texts = []
    for run in _runs(list(counts)):
        if len(run) >= _IN_A_ROW and all(counts[mark] == 1 for mark in run):
            texts.append(f"{run[0]} to {run[-1]}")
        else:
            texts += [f"{counts[mark]} of {mark}" if counts[mark] > 1 else mark for mark in run]
    return ", ".join(texts)


def _runs(marks: Sequence[str]) -> Iterator[list[str]]:
    """Yield marks in runs whose numbers follow each other; parts of joined members stand alone."""
    run: list[str] = []
    for mark in marks:
        if run and not _follows(run[-1], mark):
            yield run
            run = []
        run.append(mark)
    if run:
        yield run


def _follows(before: str, mark: str) -> bool:
    """Whether one mark has the next number after another, with the same letters before it."""
    one, other = _NUMBERED.match(before), _NUMBERED.match(mark)
    if one is None or other is None or "/" in mark or one[1] != other[1] or len(one[2]) != len(other[2]):
        return False
    return int(one[2]) + 1 == int(other[2])
