"""The pedigree matrix of the ecoinvent data quality guideline, Weidema et al. 2013, version 3, Table 10.5.

Variances of the natural logarithm by score, as quoted in public files that cite page 77 of the guideline, which itself
was not opened. The older factors that 95 % of data lie within, exp(2 sqrt(variance)), are 1.05, 1.10, 1.20, 1.50 and so
on in version 2 of the guideline (from memory); version 3 was made from them, and gives them back to within 0.015.
"""

from __future__ import annotations

import math
from dataclasses import fields, replace

import numpy as np
import pytest

from takeoff.compare.uncertainty.distributions import Lognormal
from takeoff.compare.uncertainty.pedigree import (
    BASIC,
    geometric_deviation,
    sigma_of,
    variance_of_log,
)
from takeoff.model.life_cycle import Scores

# Basic variance of transport services, Table 10.3.
TRANSPORT = 0.12

BEST = Scores(1, 1, 1, 1, 1)
VERSION_2 = {
    "reliability": (1.00, 1.05, 1.10, 1.20, 1.50),
    "completeness": (1.00, 1.02, 1.05, 1.10, 1.20),
    "time": (1.00, 1.03, 1.10, 1.20, 1.50),
    "geography": (1.00, 1.01, 1.02, 1.05, 1.10),
    "technology": (1.00, 1.05, 1.20, 1.50, 2.00),
}


def test_scores_2_2_3_3_3_of_a_material():
    # 0.0006 basic + 0.0006 + 0.0001 + 0.002 + 0.0001 + 0.008
    scores = Scores(2, 2, 3, 3, 3)
    assert variance_of_log(scores) == pytest.approx(0.0114, abs=1e-12)
    assert geometric_deviation(scores) == pytest.approx(1.1127, abs=5e-5)
    assert geometric_deviation(scores) ** 2 == pytest.approx(1.2381, abs=5e-5)


def test_the_best_scores_leave_the_basic_variance():
    assert variance_of_log(BEST) == BASIC == 0.0006
    assert variance_of_log(BEST, basic=TRANSPORT) == 0.12
    # a transport service with the worst scores: 0.12 + 0.04 + 0.008 + 0.04 + 0.002 + 0.12
    assert variance_of_log(Scores(5, 5, 5, 5, 5), basic=TRANSPORT) == pytest.approx(0.33)


@pytest.mark.parametrize("indicator", [each.name for each in fields(Scores)])
def test_each_indicator_gives_the_factors_of_the_older_version(indicator):
    for score, older in enumerate(VERSION_2[indicator], start=1):
        variance = variance_of_log(replace(BEST, **{indicator: score}), basic=0.0)
        assert math.exp(2 * math.sqrt(variance)) == pytest.approx(older, abs=0.015)


def test_95_percent_of_draws_lie_within_the_square_of_the_geometric_deviation():
    scores = Scores(2, 2, 3, 3, 3)
    ends = Lognormal(sigma=sigma_of(scores)).at(np.array([0.025, 0.975]))
    # the guideline takes 2 for the 1.96 of a normal distribution, so its interval is a little wider than 95 %
    assert ends == pytest.approx([1 / 1.2381, 1.2381], rel=0.006)
