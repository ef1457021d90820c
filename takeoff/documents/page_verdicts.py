"""What can be said of every option against every other, for readers who choose what to compare with."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from takeoff.compare.uncertainty import DrawnFigure, Uncertainty, Verdict
from takeoff.compare.uncertainty.ranges import difference_of

# Two sums of the same parts, added up in another order, differ by less than this share of them.
_ROUNDING = 1e-9
_OTHER_WAY: dict[Verdict, Verdict] = {
    "lower": "higher",
    "higher": "lower",
    "too close to call": "too close to call",
    "the same": "the same",
}


def verdicts_between(ranges: Uncertainty, figure: DrawnFigure) -> list[list[Verdict]]:
    """Return what can be said of a figure of each option (row) against each other (column), draw by draw.

    Against the base, the first, it is the verdict of the report; every option is the same as itself.
    """
    count = len(ranges.options)
    found: list[list[Verdict]] = [["the same"] * count for _ in range(count)]
    for before, after in combinations(range(count), 2):
        verdict = _verdict(ranges, figure, after, before)
        found[after][before] = verdict
        found[before][after] = _OTHER_WAY[verdict]
    return found


def _verdict(ranges: Uncertainty, figure: DrawnFigure, option: int, other: int) -> Verdict:
    """Return what can be said of an option against another, by their places."""
    if other == 0:
        return ranges.options[option].differences[figure].verdict
    drawn = ranges.drawn
    own, its = drawn.of(option, figure), drawn.of(other, figure)
    differences = drawn.difference_of(option, figure) - drawn.difference_of(other, figure)
    differences[np.abs(differences) <= _ROUNDING * np.maximum(np.abs(own), np.abs(its))] = 0.0
    central = ranges.options[option].figures[figure].central - ranges.options[other].figures[figure].central
    return difference_of(differences, central, option=own, base=its).verdict
