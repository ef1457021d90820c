"""All documents of one issue, as files."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty import draw
from takeoff.documents.comparison import comparison_page
from takeoff.documents.cutting_list_csv import cutting_list_csv
from takeoff.documents.option_flags import flag_texts
from takeoff.documents.order_list_csv import order_list_csv
from takeoff.documents.pdf import PdfLibraryError, page_to_pdf
from takeoff.documents.quantities_csv import quantities_csv
from takeoff.documents.results_json import results_json
from takeoff.documents.schedule import bill_csv, schedule_workbook
from takeoff.model.job import Job

SCHEDULE = "schedule.xlsx"
ProgressWriter = Callable[[str], None]


def issue_files(
    job: Job, results: Sequence[Result], *, progress: ProgressWriter
) -> tuple[dict[str, bytes], list[str]]:
    """Return the files of an issue by name, and a sentence for each that this machine can't make."""
    progress("ranges")
    ranges = draw(job, results)
    progress("quantities, orders and results")
    flags = flag_texts(job, results, results[0])
    files = {
        "quantities.csv": quantities_csv(results, flags).encode(),
        "order_list.csv": order_list_csv(job, results, flags).encode(),
        "cutting_list.csv": cutting_list_csv(results, flags).encode(),
        "bill.csv": bill_csv(job, results[0]).encode(),
        "results.json": results_json(job, results, ranges).encode(),
    }
    progress("schedule")
    files[SCHEDULE] = schedule_workbook(job, results[0])
    progress("comparison report")
    page = comparison_page(job, results, ranges)
    files["comparison.html"] = page.encode()
    progress("comparison report as PDF")
    missing: list[str] = []
    try:
        files["comparison.pdf"] = page_to_pdf(page)
    except PdfLibraryError as error:
        missing.append(str(error))
    return files, missing
