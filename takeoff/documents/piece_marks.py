"""Marks of faces, sheets and the pieces laid on faces: the same in the cutting list and on drawings.

Sticks carry the marks of the framing (LO-S03). Pieces without one, such as battens and trims, are called by their
length: P01 is the longest of its plan, and equal pieces share a mark. Every piece of sheet has a mark of its own,
which tells where it is laid.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from takeoff.cutting.order_plan import OrderPlan
from takeoff.cutting.sheets.layout import LaidPiece
from takeoff.cutting.sheets.packing import CutSheet
from takeoff.cutting.sheets.plan import SheetPlan
from takeoff.measure.quantity import Quantity


@dataclass(frozen=True, slots=True)
class LaidFace:
    """A face that sheets are laid on: the id of its item, and where it is."""

    item: str
    note: str


@dataclass(frozen=True, slots=True)
class SheetPattern:
    """Sheets cut alike for the same faces: their numbers from 1, one of them, and at each place the pieces it gives.

    `pieces` has an entry for every cut of `sheet`, in the same order: one piece for each of the sheets.
    """

    numbers: tuple[int, ...]
    sheet: CutSheet
    pieces: tuple[tuple[LaidPiece, ...], ...]


def face_mark(surface: int) -> str:
    """Return the mark of a face by its place in the list of faces of a plan.

    >>> face_mark(0)
    'F1'
    """
    return f"F{surface + 1}"


def sheet_mark(number: int) -> str:
    """Return the mark of a sheet bought by its number in the plan, from 1.

    >>> sheet_mark(12)
    'S12'
    """
    return f"S{number}"


def laid_mark(piece: LaidPiece) -> str:
    """Return the mark of a piece of sheet: face, course, number along the course, as in F3.2.1.

    The letter keeps a spreadsheet from taking it for a date.
    """
    return f"{face_mark(piece.surface)}.{piece.course}.{piece.number}"


def faces_of(plan: OrderPlan, quantities: Mapping[str, Quantity]) -> tuple[LaidFace, ...]:
    """Return the faces of a sheet layout in the order of its marks; `quantities` are measured items by id."""
    return tuple(
        LaidFace(item, surface.note) for item in plan.items_of for surface in quantities[item].surfaces
    )


def sheet_patterns(plan: SheetPlan) -> tuple[SheetPattern, ...]:
    """Return the sheets of a plan, those of one size cut alike for the same faces together."""
    alike: dict[tuple[object, ...], list[int]] = {}
    for place, sheet in enumerate(plan.sheets):
        cuts = tuple(
            (
                plan.layout[cut.piece].surface,
                *(round(size, 5) for size in (cut.x, cut.y, cut.length, cut.width)),
            )
            for cut in sheet.pieces
        )
        alike.setdefault((sheet.size, cuts), []).append(place)
    return tuple(
        SheetPattern(
            numbers=tuple(place + 1 for place in places),
            sheet=plan.sheets[places[0]],
            pieces=tuple(
                tuple(plan.layout[cut.piece] for cut in cuts)
                for cuts in zip(*(plan.sheets[place].pieces for place in places), strict=True)
            ),
        )
        for places in alike.values()
    )


def marks_text(marks: Iterable[str]) -> str:
    """Return marks as text, a mark that several pieces share with their number before it.

    >>> marks_text(["LO-S01", "LO-S02"]), marks_text(["P03", "P03", "P04"])
    ('LO-S01 LO-S02', '2 of P03, P04')
    """
    counts = Counter(marks)
    shared = any(count > 1 for count in counts.values())
    texts = [f"{count} of {mark}" if count > 1 else mark for mark, count in counts.items()]
    return ", ".join(texts) if shared else " ".join(texts)
