"""Draws of the figures: central values, sums and products of known distributions, pairing of options."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from takeoff.assess.ladder import climb, slopes_of
from takeoff.assess.parts import Input, Part
from takeoff.compare.evaluate import evaluate_all
from takeoff.compare.uncertainty import DRAWN_FIGURES, amounts, draw, model_of_results
from takeoff.compare.uncertainty.amounts import amounts_of
from takeoff.compare.uncertainty.distributions import Fixed, Lognormal, Triangular
from takeoff.compare.uncertainty.draws import draw_model, model_of, multipliers_of, stream_of
from takeoff.compare.uncertainty.inputs import DrawnInput
from takeoff.model.library import LadderStep
from takeoff.model.study import Study

DRAWS = 20_000
ONE, TWO, THREE = (Input("factor", name) for name in ("one", "two", "three"))


def known_as(**distributions):
    """Return what is known of inputs by name; others are fixed."""

    def known(inputs):
        return tuple(
            DrawnInput(
                source=source,
                label=source.name,
                distribution=distributions.get(source.name, Fixed()),
                is_stated=True,
            )
            for source in inputs
        )

    return known


def drawn_carbon(item, parts, *, options=1, seed=1, draws=DRAWS, **distributions):
    """Draw options of the same parts, each a list of (amount, inputs) in A1-A3."""
    of_one = [
        amounts_of([item(carbon_parts=tuple(Part(a, i, "A1-A3") for a, i in each))], (), Study())
        for each in ([parts] * options if isinstance(parts[0], tuple) else parts)
    ]
    named = [(f"option {place}", each) for place, each in enumerate(of_one)]
    model = model_of(named, known_as(**distributions), Study())
    return draw_model(model, draws=draws, seed=seed)


def test_with_every_input_at_its_central_value_the_figures_are_those_of_the_result(ranged_job, results):
    for study in (
        ranged_job.study,
        replace(ranged_job.study, discount_rate=0.03),
        replace(ranged_job.study, replacements="annualised"),
        replace(
            ranged_job.study, replacements="annualised", discount_rate=0.03, modules=("A1-A3", "B4", "D")
        ),
    ):
        job = replace(ranged_job, study=replace(study, draws=1))
        options = evaluate_all(job, planned=False)
        drawn = draw(job, options).drawn
        for place, result in enumerate(options):
            assert drawn.central[place] == pytest.approx(
                [
                    result.ladder.total_inc_tax,
                    result.totals.upfront,
                    result.life_cycle,
                    result.upkeep,
                    result.whole_life_cost,
                ],
                rel=1e-9,
            )
            assert drawn.central_differences[place] == pytest.approx(
                drawn.central[place] - drawn.central[0], abs=1e-6
            )
        assert options[0].upkeep > 1000
        assert options[0].life_cycle != pytest.approx(options[0].totals.upfront, rel=0.01)


def test_the_ladder_is_the_straight_line_that_its_slopes_say():
    def step(kind, value, base=None):
        return LadderStep(name=kind, kind=kind, value=value, base=base, note="")

    steps = (
        step("sum", 18_000.0),
        step("percentage", 0.08, "measured works"),
        step("percentage", 0.03, "works and sums"),
        step("markup", 0.12, "running total"),
        step("margin", 0.05, "running total"),
        step("index ratio", 1.04),
        step("tax", 0.10, "running total"),
    )
    slopes = slopes_of(steps)
    for works, provisional, prime_cost in [(250_000.0, 31_000.0, 9_000.0), (0.0, 7.0, 0.0), (1.0, 0.0, 2e6)]:
        climbed = climb(works, steps, {"provisional sum": provisional, "prime-cost sum": prime_cost})
        line = (
            slopes.nothing
            + slopes.of(None) * works
            + slopes.of("provisional sum") * provisional
            + slopes.of("prime-cost sum") * prime_cost
        )
        assert line == pytest.approx(climbed.total_inc_tax, rel=1e-12)
    assert slopes.of(None) != pytest.approx(slopes.of("provisional sum"), rel=0.01)


def test_mean_and_variance_of_a_sum_are_the_sums_of_means_and_variances(item):
    one, two = Triangular(low=0.7, high=1.6), Lognormal(sigma=0.2)
    values = drawn_carbon(item, [(300.0, (ONE,)), (500.0, (TWO,))], one=one, two=two).of(0, "upfront_kgco2e")
    first, second = stats.triang(0.3 / 0.9, loc=0.7, scale=0.9), stats.lognorm(0.2)
    mean = 300 * first.mean() + 500 * second.mean()
    variance = 300**2 * first.var() + 500**2 * second.var()
    assert values.mean() == pytest.approx(mean, abs=4 * np.sqrt(variance / DRAWS))
    # the relative standard error of a variance is about sqrt(2 / n) = 1 %
    assert values.var() == pytest.approx(variance, rel=0.04)


def test_variances_of_the_logarithm_add_up_in_a_product(item):
    values = drawn_carbon(
        item, [(10.0, (ONE, TWO, THREE))], one=Lognormal(sigma=0.3), two=Lognormal(sigma=0.4)
    ).of(0, "upfront_kgco2e")
    logs = np.log(values / 10.0)
    # textbook: 0.3^2 + 0.4^2 = 0.5^2; one in a thousand samples is further off than 1.95 / sqrt(n)
    assert stats.kstest(logs, stats.norm(scale=0.5).cdf).statistic < 1.95 / np.sqrt(DRAWS)


def test_parts_of_one_input_go_together(item):
    values = drawn_carbon(
        item, [(3.0, (ONE,)), (4.0, (ONE,)), (-2.0, (ONE,))], one=Triangular(low=0.5, high=1.5)
    ).of(0, "upfront_kgco2e")
    # a triangle of half-width 0.5 has the variance 0.5^2 / 6; (3 + 4 - 2)^2 times it, not 3^2 + 4^2 + 2^2
    assert values.var() == pytest.approx(25 * 0.25 / 6, rel=0.04)


def test_inputs_of_different_names_or_kinds_are_drawn_apart(item):
    known = [
        DrawnInput(source=source, label="", distribution=Lognormal(sigma=1.0), is_stated=True)
        for source in (ONE, TWO, Input("price", "one"))
    ]
    columns = np.array([multipliers_of(each, draws=DRAWS, seed=1) for each in known])
    correlations = np.corrcoef(np.log(columns))[np.triu_indices(3, 1)]
    assert np.abs(correlations).max() < 4 / np.sqrt(DRAWS)
    assert not np.allclose(columns[0], multipliers_of(known[0], draws=DRAWS, seed=2))


def test_an_input_has_the_same_draws_however_many_are_asked_for():
    known = DrawnInput(source=ONE, label="", distribution=Lognormal(sigma=1.0), is_stated=True)
    few, many = (multipliers_of(known, draws=draws, seed=5) for draws in (10, 2_500))
    assert (few == many[:10]).all()


def test_draws_in_portions_are_those_of_each_input_as_a_whole(item):
    drawn = drawn_carbon(item, [(2.0, (ONE,)), (5.0, (TWO,))], draws=2_345, one=Lognormal(sigma=0.3))
    (known,) = [each for each in drawn.model.inputs if each.source == ONE]
    assert drawn.of(0, "upfront_kgco2e") == pytest.approx(5 + 2 * multipliers_of(known, draws=2_345, seed=1))


def test_the_stream_of_an_input_is_its_own_whatever_has_been_drawn_before():
    before = stream_of(ONE, 1).random()
    stream_of(TWO, 1).random(100)
    np.random.default_rng().random(10)
    assert stream_of(ONE, 1).random() == before


def test_an_option_like_the_base_differs_by_exactly_nothing_in_every_draw(ranged_job, results):
    twin = replace(results[0], option=replace(results[0].option, name="its twin"))
    # the same items in another order
    twin = replace(twin, lines=twin.lines[::-1])
    found = draw(ranged_job, [results[0], results[1], twin])
    for key in DRAWN_FIGURES:
        assert (found.drawn.difference_of(2, key) == 0.0).all()
        difference = found.option("its twin").differences[key]
        assert (difference.range.p10, difference.range.p90, difference.range.central) == (0.0, 0.0, 0.0)
        assert (difference.verdict, difference.share_lower, difference.share_higher) == ("the same", 0.0, 0.0)
        assert difference.unpaired_p10 < -1.0 < 1.0 < difference.unpaired_p90


def test_adding_an_option_does_not_change_the_draws_of_another(ranged_job, results):
    few, all_of_them = draw(ranged_job, results[:2]).drawn, draw(ranged_job, results).drawn
    assert len(results) == 3
    # the order of adding up may differ in the last digits
    np.testing.assert_allclose(all_of_them.values[:2], few.values, rtol=1e-12)
    np.testing.assert_allclose(all_of_them.differences[:2], few.differences, rtol=1e-9, atol=1e-6)


def test_differences_are_those_of_the_draws_of_both(ranged_job, results):
    drawn = draw(ranged_job, results).drawn
    for place in (1, 2):
        np.testing.assert_allclose(
            drawn.differences[place], drawn.values[place] - drawn.values[0], rtol=1e-9, atol=1e-6
        )
        assert np.ptp(drawn.differences[place], axis=1).min() > 0


def test_what_base_and_option_share_leaves_the_difference_alone(item):
    drawn = drawn_carbon(
        item,
        [[(9.0, (ONE,)), (1.0, (TWO,))], [(9.0, (ONE,)), (3.0, (THREE,))]],
        one=Lognormal(sigma=1.5),
    )
    assert (drawn.difference_of(1, "upfront_kgco2e") == 2.0).all()
    assert np.ptp(drawn.of(1, "upfront_kgco2e")) > 10


def test_what_differs_by_rounding_alone_is_the_same(item):
    # 0.3 and 0.1 + 0.2 differ in the last digit
    drawn = drawn_carbon(item, [[(0.3, (ONE,))], [(0.1 + 0.2, (ONE,))]], one=Lognormal(sigma=0.3))
    assert (drawn.difference_of(1, "upfront_kgco2e") == 0.0).all()


def test_the_order_of_items_makes_no_difference_to_any_digit(item):
    parts = [Part(amount, (ONE,), "A1-A3") for amount in (1e16, 1.0, -1e16, 0.1)]
    forth, back = (
        amounts_of([item(carbon_parts=(part,)) for part in order], (), Study())["upfront_kgco2e"]
        for order in (parts, parts[::-1])
    )
    assert forth == back == {amounts.Row(frozenset([ONE])): 1.1}


def test_two_draws_with_one_seed_are_alike_and_with_another_are_not(ranged_job, results):
    first, again = draw(ranged_job, results), draw(ranged_job, results)
    assert first == again
    assert (first.drawn.values == again.drawn.values).all()
    other = draw(replace(ranged_job, study=replace(ranged_job.study, seed=2)), results)
    base, figure = other.options[0], "upfront_kgco2e"
    assert base.figures[figure].p50 != first.options[0].figures[figure].p50
    assert base.figures[figure].p50 == pytest.approx(first.options[0].figures[figure].p50, rel=0.01)


def test_every_input_without_a_range_is_named(ranged_job, results):
    # everything has a range here; the lives of allowances have that of their kind alone
    before = {each.source for each in draw(ranged_job, results).without_range}
    assert before == set()
    lives = {key: row for key, row in ranged_job.library.spreads.items() if key[0] != "service life"}
    job = replace(ranged_job, library=replace(ranged_job.library, spreads=lives))
    allowances = {Input("life", each.name) for each in job.allowances if each.service_life is not None}
    assert {each.source for each in draw(job, results).without_range} == allowances
    spreads = {key: row for key, row in ranged_job.library.spreads.items() if key[0] != "gang rate"}
    job = replace(ranged_job, library=replace(ranged_job.library, spreads=spreads))
    found = [each for each in draw(job, results).without_range if each.source not in before]
    assert {each.source.kind for each in found} == {"gang"}
    assert "hourly rate of Carpentry" in {each.label for each in found}


def test_every_module_and_sum_lands_in_its_figure(item):
    ladder = (LadderStep(name="tax", kind="tax", value=0.10, base="running total", note=""),)
    lines = [
        item(
            cost_parts=(Part(100.0, (ONE,)),),
            carbon_parts=tuple(
                Part(amount, (), module)
                for amount, module in ((1.0, "A5 site"), (20.0, "B2"), (300.0, "C4"), (4000.0, "D"))
            ),
        ),
        item(cost_parts=(Part(50.0, (TWO,)),), sum_kind="provisional sum"),
    ]
    found = amounts_of(lines, ladder, Study(modules=("A5 site", "C4", "D")))
    assert {key: sum(rows.values()) for key, rows in found.items()} == pytest.approx(
        {
            "total_inc_tax": 165.0,
            "upfront_kgco2e": 1.0,
            "life_cycle_kgco2e": 301.0,
            "upkeep": 0.0,
            "whole_life_cost": 165.0,
        }
    )
    assert found["total_inc_tax"][amounts.Row(frozenset([TWO]))] == pytest.approx(55.0)


def test_the_model_of_results_has_the_options_in_their_order(ranged_job, results):
    model = model_of_results(ranged_job, results)
    assert model.options == tuple(result.option.name for result in results)
    assert not model.differences[0].any()
