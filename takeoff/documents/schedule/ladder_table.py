"""The cost ladder of the sheet Summary: every step with its base, its share and the running total."""

from __future__ import annotations

from collections.abc import Mapping

from takeoff.compare.evaluate import Result
from takeoff.documents.schedule.grid import Column, Line, Paper, Placed, Value
from takeoff.documents.schedule.looks import Look
from takeoff.model.job import Job
from takeoff.model.library import LadderStep

LADDER = (
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


def ladder_lines(job: Job, result: Result) -> list[Line]:
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


def name_ladder(paper: Paper, placed: Placed, result: Result) -> None:
    """Name the cells that other formulas need: measured works, the totals before and with tax."""
    rows = len(result.ladder.rungs)
    before_tax = sum(not rung.is_tax for rung in result.ladder.rungs)
    paper.name_cell("Total_ex_tax", placed.sheet, f"{placed.columns['running']}{placed.first + before_tax}")
    paper.name_cell("Measured_works", placed.sheet, f"{placed.columns['amount']}{placed.first}")
    paper.name_cell("Total_inc_tax", placed.sheet, f"{placed.columns['running']}{placed.first + rows}")
