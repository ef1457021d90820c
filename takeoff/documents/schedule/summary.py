"""The sheet Summary: the cost ladder, elements and trades, in total and for one m2."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from takeoff.assess.totals import Totals
from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.grid import Column, Line, Paper, Row, Total, write_table
from takeoff.documents.schedule.ladder_table import LADDER, ladder_lines, name_ladder
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.job import Job

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

TITLE = "Summary"
HELP = (
    "All money in {currency}. Each percentage names its base; the same step is shown as a markup on its base and as a "
    "margin of the price after it. Change a value and every figure below follows. As issued: the figure the program "
    "stated; it does not move. To add a step, insert a row between two steps and copy the computed cells of the row "
    "above it down to the last step."
)
_AREA = (
    Column(key="what", title="Totals, whole and for one m2", width=34),
    Column(key="definition", title="Area", width=15),
    Column(key="area", title="m2", width=13, look="quantity", role="input"),
    Column(key="unit", title="", width=17),
    Column(
        key="before_tax",
        title="Total ex tax",
        width=14,
        look="money",
        role="computed",
        formula="=Total_ex_tax/[area]",
    ),
    Column(
        key="money",
        title="Total inc tax",
        width=12,
        look="money",
        role="computed",
        formula="=Total_inc_tax/[area]",
    ),
    Column(
        key="carbon",
        title="kgCO2e, A1 to A5",
        width=14,
        look="carbon",
        role="computed",
        formula="=SUM(Carbon_by_element)/[area]",
    ),
)


def _groups(title: str, group: str, name: str) -> tuple[Column, ...]:
    """Return the columns of a table of totals by element or by trade."""
    return (
        Column(key="name", title=title, width=34),
        Column(
            key="carbon",
            title="kgCO2e, A1 to A5",
            width=15,
            look="carbon",
            role="computed",
            formula=f"=SUMIFS(Carbon_upfront,Carbon_{group},[name])",
            name=f"Carbon_by_{group}",
        ),
        Column(
            key="carbon_m2",
            title="for one m2 inside",
            width=13,
            look="carbon",
            role="computed",
            formula="=[carbon]/Area_inside",
        ),
        Column(
            key="money_m2",
            title="Money for one m2 inside",
            width=17,
            look="money",
            role="computed",
            formula="=[amount]/Area_inside",
        ),
        Column(
            key="amount",
            title="Amount",
            width=14,
            look="money",
            role="computed",
            formula=f"=SUMIFS(Bill_amount,Bill_{group},[name])",
            name=name,
        ),
        Column(
            key="share",
            title="Share",
            width=12,
            look="share",
            role="computed",
            formula=f"=IF(SUM({name}),[amount]/SUM({name}),Nil)",
        ),
        *(
            Column(
                key=key,
                title=title,
                width=width,
                look="money",
                role="computed",
                formula=f"=SUMIFS(Bill_{key},Bill_{group},[name])",
                name=f"{key.capitalize()}_by_{group}",
            )
            for key, title, width in (
                ("material", "Material only", 14),
                ("labour", "Labour only", 15),
                ("plant", "Plant only", 14),
                ("stated", "Stated whole", 11),
            )
        ),
        Column(key="issued", title="As issued", width=15, look="money"),
    )


def write_summary(paper: Paper, job: Job, result: Result, *, footer: str) -> None:
    """Write the sheet."""
    sheet = new_sheet(paper, TITLE, HELP.format(currency=job.project.currency), LADDER)
    total = result.ladder.total_inc_tax
    ladder: list[Row] = [
        *ladder_lines(job, result),
        Total("Total including tax", {"amount": "amount"}, {"amount": total}, whole=True),
    ]
    placed = write_table(paper, sheet, HEADER_ROW, LADDER, ladder)
    name_ladder(paper, placed, result)
    last = _areas(paper, sheet, placed.last + 2, result)
    breaks = [last]
    for title, group, name, groups in (
        ("By element", "element", "Amount_by_element", result.by_element),
        ("By trade", "trade", "Amount_by_trade", result.by_trade),
    ):
        columns = _groups(title, group, name)
        lines = _totals(groups, result.measured.areas.inside)
        last = write_table(paper, sheet, last + 2, columns, lines).last
    finish(sheet, LADDER, footer=footer, last=last, header=None)
    sheet.set_h_pagebreaks(breaks)


def _areas(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write the totals for one m2 on both bases; return the last row."""
    areas = result.measured.areas
    total, carbon = result.ladder.total_inc_tax, result.totals.upfront
    before_tax = result.ladder.total_ex_tax
    whole = Line(
        {"what": "Whole house", "before_tax": before_tax, "money": total, "carbon": carbon},
        own={"before_tax": "=Total_ex_tax", "money": "=Total_inc_tax", "carbon": "=SUM(Carbon_by_element)"},
    )
    lines = [
        Line(
            {
                "what": what,
                "definition": definition,
                "area": area,
                "unit": "m2",
                "before_tax": before_tax / area,
                "money": total / area,
                "carbon": carbon / area,
            }
        )
        for what, definition, area in (
            ("Floor inside the external walls", "inside faces", areas.inside),
            ("Floor to the outside of the frame", "outside of frame", areas.outside),
        )
    ]
    placed = write_table(paper, sheet, first, _AREA, [whole, *lines])
    paper.name_cell("Area_inside", placed.sheet, f"{placed.columns['area']}{placed.first + 1}")
    return placed.last


def _totals(groups: Mapping[str, Totals], inside: float) -> list[Line | Total]:
    """Return the rows of one table of totals."""
    whole = sum(totals.cost for totals in groups.values())
    parts: dict[str, Callable[[Totals], float]] = {
        "material": lambda totals: totals.material_cost,
        "labour": lambda totals: totals.labour_cost,
        "plant": lambda totals: totals.plant_cost,
        "stated": lambda totals: totals.stated_cost,
    }
    lines: list[Line | Total] = [
        Line(
            {
                "name": name,
                "carbon": totals.upfront,
                "carbon_m2": totals.upfront / inside,
                "money_m2": totals.cost / inside,
                "amount": totals.cost,
                "share": totals.cost / whole if whole else 0.0,
                "issued": totals.cost,
                **{key: part(totals) for key, part in parts.items()},
            }
        )
        for name, totals in groups.items()
    ]
    sums = {
        key: sum(float(line.values[key] or 0.0) for line in lines if isinstance(line, Line))
        for key in ("carbon", "carbon_m2", "money_m2", "amount", "share", *parts, "issued")
    }
    lines.append(Total("Total, before the ladder", {key: key for key in sums}, sums, whole=True))
    return lines
