"""The sheets that hold lists: to take, queries, overrides, issues, information, glossary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.bill_rows import BillRow
from takeoff.documents.schedule.grid import Column, Line, Paper, write_table
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.job import Job
from takeoff.model.library import ELEMENTS

OVERRIDES = "Overrides"
_SPARE = 12
_TO_TAKE = (
    Column(key="number", title="Nr", width=6, look="count"),
    Column(key="item", title="What is not measured", width=58),
    Column(key="element", title="Element", width=20),
    Column(key="reason", title="Why not yet", width=52),
    Column(key="who", title="Who takes it", width=24),
    Column(key="by", title="Told by", width=18, look="small"),
)
_QUERIES = (
    Column(key="reference", title="Reference", width=12),
    Column(key="question", title="Question", width=56),
    Column(key="asked_by", title="Asked by", width=20),
    Column(key="asked_on", title="Asked on", width=12),
    Column(key="answer", title="Answer", width=56),
    Column(key="answered_by", title="Answered by", width=20),
    Column(key="answered_on", title="Answered on", width=12),
)
_OVERRIDES = (
    Column(key="id", title="Id", width=38, role="input", name="Over_id"),
    Column(
        key="item",
        title="Item",
        width=7,
        look="count",
        role="computed",
        formula="=SUMIFS(Bill_item,Bill_id,[id])",
        name="Over_item",
    ),
    Column(key="figure", title="Figure", width=11, role="input", name="Over_figure"),
    Column(key="was", title="Instead of", width=12, look="factor"),
    Column(key="value", title="Value", width=12, look="factor", role="input", name="Over_value"),
    Column(key="unit", title="Unit", width=10),
    Column(key="reason", title="Reason", width=52, role="input"),
    Column(key="who", title="Who", width=22, role="input"),
    Column(key="date", title="Date", width=12, role="input"),
    Column(
        key="met",
        title="Items met",
        width=8,
        look="count",
        role="control",
        formula="=COUNTIFS(Bill_id,[id])*(([figure]=Word_quantity)+([figure]=Word_rate)+([figure]=Word_wastage))",
        name="Over_met",
    ),
    Column(
        key="alike",
        title="Rows alike",
        width=8,
        look="count",
        role="control",
        formula="=COUNTIFS(Over_id,[id],Over_figure,[figure])",
        name="Over_alike",
    ),
)
_ISSUES = (
    Column(key="issue", title="Issue", width=8),
    Column(key="date", title="Date", width=12),
    Column(key="stage", title="Stage", width=20),
    Column(key="changed", title="What changed", width=80),
    Column(key="who", title="Who", width=26),
)
_INFORMATION = (
    Column(key="reference", title="Reference", width=16),
    Column(key="title", title="Title", width=52),
    Column(key="revision", title="Revision", width=10),
    Column(key="date", title="Date", width=12),
    Column(key="author", title="Author", width=28),
    Column(key="elements", title="Elements it informs", width=40),
)
_TOLD = {
    "Net": "as fixed in position, measured from dimensions, laps and offcuts left out",
    "Required": "net with laps, cover and pieces cut from whole width",
    "Order": "what is bought: whole lengths, sheets and packs",
    "Charged": "part of the order that the bill pays for; rests of the last roll or pack are left for other work",
    "Wastage": "what is charged beyond the required quantity, as a share of that",
    "Squaring": "timesing times up to three dimensions, signed",
    "Timesing": "how often the dimensions occur",
    "Ddt": "deduct: a void, taken off the quantity",
    "nil": "a void too small to be deducted under the void rule, which looks at each opening by itself",
    "Side calculation": "how a dimension follows from others that are known",
    "Composite rate": "material, labour and plant together",
    "Gang": "the people who do a piece of work together",
    "Labour constant": "hours of a gang for one unit of work",
    "Provisional sum": "an allowance for supply and work that can't be measured yet",
    "Prime-cost sum": "an allowance for supply only; its fixing by the builder is measured works",
    "Markup": "a share of the cost before it",
    "Margin": "a share of the price after it: 20 % margin is 25 % markup",
    "A1 to A5": "carbon until the house stands: product, transport, wastage and work on site (EN 15978)",
    "B2 to B4": "carbon of upkeep, repair and replacement over the study period",
    "C1 to C4": "carbon of the end of life",
    "D": "what lies beyond the life of the house; never added",
    "Stored carbon": "carbon of the wood, as CO2 taken from the air (EN 16449); negative, on its own",
    "kgCO2e": "kg of carbon dioxide with the same warming over a hundred years",
}
_GLOSSARY = (
    Column(key="word", title="Word", width=24),
    Column(key="meaning", title="What it means here", width=110),
)


def _list(
    paper: Paper,
    title: str,
    help: str,
    columns: Sequence[Column],
    lines: Sequence[Line],
    *,
    footer: str,
    spare: int = 0,
) -> None:
    """Write a sheet with one plain table."""
    sheet = new_sheet(paper, title, help, columns)
    placed = write_table(paper, sheet, HEADER_ROW, columns, lines, spare=spare)
    finish(sheet, columns, footer=footer, last=placed.last, filtered=True)


def write_to_take(paper: Paper, job: Job, result: Result, *, footer: str) -> None:
    """Write the list of what is not measured yet: what the workbook says, and what the program knows."""
    told = [
        {"item": each.item, "element": each.element, "reason": each.reason, "who": each.who, "by": "workbook"}
        for each in job.to_take
    ]
    told += [
        {"item": text, "reason": "excluded", "who": "", "by": "sheet Project"}
        for text in job.project.exclusions
    ]
    told += [
        {
            "item": f"Price of {line.quantity.item}",
            "element": line.quantity.element_name,
            "reason": f"no price of {line.quantity.material}",
            "by": "program",
        }
        for line in result.lines
        if not line.priced
    ]
    empty = [name for name in ELEMENTS.values() if name not in result.by_element]
    told += [
        {"item": name.capitalize(), "element": name, "reason": "no item", "by": "program"} for name in empty
    ]
    lines = [Line({"number": number, **values}) for number, values in enumerate(told, start=1)]
    help = "What is not in the bill yet, or not at all."
    _list(paper, "To take", help, _TO_TAKE, lines, footer=footer)


def write_queries(paper: Paper, job: Job, *, footer: str) -> None:
    """Write the questions on the bill and their answers."""
    lines = [Line({c.key: getattr(query, c.key) for c in _QUERIES}) for query in job.queries]
    help = (
        "Questions on the bill, their answers, who and when; kept in the sheet Queries of the house workbook."
    )
    _list(paper, "Queries", help, _QUERIES, lines, footer=footer)


def write_overrides(paper: Paper, rows: Iterable[BillRow], *, footer: str) -> None:
    """Write the overrides of the option, with empty rows for trying others."""
    lines = [
        Line(
            {
                "id": applied.override.id,
                "item": row.number,
                "figure": applied.override.figure,
                "was": applied.was,
                "value": applied.override.value,
                "unit": applied.override.unit or "share",
                "reason": applied.override.reason,
                "who": applied.override.who,
                "date": applied.override.date,
                "met": 1,
                "alike": 1,
            }
        )
        for row in rows
        for applied in row.line.overrides
    ]
    help = (
        "Figures put in the place of measured or built-up ones: quantity (net, in its unit), rate (of one unit of net) "
        "or wastage (share of the required quantity). An empty row tries another at once; to keep it, type it into the "
        "sheet Overrides of the house workbook, where it survives every new schedule."
    )
    _list(paper, OVERRIDES, help, _OVERRIDES, lines, footer=footer, spare=_SPARE)


def write_issues(paper: Paper, job: Job, *, footer: str) -> None:
    """Write the history of issues."""
    lines = [Line({c.key: getattr(record, c.key) for c in _ISSUES}) for record in job.issues]
    help = "Issues so far and what changed; how one issue differs from another: takeoff movement OLD NEW."
    _list(paper, "Issues", help, _ISSUES, lines, footer=footer)


def information_lines(job: Job) -> list[Line]:
    """Return the drawings and documents the bill is measured from."""
    return [
        Line(
            {
                "reference": each.reference,
                "title": each.title,
                "revision": each.revision,
                "date": each.date,
                "author": each.author,
                "elements": "; ".join(each.elements) or "all",
            }
        )
        for each in job.information
    ]


INFORMATION_COLUMNS = _INFORMATION


def write_glossary(paper: Paper, *, footer: str) -> None:
    """Write the words of the bill."""
    lines = [Line({"word": word, "meaning": meaning}) for word, meaning in _TOLD.items()]
    _list(paper, "Glossary", "Words as this workbook uses them.", _GLOSSARY, lines, footer=footer)
