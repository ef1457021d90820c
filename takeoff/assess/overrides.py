"""Puts the figures of the quantity surveyor in the place of measured and built-up ones, item by item."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import fields, replace
from typing import Any, cast

from takeoff.assess.allowances import AssessedAllowance
from takeoff.assess.items import assess_lines
from takeoff.assess.lines import Carbon, Line
from takeoff.assess.parts import Part
from takeoff.assess.pricing import has_material, quantity_inputs
from takeoff.cutting.order import OrderedQuantity
from takeoff.model.bill import OVERRIDDEN_FIGURES, AppliedOverride, OverriddenFigure, Override
from takeoff.model.library import Library
from takeoff.model.problem import WorkbookProblem, at
from takeoff.model.study import Study

# Wastage is in a built-up rate, so it comes first; a stated rate stands for what all before it would give.
_IN_ORDER: tuple[OverriddenFigure, ...] = ("wastage", "quantity", "rate")
_MODEL_PLAN = "the plan is that of the model"


def overrides_in(overrides: Iterable[Override], option: str) -> tuple[Override, ...]:
    """Return the overrides that count in an option: one that names it counts before one for all options."""
    counted: dict[tuple[str, str], Override] = {}
    for override in overrides:
        key = (override.id, override.figure)
        if override.option == option or (override.option is None and key not in counted):
            counted[key] = override
    return tuple(counted.values())


def override_lines(
    lines: Iterable[Line],
    overrides: Sequence[Override],
    library: Library,
    study: Study | None = None,
    *,
    figures: Sequence[OverriddenFigure] = OVERRIDDEN_FIGURES,
) -> tuple[list[Line], list[WorkbookProblem]]:
    """Return items with their overrides in all their figures, and the overrides that do not fit their item.

    The items come from `assess_lines`, or are those of allowances, before their renewals are added. `overrides` are
    those that count in the option, each figure of an item once; only those of `figures` are taken.

    Source: common practice, no source: wastage before quantity, both before the rate.
    """
    by_id: dict[str, dict[OverriddenFigure, Override]] = {}
    for override in overrides:
        if override.figure in figures:
            by_id.setdefault(override.id, {})[override.figure] = override
    problems: list[WorkbookProblem] = []

    def assess(item: OrderedQuantity) -> Line:
        # what is wrong with its factors was told when the item was assessed as measured
        (line,), _ = assess_lines([item], library, study)
        return line

    changed: list[Line] = []
    for line in lines:
        for figure in _IN_ORDER:
            own = by_id.get(line.quantity.id, {}).get(figure)
            if own is None:
                continue
            found = _misfit(own, line, library)
            problems += found
            if not found:
                line = _overridden(line, own, library, assess)
        changed.append(line)
    return changed, problems


def override_allowances(
    allowances: Iterable[AssessedAllowance], overrides: Sequence[Override], library: Library
) -> tuple[list[AssessedAllowance], list[WorkbookProblem]]:
    """Return allowances with their overrides, before their renewals are added, and those that do not fit."""
    changed: list[AssessedAllowance] = []
    problems: list[WorkbookProblem] = []
    for each in allowances:
        (line, *fixing), found = override_lines(each.lines, overrides, library)
        problems += found
        changed.append(replace(each, line=line, fixing=fixing[0] if fixing else None))
    return changed, problems


def unknown_id(override: Override, known: Iterable[str]) -> WorkbookProblem:
    """Return the problem of an override of no item, with the nearest of the ids there are."""
    spelt = {id.lower(): id for id in sorted(known, reverse=True)}
    close = difflib.get_close_matches(override.id.lower(), sorted(spelt), 1)
    where = " in any option" if override.option is None else ""
    of_option = "" if override.option is None else f" of the option {override.option!r}"
    return at(
        override.origin,
        "id",
        found=f"no item {override.id!r}{where}",
        expected=f"the id of an item{of_option}, as takeoff measure shows it",
        mend=f"Did you mean {spelt[close[0]]!r}?" if close else "",
    )


def _misfit(override: Override, line: Line, library: Library) -> list[WorkbookProblem]:
    """Return what keeps an override from its item: another unit, or wastage of what takes no material."""
    item = line.quantity
    if override.figure == "wastage":
        if has_material(library.materials.get(item.material)):
            return []
        return [
            at(
                override.origin,
                "figure",
                found=f"wastage of {item.id!r}, which takes no material",
                expected="quantity or rate",
            )
        ]
    if override.unit == item.unit:
        return []
    per = "per " if override.figure == "rate" else ""
    return [
        at(
            override.origin,
            "unit",
            found=f"{per}{override.unit} for {item.id!r}, which is measured in {item.unit}",
            expected=f"{per}{item.unit}",
        )
    ]


def _overridden(
    line: Line, override: Override, library: Library, assess: Callable[[OrderedQuantity], Line]
) -> Line:
    """Return an item with one override that fits it."""
    if override.figure == "wastage":
        # a plan may need less than the required quantity, so this may be below nought
        was = line.ordered.charged / line.quantity.required - 1
        changed = assess(_with_wastage(line.ordered, override.value))
    elif override.figure == "quantity":
        was = line.quantity.net
        changed = _with_quantity(line, override.value)
    else:
        was = line.rate.total
        changed = _with_rate(line, override.value, library)
    applied = AppliedOverride(override=override, was=was, effect=changed.cost - line.cost)
    return replace(changed, overrides=(*line.overrides, applied))


def _with_wastage(ordered: OrderedQuantity, share: float) -> OrderedQuantity:
    """Return what is bought with so much of the required quantity besides."""
    order = ordered.quantity.required * (1 + share)
    rule = f"wastage overridden, {share:.1%} of the required quantity".replace(".0%", " %")
    return replace(
        ordered,
        order=order,
        charged=order,
        rule=rule if ordered.plan is None else f"{rule}; {_MODEL_PLAN}",
        basis="wastage allowance",
        # sizes keep their mean price, whatever share of the plan is bought
        share=ordered.share * order / ordered.charged,
    )


def _with_quantity(line: Line, net: float) -> Line:
    """Return an item of another net quantity: all but its rate goes with it in proportion."""
    ordered, item = line.ordered, line.ordered.quantity
    factor = net / item.net
    rule = f"{ordered.rule}; quantity overridden"
    return replace(
        line,
        ordered=replace(
            ordered,
            quantity=replace(item, net=net, required=item.required * factor),
            order=ordered.order * factor,
            charged=ordered.charged * factor,
            allowed=ordered.allowed * factor,
            rule=rule if ordered.plan is None else f"{rule}, {_MODEL_PLAN}",
            share=ordered.share * factor,
        ),
        mass=_times(line.mass, factor),
        mass_wastage=_times(line.mass_wastage, factor),
        wood_volume=line.wood_volume * factor,
        cost=line.cost * factor,
        carbon=_scaled_carbon(line.carbon, factor),
        cost_parts=_scaled(line.cost_parts, factor),
        carbon_parts=_scaled(line.carbon_parts, factor),
    )


def _with_rate(line: Line, rate: float, library: Library) -> Line:
    """Return an item at a rate that is stated whole; the hours of its gang stay as they are.

    Its cost remains uncertain as what it was built up from is; where it had none, as its quantity is.
    """
    cost = rate * line.quantity.net
    if line.cost:
        parts = _scaled(line.cost_parts, cost / line.cost)
    else:
        parts = (Part(cost, quantity_inputs(library.materials.get(line.quantity.material))),)
    return replace(
        line,
        rate=replace(line.rate, material=0.0, sundries=0.0, labour=0.0, plant=0.0, stated=rate),
        cost=cost,
        priced=True,
        cost_parts=parts,
    )


def _times(amount: float | None, factor: float) -> float | None:
    """Return an amount in proportion, None where it is not known."""
    return None if amount is None else amount * factor


def _scaled(parts: Iterable[Part], factor: float) -> tuple[Part, ...]:
    """Return parts in proportion."""
    return tuple(replace(part, amount=part.amount * factor) for part in parts)


def _scaled_carbon(carbon: Carbon, factor: float) -> Carbon:
    """Return carbon in proportion, what is not assessed left so."""
    amounts = {each.name: _times(getattr(carbon, each.name), factor) for each in fields(carbon)}
    return Carbon(**cast("dict[str, Any]", amounts))
