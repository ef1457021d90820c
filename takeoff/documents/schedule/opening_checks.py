"""The table of openings on the sheet Checks: each with everything that belongs to it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.controls import FLASHING, REVEAL, UNIT, cladding_tag
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

OPENINGS = (
    Column(key="number", title="Nr", width=6, look="count"),
    Column(key="mark", title="Opening", width=52),
    Column(key="tag", title="Cladding", width=17, look="small"),
    Column(
        key="deduction",
        title="Deduction, or nil",
        width=15,
        look="count",
        role="control",
        formula="=COUNTIFS(Dim_opening,[number],Dim_control,[tag])",
    ),
    *(
        Column(
            key=key,
            title=title,
            width=15,
            look="count",
            role="control",
            formula=f"=COUNTIFS(Dim_opening,[number],Dim_control,Tag_{key})",
        )
        for key, title in ((UNIT, "Unit"), (FLASHING, "Flashing"), (REVEAL, "Reveal"))
    ),
    Column(
        key="result",
        title="Result",
        width=64,
        role="control",
        formula="=IF(AND([deduction]:[reveal],[lintel]:[jambs]),Word_satisfied,Word_not_satisfied)",
        name="Opening_result",
    ),
    Column(key="lintel", title="Lintel or head trimmer", width=12, look="count", role="input"),
    Column(key="jambs", title="Jamb studs", width=12, look="count", role="input"),
)
_TAGS = (UNIT, FLASHING, REVEAL)


def opening_counts(rows: Sequence[BillRow], controls: dict[str, str], result: Result) -> list[dict[str, int]]:
    """Return how often each opening occurs in what belongs to it."""
    tagged: dict[str, list[str]] = {}
    for row in rows:
        for line in row.line.quantity.dimensions:
            tagged.setdefault(controls.get(row.id, ""), []).append(line.opening)
    framed = {f.opening.mark: f for frame in result.measured.wall_frames for f in frame.openings}
    counts = []
    for opening in result.design.openings:
        frame = framed[opening.mark]
        counts.append(
            {
                "deduction": tagged.get(cladding_tag(opening.side), []).count(opening.mark),
                **{tag: tagged.get(tag, []).count(opening.mark) for tag in _TAGS},
                "lintel": frame.lintel.plies if frame.lintel else 1,
                "jambs": 2 * frame.jamb_studs,
            }
        )
    return counts


def has_all(counts: dict[str, int]) -> bool:
    """Whether an opening has all that belongs to it."""
    return all(counts.values())


def write_openings(
    paper: Paper,
    sheet: Worksheet,
    first: int,
    rows: Sequence[BillRow],
    controls: dict[str, str],
    result: Result,
) -> int:
    """Write the table of openings; return its last row."""
    lines = [
        Line(
            {
                "number": number,
                "mark": f"{opening.mark}, {opening.kind}, {opening.width:.2f} x {opening.height:.2f} m",
                "tag": cladding_tag(opening.side),
                **counts,
                "result": "satisfied" if has_all(counts) else "not satisfied",
            }
        )
        for number, (opening, counts) in enumerate(
            zip(result.design.openings, opening_counts(rows, controls, result), strict=True), start=1
        )
    ]
    placed = write_table(paper, sheet, first, OPENINGS, lines)
    paper.name_range("Opening_number", placed.sheet, placed.columns["number"], placed.first, placed.last)
    return placed.last
