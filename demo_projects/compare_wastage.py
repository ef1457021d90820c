"""Prints the wastage of the demo houses as planned, beside their allowances and published ones, as Markdown tables.

The guide's page on ordering holds what it prints. Run it with `python demo_projects/compare_wastage.py`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result, evaluate
from takeoff.compare.figures import lost_share
from takeoff.cutting.allowance import order_factor
from takeoff.cutting.order_plan import OrderPlan
from takeoff.documents import order_kinds
from takeoff.documents.order_words import gap_text
from takeoff.documents.wording import number, percent
from takeoff.model.job import Job
from takeoff.model.library import Library
from takeoff.workbook.reading import read_job

HERE = Path(__file__).resolve().parent
HOUSES = ("heron_bank", "dune_studio", "wharf_pair")
# As in the report, but for sheets, which are parted here.
KINDS = (
    "framing",
    "battens",
    "boards",
    "trims and linings by length",
    "sheets made to length",
    "plasterboard",
    "other sheets",
    "membranes from rolls",
)
NOTHING_FOUND = "none found"


def on_net(share: float) -> str:
    """Return an allowance on net as the share of what is bought that it is, the base of all shares here."""
    return percent(1 - 1 / order_factor(share, "net"))


# Those without a source are left out; each says what it is of and how it is known.
PUBLISHED: Mapping[str, str] = {
    "framing": f"{on_net(0.10)}: 10 % on net for dimension lumber (US Army course EN0069, *Frame Structures*, "
    "table 4-1, read), for plates (*Modern Carpentry*, 2022, ch. 11, read)",
    "plasterboard": f"{on_net(0.10)} to {on_net(0.15)}: 10 to 15 % on net (trade pages on the web, weak); "
    "22.5 % of what is delivered (a net-waste baseline, from memory)",
    "other sheets": "10.0 % of what is delivered, timber floors and boards (a net-waste baseline, from memory)",
}


def kind_of(plan: OrderPlan, library: Library) -> str | None:
    """Return the kind of material that a plan is for, None where it follows from an allowance all the same."""
    if not plan.planned:
        return None
    if plan.basis == "sheet layout":
        return "plasterboard" if library.materials[plan.material].family == "gypsum" else "other sheets"
    return order_kinds.kind_of(plan, library)


def demo_results() -> dict[str, tuple[Job, Result]]:
    """Return the base option of every demo house by the name of its project."""
    jobs = [read_job(HERE / f"{name}.xlsx") for name in HOUSES]
    return {job.project.name: (job, evaluate(job, job.base)) for job in jobs}


def wastage_table(demos: Mapping[str, tuple[Job, Result]]) -> str:
    """Return planned wastage by kind of material, beside what the workbooks allow and what is published.

    All shares are of the mass that is charged. Of the workbooks' allowances the range over the houses is given.
    """
    lost = [_lost_by_kind(job, result) for job, result in demos.values()]
    rows = [
        ["material", *(f"{name}, planned" for name in demos), "by allowance of the workbooks", "published"]
    ]
    for kind in KINDS:
        shares = [house.get(kind) for house in lost]
        allowed = [percent(share) for share in sorted(share[1] for share in shares if share)]
        rows.append(
            [
                kind,
                *(percent(share[0]) if share else "-" for share in shares),
                " to ".join(dict.fromkeys((allowed[0], allowed[-1]))) if allowed else "-",
                PUBLISHED.get(kind, NOTHING_FOUND),
            ]
        )
    return _markdown(rows)


def _lost_by_kind(job: Job, result: Result) -> dict[str, tuple[float, float]]:
    """Return the share lost of each kind of material, as planned and by allowance."""
    kinds = {id: kind_of(plan, job.library) for plan in result.plans for id in plan.items_of}
    both = (result.lines, result.by_allowance.lines)
    return {
        kind: (lost_share(_of(kind, both[0], kinds)), lost_share(_of(kind, both[1], kinds)))
        for kind in KINDS
        if kind in kinds.values()
    }


def _of(kind: str, lines: Sequence[Line], kinds: Mapping[str, str | None]) -> list[Line]:
    """Return the items of one kind; raises ValueError where one has no mass to compare by."""
    own = [line for line in lines if kinds.get(line.quantity.id) == kind]
    unknown = [line.quantity.id for line in own if line.mass is None]
    if unknown:
        raise ValueError(f"no mass known of {', '.join(unknown)}")
    return own


def framing_table(demos: Mapping[str, tuple[Job, Result]]) -> str:
    """Return what is bought of every framing section, what no plan can go below, and the gap between them."""
    rows = [["house", "section", "required", "bought", "at least", "gap"]]
    for name, (_, result) in demos.items():
        rows += [
            [
                name,
                plan.name,
                f"{number(plan.required, 1)} {plan.unit}",
                f"{number(plan.worth or 0.0, 1)} {plan.worth_unit}",
                f"{number(plan.bound or 0.0, 1)} {plan.worth_unit}",
                gap_text(plan),
            ]
            for plan in result.plans
            if plan.framing
        ]
    return _markdown(rows)


def _markdown(rows: Sequence[Sequence[str]]) -> str:
    """Return rows as a Markdown table, the heading first."""
    lines = [f"| {' | '.join(row)} |" for row in rows]
    return "\n".join([lines[0], "| --- " * len(rows[0]) + "|", *lines[1:]])


def main() -> None:
    """Print both tables."""
    demos = demo_results()
    print(wastage_table(demos), framing_table(demos), sep="\n\n")


if __name__ == "__main__":
    main()
