"""The cutting list: every piece, and what it is cut from, option by option."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import CutLength, OrderPlan, TooLong
from takeoff.cutting.sheets.packing import CutSheet
from takeoff.documents.option_flags import FLAGS_COLUMN, NO_FLAGS, FlagTexts
from takeoff.documents.order_words import SPECIAL_ORDER
from takeoff.documents.piece_marks import (
    LaidFace,
    SheetPattern,
    faces_of,
    laid_mark,
    marks_text,
    sheet_mark,
    sheet_patterns,
)
from takeoff.documents.quantities_csv import csv_text
from takeoff.measure.quantity import Quantity

if TYPE_CHECKING:
    from pandas import DataFrame

COLUMNS: dict[str, str] = {
    "option": "name of the option",
    "plan": "number of the plan, as in the order list",
    "material": "material with its section or thickness",
    "sold_by": "length, sheet and so on as on the sheet Stock; of random lengths the plan is made with their mean; "
    "special order: longer than anything on sale",
    "stock_length": "length of what it is cut from [m]",
    "stock_width": "width of the sheet it is cut from [m]",
    "pattern": "number of the pattern in its plan: lengths or sheets of one pattern are cut alike",
    "alike": "how many are cut alike",
    "sheets": "marks of these sheets",
    "place": "place of the piece in the pattern, from 1",
    "marks": "marks of the pieces, one for each cut alike; '3 of P02' where equal pieces share one",
    "item": "id of the item it is for",
    "part": "which part of a joined piece it is, as in 1 of 2",
    "length": "length of the piece [m]; of sheets that of the rectangle it is cut from, along the sheet",
    "width": "width of that rectangle [m]; blank for lengths",
    "x": "where it lies along the sheet, from one corner [m]",
    "y": "where it lies across the sheet, from the same corner [m]",
    "face": "face it is laid on",
    "offcut": "what is left of each length, kerfs deducted [m]; blank for sheets",
    "sheet_offcuts": "rectangles worth keeping that are left of each sheet, length x width [m]",
    FLAGS_COLUMN[0]: FLAGS_COLUMN[1],
}


def cutting_list_table(results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> DataFrame:
    """Return every piece of all given options as a table with the columns of `COLUMNS`."""
    from pandas import DataFrame

    rows = [
        {
            "option": result.option.name,
            "plan": plan.number,
            "material": plan.name,
            **row,
            FLAGS_COLUMN[0]: flags.get(result.option.name, ""),
        }
        for result in results
        for plan in result.plans
        for row in _rows(plan, {quantity.id: quantity for quantity in result.measured.quantities})
    ]
    return DataFrame(rows, columns=list(COLUMNS))


def cutting_list_csv(results: Iterable[Result], flags: FlagTexts = NO_FLAGS) -> str:
    """Return the cutting list as CSV text; `flags` are those of each option by name."""
    return csv_text(cutting_list_table(results, flags))


def _rows(plan: OrderPlan, quantities: Mapping[str, Quantity]) -> Iterator[dict[str, Any]]:
    """Yield a row for each place of each pattern of a plan."""
    for number, cut in enumerate(plan.lengths, start=1):
        yield from _length_rows(number, cut)
    yield from _special_rows(len(plan.lengths) + 1, plan.too_long)
    if plan.sheets is not None:
        faces = faces_of(plan, quantities)
        for number, pattern in enumerate(sheet_patterns(plan.sheets), start=1):
            yield from _sheet_rows(number, pattern, faces)


def _length_rows(number: int, cut: CutLength) -> Iterator[dict[str, Any]]:
    """Yield the pieces of lengths cut alike."""
    for place, piece in enumerate(cut.pieces, start=1):
        yield {
            "sold_by": cut.stock.sold_by,
            "stock_length": cut.length,
            "pattern": number,
            "alike": cut.count,
            "place": place,
            "marks": marks_text(piece.marks),
            "item": piece.item,
            "part": piece.part,
            "length": piece.length,
            "offcut": cut.offcut,
        }


def _special_rows(number: int, too_long: Iterable[TooLong]) -> Iterator[dict[str, Any]]:
    """Yield the pieces that nothing on sale serves, equal ones of an item together."""
    groups: dict[tuple[str, float], list[str]] = {}
    for piece in too_long:
        groups.setdefault((piece.item, piece.length), []).append(piece.mark)
    for pattern, ((item, length), marks) in enumerate(groups.items(), start=number):
        yield {
            "sold_by": SPECIAL_ORDER,
            "stock_length": length,
            "pattern": pattern,
            "alike": len(marks),
            "place": 1,
            "marks": marks_text(marks),
            "item": item,
            "part": "",
            "length": length,
            "offcut": 0.0,
        }


def _sheet_rows(number: int, pattern: SheetPattern, faces: tuple[LaidFace, ...]) -> Iterator[dict[str, Any]]:
    """Yield the pieces of sheets cut alike."""
    sheet = pattern.sheet
    for place, (cut, laid) in enumerate(zip(sheet.pieces, pattern.pieces, strict=True), start=1):
        face = faces[laid[0].surface]
        yield {
            "sold_by": "sheet",
            "stock_length": sheet.size.length,
            "stock_width": sheet.size.width,
            "pattern": number,
            "alike": len(pattern.numbers),
            "sheets": " ".join(map(sheet_mark, pattern.numbers)),
            "place": place,
            "marks": marks_text(laid_mark(piece) for piece in laid),
            "item": face.item,
            "part": "",
            "length": cut.length,
            "width": cut.width,
            "x": cut.x,
            "y": cut.y,
            "face": face.note,
            "sheet_offcuts": _offcuts(sheet),
        }


def _offcuts(sheet: CutSheet) -> str:
    """Return the offcuts of a sheet that are worth keeping."""
    return "; ".join(f"{offcut.length:.3f} x {offcut.width:.3f}" for offcut in sheet.offcuts)
