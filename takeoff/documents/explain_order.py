"""From net to required, to the order, to what is charged; and what a quantity surveyor put in their place."""

from __future__ import annotations

from takeoff.assess.lines import Line as BillLine
from takeoff.compare.evaluate import Result
from takeoff.cutting.allowance import order_factor
from takeoff.cutting.order import OrderedQuantity
from takeoff.documents.explain_parts import Cell, Line, Section, cell, cells, metres, precise
from takeoff.documents.order_words import bought_text, names_of
from takeoff.documents.wording import number, percent, rate, unit_text
from takeoff.measure.quantity import Quantity
from takeoff.model.bill import AppliedOverride
from takeoff.model.job import Job
from takeoff.model.library import Material

REQUIRED = "Required"
ORDER = "Order"
OVERRIDES = "Overrides"


def required_section(line: BillLine, material: Material | None) -> Section:
    """Return how the required quantity follows from the net one: laps, cover, whole widths."""
    quantity = line.quantity
    unit = unit_text(quantity.unit)
    share = quantity.required / quantity.net if quantity.net else 1.0
    same = abs(share - 1) < 1e-9
    words = f"{quantity.how}: " if quantity.how else ""
    text = "as net, nothing laps or is cut from whole widths" if same else "laps, cover and cut widths in"
    lines = [Line("how", f"{words}{text}", () if same or material is None else _sizes(material))]
    pieces = None if same else _of_pieces(quantity, material, unit)
    if pieces is not None:
        lines.append(pieces)
    shown = f"net {metres(quantity.net)} x {precise(share)} = {metres(quantity.required)} {unit}"
    return Section(REQUIRED, (*lines, Line("required", shown)))


def _sizes(material: Material) -> tuple[Cell, ...]:
    """Return the cells of the sizes that laps, cover and cut widths go by."""
    names = ("width", "cover", "length", "lap", "joint")
    return cells(
        *(
            cell(material.origin, name, f"{name} {metres(value)} m", value)
            for name in names
            if (value := getattr(material, name))
        )
    )


def _of_pieces(quantity: Quantity, material: Material | None, unit: str) -> Line | None:
    """Return the required quantity as all pieces by the width that counts, None where it is not that."""
    length = sum(piece.length * piece.count for piece in quantity.pieces)
    for name in ("width", "cover"):
        width = getattr(material, name, None)
        if width and abs(length * width - quantity.required) < 1e-9 * quantity.required:
            count = sum(piece.count for piece in quantity.pieces)
            cut = f"{number(count)} pieces as cut, {metres(length)} m x {name} {metres(width)}"
            return Line("pieces", f"{cut} = {metres(length * width)} {unit}")
    return None


def order_section(job: Job, result: Result, line: BillLine, material: Material | None) -> Section:
    """Return what is bought for an item, what of it is charged and what is wasted, beside the allowance."""
    ordered = line.ordered
    unit = unit_text(ordered.quantity.unit)
    lines = [
        Line("rule", ordered.rule),
        Line("basis", ordered.basis),
        *_plan_lines(result, line),
        Line("order", f"{metres(ordered.order)} {unit}"),
        Line(
            "charged", f"{metres(ordered.charged)} {unit}, the part of the order that money and carbon count"
        ),
        Line("built in", f"{metres(ordered.built_in)} {unit}, required or charged, whichever is less"),
        Line(
            "wastage",
            f"{metres(ordered.charged)} - {metres(ordered.built_in)} = {metres(ordered.wastage)} {unit}",
        ),
    ]
    if material is not None and material.family != "work only":
        lines.append(_allowed(ordered, material))
    return Section(ORDER, tuple(lines))


def _plan_lines(result: Result, line: BillLine) -> list[Line]:
    """Return the plan that an item is bought by and its share of that, none where it has no plan."""
    ordered, plan = line.ordered, line.ordered.plan
    if plan is None:
        return [Line("plan", "none: ordered by itself")]
    unit = unit_text(plan.unit)
    name = names_of(result.plans).get(plan.number, plan.name)
    rows = {id(item.stock): item.stock for item in plan.items}.values()
    lines = [
        Line("plan", f"number {plan.number}, {name}, for {_items(len(plan.items_of))}"),
        Line(
            "buys",
            bought_text(plan),
            cells(*(cell(row.origin, "material", f"sold by {row.sold_by}", row.material) for row in rows)),
        ),
    ]
    if any(applied.override.figure == "wastage" for applied in line.overrides):
        return [*lines, Line("share", "not by the plan, since its wastage is overridden")]
    required = ordered.quantity.required
    share = (
        f"required {metres(required)} / {metres(plan.required)} {unit} of the plan = {precise(ordered.share)}"
    )
    of_plan = f"order {metres(plan.order)} x {precise(ordered.share)} = {metres(ordered.order)} {unit}"
    return [*lines, Line("share", f"{share}; {of_plan}")]


def _items(count: int) -> str:
    """Return a count of items in words."""
    return "this item alone" if count == 1 else f"{count} items together"


def _allowed(ordered: OrderedQuantity, material: Material) -> Line:
    """Return what the wastage allowance of the material would buy."""
    factor = order_factor(material.wastage, material.wastage_base) if material.wastage else 1.0
    whole = ", in whole numbers" if ordered.quantity.unit == "Nr" else ""
    product = f"{metres(ordered.quantity.required)} x {precise(factor)}{whole} = {metres(ordered.allowed)}"
    beside = ", for comparison" if ordered.plan is not None else ""
    return Line(
        "by allowance",
        f"{product} {unit_text(ordered.quantity.unit)}{beside}",
        cells(
            cell(
                material.origin,
                "wastage",
                f"wastage allowance {percent(material.wastage)} on {material.wastage_base}",
                material.wastage,
            )
        ),
    )


def overrides_section(job: Job, line: BillLine) -> Section | None:
    """Return what stands in the place of measured or built-up figures, None where nothing does."""
    if not line.overrides:
        return None
    currency = job.project.currency
    return Section(OVERRIDES, tuple(_override(applied, currency) for applied in line.overrides))


def _override(applied: AppliedOverride, currency: str) -> Line:
    """Return one override: what it was, what counts, why, by whom, when."""
    own = applied.override
    if own.figure == "wastage":
        was, now = percent(applied.was), percent(own.value)
    elif own.figure == "rate":
        unit = unit_text(f"{currency}/{own.unit}")
        was, now = f"{rate(applied.was)} {unit}", f"{rate(own.value)} {unit}"
    else:
        unit = unit_text(own.unit)
        was, now = f"{metres(applied.was)} {unit}", f"{metres(own.value)} {unit}"
    where = "in every option" if own.option is None else f"in the option {own.option}"
    return Line(
        own.figure,
        f"{now} in place of {was}, {where}: {own.reason.rstrip('.')}; {own.who}, {own.date}",
        cells(cell(own.origin, "value", f"{own.figure} {now}", own.value)),
    )
