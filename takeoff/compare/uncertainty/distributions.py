"""How an input varies: distributions of a multiplier of its central value.

Every multiplier is the value of the inverse distribution function at a uniform number between 0 and 1, so that an
input keeps its draws whatever else is drawn, and its quantiles are exact. The central value of every multiplier is 1:
an input at its central value leaves the figures as they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from takeoff.compare.uncertainty.normal_quantile import normal_quantile

Array = npt.NDArray[np.float64]


class Distribution(Protocol):
    """What every distribution of a multiplier can tell."""

    def at(self, shares: Array) -> Array:
        """Return the multipliers below which the given shares of all draws lie, each share in (0, 1)."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """Stays at the central value: nothing is known of its range."""

    def at(self, shares: Array) -> Array:
        """Return 1 throughout."""
        return np.ones_like(shares)


@dataclass(frozen=True, slots=True, kw_only=True)
class Triangular:
    """Between the ends of a range, most often near the central value: what low, central and high say, and no more.

    A triangle is the plainest density that has the two ends that someone stated and its peak at the central value;
    a bell would need a standard deviation that nobody stated, and would go beyond the ends. Where the
    central value is not midway, the mean lies towards the farther end: (low + 1 + high) / 3. The central value may
    be an end itself. Raises ValueError where it is outside the range.

    Source: three-point estimates with a triangular density are common practice, no source; inverse by integrating the
    triangle.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        """Refuse a range that the central value is not in."""
        if not self.low <= 1.0 <= self.high:
            raise ValueError(
                f"a range of {self.low:g} to {self.high:g} times the central value leaves it out"
            )

    def at(self, shares: Array) -> Array:
        """Return the multipliers at given shares."""
        low, high = self.low, self.high
        width = high - low
        if width == 0.0:
            return np.ones_like(shares)
        rising = low + np.sqrt(shares * width * (1.0 - low))
        falling = high - np.sqrt((1.0 - shares) * width * (high - 1.0))
        multipliers: Array = np.where(shares * width <= 1.0 - low, rising, falling)
        return multipliers


@dataclass(frozen=True, slots=True, kw_only=True)
class Lognormal:
    """As likely to be x times the central value as 1/x of it; `sigma` is the standard deviation of its logarithm.

    This is how scores of data quality are told: they give variances of the logarithm, a factor is never below
    nought, and errors of several kinds multiply. The central value is the median.

    Source: ecoinvent data quality guideline, Weidema et al. 2013, which states its default uncertainty as lognormal.
    """

    sigma: float

    def at(self, shares: Array) -> Array:
        """Return the multipliers at given shares."""
        multipliers: Array = np.exp(self.sigma * normal_quantile(shares))
        return multipliers
