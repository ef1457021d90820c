"""The rate of one item built up: supply, sundries, labour, plant or a stated rate; its cost and what that adds."""

from __future__ import annotations

from dataclasses import replace

from takeoff.assess.ladder import words as ladder_words
from takeoff.assess.lines import Line as BillLine
from takeoff.assess.stock_worth import money_for
from takeoff.compare.evaluate import Result
from takeoff.cutting.order_plan import OrderPlan
from takeoff.documents.explain_allowance import stated_rate
from takeoff.documents.explain_conversion import conversion
from takeoff.documents.explain_parts import Cell, Line, Section, cell, cells, metres, precise
from takeoff.documents.order_words import bought_text
from takeoff.documents.wording import number, percent, unit_text
from takeoff.model.allowance import Allowance
from takeoff.model.house import Layer
from takeoff.model.job import Job
from takeoff.model.library import Library, Price, Work

HEADING = "Rate build-up"
_FEW = 10.0


def rate_section(
    job: Job, result: Result, line: BillLine, layer: Layer | None, allowance: Allowance | None
) -> Section:
    """Return how the rate of an item is built up, its cost, and what that adds to the total including tax."""
    quantity, currency = line.quantity, job.project.currency
    unit = unit_text(f"{currency}/{quantity.unit}")
    places = 2 if line.rate.total >= _FEW else 4
    overridden = any(applied.override.figure == "rate" for applied in line.overrides)
    lines: list[Line] = []
    if allowance is not None and not overridden:
        lines.append(stated_rate(line, allowance, unit, places))
    else:
        if overridden:
            lines.append(
                Line("", "the rate is overridden, see Overrides; what it was built up from is for comparison")
            )
        lines += _supply(job.library, line, layer, currency, places)
        lines += _work(job.library, line, layer, currency, places)
    if overridden:
        was = next(applied.was for applied in line.overrides if applied.override.figure == "rate")
        lines.append(
            Line("built up", f"{number(was, places)} {unit}, what the override stands in the place of")
        )
        lines.append(Line("stated", f"{number(line.rate.stated, places)} {unit}"))
    lines += _sums(job, result, line, unit, places)
    return Section(HEADING, tuple(lines))


def work_of(line: BillLine, library: Library) -> Work | None:
    """Return the labour row of an item: its own, else that of its material."""
    material = library.materials.get(line.quantity.material)
    name = line.quantity.work or (material.work if material else None)
    return library.works.get(name) if name else None


def _supply(library: Library, line: BillLine, layer: Layer | None, currency: str, places: int) -> list[Line]:
    """Return the lines of the material: price x conversion x counted, then sundries."""
    built, quantity = line.rate.build_up, line.quantity
    price = library.prices.get(quantity.material)
    if not built.per:
        return (
            [] if line.priced else [Line("price", "not priced: no row in the sheet Prices, nothing is added")]
        )
    unit = unit_text(f"{currency}/{quantity.unit}")
    per = unit_text(f"{currency}/{built.per}")
    lines, turned = list[Line](), None
    if built.is_of_stock:
        lines += _stock_lines(library, line, price, layer, currency)
    else:
        assert price is not None
        turned = conversion(quantity, library.materials.get(quantity.material), built.per, layer)
        lines.append(
            Line(
                "price",
                f"{precise(built.price)} {per}, {price.basis}, {price.date}, {price.place}",
                cells(cell(price.origin, "price", f"price {precise(built.price)} {per}", built.price)),
            )
        )
    if turned is not None and built.per != quantity.unit:
        lines.append(
            Line(
                "conversion",
                f"{unit_text(built.per)} in one {unit_text(quantity.unit)}: {turned.text}",
                turned.cells,
            )
        )
    lines.append(_counted(line, price))
    supply = built.price * built.conversion * built.counted
    shown = f"{precise(built.price)} x {precise(built.conversion)} x {precise(built.counted)}"
    lines.append(Line("supply", f"{shown} = {number(supply, places)} {unit}"))
    sundries = supply * built.sundries
    found = (
        ()
        if price is None
        else cells(cell(price.origin, "sundries", f"sundries {percent(price.sundries)}", price.sundries))
    )
    lines.append(
        Line(
            "sundries",
            f"{number(supply, places)} x {percent(built.sundries)} = {number(sundries, places)} {unit}",
            found if built.sundries else (),
        )
    )
    return lines


def _stock_lines(
    library: Library, line: BillLine, price: Price | None, layer: Layer | None, currency: str
) -> list[Line]:
    """Return what each size on sale costs, by its own price of the sheet Stock, else the material's; then the mean.

    Sizes without a price of their own are paid on what is required only, where the material's price allows for wastage.
    """
    plan, quantity, ordered = line.ordered.plan, line.quantity, line.ordered
    assert plan is not None
    material = library.materials.get(quantity.material)
    lines, money = [], 0.0
    for item in plan.items:
        row, amount = item.stock, item.amount / item.count
        each = money_for(quantity, row, amount, library) or 0.0
        own = row.price or (price.price if price else None)
        turned = None if own is None or own.per == "Nr" else conversion(quantity, material, own.per, layer)
        raised = row.price is None and price is not None and price.wastage_in_price
        paid = quantity.required / ordered.charged if raised else 1.0
        money += each * item.count * paid
        how = "" if own is None or turned is None else f"{precise(amount)} x {precise(turned.factor)} x "
        shown = f"{how}{precise(own.value) if own else 0} = {number(each, 2)}"
        on_required = f" x {precise(paid)} paid on what is required" if raised else ""
        times = f"{precise(item.count)} x {number(each, 2)}{on_required}"
        what = bought_text(replace(plan, items=(item,)))
        total = f"{number(each * item.count * paid, 2)} {currency}"
        lines.append(Line("bought", f"{what}: {shown} each, {times} = {total}"))
    unit = unit_text(f"{currency}/{quantity.unit}")
    text = f"{number(money, 2)} / order {metres(plan.order)} = {number(line.rate.build_up.price, 4)} {unit}, the mean"
    return [*lines, Line("price", text, _stock_prices(plan, price, currency))]


def _stock_prices(plan: OrderPlan, price: Price | None, currency: str) -> tuple[Cell, ...]:
    """Return the cells of the prices of all sizes that a plan buys."""
    found: list[Cell | None] = []
    for row in (item.stock for item in plan.items):
        own, origin = (row.price, row.origin) if row.price else (None, row.origin)
        if own is None and price is not None:
            own, origin = price.price, price.origin
        if own is not None:
            told = f"price {precise(own.value)} {unit_text(f'{currency}/{own.per}')}"
            found.append(cell(origin, "price", told, own.value))
    return cells(*found)


def _counted(line: BillLine, price: Price | None) -> Line:
    """Return how many measured units are paid for each net one."""
    built, quantity = line.rate.build_up, line.quantity
    paid_on_required = price is not None and price.wastage_in_price and not built.is_of_stock
    what, amount = ("required", quantity.required) if paid_on_required else ("charged", line.ordered.charged)
    why = ", for the price allows for wastage" if paid_on_required else ""
    found = (
        ()
        if price is None or not paid_on_required
        else cells(cell(price.origin, "wastage_in_price", "wastage in price: yes"))
    )
    text = f"{what} {metres(amount)} / net {metres(quantity.net)} = {precise(built.counted)}{why}"
    return Line("counted", text, found)


def _work(library: Library, line: BillLine, layer: Layer | None, currency: str, places: int) -> list[Line]:
    """Return the lines of labour and plant, where there are any."""
    work, built, quantity = work_of(line, library), line.rate.build_up, line.quantity
    if work is None:
        return [Line("labour", "none: no labour row")]
    unit = unit_text(f"{currency}/{quantity.unit}")
    gang = library.gangs[work.gang]
    material = library.materials.get(quantity.material)
    turned = conversion(quantity, material, built.labour_per, layer)
    named = (
        cell(material.origin, "work", f"labour row {work.name}", work.name)
        if material is not None and material.work and not quantity.work
        else None
    )
    lines = [
        Line(
            "labour constant",
            f"{precise(built.constant)} h/{unit_text(built.labour_per)}, {work.name}",
            cells(named, cell(work.origin, "hours", f"hours {precise(built.constant)}", built.constant)),
        )
    ]
    if turned is not None and built.labour_per != quantity.unit:
        words = f"{unit_text(built.labour_per)} in one {unit_text(quantity.unit)}: {turned.text}"
        lines.append(Line("conversion", words, turned.cells))
    hours = built.constant * built.labour_conversion
    shown = f"{precise(built.constant)} x {precise(built.labour_conversion)} x {precise(built.gang_rate)}"
    lines.append(
        Line(
            "labour",
            f"{shown} {currency}/h of {gang.name} = {number(hours * built.gang_rate, places)} {unit}",
            cells(cell(gang.origin, "rate", f"gang rate {precise(gang.rate)} {currency}/h", gang.rate)),
        )
    )
    plant = built.plant * built.labour_conversion
    found = cell(work.origin, "plant", f"plant {precise(built.plant)}", built.plant) if built.plant else None
    text = f"{precise(built.plant)} x {precise(built.labour_conversion)} = {number(plant, places)} {unit}"
    return [*lines, Line("plant", text, cells(found))]


def _sums(job: Job, result: Result, line: BillLine, unit: str, places: int) -> list[Line]:
    """Return the rate, the cost it makes, and what that adds to the total including tax."""
    quantity, currency, slope = line.quantity, job.project.currency, result.slopes.of(line.sum_kind)
    kind = f"a {line.sum_kind}" if line.sum_kind else "measured works"
    steps = cells(
        *(
            cell(step.origin, "value", f"{step.name}, {ladder_words(step)}")
            for step in job.library.ladder
            if step.kind != "sum"
        )
    )
    shown = number(line.rate.total, places)
    return [
        Line("rate", f"{shown} {unit}"),
        Line(
            "cost", f"{metres(quantity.net)} x {precise(line.rate.total)} = {number(line.cost, 2)} {currency}"
        ),
        Line(
            "adds to the total",
            f"{number(line.cost, 2)} x {precise(slope)} = {number(line.cost * slope, 2)} {currency} including tax, "
            f"since the cost ladder raises {kind} so",
            steps,
        ),
    ]
