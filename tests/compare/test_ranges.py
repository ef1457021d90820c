"""What draws come to: percentiles, shares, verdicts, ranks."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from takeoff.compare.uncertainty.ranges import difference_of, range_of, unpaired
from takeoff.compare.uncertainty.ranks import rank_correlation, ranks

RNG_SEED = 3


def of(differences, *, base=None):
    differences = np.asarray(differences, dtype=float)
    base = np.zeros_like(differences) if base is None else base
    return difference_of(differences, 0.0, option=base + differences, base=base)


def test_percentiles_are_interpolated_between_draws():
    # of 0, 10, ..., 100 the tenth percent is 10; of 0, 1, 2, 3 it lies 0.3 of the way from 0 to 1
    eleven = range_of(np.arange(0.0, 101.0, 10.0)[::-1], central=49.0)
    assert (eleven.p10, eleven.p50, eleven.p90, eleven.mean) == pytest.approx((10, 50, 90, 50))
    assert eleven.central == 49.0
    four = range_of(np.array([3.0, 0.0, 2.0, 1.0]), central=1.0)
    assert (four.p10, four.p50, four.p90) == pytest.approx((0.3, 1.5, 2.7))


def test_percentiles_of_many_draws_are_those_of_their_distribution():
    draws = np.random.default_rng(RNG_SEED).normal(50.0, 4.0, 40_000)
    found = range_of(draws, central=50.0)
    # standard error of P10: sqrt(0.1 x 0.9 / n) over the density there, 0.1755 / 4; four of them
    error = 4 * np.sqrt(0.09 / draws.size) / (stats.norm.pdf(stats.norm.ppf(0.1)) / 4.0)
    assert found.p10 == pytest.approx(50 - 1.2815516 * 4, abs=error)
    assert found.p90 == pytest.approx(50 + 1.2815516 * 4, abs=error)


@pytest.mark.parametrize(
    ("differences", "verdict"),
    [
        ([-3.0, -2.0, -1.0], "lower"),
        ([3.0, 2.0, 1.0], "higher"),
        ([-3.0, 1.0, 2.0], "too close to call"),
        ([0.0, 0.0, 0.0], "the same"),
        # P90 is nothing itself: not lower for certain
        ([-1.0] * 5 + [0.0] * 5, "too close to call"),
        ([1.0] * 5 + [0.0] * 5, "too close to call"),
        # one in twenty the other way
        ([-1.0] * 19 + [5.0], "lower"),
    ],
)
def test_the_verdict_follows_from_whether_the_range_spans_nothing(differences, verdict):
    assert of(differences).verdict == verdict


def test_equal_draws_count_for_neither_side():
    found = of([-1.0, -1.0, 0.0, 2.0])
    assert (found.share_lower, found.share_higher) == (0.5, 0.25)


def test_unpaired_draws_have_the_spread_of_both():
    base = np.random.default_rng(RNG_SEED).normal(100.0, 10.0, 20_000)
    found = of(np.full_like(base, 5.0), base=base)
    assert (found.range.p10, found.range.p90) == (5.0, 5.0)
    # of two normals apart: s.d. 10 sqrt 2
    assert found.unpaired_p10 == pytest.approx(5 - 1.2815516 * 10 * np.sqrt(2), abs=0.6)
    assert found.unpaired_p90 == pytest.approx(5 + 1.2815516 * 10 * np.sqrt(2), abs=0.6)
    assert sorted(unpaired(np.array([1.0, 2.0, 3.0]), np.array([10.0, 20.0, 30.0]))) == [-28.0, -19.0, -7.0]


@pytest.mark.parametrize("decimals", [12, 1, 0])
def test_ranks_and_their_correlation_are_those_of_scipy(decimals):
    rng = np.random.default_rng(RNG_SEED)
    one = rng.normal(size=500).round(decimals)
    other = (np.exp(one) + rng.normal(size=500)).round(decimals)
    assert ranks(one) == pytest.approx(stats.rankdata(one))
    expected = stats.spearmanr(one, other).statistic
    assert 0.3 < expected < 0.95
    assert rank_correlation(one, other) == pytest.approx(expected, abs=1e-12)


def test_what_does_not_vary_is_correlated_with_nothing():
    assert rank_correlation(np.ones(5), np.arange(5.0)) == 0.0
