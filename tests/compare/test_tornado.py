"""The inputs that matter most, of models whose swings are known."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from takeoff.assess.parts import Input, Part
from takeoff.compare.uncertainty import draw
from takeoff.compare.uncertainty.amounts import amounts_of
from takeoff.compare.uncertainty.distributions import Fixed, Triangular
from takeoff.compare.uncertainty.draws import draw_model, model_of, multipliers_of
from takeoff.compare.uncertainty.inputs import DrawnInput
from takeoff.compare.uncertainty.tornado import swings_of, tornado
from takeoff.model.study import Study

# A triangle of half-width w about 1 has its P10 and P90 at 1 -/+ w (1 - sqrt(0.2)).
OF_HALF_WIDTH = 1 - np.sqrt(0.2)
SEED = 1


def found(item, options, *, ranges, central=None, option=0, less_base=False):
    """Return the tornado of options given as {name: amount}, with inputs of half-widths by name."""
    amounts = [
        (
            f"option {place}",
            amounts_of(
                [
                    item(
                        carbon_parts=tuple(
                            Part(amount, (Input("factor", name),), "A1-A3") for name, amount in each.items()
                        )
                    )
                ],
                (),
                Study(),
            ),
        )
        for place, each in enumerate(options)
    ]

    def known(inputs):
        return tuple(
            DrawnInput(
                source=source,
                label=source.name,
                distribution=Triangular(low=1 - ranges[source.name], high=1 + ranges[source.name])
                if ranges.get(source.name)
                else Fixed(),
                is_stated=True,
                central=(central or {}).get(source.name),
            )
            for source in inputs
        )

    model = model_of(amounts, known, Study())
    drawn = draw_model(model, draws=5_000, seed=SEED)
    return drawn, tornado(
        drawn, swings_of(model), "upfront_kgco2e", option=option, seed=SEED, less_base=less_base
    )


def test_swings_of_a_sum_are_amounts_times_ranges(item):
    _, influences = found(
        item,
        [{"slab": 9.0, "roof": 4.0, "trims": 1.0, "sure": 50.0}],
        ranges={"slab": 0.1, "roof": 0.5, "trims": 0.2},
    )
    # 4 x 0.5 before 9 x 0.1 before 1 x 0.2; what has no range is left out
    assert [each.source.label for each in influences] == ["roof", "slab", "trims"]
    assert [each.swing for each in influences] == pytest.approx(
        [2 * OF_HALF_WIDTH * moved for moved in (2.0, 0.9, 0.2)]
    )
    assert influences[0].at_low == pytest.approx(64 - 2.0 * OF_HALF_WIDTH)
    assert influences[0].at_high == pytest.approx(64 + 2.0 * OF_HALF_WIDTH)
    assert (influences[0].low, influences[0].high) == pytest.approx(
        (1 - 0.5 * OF_HALF_WIDTH, 1 + 0.5 * OF_HALF_WIDTH)
    )


def test_rank_correlations_are_those_of_scipy(item):
    drawn, influences = found(item, [{"slab": 9.0, "roof": 4.0}], ranges={"slab": 0.1, "roof": 0.5})
    for each in influences:
        values = multipliers_of(each.source, draws=5_000, seed=SEED)
        expected = stats.spearmanr(values, drawn.of(0, "upfront_kgco2e")).statistic
        assert each.rank_correlation == pytest.approx(expected, abs=1e-12)
    assert influences[0].rank_correlation > influences[1].rank_correlation > 0.2


def test_a_value_below_nought_is_low_where_its_multiple_is_high(item):
    # credits of -5: a lower value, further below nought, makes the figure lower, so the swing is up all the same
    _, (credit, slab) = found(
        item, [{"credit": -5.0, "slab": 2.0}], ranges={"credit": 0.2, "slab": 0.2}, central={"credit": -1.0}
    )
    assert credit.source.label == "credit"
    assert credit.at_low == pytest.approx(-3 - 1.0 * OF_HALF_WIDTH)
    assert credit.at_high == pytest.approx(-3 + 1.0 * OF_HALF_WIDTH)
    assert credit.rank_correlation > 0.8
    assert slab.swing == pytest.approx(2 * 0.4 * OF_HALF_WIDTH)


def test_only_the_eight_largest_are_told(item):
    names = [f"input {number:02}" for number in range(12)]
    _, influences = found(
        item,
        [{name: 1.0 + place for place, name in enumerate(names)}],
        ranges=dict.fromkeys(names, 0.1),
    )
    assert [each.source.label for each in influences] == names[:3:-1]


def test_a_difference_is_moved_by_what_differs_alone(item):
    _, influences = found(
        item,
        [{"slab": 9.0, "boards": 1.2}, {"slab": 9.0, "brick": 3.0}],
        ranges={"slab": 0.5, "boards": 0.2, "brick": 0.2},
        option=1,
        less_base=True,
    )
    assert [each.source.label for each in influences] == ["brick", "boards"]
    # more brick makes the difference 3.0 - 1.2 larger, more boards smaller
    assert [each.swing for each in influences] == pytest.approx(
        [2 * 0.6 * OF_HALF_WIDTH, -2 * 0.24 * OF_HALF_WIDTH]
    )
    assert influences[0].rank_correlation > 0.8 > -0.2 > influences[1].rank_correlation


def test_a_longer_life_lowers_life_cycle_carbon_and_leaves_upfront_alone(ranged_job, results):
    uncertainty = draw(ranged_job, results)
    lives = [
        each for each in uncertainty.base_tornado["life_cycle_kgco2e"] if each.source.source.kind == "life"
    ]
    assert lives
    assert all(each.swing < 0 and each.rank_correlation < 0 for each in lives)
    assert not [
        each for each in uncertainty.base_tornado["upfront_kgco2e"] if each.source.source.kind == "life"
    ]
    name = results[1].option.name
    assert (
        uncertainty.tornado("upfront_kgco2e", results[0].option.name)
        == (uncertainty.base_tornado["upfront_kgco2e"])
    )
    assert 0 < len(uncertainty.difference_tornado("total_inc_tax", name)) <= 8
    with pytest.raises(KeyError):
        uncertainty.option("no such option")
