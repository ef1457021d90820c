"""The quantity surveyor's workbook: a bill that can be audited and priced anew, with live formulas throughout.

`bill_rows.py` puts the items in the order of the bill; each sheet has a module; `grid.py` writes tables of typed and
computed cells, `book.py` the whole workbook. Every computed cell holds its formula and the figure the program has for
it, so that viewers show numbers at once and an office program can recalculate all of them.
"""

from takeoff.documents.schedule.bill_csv import bill_csv
from takeoff.documents.schedule.book import schedule_workbook

__all__ = ["bill_csv", "schedule_workbook"]
