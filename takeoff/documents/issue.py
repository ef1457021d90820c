"""All documents of one issue, or those of one reader, as files, made side by side where processes are allowed."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from functools import partial
from typing import Literal, get_args

from takeoff.compare.evaluate import Result, evaluate
from takeoff.compare.parallel import PlanWorkers, begin_process
from takeoff.compare.savings import Savings, savings
from takeoff.compare.uncertainty import Uncertainty, draw
from takeoff.documents.client import client_page
from takeoff.documents.comparison import comparison_page
from takeoff.documents.cutting_list_csv import cutting_list_csv
from takeoff.documents.option_flags import flag_texts
from takeoff.documents.order_list_csv import order_list_csv
from takeoff.documents.pdf import PdfLibraryError, page_to_pdf
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.results_json import results_json
from takeoff.documents.schedule import bill_csv, schedule_workbook
from takeoff.documents.volumes import appendix_volume, report_volume
from takeoff.model.job import Job

SCHEDULE = "schedule.xlsx"
ProgressWriter = Callable[[str], None]
Reader = Literal["architect", "qs", "client"]
READERS: tuple[Reader, ...] = get_args(Reader)

_FILES_OF: dict[Reader, tuple[str, ...]] = {
    "architect": ("comparison.html", "comparison.pdf", "comparison_appendix.pdf", "results.json"),
    "qs": ("quantities.csv", "order_list.csv", "cutting_list.csv", "bill.csv", "results.json", SCHEDULE),
    "client": ("client.pdf",),
}
_FILES = (*_FILES_OF["qs"], "comparison.html", "comparison.pdf", "comparison_appendix.pdf", "client.pdf")


@dataclass(frozen=True, slots=True)
class _Issue:
    """What the documents are made from."""

    job: Job
    results: Sequence[Result]
    ranges: Uncertainty
    saved: Savings


@dataclass(frozen=True, slots=True)
class _Made:
    """Files made in one step, why one could not be made, and pages that are still to become PDFs, by file name."""

    files: dict[str, bytes]
    missing: str = ""
    pages: Mapping[str, str] = field(default_factory=dict)


def files_of(reader: Reader | None) -> tuple[str, ...]:
    """Return the names of the files that a reader is given, of all of them if None."""
    return _FILES if reader is None else _FILES_OF[reader]


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
    progress("ranges")
    ranges = draw(job, results)
    progress("savings")
    saved = savings(job, results, ranges, evaluate_one=partial(evaluate, workers=workers))
    issue = _Issue(job, results, ranges, saved)
    wanted = files_of(reader)
    steps = [step for step, names in _NAMES.items() if set(names) & set(wanted)]
    made: list[_Made] = []
    for step, done in _each_made(issue, steps, processes):
        progress(step)
        made.append(done)
    files = {name: data for each in made for name, data in each.files.items()}
    missing = list(dict.fromkeys(each.missing for each in made if each.missing))
    return {name: files[name] for name in wanted if name in files}, missing


def _each_made(issue: _Issue, steps: Sequence[str], processes: int) -> Iterator[tuple[str, _Made]]:
    """Yield the steps as they are done, side by side where more than one process is allowed."""
    left: dict[str, str | None] = dict.fromkeys(steps)
    if processes > 1 and len(steps) > 1:
        # where no process can be started, or one has died, the rest is made here
        with contextlib.suppress(OSError, BrokenProcessPool), _document_processes(issue, processes) as pool:
            begun = {pool.submit(_make_held, step): step for step in steps}
            while begun:
                done, _ = wait(begun, return_when=FIRST_COMPLETED)
                for future in done:
                    step, made = begun.pop(future), future.result()
                    del left[step]
                    left |= made.pages
                    begun |= {pool.submit(_pdf, name, page): name for name, page in made.pages.items()}
                    yield step, made
    while left:
        step = next(iter(left))
        page = left.pop(step)
        made = _STEPS[step](issue) if page is None else _pdf(step, page)
        left |= made.pages
        yield step, made


@contextlib.contextmanager
def _document_processes(issue: _Issue, processes: int) -> Iterator[ProcessPoolExecutor]:
    """Give processes that hold what the documents are made from; what is not begun at an error is given up."""
    pool = ProcessPoolExecutor(processes, initializer=_hold, initargs=(issue,))
    try:
        yield pool
    finally:
        pool.shutdown(cancel_futures=True)


_held: list[_Issue] = []


def _hold(issue: _Issue) -> None:
    """Set a process for documents up."""
    begin_process()
    _held[:] = [issue]


def _make_held(step: str) -> _Made:
    """Make the documents of a step in a process that holds what they are made from."""
    return _STEPS[step](_held[0])


def _comparison(issue: _Issue) -> _Made:
    """Make the page of the comparison report; on paper it is a report and its appendix."""
    page = comparison_page(issue.job, issue.results, issue.ranges, issue.saved)
    pages = {"comparison.pdf": report_volume(page), "comparison_appendix.pdf": appendix_volume(page)}
    return _Made({"comparison.html": page.encode()}, pages=pages)


def _client(issue: _Issue) -> _Made:
    """Make the client paper."""
    return _pdf("client.pdf", client_page(issue.job, issue.results, issue.ranges, issue.saved))


def _pdf(name: str, page: str) -> _Made:
    """Make a PDF of a page, or say why it can't be made."""
    try:
        return _Made({name: page_to_pdf(page)})
    except PdfLibraryError as error:
        return _Made({}, str(error))


def _schedule(issue: _Issue) -> _Made:
    """Make the schedule of the base."""
    return _Made({SCHEDULE: schedule_workbook(issue.job, issue.results[0])})


def _results(issue: _Issue) -> _Made:
    """Make the file of all results."""
    text = results_json(issue.job, issue.results, issue.ranges, issue.saved)
    return _Made({"results.json": text.encode()})


def _lists(issue: _Issue) -> _Made:
    """Make the lists of quantities, orders and cuts of every option and the bill of the base."""
    job, results = issue.job, issue.results
    flags = flag_texts(job, results, results[0])
    return _Made(
        {
            "quantities.csv": quantities_csv(results, flags).encode(),
            "order_list.csv": order_list_csv(job, results, flags).encode(),
            "cutting_list.csv": cutting_list_csv(results, flags).encode(),
            "bill.csv": bill_csv(job, results[0]).encode(),
        }
    )


# What takes longest is begun first, so that the processes end at about the same time.
_STEPS: dict[str, Callable[[_Issue], _Made]] = {
    "comparison report": _comparison,
    "client paper": _client,
    "schedule": _schedule,
    "results": _results,
    "quantities, orders and bill": _lists,
}
_NAMES: dict[str, tuple[str, ...]] = {
    "comparison report": ("comparison.html", "comparison.pdf", "comparison_appendix.pdf"),
    "client paper": ("client.pdf",),
    "schedule": (SCHEDULE,),
    "results": ("results.json",),
    "quantities, orders and bill": ("quantities.csv", "order_list.csv", "cutting_list.csv", "bill.csv"),
}
