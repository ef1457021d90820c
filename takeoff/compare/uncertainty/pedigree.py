"""How far a carbon factor may be out, from five scores of its data quality."""

from __future__ import annotations

import math

from takeoff.model.life_cycle import Scores

# Variance of the natural logarithm that each indicator adds, scores 1 to 5, in the order of `Scores`.
_VARIANCES = (
    (0.0, 0.0006, 0.002, 0.008, 0.04),  # reliability
    (0.0, 0.0001, 0.0006, 0.002, 0.008),  # completeness
    (0.0, 0.0002, 0.002, 0.008, 0.04),  # time
    (0.0, 0.000025, 0.0001, 0.0006, 0.002),  # geography
    (0.0, 0.0006, 0.008, 0.04, 0.12),  # technology
)
# Variance that data of materials and energy have even with the best scores.
BASIC = 0.0006


def variance_of_log(scores: Scores, *, basic: float = BASIC) -> float:
    """Return the variance of the natural logarithm of a factor with these scores.

    Args:
        scores: each from 1 (best) to 5.
        basic: variance with the best scores, that of the kind of data.

    Source: pedigree matrix of the ecoinvent data quality guideline, Weidema et al. 2013, Table 10.5, basic variances
    Table 10.3; both as quoted in public files that cite it, the guideline itself not opened.

    >>> round(variance_of_log(Scores(2, 2, 3, 3, 3)), 6)
    0.0114
    """
    return basic + sum(row[score - 1] for row, score in zip(_VARIANCES, scores.values(), strict=True))


def sigma_of(scores: Scores, *, basic: float = BASIC) -> float:
    """Return the standard deviation of the natural logarithm, which `Lognormal` takes."""
    return math.sqrt(variance_of_log(scores, basic=basic))


def geometric_deviation(scores: Scores, *, basic: float = BASIC) -> float:
    """Return the geometric standard deviation: 95 % of factors are within its square, times or divided by.

    >>> round(geometric_deviation(Scores(2, 2, 3, 3, 3)), 4)
    1.1127
    """
    return math.exp(sigma_of(scores, basic=basic))
