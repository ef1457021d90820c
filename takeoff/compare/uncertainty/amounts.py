"""The figures that are drawn, as amounts of rows: what of each figure follows which inputs."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import Literal, get_args

from takeoff.assess.ladder import slopes_of
from takeoff.assess.lines import Line
from takeoff.assess.parts import Part
from takeoff.assess.renewal import Renewal
from takeoff.compare.uncertainty.rows import Count, CountOf, Row, count_of
from takeoff.model.library import LadderStep
from takeoff.model.life_cycle import UPFRONT, Module
from takeoff.model.study import Study

DrawnFigure = Literal["total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e", "upkeep", "whole_life_cost"]
# In the order of every array of draws.
DRAWN_FIGURES: tuple[DrawnFigure, ...] = get_args(DrawnFigure)

Amounts = dict[Row, float]
# What no input moves, such as a sum among the steps of the ladder.
CONSTANT = Row(frozenset())


def amounts_of(
    lines: Iterable[Line], ladder: tuple[LadderStep, ...], study: Study
) -> dict[DrawnFigure, Amounts]:
    """Return the amounts of every figure of an option, from the parts of its items.

    Cost is that of the works and sums up the ladder, whose own percentages are as given. Upkeep is the cost of
    renewals, discounted, at the slope of the item itself. Upfront carbon has the modules A1 to A5, life-cycle carbon
    those of the study without D, renewals in the module that each is counted in. What is not assessed is left out,
    as it is from the central figures.
    """
    gathered: dict[DrawnFigure, dict[Row, list[float]]] = {key: {} for key in DRAWN_FIGURES}
    slopes = slopes_of(ladder)
    counted = {module for module in study.modules if module != "D"}

    def add(key: DrawnFigure, part: Part, times: float = 1.0, count: Count | None = None) -> None:
        gathered[key].setdefault(Row(frozenset(part.inputs), count), []).append(part.amount * times)

    gathered["total_inc_tax"][CONSTANT] = [slopes.nothing]
    for line in lines:
        for part in line.cost_parts:
            add("total_inc_tax", part, slopes.of(line.sum_kind))
        for part in line.carbon_parts:
            if part.module in UPFRONT:
                add("upfront_kgco2e", part)
            if part.module in counted:
                add("life_cycle_kgco2e", part)
        renewal = line.renewal
        if renewal is None:
            continue
        count = count_of(renewal)
        worth = replace(count, is_discounted=study.discount_rate != 0.0)
        for part in renewal.cost_parts:
            add("upkeep", part, slopes.of(line.sum_kind), worth)
        of_these = _counted(renewal, counted)
        for part in renewal.carbon_parts if of_these else ():
            add("life_cycle_kgco2e", part, 1.0, replace(count, of=of_these or "all"))
    for key in ("total_inc_tax", "upkeep"):
        for row, amounts in gathered[key].items():
            gathered["whole_life_cost"].setdefault(row, []).extend(amounts)
    # summed exactly, so that the order of the items makes no difference between options
    return {key: {row: math.fsum(amounts) for row, amounts in rows.items()} for key, rows in gathered.items()}


def _counted(renewal: Renewal, modules: Collection[Module]) -> CountOf | None:
    """Return which renewals of an item fall in some modules, None where none does."""
    own, with_host = renewal.module in modules, renewal.host_module in modules
    if renewal.host_module is None or own == with_host:
        return "all" if own else None
    return "own" if own else "with host"
