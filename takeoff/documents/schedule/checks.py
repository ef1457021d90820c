"""The sheet Checks: every control of the bill, each with both its sides as live formulas."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_controls import bill_controls
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.documents.schedule.house_checks import write_faces, write_house
from takeoff.documents.schedule.opening_checks import OPENINGS, write_openings
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet

TITLE = "Checks"
HELP = (
    "Controls that the bill has to satisfy, whatever is changed in it: each compares two figures that come about in "
    "different ways. The house below is what the model measured; it takes part in the controls alone."
)
_CONTROLS = (
    Column(key="number", title="Nr", width=6, look="count"),
    Column(key="control", title="Control", width=52),
    Column(key="tag", title="Items tagged", width=17, look="small"),
    Column(key="left", title="One side", width=15, look="quantity", role="control", formula="="),
    Column(key="right", title="Other side", width=15, look="quantity", role="control", formula="="),
    Column(
        key="difference",
        title="Difference",
        width=15,
        look="quantity",
        role="control",
        formula="=[left]-[right]",
    ),
    Column(
        key="result",
        title="Result",
        width=15,
        role="control",
        formula="=IF(ABS([difference])<=Tolerance*MAX(ABS([left]),ABS([right]),Whole),"
        "Word_satisfied,Word_not_satisfied)",
        name="Check_result",
    ),
    Column(key="how", title="How the two sides come about", width=64, look="small"),
)


def write_checks(
    paper: Paper,
    rows: Sequence[BillRow],
    controls: dict[str, str],
    result: Result,
    *,
    by_trade: bool,
    footer: str,
) -> None:
    """Write the sheet."""
    sheet = new_sheet(paper, TITLE, HELP, _CONTROLS)
    wanted = bill_controls(rows, controls, result, by_trade=by_trade)
    lines = [
        Line(
            {
                "number": number,
                "control": control.name,
                "tag": control.tag,
                "left": control.values[0],
                "right": control.values[1],
                "difference": control.values[0] - control.values[1],
                "result": "satisfied" if _agree(*control.values) else "not satisfied",
                "how": control.how,
            },
            own={"left": control.left, "right": control.right},
        )
        for number, control in enumerate(wanted, start=1)
    ]
    placed = write_table(paper, sheet, HEADER_ROW, _CONTROLS, lines)
    last = write_openings(paper, sheet, placed.last + 2, rows, controls, result)
    last = write_faces(paper, sheet, last + 2, result)
    last = write_house(paper, sheet, last + 2, result)
    # the table of openings is the widest
    finish(sheet, OPENINGS, footer=footer, last=last)


def _agree(left: float, right: float) -> bool:
    """Whether two sides agree, as the formula of the result has it."""
    return abs(left - right) <= 1e-9 * max(abs(left), abs(right), 1.0)
