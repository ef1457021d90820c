"""The sheet About: what this is, how sure it is, what it is measured from, and how the workbook works."""

from __future__ import annotations

from typing import TYPE_CHECKING

from takeoff.compare.cautions import GENERAL, cautions_of
from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.documents.schedule.lists import INFORMATION_COLUMNS, information_lines
from takeoff.documents.schedule.page import finish, new_sheet
from takeoff.documents.schedule.words import write_words
from takeoff.documents.wording import percent
from takeoff.model.job import Job

if TYPE_CHECKING:
    from collections.abc import Sequence

    from xlsxwriter.worksheet import Worksheet

TITLE = "About"
_PARTICULARS = (
    Column(key="what", title="", width=22),
    Column(key="value", title="", width=52),
    Column(key="more", title="", width=76),
    Column(key="rest", title="", width=12),
)
_RULES = (
    Column(key="item_class", title="Item class", width=22),
    Column(key="included", title="Deemed included", width=52),
    Column(key="rule", title="Smallest void deducted, unit billed, rounding", width=76),
)
_SOURCES = (
    Column(key="key", title="Source", width=22),
    Column(key="title", title="Title", width=52),
    Column(key="where", title="Where found, terms", width=76),
)


def write_about(
    paper: Paper,
    job: Job,
    result: Result,
    rows: Sequence[BillRow],
    flags: Sequence[str],
    *,
    footer: str,
) -> None:
    """Write the sheet; `flags` are what the option asks to confirm and where its fabric falls short."""
    help = f"Schedule of quantities, rates and carbon of {job.project.name}: {job.project.description}"
    sheet = new_sheet(paper, TITLE, help, _PARTICULARS)
    here = _table(paper, sheet, 4, "This schedule", _PARTICULARS, _particulars(job, result))
    here = _table(
        paper, sheet, here, "Drawings and documents it is measured from", INFORMATION_COLUMNS[:3], []
    )
    here = _information(paper, sheet, here, job)
    here = _table(paper, sheet, here, "Measurement profile", _RULES, _rules(job, rows))
    here = _table(paper, sheet, here, "Cautions", _PARTICULARS, _cautions(result, flags))
    here = _table(paper, sheet, here, "How this workbook works", _PARTICULARS, _workings())
    sheet.write_string(
        here - 1, 0, "Words and figures that formulas use by name", paper.looks.text("heading")
    )
    here = write_words(paper, sheet, here + 1)
    here = _table(
        paper, sheet, here, "Sources of prices, constants and factors", _SOURCES, _sources(job, rows)
    )
    finish(sheet, _PARTICULARS[:3], footer=footer, last=here, header=None)


def _table(
    paper: Paper, sheet: Worksheet, first: int, title: str, columns: Sequence[Column], lines: list[Line]
) -> int:
    """Write a heading and a table; return the next free row."""
    sheet.write_string(first - 1, 0, title, paper.looks.text("heading"))
    if not lines:
        return first + 1
    return write_table(paper, sheet, first + 1, columns, lines).last + 2


def _information(paper: Paper, sheet: Worksheet, first: int, job: Job) -> int:
    """Write the drawings and documents, or that none are named; return the next free row."""
    lines = information_lines(job)
    if not lines:
        sheet.write_string(first - 1, 0, "None are named in the house workbook.", paper.looks.text("help"))
        return first + 2
    columns = (
        Column(key="reference", title="Reference", width=22),
        Column(key="title", title="Title", width=52),
        Column(key="more", title="Revision, date, author, elements it informs", width=76),
    )
    told = [
        Line(
            {
                **line.values,
                "more": "; ".join(
                    str(line.values[key])
                    for key in ("revision", "date", "author", "elements")
                    if line.values[key]
                ),
            }
        )
        for line in lines
    ]
    return write_table(paper, sheet, first, columns, told).last + 2


def _particulars(job: Job, result: Result) -> list[Line]:
    """Return what the schedule is of."""
    project, areas = job.project, result.measured.areas
    accuracy = job.library.accuracy.get(project.stage)
    dates = sorted({price.date for price in job.library.prices.values() if price.date})
    places = sorted({price.place for price in job.library.prices.values() if price.place})
    period = f"{dates[0]} to {dates[-1]}" if dates else "no dates given"
    told = [
        ("Project", project.name, project.description),
        ("Place", project.place, ""),
        ("Option", result.option.name, result.option.description),
        ("Issue", project.issue, f"{project.date}, {project.stage}"),
        ("Practice", project.practice, f"measured by {project.author}"),
        ("Price base", period, f"{project.currency}, excluding tax; {'; '.join(places) or 'no place given'}"),
        (
            "Accuracy",
            "no range is given for this stage"
            if accuracy is None
            else f"{percent(accuracy.low, 0)} / +{percent(accuracy.high, 0)}",
            f"range that goes with the stage {project.stage}",
        ),
        ("Floor inside", f"{areas.inside:.2f} m2", "to the finished inside faces of the external walls"),
        ("Floor outside", f"{areas.outside:.2f} m2", "to the outside face of the structural frame"),
        ("Carbon", f"{job.study.period:g} years", "modules of EN 15978, see the sheet Carbon"),
    ]
    told += [("Excluded", "", text) for text in project.exclusions]
    return [Line({"what": what, "value": value, "more": more}) for what, value, more in told]


def _rules(job: Job, rows: Sequence[BillRow]) -> list[Line]:
    """Return the measurement profile of the classes that occur."""
    rules = {row.rule.item_class: row.rule for row in rows if row.rule is not None}
    lines = [
        Line(
            {
                "item_class": "all",
                "included": "Net as fixed in position; laps, cutting and offcuts are in the rates.",
                "rule": "Measured having regard to usual practice; no conformity to a method of measurement is "
                "claimed. A void at an edge is always deducted, others over the size below.",
            }
        )
    ]
    for rule in rules.values():
        unit = f"in {rule.unit} where an item can be converted" if rule.unit else "as measured"
        lines.append(
            Line(
                {
                    "item_class": rule.item_class,
                    "included": rule.included,
                    "rule": f"{rule.smallest_void:.2f} m2; {unit}; to {rule.rounding:g}",
                }
            )
        )
    return lines


def _cautions(result: Result, flags: Sequence[str]) -> list[Line]:
    """Return the cautions that stand in every document, and those of the option."""
    told = [("This option", text) for text in flags]
    told += [(caution.about, caution.text) for caution in (*GENERAL, *cautions_of(result))]
    return [Line({"what": about, "more": text}) for about, text in told]


def _workings() -> list[Line]:
    """Return how the workbook works."""
    told = (
        ("Cells", "Tinted: typed, may be typed over. White: computed or given. Grey, slanted: controls."),
        (
            "The way through",
            "Dimensions are squared and added up by item; the Schedule multiplies them by Rates; Summary climbs the "
            "ladder; Carbon takes the same quantities.",
        ),
        (
            "What follows a change",
            "A dimension, price, constant, conversion, wastage, percentage or override changes every figure it leads "
            "to. Order list and Cutting list are those of the program: counts, cuts and laps stay as they are until it "
            "runs again.",
        ),
        (
            "Inserting rows",
            "Insert above the thin row that ends a run of lines, copy the row above and give it the number of its "
            "item.",
        ),
        (
            "Keeping a change",
            "Type it into the house or factors workbook, or as an override with its id; a new schedule forgets what "
            "was typed here.",
        ),
        (
            "Rounding",
            "Quantities of the Schedule are rounded for reading, by up to half their step; amounts and totals are of "
            "the full figures, so a quantity times its rate may differ from its amount by that much.",
        ),
    )
    return [Line({"what": what, "more": text}) for what, text in told]


def _sources(job: Job, rows: Sequence[BillRow]) -> list[Line]:
    """Return the sources that prices, constants and factors of this bill name."""
    library = job.library
    used: list[str] = []
    for row in rows:
        name = row.line.quantity.material
        if name in library.prices:
            used.append(library.prices[name].source)
        if name in library.carbon:
            used.append(library.carbon[name].source)
        if name in library.materials:
            used.append(library.materials[name].source)
    keys = dict.fromkeys(key.strip() for text in used for key in text.split(";"))
    return [
        Line(
            {
                "key": key,
                "title": library.sources[key].title,
                "where": "; ".join(
                    part for part in (library.sources[key].where, library.sources[key].licence) if part
                ),
            }
        )
        for key in keys
        if key in library.sources
    ]
