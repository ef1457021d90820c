"""Allowances on carbon: nothing for the best data, the most for the worst, weighted by A1-A3."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.compare.carbon_allowances import carbon_allowances, data_score
from takeoff.compare.evaluate import evaluate
from takeoff.model.library import StageAccuracy
from takeoff.model.life_cycle import Scores


@pytest.fixture(scope="module")
def lines(job):
    """Items of the demo, allowances left out: those have no scores."""
    return evaluate(replace(job, allowances=()), job.base, planned=False).lines


def library_with(job, scores, **shares):
    """Return the demo's library with scores by material, and one stage."""
    carbon = {name: replace(row, scores=scores(name)) for name, row in job.library.carbon.items()}
    blank = dict.fromkeys(("phase_allowance", "quantity_allowance", "data_allowance"))
    stage = StageAccuracy(stage="sketch", low=-0.1, high=0.1, **{**blank, **shares})
    return replace(job.library, carbon=carbon, accuracy={"sketch": stage})


@pytest.mark.parametrize(("score", "share"), [(1, 0.0), (2, 0.02), (3, 0.04), (4, 0.06), (5, 0.08)])
def test_data_allowance_grows_evenly_with_the_score(job, lines, score, share):
    library = library_with(job, lambda _: Scores(*[score] * 5), data_allowance=0.08)
    found = carbon_allowances(lines, library, "sketch")
    assert found.score == pytest.approx(score)
    assert found.data == pytest.approx(share, abs=1e-12)
    assert (found.phase, found.quantity) == (None, None)
    assert found.on(1000.0) == (("for the quality of data", pytest.approx(1000 * share, abs=1e-9)),)


def test_no_scores_count_as_the_worst(job, lines):
    library = library_with(job, lambda _: None, data_allowance=0.08)
    assert carbon_allowances(lines, library, "sketch").data == pytest.approx(0.08)


def test_the_five_scores_count_alike(job, lines):
    library = library_with(job, lambda _: Scores(1, 2, 3, 4, 5), data_allowance=0.08)
    assert data_score(lines, library) == pytest.approx(3.0)


def test_the_mean_is_weighted_by_the_product_stage(job, lines):
    """Concrete at 5, all else at 1: 1 + 4 x its share of A1-A3."""
    worst = "Concrete 25 MPa"
    library = library_with(job, lambda name: Scores(*[5 if name == worst else 1] * 5))
    share = sum(line.carbon.a1a3 for line in lines if line.quantity.material == worst) / sum(
        line.carbon.a1a3 or 0.0 for line in lines
    )
    assert 0.05 < share < 0.95
    assert data_score(lines, library) == pytest.approx(1 + 4 * share)


@given(seed=st.lists(st.integers(1, 5), min_size=5, max_size=5), better=st.integers(0, 4))
@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_better_score_never_raises_the_allowance(job, lines, seed, better):
    improved = list(seed)
    improved[better] = max(improved[better] - 1, 1)
    found = [
        carbon_allowances(
            lines, library_with(job, lambda _, s=scores: Scores(*s), data_allowance=0.07), "sketch"
        ).data
        for scores in (improved, seed)
    ]
    assert 0.0 <= found[0] <= found[1] + 1e-12
    assert found[1] <= 0.07 + 1e-12


def test_allowances_by_name_and_none_that_is_not_stated(job, lines):
    library = library_with(
        job,
        lambda _: Scores(3, 3, 3, 3, 3),
        phase_allowance=0.15,
        quantity_allowance=0.05,
        data_allowance=0.08,
    )
    assert carbon_allowances(lines, library, "sketch").on(2000.0) == (
        ("for what is not designed yet", pytest.approx(300.0)),
        ("for quantities", pytest.approx(100.0)),
        ("for the quality of data", pytest.approx(80.0)),
    )
    assert carbon_allowances(lines, library_with(job, lambda _: None), "sketch") is None
    assert carbon_allowances(lines, library, "another stage") is None


def test_without_carbon_there_is_no_score(job):
    library = library_with(job, lambda _: None, data_allowance=0.08)
    assert data_score([], library) is None
    assert carbon_allowances([], library, "sketch").data is None
