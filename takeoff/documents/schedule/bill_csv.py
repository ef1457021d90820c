"""The plain twin of the bill: one row an item, with the columns of the sheet Schedule."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from takeoff.compare.evaluate import Result
from takeoff.documents.option_flags import FLAGS_COLUMN, flag_lines
from takeoff.documents.quantities_csv import csv_text, exact
from takeoff.documents.schedule.bill import bill_values
from takeoff.documents.schedule.bill_rows import BillRow, bill_rows
from takeoff.model.job import Job

if TYPE_CHECKING:
    from pandas import DataFrame

COLUMNS: dict[str, str] = {
    "option": "name of the option",
    "item": "number of the item in the bill",
    "id": "stable id",
    "element": "element it belongs to",
    "trade": "trade that does it",
    "description": "description as in the bill",
    "location": "where it is",
    "status": "firm, provisional or allowance",
    "kind": "measured, provisional sum or prime-cost sum",
    "by": "measured by the model, or by hand",
    "drawings": "drawing and revision it is measured from",
    "unit": "unit it is billed in",
    "quantity": "quantity in that unit, rounded as the measurement profile asks",
    "rate": "composite rate for one unit billed, in the project's currency",
    "amount": "net times rate of net, not rounded, in the project's currency",
    "material": "material with sundries alone, part of amount",
    "labour": "labour alone, part of amount",
    "plant": "plant alone, part of amount",
    "stated": "part of amount that is stated whole: allowances and rates overridden",
    "measured": "what the dimensions square to, in net_unit",
    "net": "net quantity, overrides in it, in net_unit",
    "net_unit": "unit it is measured in",
    "net_rate": "composite rate for one net_unit",
    FLAGS_COLUMN[0]: FLAGS_COLUMN[1],
}


def bill_table(rows: Sequence[BillRow], *, option: str, flags: str) -> DataFrame:
    """Return the bill of an option as a table with the columns of `COLUMNS`; `flags` are those of the option."""
    from pandas import DataFrame

    own = {"option": option, FLAGS_COLUMN[0]: flags}
    return DataFrame([{**bill_values(row), **own} for row in rows], columns=list(COLUMNS))


def bill_csv(job: Job, result: Result, base: Result | None = None) -> str:
    """Return the bill of one option as CSV text; its fabric is compared with that of `base`, its own if not given."""
    flags = ". ".join(flag_lines(job, result, base or result))
    return csv_text(bill_table(bill_rows(job, result), option=result.option.name, flags=flags), exact)
