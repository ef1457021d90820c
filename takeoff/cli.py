"""The command line: reads arguments, calls, prints. Heavy libraries are imported where they are used."""

from __future__ import annotations

import gc
import io
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rich.console import Console

    from takeoff.compare.evaluate import Result
    from takeoff.compare.parallel import PlanWorkers
    from takeoff.documents.issue_readers import Reader
    from takeoff.model.house import Option
    from takeoff.model.issued_bill import Bill
    from takeoff.model.job import Job
    from takeoff.model.problem import WorkbookProblem

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Material take-off, cost and embodied carbon of small single-pitch timber houses, from one workbook.",
)

WORKBOOK_WRONG = 1
COMMAND_WRONG = 2

House = Annotated[Path, typer.Argument(metavar="HOUSE.xlsx", help="The house workbook.", show_default=False)]
OptionName = Annotated[
    str | None, typer.Option("--option", metavar="NAME", help="Name of an option; the base if not given.")
]


def main() -> None:
    """Run the command line. A terminal that lacks a sign shows a question mark for it."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    # a run keeps what it makes to its end: to look for what is no longer used takes time and finds next to nothing
    gc.disable()
    try:
        app()
    finally:
        # at the very end it would be looked for all the same
        gc.freeze()


def _say(text: str) -> None:
    """Print to the error stream: problems and progress never mix with what a script reads."""
    print(text, file=sys.stderr)


def _fail(problems: Sequence[WorkbookProblem]) -> typer.Exit:
    """Print problems, one a line, and return the exit."""
    for problem in problems:
        _say(problem.line())
    _say(f"{len(problems)} problem{'' if len(problems) == 1 else 's'}.")
    return typer.Exit(WORKBOOK_WRONG)


def _wrong_command(text: str) -> typer.Exit:
    """Print what is wrong with the command line and return the exit."""
    _say(text)
    return typer.Exit(COMMAND_WRONG)


def _console() -> Console:
    """Return the console for tables: as wide as the terminal, wide enough when piped."""
    from rich.console import Console

    console = Console(highlight=False)
    return console if console.is_terminal else Console(highlight=False, width=200)


def _read(house: Path) -> Job:
    """Read the job, or print every problem of its workbooks and leave."""
    from takeoff.workbook.grid import WorkbookError
    from takeoff.workbook.reading import read_job

    try:
        return read_job(house)
    except WorkbookError as error:
        if error.design is None:
            raise _fail(error.problems) from error
        from takeoff.compare.evaluate import setting_out_problems

        more = setting_out_problems(error.design)
        raise _fail(WorkbookError(error.problems + more).problems) from error


def _all_results(job: Job, *, planned: bool = True, workers: PlanWorkers | None = None) -> list[Result]:
    """Evaluate every option, in processes of its own if none are given, or print every problem and leave."""
    from takeoff.compare.evaluate import DesignError, evaluate_all

    if planned and workers is None:
        with _plan_workers() as own:
            return _all_results(job, workers=own)
    progress = _progress()
    try:
        return evaluate_all(job, lambda name: progress(f"option {name}"), planned=planned, workers=workers)
    except DesignError as error:
        raise _fail(error.problems) from error


def _plan_workers() -> AbstractContextManager[PlanWorkers]:
    """Return processes for cutting plans, as many as are allowed."""
    from takeoff.compare.parallel import plan_workers, processes_allowed

    return plan_workers(processes_allowed())


@contextmanager
def _documents_loading(reader: Reader | None) -> Iterator[None]:
    """Load what an issue is made with beside the evaluation, which waits for its processes most of the time."""

    def load() -> None:
        from takeoff.documents.issue import get_ready

        get_ready(reader)

    beside = threading.Thread(target=load)
    beside.start()
    try:
        yield
    finally:
        # a process may not be begun while another thread is in the midst of something
        beside.join()


def _one_result(job: Job, name: str | None) -> Result:
    """Evaluate one option by name, the base if none is given, or leave."""
    from takeoff.compare.evaluate import DesignError, evaluate

    option = _option(job, name)
    try:
        with _plan_workers() as workers:
            return evaluate(job, option, workers=workers)
    except DesignError as error:
        raise _fail(error.problems) from error


def _option(job: Job, name: str | None) -> Option:
    """Return an option by name, the base if none is given, or leave."""
    try:
        return job.option(name) if name else job.base
    except KeyError as error:
        names = ", ".join(option.name for option in job.options)
        raise _wrong_command(f"There is no option {name!r}. Options: {names}.") from error


def _one_of(job: Job, results: Sequence[Result], name: str | None) -> Result:
    """Return the result of an option by name, of the base if none is given, or leave."""
    option = _option(job, name)
    return next(result for result in results if result.option is option)


def _reader(word: str | None) -> Reader | None:
    """Return the reader that a word names, None where none is given, or leave."""
    from takeoff.documents.issue_readers import READERS

    if word is None:
        return None
    for reader in READERS:
        if reader == word.strip().lower():
            return reader
    raise _wrong_command(f"An issue is for one of {', '.join(READERS)}, not for {word!r}.")


def _base(job: Job, result: Result) -> Result:
    """Return the base that an option is compared with: itself where it is the base."""
    if result.option is job.base:
        return result
    from takeoff.compare.evaluate import DesignError, evaluate

    try:
        return evaluate(job, job.base, planned=False)
    except DesignError as error:
        raise _fail(error.problems) from error


def _marked(job: Job, result: Result) -> Result:
    """Return a result with the mark in its option's name where its fabric falls short."""
    from takeoff.compare.parity import shortfalls
    from takeoff.documents.parity_words import marked

    return marked([result], {result.option.name: shortfalls(job, result, _base(job, result))})[0]


def _print_flags(job: Job, results: Sequence[Result]) -> None:
    """Print what each option asks to confirm and where its fabric falls short."""
    from takeoff.documents.option_flags import flag_lines

    base = results[0] if results[0].option is job.base else _base(job, results[0])
    for result in results:
        for line in flag_lines(job, result, base):
            print(f"{result.option.name}: {line}")


def _print_overrides(results: Sequence[Result]) -> None:
    """Print what the quantity surveyor put in the place of which figure, each override once."""
    from takeoff.documents.overrides_shown import override_lines

    for line in override_lines(results):
        print(line)


def _write(path: Path, data: bytes) -> None:
    """Write one file whole, or leave with a sentence. A workbook is never written over."""
    if path.suffix.lower() == ".xlsx":
        raise _wrong_command(f"{path} is named like a workbook; choose another name.")
    _place(path, data)


def _check_sheet(path: Path) -> None:
    """Leave with a sentence where a document can't be a workbook of that name: only a document is written over."""
    from takeoff.documents.made_here import may_replace

    if path.suffix.lower() != ".xlsx":
        raise _wrong_command(f"{path} has to end in .xlsx.")
    if not may_replace(path):
        raise _wrong_command(
            f"{path} is no document of this program, or was changed since, and is left as it is; choose another name."
        )


def _place(path: Path, data: bytes) -> None:
    """Put one file in its place whole, or leave with a sentence."""
    from takeoff.documents.folder import write_whole

    try:
        write_whole(path.absolute().parent, {path.name: data})
    except OSError as error:
        raise _wrong_command(f"{path} can't be written: {error.strerror or error}.") from error


@app.command()
def new(house: House) -> None:
    """Write a starter workbook, filled in as an example, with its factors workbook beside it."""
    from takeoff.workbook.writing import WorkbookExistsError, WorkbookNameError, write_starter

    try:
        files = write_starter(house)
    except (WorkbookExistsError, WorkbookNameError) as error:
        raise _wrong_command(str(error)) from error
    except OSError as error:
        raise _wrong_command(f"{house} can't be written: {error.strerror or error}.") from error
    print(f"Wrote {files.house}.")
    if files.factors_kept:
        print(f"{files.factors} was there already and is left as it is.")
    else:
        print(f"Wrote {files.factors}.")
    print(f"Next: takeoff check {house}, then takeoff issue {house}")


def _put(path: Path, text: str) -> None:
    """Write a text to a file, or to the screen where the name is a dash."""
    if str(path) == "-":
        sys.stdout.write(text)
    else:
        _write(path, text.encode())


@app.command()
def check(house: House) -> None:
    """List everything wrong with a workbook, with sheet and cell; exit status 1 if anything is."""
    job = _read(house)
    # what can be wrong with a workbook shows without cutting plans
    results = _all_results(job, planned=False)
    options = len(job.options)
    items = len(results[0].lines)
    print(f"{house}: no problems; {options} options, {items} items in {job.base.name!r}.")


@app.command()
def measure(
    house: House,
    option: OptionName = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the quantities as CSV; - for the screen."),
    ] = None,
) -> None:
    """Measure one option: quantities to the screen, or as CSV."""
    job = _read(house)
    result = _one_result(job, option)
    if csv is None:
        from takeoff.documents.screen import quantities_screen

        _console().print(quantities_screen(_marked(job, result)))
        _print_flags(job, [result])
        _print_overrides([result])
        return
    from takeoff.documents.option_flags import flag_texts
    from takeoff.documents.quantities_csv import quantities_csv

    _put(csv, quantities_csv([result], flag_texts(job, [result], _base(job, result))))


@app.command()
def fabric(house: House, option: OptionName = None) -> None:
    """Show how good the fabric of an option is, whether it falls short, and the indicative checks of its members."""
    from takeoff.documents.fabric_screen import fabric_screen

    job = _read(house)
    results = _all_results(job, planned=False)
    chosen = _one_of(job, results, option)
    _console().print(fabric_screen(job, results, chosen))
    _print_flags(job, results)


@app.command()
def order(
    house: House,
    option: OptionName = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the order list as CSV; - for the screen."),
    ] = None,
    cutting: Annotated[
        Path | None,
        typer.Option("--cutting", metavar="FILE", help="Write the cutting list as CSV; - for the screen."),
    ] = None,
) -> None:
    """List what to buy for one option, and how it is cut: to the screen, or as CSV."""
    if csv is not None and csv == cutting:
        raise _wrong_command("--csv and --cutting need two files; only one of them can be -.")
    job = _read(house)
    result = _one_result(job, option)
    if csv is None and cutting is None:
        from takeoff.documents.order_screen import order_screen

        _console().print(order_screen(job, _marked(job, result)))
        _print_flags(job, [result])
        return
    from takeoff.documents.option_flags import flag_texts

    flags = flag_texts(job, [result], _base(job, result))
    if csv is not None:
        from takeoff.documents.order_list_csv import order_list_csv

        _put(csv, order_list_csv(job, [result], flags))
    if cutting is not None:
        from takeoff.documents.cutting_list_csv import cutting_list_csv

        _put(cutting, cutting_list_csv([result], flags))


@app.command()
def schedule(
    house: House,
    option: OptionName = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="FILE.xlsx", help="The schedule; beside the house workbook if not given."
        ),
    ] = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the bill as CSV instead; - for the screen."),
    ] = None,
) -> None:
    """Write the quantity surveyor's workbook for one option: bill, dimensions, rates, carbon, checks, all live."""
    from takeoff.documents.schedule import bill_csv, schedule_workbook

    job = _read(house)
    result = _one_result(job, option)
    if csv is not None:
        _put(csv, bill_csv(job, result, _base(job, result)))
        if out is None:
            return
    path = out or house.absolute().parent / f"{house.stem}_schedule.xlsx"
    _check_sheet(path)
    _place(path, schedule_workbook(job, result, _base(job, result)))
    _print_flags(job, [result])
    print(f"Wrote {path}.")


@app.command()
def client(
    house: House,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="FILE.pdf", help="The client paper; beside the house workbook if not given."
        ),
    ] = None,
) -> None:
    """Write the client paper: five pages on cost, carbon, what can change and what is not covered, as PDF."""
    from takeoff.compare.savings import savings
    from takeoff.compare.uncertainty import draw
    from takeoff.documents.client import client_page

    path = out or house.absolute().parent / f"{house.stem}_client.pdf"
    if path.suffix.lower() != ".pdf":
        raise _wrong_command(f"{path} has to end in .pdf.")
    job = _read(house)
    results = _all_results(job)
    ranges = draw(job, results)
    _place(path, _pdf(client_page(job, results, ranges, savings(job, results, ranges))))
    print(f"Wrote {path}.")


@app.command()
def compare(
    house: House,
    html: Annotated[
        Path | None, typer.Option("--html", metavar="FILE", help="Write the comparison report as HTML.")
    ] = None,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="FILE", help="Write the comparison report as PDF.")
    ] = None,
    json: Annotated[
        Path | None,
        typer.Option("--json", metavar="FILE", help="Write all results as JSON; - for the screen."),
    ] = None,
) -> None:
    """Compare the options: side by side on the screen, as a report, or as JSON."""
    from takeoff.compare.uncertainty import draw

    job = _read(house)
    results = _all_results(job)
    ranges = draw(job, results)
    if html is None and pdf is None and json is None:
        from takeoff.compare.parity import shortfalls_of_all
        from takeoff.documents.screen import differences_screen, options_screen

        missed = shortfalls_of_all(job, results)
        _console().print(options_screen(job, results, missed))
        if len(results) > 1:
            _console().print(differences_screen(job, ranges, missed))
        _print_flags(job, results)
        _print_overrides(results)
        return
    from takeoff.compare.savings import savings

    saved = savings(job, results, ranges)
    if json is not None:
        from takeoff.documents.results_json import results_json

        _put(json, results_json(job, results, ranges, saved))
    if html is not None or pdf is not None:
        from takeoff.documents.comparison import comparison_page

        page = comparison_page(job, results, ranges, saved)
        if html is not None:
            _write(html, page.encode())
        if pdf is not None:
            _write(pdf, _pdf(page))


def _pdf(page: str) -> bytes:
    """Return a page as PDF, or leave where the text library of the system is missing."""
    from takeoff.documents.pdf import PdfLibraryError, page_to_pdf

    try:
        return page_to_pdf(page)
    except PdfLibraryError as error:
        _say(str(error))
        raise typer.Exit(COMMAND_WRONG) from error


@app.command()
def issue(
    house: House,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="FOLDER", help="Folder for the documents; beside the workbook if not given."
        ),
    ] = None,
    reader: Annotated[
        str | None,
        typer.Option(
            "--for",
            metavar="READER",
            help="Only what the architect, qs or client is given; all if not given.",
        ),
    ] = None,
) -> None:
    """Write all documents into one folder, whole or not at all."""
    from takeoff.compare.parallel import processes_allowed
    from takeoff.documents.folder import write_whole
    from takeoff.documents.issue_readers import SCHEDULE, files_of

    chosen = _reader(reader)
    with _plan_workers() as workers:
        # they get ready while the workbooks are read
        workers.start()
        job = _read(house)
        folder = out or house.absolute().parent / f"{house.stem}_issue"
        if folder.exists() and not folder.is_dir():
            raise _wrong_command(f"{folder} is a file; name a folder.")
        if SCHEDULE in files_of(chosen):
            _check_sheet(folder / SCHEDULE)
        with _documents_loading(chosen):
            results = _all_results(job, workers=workers)
        from takeoff.documents.issue import issue_files

        files, missing = issue_files(
            job,
            results,
            progress=_progress(),
            reader=chosen,
            workers=workers,
            processes=processes_allowed(),
        )
    try:
        write_whole(folder.absolute(), files)
    except OSError as error:
        raise _wrong_command(f"{folder} can't be written: {error.strerror or error}.") from error
    for text in missing:
        _say(text)
    print(f"Wrote {', '.join(files)} to {folder}")


@app.command()
def explain(
    house: House,
    id: Annotated[
        str,
        typer.Argument(
            metavar="ID", help="Id of the item, or the beginning of one alone.", show_default=False
        ),
    ],
    option: OptionName = None,
) -> None:
    """Walk one figure back: dimensions, order, rate and carbon of an item, with the workbook cells they came from."""
    from takeoff.documents.explain import explanation
    from takeoff.documents.explain_ids import NoSuchItemError
    from takeoff.documents.explain_screen import explanation_text

    job = _read(house)
    result = _one_result(job, option)
    try:
        sections = explanation(job, result, id)
    except NoSuchItemError as error:
        raise _wrong_command(str(error)) from error
    sys.stdout.write(explanation_text(sections, title=f"{job.project.name}, {result.option.name}"))


@app.command()
def movement(
    old: Annotated[
        Path, typer.Argument(metavar="OLD", help="House workbook or issue folder.", show_default=False)
    ],
    new: Annotated[
        Path, typer.Argument(metavar="NEW", help="House workbook or issue folder.", show_default=False)
    ],
    option: OptionName = None,
    new_option: Annotated[
        str | None,
        typer.Option("--new-option", metavar="NAME", help="Its name in NEW, where that is another."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", metavar="FILE.xlsx", help="Write the movement as a workbook.")
    ] = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the movement as CSV; - for the screen."),
    ] = None,
) -> None:
    """Show what moved between two issues, in quantity and in rate, in money and in carbon."""
    from takeoff.compare.movement import NotComparableError
    from takeoff.compare.movement import movement as moved

    if out is not None:
        _check_sheet(out)
    try:
        found = moved(_bill(old, option), _bill(new, new_option or option))
    except NotComparableError as error:
        _say(str(error))
        raise typer.Exit(WORKBOOK_WRONG) from error
    if out is None and csv is None:
        from takeoff.documents.movement_screen import movement_screen

        _console().print(movement_screen(found))
    if out is not None:
        from takeoff.documents.movement_sheet import movement_sheet

        _place(out, movement_sheet(found))
    if csv is not None:
        from takeoff.documents.movement_csv import movement_csv

        _put(csv, movement_csv(found))


def _bill(path: Path, option: str | None) -> Bill:
    """Return the bill of an option from a house workbook or an issue folder, or leave."""
    if not path.is_dir():
        from takeoff.compare.movement import bill_of

        job = _read(path)
        return bill_of(job, _one_result(job, option), source=str(path))
    from takeoff.workbook.issue_folder import IssueFolderError, UnknownOptionError, read_issue_folder

    try:
        return read_issue_folder(path, option)
    except UnknownOptionError as error:
        raise _wrong_command(str(error)) from error
    except IssueFolderError as error:
        _say(str(error))
        raise typer.Exit(WORKBOOK_WRONG) from error


def _progress() -> ProgressWriter:
    """Return what tells the steps of long work: on a terminal only."""
    return _say if sys.stderr.isatty() else lambda text: None


if TYPE_CHECKING:
    from takeoff.documents.issue import ProgressWriter


@app.command()
def guide(
    page: Annotated[
        str | None, typer.Argument(metavar="[PAGE]", help="Page to show; the list if not given.")
    ] = None,
) -> None:
    """Show a page of the users' guide."""
    from takeoff.guide import page_names, page_text

    if page is None:
        print("Pages: takeoff guide PAGE\n")
        for name, title in page_names().items():
            print(f"  {name:<14} {title}")
        return
    try:
        text = page_text(page)
    except KeyError as error:
        raise _wrong_command(f"There is no page {page!r}. Pages: {', '.join(page_names())}.") from error
    if sys.stdout.isatty():
        from rich.markdown import Markdown

        _console().print(Markdown(text))
    else:
        sys.stdout.write(text)
