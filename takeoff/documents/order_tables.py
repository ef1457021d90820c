"""The tables of what is bought: planned against allowed, the order list, offcuts, sheets made to length."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import get_args

from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import Basis, Offcut, OrderPlan
from takeoff.documents.order_kinds import in_random_lengths, planned_by_kind
from takeoff.documents.order_words import NO_BOUND, PROVEN, bought_text
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import assessed, change, number, percent, quantity, unit_text
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Library

# The order in which ways of ordering stand in the order list; those with a rule for each plan of its own.
_BASES: tuple[Basis, ...] = get_args(Basis)
_OWN_RULES: tuple[Basis, ...] = ("sheet layout", "roll layout")


def planned_table(result: Result, library: Library, currency: str) -> ReportTable | None:
    """Return what is bought by plans of every piece, by kind, against the wastage allowances; None without any."""
    groups = planned_by_kind(result, library)
    if not groups:
        return None
    rows = [
        row
        for kind, plans in groups.items()
        for unit in dict.fromkeys(plan.unit for plan in plans)
        for row in [_planned_row(kind, unit, result, [plan for plan in plans if plan.unit == unit])]
    ]
    every = [plan for plans in groups.values() for plan in plans]
    cost, upfront = differences_of(result, every)
    rows.append(
        Row(
            cells=("all that is planned", "", "", "", "", "", "", change(cost), _upfront_change(upfront)),
            total=True,
        )
    )
    return ReportTable(
        id="planned-against-allowed",
        caption=f"{result.option.name}: planned against allowed",
        columns=(
            Column(title="Kind of material", figures=False),
            Column(title="Unit", figures=False),
            Column(title="Required"),
            Column(title="By allowance"),
            Column(title="By plan"),
            Column(title="Wastage allowed", unit="%"),
            Column(title="Wastage planned", unit="%"),
            Column(title="Cost, plan less allowance", unit=currency),
            Column(title="Upfront, plan less allowance", unit="kgCO₂e"),
        ),
        rows=tuple(rows),
        note=" ".join(_planned_notes(result)),
    )


def _planned_notes(result: Result) -> list[str]:
    """Return what the planned quantities count, and which items are by allowance."""
    notes = [
        "By plan is what money and carbon count: all of lengths and sheets, whose offcuts are lost; the rests of the "
        "last roll or pack are left for other work and not counted. Wastage planned is offcuts, saw cuts and laps: the "
        "share of what is counted that is not required (none where a plan needs less than the rule of measurement "
        "does). Breakage and mistakes on site are in no plan.",
    ]
    by_allowance = _by_allowance(result)
    if by_allowance:
        notes.append(f"By wastage allowance, as no plan of every piece is made: {', '.join(by_allowance)}.")
    return notes


def _by_allowance(result: Result) -> list[str]:
    """Return the materials that are ordered by their wastage allowance, in order of first use."""
    names = (
        line.quantity.material
        for line in result.lines
        if line.ordered.basis in ("wastage allowance", "whole units")
    )
    return list(dict.fromkeys(names))


def _planned_row(kind: str, unit: str, result: Result, plans: Sequence[OrderPlan]) -> Row:
    """Return the row of the plans of one kind, whose quantities have one unit."""
    cost, upfront = differences_of(result, plans)
    required = sum(plan.required for plan in plans)
    allowed = sum(plan.allowed for plan in plans)
    charged = sum(plan.charged for plan in plans)
    return Row(
        cells=(
            kind,
            unit_text(unit),
            quantity(required, unit),
            quantity(allowed, unit),
            quantity(charged, unit),
            _share(1 - required / allowed),
            _share(max(1 - required / charged, 0.0)),
            change(cost),
            _upfront_change(upfront),
        )
    )


def _share(share: float) -> str:
    """Return a share under a heading that says %."""
    return percent(share).removesuffix(" %")


def _upfront_change(upfront: float | None) -> str:
    """Return a difference of carbon, or the words for one that is not assessed."""
    return assessed(None) if upfront is None else change(upfront)


def differences_of(result: Result, plans: Iterable[OrderPlan]) -> tuple[float, float | None]:
    """Return by how much the lines of some plans cost and emit more than by allowance.

    Money is that of the lines before the cost ladder, carbon upfront [kgCO2e], None where none of it is assessed.
    """
    ids = {item for plan in plans for item in plan.items_of}
    planned = [line for line in result.lines if line.quantity.id in ids]
    allowed = [line for line in result.by_allowance.lines if line.quantity.id in ids]
    cost = sum(line.cost for line in planned) - sum(line.cost for line in allowed)
    if not any(_assessed(line) for line in planned):
        return cost, None
    return cost, sum(line.carbon.upfront for line in planned) - sum(line.carbon.upfront for line in allowed)


def _assessed(line: Line) -> bool:
    """Whether a line has a carbon factor."""
    return line.carbon.a1a3 is not None


def both_ways_table(result: Result, currency: str) -> ReportTable:
    """Return the totals of the house by allowance and by plan."""
    allowed, planned = result.by_allowance, result
    pairs = (
        ("Cost, including tax", currency, allowed.ladder.total_inc_tax, planned.ladder.total_inc_tax),
        ("Works and sums", currency, allowed.totals.cost, planned.totals.cost),
        ("Upfront carbon A1-A5", "kgCO₂e", allowed.totals.upfront, planned.totals.upfront),
        ("of which A5 wastage", "kgCO₂e", allowed.totals.a5_wastage, planned.totals.a5_wastage),
        ("Mass lost as wastage", "kg", allowed.totals.mass_wastage, planned.totals.mass_wastage),
    )
    rows = [
        Row(
            cells=(
                what,
                unit,
                assessed(before),
                assessed(after),
                assessed(None) if before is None or after is None else change(after - before),
            )
        )
        for what, unit, before, after in pairs
    ]
    return ReportTable(
        id="both-ways",
        caption=f"{result.option.name}: the house by wastage allowances alone, and by plans",
        columns=(
            Column(title="Figure", figures=False),
            Column(title="Unit", figures=False),
            Column(title="By allowance"),
            Column(title="By plan"),
            Column(title="Difference"),
        ),
        rows=tuple(rows),
        note="All figures of this report are by plan, where there is one.",
    )


def order_list_table(result: Result) -> ReportTable | None:
    """Return what to buy of everything that is sold in known sizes, by how it follows; None where nothing is."""
    if not result.plans:
        return None
    groups: dict[str, list[OrderPlan]] = {}
    for plan in sorted(result.plans, key=lambda plan: _BASES.index(plan.basis)):
        groups.setdefault(_follows(plan), []).append(plan)
    rows = []
    for how, plans in groups.items():
        rows.append(Row(heading=how))
        rows += [_order_row(plan) for plan in plans]
    return ReportTable(
        id="order-list",
        caption=f"{result.option.name}: order list",
        columns=(
            Column(title="Material and section", figures=False),
            Column(title="What to buy", figures=False),
            Column(title="Required"),
            Column(title="Order"),
            Column(title="Unit", figures=False),
            Column(title="Wastage", unit="%"),
            Column(title="Against the least possible", figures=False),
        ),
        rows=tuple(rows),
        note="Wastage is the share of what money and carbon count that is not required. The least possible is that "
        "of the pieces on the lengths or sheets on sale, as the plan measures it: no plan can buy less of it. Of "
        "sheets it is that of this way of laying them. What is bought by the pack or step follows from an allowance, "
        "so that no least is known.",
    )


def _follows(plan: OrderPlan) -> str:
    """Return in words how what is bought follows, alike for plans of one kind."""
    if plan.basis == "whole units":
        return f"Whole units: {plan.rule.split(', then by the ')[0]}, rounded up to them"
    if plan.basis in _OWN_RULES:
        return plan.basis.capitalize()
    return f"{plan.basis.capitalize()}: {plan.rule}"


def _order_row(plan: OrderPlan) -> Row:
    """Return the row of one plan in the order list."""
    return Row(
        cells=(
            f"{plan.number} {plan.name}",
            bought_text(plan),
            quantity(plan.required, plan.unit),
            quantity(plan.order, plan.unit),
            unit_text(plan.unit),
            _share(plan.wastage_share),
            least_text(plan),
        ),
        below=plan.rule if plan.basis in _OWN_RULES else "",
    )


def least_text(plan: OrderPlan) -> str:
    """Return how near a plan is to the least possible."""
    if plan.proven:
        return PROVEN
    if plan.gap is None:
        return NO_BOUND
    return f"at most {percent(plan.gap)} over"


def offcuts_table(result: Result) -> ReportTable | None:
    """Return the offcuts that are worth keeping, those that serve nothing more together; None without any."""
    rows = []
    for plan in result.plans:
        if in_random_lengths(plan):
            continue
        for serves in dict.fromkeys(offcut.serves for offcut in plan.offcuts):
            alike = [offcut for offcut in plan.offcuts if offcut.serves == serves]
            sizes = ", ".join(_offcut_text(offcut) for offcut in alike)
            count = sum(offcut.count for offcut in alike)
            rows.append(Row(cells=(f"{plan.number} {plan.name}", sizes, number(count), serves)))
    if not rows:
        return None
    return ReportTable(
        id="offcuts-kept",
        caption=f"{result.option.name}: offcuts kept",
        columns=(
            Column(title="Of", figures=False),
            Column(title="Sizes, m", figures=False),
            Column(title="Number"),
            Column(title="Could serve once more", figures=False),
        ),
        rows=tuple(rows),
        note="Those not shorter, and of sheets not narrower, than the least useful offcut of the sheet Stock.",
    )


def _offcut_text(offcut: Offcut) -> str:
    """Return the size of equal offcuts, with their number where there are several."""
    size = f"{offcut.length:.3f}" + ("" if offcut.width is None else f" x {offcut.width:.3f}")
    return size if offcut.count == 1 else f"{offcut.count} of {size}"


def made_to_length_table(result: Result) -> ReportTable | None:
    """Return the sheets made to length with their number by elevation; None where there are none."""
    items: dict[str, Quantity] = {line.quantity.id: line.quantity for line in result.lines}
    rows = []
    for plan in result.plans:
        if plan.basis != "cut to length":
            continue
        counts: Counter[tuple[str, float]] = Counter()
        for cut in plan.lengths:
            counts[items[cut.pieces[0].item].location, cut.length] += cut.count
        for place in dict.fromkeys(items[item].location for item in plan.items_of):
            lengths = sorted((length for where, length in counts if where == place), reverse=True)
            several = ", ".join(f"{number(counts[place, length])} of {length:.2f}" for length in lengths)
            total = sum(counts[place, length] for length in lengths)
            rows.append(Row(cells=(f"{plan.number} {plan.name}", place, number(total), several)))
    if not rows:
        return None
    return ReportTable(
        id="made-to-length",
        caption=f"{result.option.name}: sheets made to length",
        columns=(
            Column(title="Sheet", figures=False),
            Column(title="Where", figures=False),
            Column(title="Sheets", unit="Nr"),
            Column(title="Lengths, m", figures=False),
        ),
        rows=tuple(rows),
    )
