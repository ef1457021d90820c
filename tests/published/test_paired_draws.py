"""Two claddings on one slab: why options are drawn together.

Derived by hand, all numbers invented: a shared slab of 9 t (standard deviation 15 %), claddings of 1.2 t and 3.0 t
(20 % each), all normal. Paired, the slab cancels: the difference has the mean 1.8 t and the standard deviation
sqrt(0.24^2 + 0.6^2) = 0.646 t, so P10 to P90 is 1.8 -/+ 1.2816 x 0.646 = 0.97 to 2.63 t and the brick is higher in
99.73 % of draws. With the slab drawn twice the standard deviation is sqrt(0.646^2 + 2 x 1.35^2) = 2.016 t: -0.78 to
4.38 t, and 81.4 % of draws. Tolerances are four standard errors of 10,000 draws: of a share p, sqrt(p (1 - p) / n), of
a P10, sqrt(0.09 / n) / 0.1755 = 1.7 % of a standard deviation.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from scipy import stats

from takeoff.assess.parts import Input
from takeoff.compare.uncertainty.amounts import DRAWN_FIGURES
from takeoff.compare.uncertainty.draws import draw_model, model_of
from takeoff.compare.uncertainty.inputs import DrawnInput
from takeoff.compare.uncertainty.ranges import difference_of, unpaired
from takeoff.compare.uncertainty.rows import Row
from takeoff.model.study import Study

DRAWS = 10_000
PAIRED = np.hypot(0.2 * 1.2, 0.2 * 3.0)
APART = np.sqrt(PAIRED**2 + 2 * (0.15 * 9.0) ** 2)
DEVIATIONS = {"slab": 0.15, "boards": 0.20, "brick": 0.20}


@dataclass(frozen=True)
class Normal:
    deviation: float

    def at(self, shares: np.ndarray) -> np.ndarray:
        return stats.norm.ppf(shares, loc=1.0, scale=self.deviation)


def drawn(*, seed: int):
    def option(cladding: str, tonnes: float):
        amounts = {"slab": 9.0, cladding: tonnes}
        rows = {Row(frozenset([Input("factor", name)])): amount for name, amount in amounts.items()}
        return cladding, {key: rows if key == "upfront_kgco2e" else {} for key in DRAWN_FIGURES}

    def known(inputs):
        return tuple(
            DrawnInput(
                source=source,
                label=source.name,
                distribution=Normal(DEVIATIONS[source.name]),
                is_stated=True,
            )
            for source in inputs
        )

    model = model_of([option("boards", 1.2), option("brick", 3.0)], known, Study())
    return draw_model(model, draws=DRAWS, seed=seed)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_paired_the_shared_slab_cancels(seed):
    found = drawn(seed=seed)
    difference = difference_of(
        found.difference_of(1, "upfront_kgco2e"),
        1.8,
        option=found.of(1, "upfront_kgco2e"),
        base=found.of(0, "upfront_kgco2e"),
    )
    error = 4 * 0.017 * PAIRED
    assert difference.range.p10 == pytest.approx(0.97, abs=error)
    assert difference.range.p90 == pytest.approx(2.63, abs=error)
    assert difference.share_higher == pytest.approx(0.9973, abs=4 * np.sqrt(0.9973 * 0.0027 / DRAWS))
    assert difference.verdict == "higher"
    assert difference.unpaired_p10 == pytest.approx(-0.78, abs=4 * 0.017 * APART)
    assert difference.unpaired_p90 == pytest.approx(4.38, abs=4 * 0.017 * APART)


def test_with_the_slab_drawn_twice_nothing_can_be_said():
    error = 4 * 0.017 * APART
    first, second = drawn(seed=1), drawn(seed=2)
    by_seed = second.of(1, "upfront_kgco2e") - first.of(0, "upfront_kgco2e")
    by_turn = unpaired(first.of(1, "upfront_kgco2e"), first.of(0, "upfront_kgco2e"))
    for differences in (by_seed, by_turn):
        low, high = np.percentile(differences, (10, 90))
        assert low == pytest.approx(-0.78, abs=error)
        assert high == pytest.approx(4.38, abs=error)
        assert np.mean(differences > 0) == pytest.approx(0.814, abs=4 * np.sqrt(0.814 * 0.186 / DRAWS))
