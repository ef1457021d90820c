"""What renewals of drawn lives are worth at completion."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from takeoff.assess.by_year import discount_factor, year_of
from takeoff.assess.renewal import TOGETHER, renewals
from takeoff.model.study import Study

Array = npt.NDArray[np.float64]


def discounted_renewals(life: Array, host_life: Array | None, *, share: float, study: Study) -> Array:
    """Return the sum of the weights of renewals, each discounted from the year it falls in.

    Args:
        life: lives [years], one a draw; infinite for what is renewed with its host only.
        host_life: lives of the host [years], None without one.
        share: weight of a renewal at the end of its own life; one with the host weighs 1.
        study: period, discount rate and way of counting.

    Years are those of `takeoff.assess.renewal.renewal_years` and `takeoff.assess.by_year.by_year`; annualised renewals
    are spread evenly over the years. Source: present value as in `discount_factor`.
    """
    last = year_of(study.period)
    factors = np.array([discount_factor(year, study.discount_rate) for year in range(last + 1)])
    if study.replacements == "annualised":
        counts = renewals(life, study.period, host_life, annualised=True)
        spread: Array = (counts.own * share + counts.with_host) * (factors[1:].sum() / last)
        return spread
    total = np.zeros_like(life)
    hosts = np.zeros_like(life) if host_life is None else renewals(host_life, study.period).own
    every = np.full_like(life, math.inf) if host_life is None else host_life
    for renewed in range(int(hosts.max(initial=0.0)) + 1):
        reached = hosts >= renewed
        start = np.zeros_like(life) if renewed == 0 else every * renewed
        span = np.where(hosts > renewed, every, study.period - start)
        if renewed:
            total += _worth(start, reached, factors)
        # only the ratio of life and span counts, so that spans of many lengths can be asked for at once
        with np.errstate(divide="ignore", invalid="ignore"):
            own = np.where(reached, renewals(life / span, 1.0).own, 0.0)
        for times in range(1, int(own.max(initial=0.0)) + 1):
            total += share * _worth(start + life * times, own >= times, factors)
    return total


def _worth(times: Array, falls_due: npt.NDArray[np.bool_], factors: Array) -> Array:
    """Return the discount factors of times after completion [years], 0 where nothing falls due."""
    worth = np.zeros_like(times)
    years = np.ceil(times[falls_due] - TOGETHER).astype(np.intp)
    worth[falls_due] = factors[years]
    return worth
