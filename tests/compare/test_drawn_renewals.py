"""Renewals of drawn lives against a plain loop over the years in which each falls."""

from __future__ import annotations

import math

import numpy as np
import pytest

from takeoff.assess.by_year import discount_factor, year_of
from takeoff.assess.parts import Input
from takeoff.assess.renewal import renewal_years
from takeoff.compare.uncertainty.rows import Count, counts_drawn
from takeoff.model.study import Study

OWN, HOST = Input("life", "coat"), Input("life", "cladding")
DRAWS = 400
SHARE = 0.4


def lives(seed: int, low: float, high: float) -> np.ndarray:
    # whole years among them, where renewals fall together with the end of the period or of the host
    rng = np.random.default_rng(seed)
    return np.concatenate([rng.uniform(low, high, DRAWS), rng.integers(int(low) + 1, int(high), DRAWS)])


def drawn(study: Study, *, own: np.ndarray, host: np.ndarray | None, is_discounted: bool) -> np.ndarray:
    # central lives of 10 and 20 years, so that a swap of the two would show
    count = Count(
        life=10.0,
        life_input=OWN,
        host_life=None if host is None else 20.0,
        host_input=None if host is None else HOST,
        share=SHARE,
        is_discounted=is_discounted,
    )
    multipliers = {OWN: own / 10.0, HOST: None if host is None else host / 20.0}
    return counts_drawn(count, multipliers.__getitem__, study)


@pytest.mark.parametrize("rate", [0.0, 0.035])
@pytest.mark.parametrize("has_host", [True, False])
@pytest.mark.parametrize("period", [60.0, 47.5])
def test_whole_renewals_are_those_of_a_plain_loop(rate, has_host, period):
    own = lives(1, 3.0, 70.0)
    host = lives(2, 11.0, 80.0) if has_host else None
    study = Study(period=period, discount_rate=rate)
    expected = []
    for place, life in enumerate(own):
        total = 0.0
        for year, with_host in renewal_years(life, period, None if host is None else host[place]):
            total += (1.0 if with_host else SHARE) * discount_factor(year_of(year), rate)
        expected.append(total)
    assert max(expected) > 2.0
    np.testing.assert_allclose(
        drawn(study, own=own, host=host, is_discounted=rate > 0), expected, rtol=1e-12, atol=1e-12
    )


def test_annualised_renewals_are_spread_evenly_over_the_years():
    study = Study(period=50.0, replacements="annualised", discount_rate=0.03)
    own, host = np.array([10.0, 30.0, 80.0]), np.array([25.0, 25.0, 100.0])
    # (50/10 - 1 - host's) x 0.4 + host's 50/25 - 1; a life beyond the host's is the host's; beyond the period nothing
    counts = [(5 - 1 - 1) * 0.4 + 1, 1.0, 0.0]
    plain = Study(period=50.0, replacements="annualised")
    assert drawn(plain, own=own, host=host, is_discounted=False) == pytest.approx(counts)
    even = sum(1.03**-year for year in range(1, 51)) / 50
    assert drawn(study, own=own, host=host, is_discounted=True) == pytest.approx([c * even for c in counts])


@pytest.mark.parametrize("rate", [0.0, 0.03])
def test_what_lasts_as_long_as_its_host_is_renewed_with_it_only(rate):
    count = Count(
        life=math.inf,
        life_input=None,
        host_life=20.0,
        host_input=HOST,
        share=1.0,
        is_discounted=rate > 0,
    )
    study = Study(period=60.0, discount_rate=rate)
    multipliers = {None: np.ones(3), HOST: np.array([1.0, 0.5, 4.0])}
    # hosts of 20, 10 and 80 years in 60: 2, 5 and 0 renewals
    expected = [sum((1 + rate) ** -year for year in years) for years in ([20, 40], [10, 20, 30, 40, 50], [])]
    assert counts_drawn(count, multipliers.__getitem__, study) == pytest.approx(expected)
