"""The sheet Summary: the cost ladder, elements and trades, in total and for one m2."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from takeoff.assess.totals import Totals
from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.grid import Column, Line, Paper, Placed, Total, Value, write_table
from takeoff.documents.schedule.looks import Look
from takeoff.documents.schedule.page import HEADER_ROW, finish, new_sheet
from takeoff.model.job import Job
from takeoff.model.library import LadderStep

if TYPE_CHECKING:
    from xlsxwriter.worksheet import Worksheet

TITLE = "Summary"
HELP = (
    "All money in {currency}. Each percentage names its base; the same step is shown as a markup on its base and as a "
    "margin of the price after it. Change a value and every figure below follows. As issued: the figure the program "
    "stated; it does not move."
)
_LADDER = (
    Column(key="step", title="Step", width=34, name="Ladder_step"),
    Column(key="kind", title="Kind", width=15, name="Ladder_kind"),
    Column(key="value", title="Value", width=13, look="factor", role="input"),
    Column(key="base", title="Of", width=17),
    Column(
        key="of",
        title="Base",
        width=14,
        look="money",
        role="computed",
        formula="=IF([base]=Word_works,Measured_works,IF([base]=Word_with_sums,[with_sums^],[running^]))",
    ),
    Column(
        key="share",
        title="Share added",
        width=12,
        look="share",
        role="computed",
        formula="=IF([kind]=Word_sum,IF([of],[value]/[of],Nil),"
        "IF([kind]=Word_margin,[value]/(Whole-[value]),[value]-Whole*([kind]=Word_index)))",
    ),
    Column(
        key="amount",
        title="Amount",
        width=14,
        look="money",
        role="computed",
        formula="=IF([kind]=Word_sum,[value],[of]*[share])",
        name="Ladder_amount",
    ),
    Column(
        key="running",
        title="Running total",
        width=15,
        look="money",
        role="computed",
        formula="=[running^]+[amount]",
        name="Ladder_running",
    ),
    Column(
        key="with_sums",
        title="Works and sums",
        width=14,
        look="money",
        role="computed",
        formula="=[with_sums^]+IF([kind]=Word_sum,[amount],Nil)",
    ),
    Column(
        key="margin",
        title="As a margin",
        width=11,
        look="share",
        role="computed",
        formula="=IF([of]+[amount],[amount]/([of]+[amount]),Nil)",
    ),
    Column(key="issued", title="As issued", width=15, look="money"),
    Column(key="source", title="Where from", width=17, look="small", name="Ladder_from"),
)
_AREA = (
    Column(key="what", title="For one m2", width=34),
    Column(key="definition", title="Area", width=15),
    Column(key="area", title="m2", width=13, look="quantity", role="input"),
    Column(key="unit", title="", width=17),
    Column(
        key="money",
        title="Total inc tax",
        width=14,
        look="money",
        role="computed",
        formula="=Total_inc_tax/[area]",
    ),
    Column(key="gap", title="", width=12),
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
    sheet = new_sheet(paper, TITLE, HELP.format(currency=job.project.currency), _LADDER)
    placed = write_table(paper, sheet, HEADER_ROW, _LADDER, _ladder(job, result))
    _name_ladder(paper, placed, result)
    last = _areas(paper, sheet, placed.last + 2, result)
    breaks = [last]
    for title, group, name, groups in (
        ("By element", "element", "Amount_by_element", result.by_element),
        ("By trade", "trade", "Amount_by_trade", result.by_trade),
    ):
        columns = _groups(title, group, name)
        lines = _totals(groups, result.measured.areas.inside)
        last = write_table(paper, sheet, last + 2, columns, lines).last
    finish(sheet, _LADDER, footer=footer, last=last, header=None)
    sheet.set_h_pagebreaks(breaks)


def _ladder(job: Job, result: Result) -> list[Line]:
    """Return the rungs: measured works, the sums allowed for, the steps of the cost ladder."""
    ladder = result.ladder
    works = ladder.measured_works
    first: dict[str, Value] = {
        "step": "Measured works",
        "kind": "measured",
        "amount": works,
        "running": works,
        "with_sums": works,
        "issued": works,
    }
    sum_works = "=SUMIFS(Bill_amount,Bill_kind,{word})"
    lines = [
        Line(
            first,
            typed=frozenset({"of", "share", "margin"}),
            own={
                "amount": sum_works.format(word="Word_measured"),
                "running": "=[amount]",
                "with_sums": "=[amount]",
            },
        )
    ]
    sums = len(ladder.rungs) - len(job.library.ladder)
    running = with_sums = works
    kinds = [
        kind
        for kind in ("provisional sum", "prime-cost sum")
        if any(line.sum_kind == kind for line in result.lines)
    ]
    for place, rung in enumerate(ladder.rungs):
        step = None if place < sums else job.library.ladder[place - sums]
        is_sum = step is None or step.kind == "sum"
        base = running if is_sum else _base(step, works, with_sums, running)
        look: Look = "money" if step is None or step.kind == "sum" else "share"
        if step is not None and step.kind == "index ratio":
            look = "factor"
        share = _share(step, rung.amount, base)
        if is_sum:
            with_sums += rung.amount
        values: dict[str, Value] = {
            "step": rung.name,
            "kind": "sum" if step is None else step.kind,
            "value": rung.amount if step is None else step.value,
            "base": "" if step is None or is_sum else (step.base or "running total"),
            "of": base,
            "share": share,
            "amount": rung.amount,
            "running": rung.running,
            "with_sums": with_sums,
            "margin": rung.amount / (base + rung.amount) if base + rung.amount else 0.0,
            "issued": rung.running,
            "source": "from the schedule" if step is None else "sheet Cost ladder",
        }
        running = rung.running
        own: Mapping[str, str] = {}
        if step is None:
            # the kind of sum stands in the column beside, so that the value can be fetched by it
            values["base"] = kinds[place]
            own = {"value": "=SUMIFS(Bill_amount,Bill_kind,[base])"}
        lines.append(Line(values, own=own, looks={"value": look}))
    return lines


def _base(step: LadderStep | None, works: float, with_sums: float, running: float) -> float:
    """Return the base that a percentage is taken of."""
    bases = {"measured works": works, "works and sums": with_sums}
    return bases.get((step.base if step else None) or "running total", running)


def _share(step: LadderStep | None, amount: float, base: float) -> float:
    """Return the share of its base that a step adds."""
    if step is None or step.kind == "sum":
        return amount / base if base else 0.0
    if step.kind == "margin":
        return step.value / (1 - step.value)
    return step.value - 1 if step.kind == "index ratio" else step.value


def _name_ladder(paper: Paper, placed: Placed, result: Result) -> None:
    """Name the cells that other formulas need: measured works and the total including tax."""
    rows = len(result.ladder.rungs)
    paper.name_cell("Measured_works", placed.sheet, f"{placed.columns['amount']}{placed.first}")
    paper.name_cell("Total_inc_tax", placed.sheet, f"{placed.columns['running']}{placed.first + rows}")


def _areas(paper: Paper, sheet: Worksheet, first: int, result: Result) -> int:
    """Write the totals for one m2 on both bases; return the last row."""
    areas = result.measured.areas
    total, carbon = result.ladder.total_inc_tax, result.totals.upfront
    lines = [
        Line(
            {
                "what": what,
                "definition": definition,
                "area": area,
                "unit": "m2",
                "money": total / area,
                "carbon": carbon / area,
            }
        )
        for what, definition, area in (
            ("Floor inside the external walls", "inside faces", areas.inside),
            ("Floor to the outside of the frame", "outside of frame", areas.outside),
        )
    ]
    placed = write_table(paper, sheet, first, _AREA, lines)
    paper.name_cell("Area_inside", placed.sheet, f"{placed.columns['area']}{placed.first}")
    return placed.last


def _totals(groups: Mapping[str, Totals], inside: float) -> list[Line | Total]:
    """Return the rows of one table of totals."""
    whole = sum(totals.cost for totals in groups.values())
    parts: dict[str, Callable[[Totals], float]] = {
        "material": lambda totals: totals.material_cost,
        "labour": lambda totals: totals.labour_cost,
        "plant": lambda totals: totals.plant_cost,
        "stated": lambda totals: totals.cost - totals.material_cost - totals.labour_cost - totals.plant_cost,
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
