"""The cutting plans at the end of the report: patterns of lengths, sheets as laid and as cut, each in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import OrderPlan
from takeoff.cutting.sheets.plan import SheetPlan
from takeoff.documents.drawings.cutting_keys import pattern_key, sheet_key
from takeoff.documents.drawings.cutting_patterns import cutting_patterns, pattern_scale
from takeoff.documents.drawings.hatches import OFF_WHITE, STRAW, TONES
from takeoff.documents.drawings.paper import Drawing
from takeoff.documents.drawings.sheet_cutting import cut_sheets_drawn, is_whole, sheet_scale
from takeoff.documents.drawings.sheet_layouts import face_layouts
from takeoff.documents.order_kinds import bars_drawn, in_random_lengths, lengths_not_drawn
from takeoff.documents.piece_marks import laid_mark, sheet_mark, sheet_patterns
from takeoff.documents.wording import number
from takeoff.measure.quantity import Quantity
from takeoff.measure.surface import Surface
from takeoff.model.library import Library


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPlan:
    """One plan as it is shown: its heading, what is said of it, its pictures."""

    heading: str
    words: str
    pictures: tuple[Drawing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingAppendix:
    """The drawn plans of lengths and of sheets, each with its key, and which cutting plans are not drawn."""

    length_key: Drawing | None
    lengths: tuple[DrawnPlan, ...]
    sheet_key: Drawing | None
    sheets: tuple[DrawnPlan, ...]
    not_drawn: str


def cutting_appendix(result: Result, library: Library, *, paper_width_mm: float) -> CuttingAppendix | None:
    """Return the cutting plans of one option as pictures to one scale each; None where nothing is cut."""
    bars = bars_drawn(result, library)
    sheets = [plan for plan in result.plans if plan.sheets is not None]
    left_out = lengths_not_drawn(result, library)
    if not (bars or sheets or left_out):
        return None
    scale = pattern_scale(bars, paper_width_mm=paper_width_mm)
    items = {line.quantity.id: line.quantity for line in result.lines}
    surfaces = {plan.number: surfaces_of(plan, items) for plan in sheets}
    laid_at = sheet_scale(
        [plan.sheets for plan in sheets if plan.sheets is not None],
        [surface for several in surfaces.values() for surface in several],
        paper_width_mm=paper_width_mm,
    )
    return CuttingAppendix(
        length_key=pattern_key(
            tone=STRAW, scale=scale, paper_width_mm=paper_width_mm, id_prefix="pattern-key"
        )
        if bars
        else None,
        lengths=tuple(_lengths_drawn(plan, library, scale, paper_width_mm) for plan in bars),
        sheet_key=sheet_key(
            tone=OFF_WHITE, scale=laid_at, paper_width_mm=paper_width_mm, id_prefix="sheet-key"
        )
        if sheets
        else None,
        sheets=tuple(
            _sheets_drawn(plan, plan.sheets, surfaces[plan.number], library, laid_at, paper_width_mm)
            for plan in sheets
            if plan.sheets is not None
        ),
        not_drawn=_not_drawn(left_out),
    )


def surfaces_of(plan: OrderPlan, items: Mapping[str, Quantity]) -> list[Surface]:
    """Return the faces of a sheet layout in the order in which it counts them."""
    return [surface for item in plan.items_of for surface in items[item].surfaces]


def _tone(plan: OrderPlan, library: Library) -> str:
    """Return the tint of the material of a plan."""
    return TONES.get(library.materials[plan.material].family, OFF_WHITE)


def _lengths_drawn(plan: OrderPlan, library: Library, scale: int, paper_width_mm: float) -> DrawnPlan:
    """Return the patterns of one section."""
    count = sum(cut.count for cut in plan.lengths)
    bought = sum(cut.count * cut.length for cut in plan.lengths)
    pieces = sum(cut.count * piece.length for cut in plan.lengths for piece in cut.pieces)
    offcuts = sum(cut.count * cut.offcut for cut in plan.lengths)
    words = (
        f"{_several(count, 'length')} in {_several(len(plan.lengths), 'pattern')}: {number(bought, 1)} m, of which "
        f"pieces {number(pieces, 1)} m, offcuts {number(offcuts, 1)} m, saw cuts "
        f"{number(max(bought - pieces - offcuts, 0.0), 1)} m."
    )
    if plan.too_long:
        marks = ", ".join(piece.mark for piece in plan.too_long)
        words += f" Longer than on sale and bought at their own length: {marks}."
    return DrawnPlan(
        heading=f"{plan.number} {plan.name}",
        words=words,
        pictures=tuple(
            cutting_patterns(
                plan,
                tone=_tone(plan, library),
                scale=scale,
                paper_width_mm=paper_width_mm,
                id_prefix=f"patterns-{plan.number}",
            )
        ),
    )


def _sheets_drawn(
    plan: OrderPlan,
    sheets: SheetPlan,
    surfaces: Sequence[Surface],
    library: Library,
    scale: int,
    paper_width_mm: float,
) -> DrawnPlan:
    """Return the faces and the sheets of one material."""
    patterns = sheet_patterns(sheets)
    whole = [pattern for pattern in patterns if is_whole(pattern)]
    cut = [pattern for pattern in patterns if not is_whole(pattern)]
    tone = _tone(plan, library)
    words = (
        f"{_several(len(sheets.sheets), 'sheet')}, {number(sheets.area_bought, 1)} m², for "
        f"{_several(len(sheets.layout), 'piece')} of {number(sheets.area_laid, 1)} m² on "
        f"{_several(len(surfaces), 'face')}; {sheets.rule}."
    )
    if whole:
        pairs = (
            f"{sheet_mark(number)} {laid_mark(piece)}"
            for pattern in whole
            for number, piece in zip(pattern.numbers, pattern.pieces[0], strict=True)
        )
        words += f" Laid whole, not drawn as cut: {', '.join(pairs)}."
    faces = face_layouts(
        sheets.layout,
        surfaces,
        name=plan.name,
        tone=tone,
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=f"faces-{plan.number}",
    )
    sheets_cut = cut_sheets_drawn(
        cut,
        name=plan.name,
        tone=tone,
        scale=scale,
        paper_width_mm=paper_width_mm,
        id_prefix=f"sheets-{plan.number}",
    )
    return DrawnPlan(heading=f"{plan.number} {plan.name}", words=words, pictures=(*faces, *sheets_cut))


def _several(count: int, word: str) -> str:
    """Return a count with its word.

    >>> _several(1, "face"), _several(12, "face")
    ('1 face', '12 faces')
    """
    return f"{number(count)} {word}{'' if count == 1 else 's'}"


def _not_drawn(plans: Sequence[OrderPlan]) -> str:
    """Return in a sentence or two which cutting plans are in the order list only, and why."""
    random = [plan.name for plan in plans if in_random_lengths(plan)]
    sentences = []
    if len(plans) > len(random):
        sentences.append("Trims, gutters and linings bought by length are in the order list only.")
    if random:
        sentences.append(f"So is what comes in random lengths, planned as their mean: {'; '.join(random)}.")
    return " ".join(sentences)
