"""When and how often an item is renewed over the study period, by itself and with the layer it belongs to."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from takeoff.assess.parts import Part
from takeoff.model.life_cycle import Exposure, RenewalModule

Array = npt.NDArray[np.float64]

# Lives and periods are told in years: what is closer than this falls together.
TOGETHER = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Renewal:
    """How one item is renewed over the study period; lives in years.

    `host` is the id of the item it is renewed with, `host_life` and `host_module` the life of that and where its
    renewals count, None where it has none. `share` is how much of it is renewed at the end of its own life; with its
    host all of it is. `whole` and `annualised` count renewals both ways, weighted with that share; `counted` is the
    one of the two that the study asks for, of which `counted_with_host` come with the host. Those count in the module
    of the host, the others in `module`. `years` are the years of whole renewals with weight and module.

    `cost_parts` and `carbon_parts` are those of one renewal of all of it; `carbon_each` is their sum [kgCO2e], None
    where a part of it is not assessed.
    """

    material: str
    exposure: Exposure
    life: float
    module: RenewalModule
    share: float
    whole: float
    annualised: float
    counted: float
    years: tuple[tuple[float, float, RenewalModule], ...]
    cost_each: float
    carbon_each: float | None
    cost_parts: tuple[Part, ...]
    carbon_parts: tuple[Part, ...]
    host: str | None = None
    host_material: str | None = None
    host_life: float | None = None
    host_module: RenewalModule | None = None
    counted_with_host: float = 0.0

    @property
    def counts(self) -> tuple[tuple[RenewalModule, float], ...]:
        """The renewals that the study counts, by the module they count in."""
        own = (self.module, self.counted - self.counted_with_host)
        return (own,) if self.host_module is None else (own, (self.host_module, self.counted_with_host))


@dataclass(frozen=True, slots=True, kw_only=True)
class Renewals:
    """How often an item is renewed within the study period.

    `own` are the renewals at the end of its own life, `with_host` those when the layer it belongs to is renewed. Counts
    are numbers or arrays of them.
    """

    own: Array
    with_host: Array


def whole_renewals(life: float, period: float) -> int:
    """Return how often something is replaced within a study period: ceil(period / life) - 1, not below 0.

    Source: EN 15978, number of replacements, from memory: what would fall due at the end of the period is not
    counted.

    >>> [whole_renewals(life, 60) for life in (10, 15, 20, 25, 30, 35, 40, 50, 60)]
    [5, 3, 2, 2, 1, 1, 1, 1, 0]
    """
    return max(math.ceil(period / life - TOGETHER) - 1, 0)


def renewal_years(
    life: float, period: float, host_life: float | None = None
) -> tuple[tuple[float, bool], ...]:
    """Return the years in which an item is renewed, and whether with its host.

    Its own life begins anew when its host is renewed: what a new cladding brings is new with it. Years are
    counted from completion; none falls on the end of the period.

    >>> renewal_years(10.0, 60.0, 25.0)
    ((10.0, False), (20.0, False), (25.0, True), (35.0, False), (45.0, False), (50.0, True))
    """
    hosts = () if host_life is None else _multiples(host_life, period)
    starts = (0.0, *hosts)
    ends = (*hosts, period)
    years: list[tuple[float, bool]] = []
    for start, end in zip(starts, ends, strict=True):
        if start:
            years.append((start, True))
        years += [(start + own, False) for own in _multiples(life, end - start)]
    return tuple(years)


def _multiples(life: float, span: float) -> tuple[float, ...]:
    """Return the multiples of a life that fall within a span, its end left out."""
    return tuple(life * k for k in range(1, whole_renewals(life, span) + 1))


def renewals(
    life: Array, period: float, host_life: Array | None = None, *, annualised: bool = False
) -> Renewals:
    """Return the counts of renewals for many lives at once [years].

    Whole renewals are those of `renewal_years`. Annualised ones are period / life - 1, not below 0, the life of
    an item with a host being the shorter of the two.

    Source: both ways as in Francart et al. 2021, Int J LCA, as quoted elsewhere: rankings of claddings change
    with the choice, so both are offered.
    """
    none = np.zeros_like(life)
    if annualised:
        with_host = none if host_life is None else np.maximum(period / host_life - 1, 0.0)
        shorter = life if host_life is None else np.minimum(life, host_life)
        return Renewals(own=np.maximum(period / shorter - 1, 0.0) - with_host, with_host=with_host)
    if host_life is None:
        return Renewals(own=_whole(life, period), with_host=none)
    with_host = _whole(host_life, period)
    between = _whole(life, host_life)
    last = _whole(life, period - with_host * host_life)
    return Renewals(own=with_host * between + last, with_host=with_host)


def _whole(life: Array, span: Array | float) -> Array:
    """Return `whole_renewals` for arrays."""
    counts: Array = np.maximum(np.ceil(span / life - TOGETHER) - 1, 0.0)
    return counts
