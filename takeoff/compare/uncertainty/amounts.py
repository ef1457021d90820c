"""The figures that are drawn, as amounts of rows: what of each figure follows which inputs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal, get_args

from takeoff.assess.ladder import climb
from takeoff.assess.lines import SUM_KINDS, Line, SumOf
from takeoff.assess.parts import Part
from takeoff.compare.uncertainty.rows import Count, Row, count_of
from takeoff.model.library import LadderStep
from takeoff.model.life_cycle import UPFRONT
from takeoff.model.study import Study

DrawnFigure = Literal["total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e", "upkeep", "whole_life_cost"]
# In the order of every array of draws.
DRAWN_FIGURES: tuple[DrawnFigure, ...] = get_args(DrawnFigure)

Amounts = dict[Row, float]
# What no input moves, such as a sum among the steps of the ladder.
CONSTANT = Row(frozenset())


@dataclass(frozen=True, slots=True, kw_only=True)
class Slopes:
    """What the total including tax is with nothing built, and what one more of works and of each sum adds to it.

    The ladder is a straight line in each, so its total is `nothing` and these times the works and sums.
    """

    nothing: float
    works: float
    sums: Mapping[SumOf, float]

    def of(self, kind: SumOf | None) -> float:
        """Return the slope of a kind of sum, None being the measured works."""
        return self.works if kind is None else self.sums[kind]


def slopes_of(steps: tuple[LadderStep, ...]) -> Slopes:
    """Return the slopes of a cost ladder, found by climbing it with one of each."""
    # without its sums the ladder starts from nothing, so that no digits are lost in a difference
    rates = tuple(replace(step, value=0.0) if step.kind == "sum" else step for step in steps)
    return Slopes(
        nothing=climb(0.0, steps).total_inc_tax,
        works=climb(1.0, rates).total_inc_tax,
        sums={kind: climb(0.0, rates, {kind: 1.0}).total_inc_tax for kind in SUM_KINDS},
    )


def amounts_of(
    lines: Iterable[Line], ladder: tuple[LadderStep, ...], study: Study
) -> dict[DrawnFigure, Amounts]:
    """Return the amounts of every figure of an option, from the parts of its items.

    Cost is that of the works and sums up the ladder, whose own percentages are as given. Upkeep is the cost of
    renewals, discounted, at the slope of measured works. Upfront carbon has the modules A1 to A5, life-cycle carbon
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
            add("upkeep", part, slopes.works, worth)
        if renewal.module in counted:
            for part in renewal.carbon_parts:
                add("life_cycle_kgco2e", part, 1.0, count)
    for key in ("total_inc_tax", "upkeep"):
        for row, amounts in gathered[key].items():
            gathered["whole_life_cost"].setdefault(row, []).extend(amounts)
    # summed exactly, so that the order of the items makes no difference between options
    return {key: {row: math.fsum(amounts) for row, amounts in rows.items()} for key, rows in gathered.items()}
