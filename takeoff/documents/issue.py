"""All documents of one issue, or those of one reader, as files, made side by side where processes are allowed."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from takeoff.compare.evaluate import Ahead, Result
from takeoff.compare.parallel import PlanWorkers
from takeoff.compare.savings import Savings, likely_combinations, savings
from takeoff.compare.uncertainty import Uncertainty, draw
from takeoff.documents.client import client_page
from takeoff.documents.comparison import comparison_page
from takeoff.documents.cutting_list_csv import cutting_list_csv
from takeoff.documents.fonts import embedded_fonts
from takeoff.documents.issue_readers import (
    APPENDIX_PDF,
    CLIENT_PDF,
    COMPARISON,
    LISTS,
    REPORT_PDF,
    RESULTS,
    SCHEDULE,
    Reader,
    files_of,
)
from takeoff.documents.option_flags import flag_texts
from takeoff.documents.order_list_csv import order_list_csv
from takeoff.documents.pdf import PdfLibraryError, load_pdf_library, page_to_pdf
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.results_json import results_json
from takeoff.documents.schedule import bill_csv, schedule_workbook
from takeoff.documents.side_by_side import SideBySide
from takeoff.documents.volumes import appendix_volume, report_volume
from takeoff.model.job import Job

ProgressWriter = Callable[[str], None]


@dataclass(frozen=True)
class _Priced:
    """What the documents are made from that need no ranges."""

    job: Job
    results: Sequence[Result]


@dataclass(frozen=True)
class _Issue(_Priced):
    """What all documents are made from."""

    ranges: Uncertainty
    saved: Savings


@dataclass(frozen=True, slots=True)
class _Made:
    """Files made in one step, and why one could not be made."""

    files: dict[str, bytes]
    missing: str = ""


def get_ready(reader: Reader | None = None) -> None:
    """Load what the documents of a reader are set with, which takes a second, while there is time for it."""
    wanted = files_of(reader)
    if set(LISTS) & set(wanted):
        importlib.import_module("pandas")
    if any(name.endswith(".pdf") for name in wanted):
        load_pdf_library()
        embedded_fonts("")


def issue_files(
    job: Job,
    results: Sequence[Result],
    *,
    progress: ProgressWriter,
    reader: Reader | None = None,
    workers: PlanWorkers | None = None,
    processes: int = 1,
) -> tuple[dict[str, bytes], list[str]]:
    """Return the files of an issue by name, and a sentence for each that this machine can't make.

    `reader` limits them to the files that one reader is given. `workers` cut the plans of the savings, `processes` is
    how many documents are made side by side.
    """
    wanted = files_of(reader)
    others = max(processes - 1, 0)
    made: list[_Made] = []
    with SideBySide[_Priced, _Made](min(others, 1), _Priced(job, results)) as early:
        if SCHEDULE in wanted:
            early.begin("schedule", _schedule)
        if set(LISTS) & set(wanted):
            early.begin("quantities, orders and bill", _lists)
        ahead = Ahead(workers)
        ahead.begin(job, likely_combinations(job, results))
        progress("ranges")
        ranges = draw(job, results)
        progress("savings")
        saved = savings(job, results, ranges, evaluate_one=ahead.evaluate)
        issue = _Issue(job, results, ranges, saved)
        with SideBySide[_Issue, _Made](others, issue) as late:
            for step, done in chain(_each_late(issue, wanted, late), early.results()):
                progress(step)
                made.append(done)
    files = {name: data for each in made for name, data in each.files.items()}
    missing = list(dict.fromkeys(each.missing for each in made if each.missing))
    return {name: files[name] for name in wanted if name in files}, missing


def _each_late(
    issue: _Issue, wanted: Sequence[str], beside: SideBySide[_Issue, _Made]
) -> Iterator[tuple[str, _Made]]:
    """Yield the steps that need ranges and savings as they are done; the report is made in this process."""
    if CLIENT_PDF in wanted:
        beside.begin("client paper", _client)
    page = ""
    if set(COMPARISON) & set(wanted):
        page = comparison_page(issue.job, issue.results, issue.ranges, issue.saved)
        beside.begin(APPENDIX_PDF, _pdf, APPENDIX_PDF, appendix_volume(page))
        yield "comparison report", _Made({"comparison.html": page.encode()})
    if RESULTS in wanted:
        # taken over by whoever has done with its part of the comparison first
        beside.begin("results", _results)
    if page:
        yield REPORT_PDF, _pdf(issue, REPORT_PDF, report_volume(page))
    yield from beside.results()


def _client(issue: _Issue) -> _Made:
    """Make the client paper."""
    return _pdf(issue, CLIENT_PDF, client_page(issue.job, issue.results, issue.ranges, issue.saved))


def _pdf(issue: _Issue, name: str, page: str) -> _Made:
    """Make a PDF of a page, or say why it can't be made."""
    try:
        return _Made({name: page_to_pdf(page)})
    except PdfLibraryError as error:
        return _Made({}, str(error))


def _schedule(priced: _Priced) -> _Made:
    """Make the schedule of the base."""
    return _Made({SCHEDULE: schedule_workbook(priced.job, priced.results[0])})


def _results(issue: _Issue) -> _Made:
    """Make the file of all results."""
    text = results_json(issue.job, issue.results, issue.ranges, issue.saved)
    return _Made({RESULTS: text.encode()})


def _lists(priced: _Priced) -> _Made:
    """Make the lists of quantities, orders and cuts of every option and the bill of the base."""
    job, results = priced.job, priced.results
    flags = flag_texts(job, results, results[0])
    return _Made(
        {
            "quantities.csv": quantities_csv(results, flags).encode(),
            "order_list.csv": order_list_csv(job, results, flags).encode(),
            "cutting_list.csv": cutting_list_csv(results, flags).encode(),
            "bill.csv": bill_csv(job, results[0]).encode(),
        }
    )
