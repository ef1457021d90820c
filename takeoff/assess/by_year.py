"""Cost and carbon year by year over the study period."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.assess.ladder import BEFORE_THE_LADDER, Slopes
from takeoff.assess.lines import Line
from takeoff.assess.renewal import TOGETHER
from takeoff.model.life_cycle import END, UPFRONT, Module
from takeoff.model.study import Study

_YEARLY: tuple[Module, ...] = ("B2", "B3")


@dataclass(frozen=True, slots=True, kw_only=True)
class YearFigures:
    """What falls in one year: renewals carried up the cost ladder in money of today, that discounted, and carbon.

    Money is in the project's currency, carbon in kgCO2e.
    """

    year: int
    upkeep: float
    discounted: float
    carbon: float


def year_of(time: float) -> int:
    """Return the year in which a time after completion falls [years]: the first one that has reached it.

    >>> year_of(7.5), year_of(8.0)
    (8, 8)
    """
    return math.ceil(time - TOGETHER)


def discount_factor(year: int, rate: float) -> float:
    """Return what money of a year is worth at completion, at a real rate a year (0.03).

    Source: present value, 1 / (1 + rate) ** year, as in ISO 15686-5, from memory.

    >>> round(discount_factor(10, 0.03), 6)
    0.744094
    """
    return 1 / (1 + rate) ** year


def by_year(
    lines: Iterable[Line], study: Study, slopes: Slopes = BEFORE_THE_LADDER
) -> tuple[YearFigures, ...]:
    """Return upkeep and carbon of every year from completion (year 0) to the end of the period.

    Year 0 has A1 to A5, the last year C; maintenance and repair of every year are spread evenly. Where the
    study counts whole renewals they fall in the year they are due, annualised ones are spread evenly. Only modules
    that the study adds up are counted; carbon is of what is assessed. Each renewal bears of the cost ladder what its
    item does, which `slopes` tell (nothing unless they are given). The building is not in `upkeep`.
    """
    last = year_of(study.period)
    upkeep, carbon = [0.0] * (last + 1), [0.0] * (last + 1)
    counted = set(study.modules)
    for line in lines:
        carbon[0] += line.carbon.sum_of(m for m in UPFRONT if m in counted) or 0.0
        carbon[last] += line.carbon.sum_of(m for m in END if m in counted) or 0.0
        yearly = sum(
            part.amount for part in line.carbon_parts if part.module in _YEARLY and part.module in counted
        )
        renewal = line.renewal
        spent = emitted = 0.0
        if renewal is not None and study.replacements == "annualised":
            spent = renewal.cost_each * slopes.of(line.sum_kind) * renewal.counted
            times = sum(count for module, count in renewal.counts if module in counted)
            emitted = (renewal.carbon_each or 0.0) * times
        for year in range(1, last + 1):
            carbon[year] += (yearly + emitted) / last
            upkeep[year] += spent / last
        if renewal is not None and study.replacements == "whole":
            for time, weight, module in renewal.years:
                upkeep[year_of(time)] += renewal.cost_each * slopes.of(line.sum_kind) * weight
                if module in counted:
                    carbon[year_of(time)] += (renewal.carbon_each or 0.0) * weight
    return tuple(
        YearFigures(
            year=year,
            upkeep=upkeep[year],
            discounted=upkeep[year] * discount_factor(year, study.discount_rate),
            carbon=carbon[year],
        )
        for year in range(last + 1)
    )
