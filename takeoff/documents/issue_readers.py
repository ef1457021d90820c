"""Who is given which files of an issue."""

from __future__ import annotations

from typing import Literal, get_args

SCHEDULE = "schedule.xlsx"
REPORT_PDF = "comparison.pdf"
APPENDIX_PDF = "comparison_appendix.pdf"
CLIENT_PDF = "client.pdf"
RESULTS = "results.json"
LISTS = ("quantities.csv", "order_list.csv", "cutting_list.csv", "bill.csv")
COMPARISON = ("comparison.html", REPORT_PDF, APPENDIX_PDF)

Reader = Literal["architect", "qs", "client"]
READERS: tuple[Reader, ...] = get_args(Reader)

_FILES_OF: dict[Reader, tuple[str, ...]] = {
    "architect": (*COMPARISON, RESULTS),
    "qs": (*LISTS, RESULTS, SCHEDULE),
    "client": (CLIENT_PDF,),
}
_FILES = (*_FILES_OF["qs"], *COMPARISON, CLIENT_PDF)


def files_of(reader: Reader | None) -> tuple[str, ...]:
    """Return the names of the files that a reader is given, of all of them if None."""
    return _FILES if reader is None else _FILES_OF[reader]
