"""The whole workbook of the quantity surveyor for one option."""

from __future__ import annotations

import io

from takeoff.compare.evaluate import Result
from takeoff.compare.parity import shortfalls
from takeoff.documents.made_here import MADE_HERE, MADE_ON
from takeoff.documents.option_flags import flag_lines
from takeoff.documents.parity_words import marked
from takeoff.documents.schedule.about import write_about
from takeoff.documents.schedule.allowances import write_allowances
from takeoff.documents.schedule.bill import write_bill, write_bill_by_trade
from takeoff.documents.schedule.bill_rows import bill_rows
from takeoff.documents.schedule.carbon import write_carbon
from takeoff.documents.schedule.checks import write_checks
from takeoff.documents.schedule.controls import controls_of
from takeoff.documents.schedule.dimensions import write_dimensions
from takeoff.documents.schedule.grid import Paper
from takeoff.documents.schedule.lists import (
    write_glossary,
    write_issues,
    write_overrides,
    write_queries,
    write_to_take,
)
from takeoff.documents.schedule.looks import Looks
from takeoff.documents.schedule.orders import write_cutting_list, write_order_list
from takeoff.documents.schedule.price_base import PriceBase, write_labour, write_prices
from takeoff.documents.schedule.rates import write_rates
from takeoff.documents.schedule.summary import write_summary
from takeoff.model.job import Job


def schedule_workbook(job: Job, result: Result, base: Result | None = None) -> bytes:
    """Return the schedule of one option as an .xlsx file.

    `base` is the option that its fabric is compared with, itself if not given.

    Every computed cell holds its formula and the figure that the program has for it.
    """
    from xlsxwriter import Workbook

    data = io.BytesIO()
    book = Workbook(data, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    project = job.project
    book.set_properties(
        {
            "title": f"{project.name}, schedule",
            "subject": result.option.name,
            "author": project.author,
            "company": project.practice,
            "category": MADE_HERE,
            "created": MADE_ON,
        }
    )
    paper = Paper(book, Looks(book))
    rows = bill_rows(job, result)
    controls = controls_of(rows, result, job.library)
    openings = {opening.mark: number for number, opening in enumerate(result.design.openings, start=1)}
    base = base or result
    (shown,) = marked([result], {result.option.name: shortfalls(job, result, base)})
    footer = f"{project.name}, {shown.option.name}, issue {project.issue}"
    currency = project.currency
    trade_first, both = project.bill_order == "trade", project.bill_order == "both"
    write_about(paper, job, shown, rows, flag_lines(job, result, base), footer=footer)
    write_summary(paper, job, result, footer=footer)
    write_bill(paper, rows, controls, by_trade_first=trade_first, currency=currency, footer=footer)
    if both:
        write_bill_by_trade(paper, rows, currency=currency, footer=footer)
    write_dimensions(paper, rows, controls, openings, footer=footer)
    # the sheet Rates stands before those it is built up from, so these are numbered first
    priced = PriceBase.of(rows, job.library)
    write_rates(paper, rows, priced, job.library, currency=currency, footer=footer)
    write_prices(paper, rows, priced, job.library, currency=currency, footer=footer)
    write_labour(paper, rows, priced, job.library, currency=currency, footer=footer)
    write_order_list(paper, job, result, rows, footer=footer)
    write_cutting_list(paper, result, rows, footer=footer)
    write_carbon(paper, rows, job.study, footer=footer)
    write_allowances(paper, rows, result, currency=currency, footer=footer)
    write_to_take(paper, job, result, footer=footer)
    write_queries(paper, job, footer=footer)
    write_overrides(paper, rows, footer=footer)
    write_checks(paper, rows, controls, result, by_trade=both, footer=footer)
    write_issues(paper, job, footer=footer)
    write_glossary(paper, footer=footer)
    book.close()
    return data.getvalue()
