"""What draws come to: ranges of figures, of differences from the base, and what can be said of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

Verdict = Literal["lower", "higher", "too close to call", "the same"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """What the draws of a figure come to; `central` is the figure with every input at its central value.

    One draw in ten is below `p10`, half below `p50`, nine in ten below `p90`.
    """

    central: float
    p10: float
    p50: float
    p90: float
    mean: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What an option less the base comes to, draw by draw: `range` of the differences.

    `share_lower` and `share_higher` are the shares of draws in which the option is below and above the base; draws in
    which both are equal count for neither, so that an option like the base has 0 of both. `unpaired_p10` and
    `unpaired_p90` are what would come out if what both share were drawn twice.
    """

    range: Range
    share_lower: float
    share_higher: float
    unpaired_p10: float
    unpaired_p90: float

    @property
    def verdict(self) -> Verdict:
        """Return what can be said: too close to call where P10 to P90 spans nothing, its ends counted in."""
        if not self.share_lower and not self.share_higher:
            return "the same"
        if self.range.p90 < 0:
            return "lower"
        return "higher" if self.range.p10 > 0 else "too close to call"


def range_of(draws: Array, central: float) -> Range:
    """Return the range of draws. Percentiles are interpolated between the two draws beside them.

    Source: percentiles as in numpy's default, Hyndman and Fan 1996, definition 7.
    """
    p10, p50, p90 = (float(value) for value in np.percentile(draws, (10, 50, 90)))
    return Range(central=central, p10=p10, p50=p50, p90=p90, mean=float(draws.mean()))


def difference_of(differences: Array, central: float, *, option: Array, base: Array) -> Difference:
    """Return what the differences of an option from the base come to, and what its own draws and the base's would
    unpaired.
    """
    low, high = np.percentile(unpaired(option, base), (10, 90))
    return Difference(
        range=range_of(differences, central),
        share_lower=float(np.mean(differences < 0)),
        share_higher=float(np.mean(differences > 0)),
        unpaired_p10=float(low),
        unpaired_p90=float(high),
    )


def unpaired(option: Array, base: Array) -> Array:
    """Return differences as if nothing were shared: each draw of an option less another draw of the base.

    One draw tells nothing of the next, so the base's next draw is as good as one with another seed.
    """
    return option - np.roll(base, -1)
