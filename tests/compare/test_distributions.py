"""Samplers against the distributions of scipy, written and tested by others.

Quantiles are compared as they are. Samples are compared by the Kolmogorov-Smirnov distance, which for n draws of the
right distribution is above 1.95/sqrt(n) once in a thousand times; the seed is set, so a test that passes passes always.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from takeoff.assess.parts import Input
from takeoff.compare.uncertainty.distributions import Fixed, Lognormal, Triangular
from takeoff.compare.uncertainty.draws import shares_of, stream_of
from takeoff.compare.uncertainty.normal_quantile import normal_quantile

SHARES = np.concatenate([[1e-15, 1e-9, 1e-4], np.linspace(0.001, 0.999, 999), [1 - 1e-4, 1 - 1e-9]])
DRAWS = 10_000
KS_OF_ONE_IN_A_THOUSAND = 1.95 / np.sqrt(DRAWS)
RANGES = [(0.6, 1.4), (0.95, 1.10), (1.0, 1.5), (0.7, 1.0), (-0.5, 3.0)]


def sample() -> np.ndarray:
    return shares_of(stream_of(Input("price", "anything"), 1), DRAWS)


def triangle_of_scipy(low: float, high: float):
    return stats.triang((1 - low) / (high - low), loc=low, scale=high - low)


def test_normal_quantiles_are_those_of_scipy():
    np.testing.assert_allclose(normal_quantile(SHARES), stats.norm.ppf(SHARES), rtol=1e-13, atol=1e-15)


@pytest.mark.parametrize(("low", "high"), RANGES)
def test_triangular_quantiles_and_draws_are_those_of_scipy(low, high):
    reference = triangle_of_scipy(low, high)
    # near an end the quantile is a square root, of which scipy keeps half the digits
    np.testing.assert_allclose(Triangular(low=low, high=high).at(SHARES), reference.ppf(SHARES), atol=1e-7)
    drawn = Triangular(low=low, high=high).at(sample())
    assert stats.kstest(drawn, reference.cdf).statistic < KS_OF_ONE_IN_A_THOUSAND
    assert drawn.min() >= low
    assert drawn.max() <= high
    # mean of a triangle (low + mode + high) / 3, within four standard errors
    error = reference.std() / np.sqrt(DRAWS)
    assert drawn.mean() == pytest.approx((low + 1 + high) / 3, abs=4 * error)


@pytest.mark.parametrize("sigma", [0.05, 0.10677, 0.6])
def test_lognormal_quantiles_and_draws_are_those_of_scipy(sigma):
    reference = stats.lognorm(sigma)
    np.testing.assert_allclose(Lognormal(sigma=sigma).at(SHARES), reference.ppf(SHARES), rtol=1e-12)
    drawn = Lognormal(sigma=sigma).at(sample())
    assert stats.kstest(drawn, reference.cdf).statistic < KS_OF_ONE_IN_A_THOUSAND
    # textbook: mean exp(sigma^2 / 2) of a lognormal with median 1, within four standard errors
    error = reference.std() / np.sqrt(DRAWS)
    assert drawn.mean() == pytest.approx(np.exp(sigma**2 / 2), abs=4 * error)


def test_the_median_of_scores_and_the_peak_of_a_range_are_the_central_value():
    assert Lognormal(sigma=0.3).at(np.array([0.5])) == pytest.approx(1.0)
    # a triangle 0.8, 1, 1.3 has (1 - 0.8) / (1.3 - 0.8) = 40 % of its draws below its peak
    assert Triangular(low=0.8, high=1.3).at(np.array([0.4])) == pytest.approx(1.0)


def test_what_is_fixed_or_has_no_width_stays_at_one():
    assert (Fixed().at(SHARES) == 1.0).all()
    assert (Triangular(low=1.0, high=1.0).at(SHARES) == 1.0).all()


@pytest.mark.parametrize(("low", "high"), [(1.1, 1.5), (0.5, 0.9), (1.2, 0.8)])
def test_a_range_without_its_central_value_is_refused(low, high):
    with pytest.raises(ValueError, match="times the central value leaves it out"):
        Triangular(low=low, high=high)


def test_shares_are_never_nought_or_one():
    class Ends:
        def random(self, draws: int) -> np.ndarray:
            return np.array([0.0, np.nextafter(1.0, 0.0)])[:draws]

    shares = shares_of(Ends(), 2)
    assert 0.0 < shares.min() < shares.max() < 1.0
    assert np.isfinite(normal_quantile(shares)).all()
