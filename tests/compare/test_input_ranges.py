"""Which range an input has: its own, its scores, the spread of its kind; and what it is called."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.parts import INPUT_KINDS, Input
from takeoff.compare.uncertainty.distributions import Fixed, Lognormal, Triangular
from takeoff.compare.uncertainty.inputs import drawn_inputs
from takeoff.model.job import Job
from takeoff.model.life_cycle import SPREADS_OF, Scores, ServiceLife, Spread
from takeoff.model.per_unit import PerUnit

CONCRETE = "Concrete 25 MPa"


def known(job: Job, kind: str, name: str = CONCRETE):
    (found,) = drawn_inputs([Input(kind, name)], job)
    return found


def with_factor(job: Job, **changes: object) -> Job:
    factor = replace(job.library.carbon[CONCRETE], **changes)
    return replace(job, library=replace(job.library, carbon={CONCRETE: factor}))


def with_spreads(job: Job, **by_name: float) -> Job:
    """Every kind with spreads from minus a share to plus twice that share, by name."""
    spreads = {
        (of, name): Spread(of=of, name=name, low=-share, high=2 * share)
        for of in SPREADS_OF
        for name, share in by_name.items()
    }
    return replace(job, library=replace(job.library, spreads=spreads))


def ends(found) -> tuple[float, float]:
    assert isinstance(found.distribution, Triangular)
    return found.distribution.low, found.distribution.high


def test_a_factor_has_its_own_range_as_multiples_of_its_central_value(job):
    found = known(with_factor(job, a1a3=PerUnit(200.0, "m3"), low=150.0, high=300.0), "factor")
    assert ends(found) == pytest.approx((150 / 200, 300 / 200))
    assert (found.label, found.central, found.unit) == (f"carbon factor of {CONCRETE}", 200.0, "kgCO2e/m3")


def test_a_factor_below_nought_has_multiples_above_nought(job):
    # -1.2 to -0.9 about -1.0 is 0.9 to 1.2 times it, and the low end of the values is the higher multiple
    found = known(with_factor(job, a1a3=PerUnit(-1.0, "kg"), low=-1.2, high=-0.9), "factor")
    assert ends(found) == pytest.approx((0.9, 1.2))
    assert found.multiplier_at(0.10) > 1.0 > found.multiplier_at(0.90)


def test_an_end_not_stated_is_the_central_value(job):
    found = known(with_factor(job, a1a3=PerUnit(2.0, "kg"), low=None, high=3.0), "factor")
    assert ends(found) == (1.0, 1.5)


def test_a_range_goes_before_scores_and_scores_before_nothing(job):
    scores = Scores(2, 2, 3, 3, 3)
    both = known(with_factor(job, a1a3=PerUnit(2.0, "kg"), low=1.0, high=3.0, scores=scores), "factor")
    assert ends(both) == (0.5, 1.5)
    scored = known(with_factor(job, low=None, high=None, scores=scores), "factor")
    assert scored.distribution == Lognormal(sigma=pytest.approx(0.0114**0.5))
    neither = known(with_factor(job, low=None, high=None, scores=None), "factor")
    assert neither.distribution == Fixed()
    assert not neither.is_stated


def test_an_input_of_nought_stays_so(job):
    found = known(with_factor(job, a1a3=PerUnit(0.0, "kg"), low=-1.0, high=3.0), "factor")
    assert found.distribution == Fixed()
    assert found.is_stated
    scores = Scores(2, 2, 3, 3, 3)
    scored = known(with_factor(job, a1a3=PerUnit(0.0, "kg"), low=None, high=None, scores=scores), "factor")
    assert scored.distribution == Fixed()


def test_a_range_without_width_is_stated_and_does_not_vary(job):
    found = known(with_factor(job, a1a3=PerUnit(2.0, "kg"), low=2.0, high=2.0), "factor")
    assert found.is_stated
    assert not found.varies


def test_a_range_that_leaves_its_central_value_out_is_named(job):
    with pytest.raises(ValueError, match=f"factor '{CONCRETE}': a range of 1.5 to 2 times the central value"):
        known(with_factor(job, a1a3=PerUnit(2.0, "kg"), low=3.0, high=4.0), "factor")


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("transport", "some lorry"),
        ("site work", "some work"),
        ("maintenance", CONCRETE),
        ("end of life", "concrete"),
        ("labour", "some work"),
        ("gang", "Carpentry"),
        ("quantity", "cladding"),
    ],
)
def test_a_spread_is_found_by_name_then_for_all(job, kind, name):
    named = with_spreads(job, **{name: 0.1, "all": 0.2})
    assert ends(known(named, kind, name)) == pytest.approx((0.9, 1.2))
    assert ends(known(named, kind, "another")) == pytest.approx((0.8, 1.4))
    assert not known(with_spreads(job, **{name: 0.1}), kind, "another").is_stated


def test_a_price_has_its_own_range_else_that_of_its_basis(job):
    price = replace(
        job.library.prices[CONCRETE], price=PerUnit(300.0, "m3"), low=270.0, high=360.0, basis="quoted"
    )
    library = replace(job.library, prices={CONCRETE: price})
    spread = with_spreads(replace(job, library=library), quoted=0.05, all=0.3)
    assert ends(known(spread, "price")) == pytest.approx((0.9, 1.2))
    assert known(spread, "price").unit == f"{job.project.currency}/m3"
    bare = {CONCRETE: replace(price, low=None, high=None)}
    spread = replace(spread, library=replace(spread.library, prices=bare))
    assert ends(known(spread, "price")) == pytest.approx((0.95, 1.1))


def test_an_allowance_has_the_spread_of_its_kind(job):
    provisional = next(each for each in job.allowances if each.kind == "provisional sum")
    spread = with_spreads(job, **{"provisional sum": 0.2, "firm": 0.01})
    for kind in ("allowance", "allowance carbon"):
        assert ends(known(spread, kind, provisional.name)) == pytest.approx((0.8, 1.4))


def test_a_life_has_its_range_in_shares(job):
    life = ServiceLife(
        material=CONCRETE, module="B4", sheltered=60.0, moderate=40.0, exposed=20.0, low=0.6, high=1.5
    )
    lived = replace(job, library=replace(job.library, lives={CONCRETE: life}))
    assert ends(known(lived, "life")) == (0.6, 1.5)
    bare = replace(job, library=replace(job.library, spreads={}))
    assert not known(bare, "life", "no such material").is_stated
    assert ends(known(with_spreads(job, all=0.1), "life", "no such material")) == pytest.approx((0.9, 1.2))


@pytest.mark.parametrize("kind", INPUT_KINDS)
def test_every_kind_of_input_has_a_name_for_people(job, kind):
    assert known(with_spreads(job, all=0.1), kind, "Some row").label.endswith("Some row")


def test_the_tenth_and_ninetieth_percent_of_a_known_triangle(job):
    # triangle 0.8, 1, 1.3: 0.8 + sqrt(0.1 x 0.5 x 0.2) = 0.9 and 1.3 - sqrt(0.1 x 0.5 x 0.3) = 1.177526
    spread = with_spreads(job, all=0.2)
    library = replace(
        spread.library, spreads={("quantity", "all"): Spread(of="quantity", name="all", low=-0.2, high=0.3)}
    )
    found = known(replace(job, library=library), "quantity", "cladding")
    assert found.multiplier_at(0.10) == pytest.approx(0.9)
    assert found.multiplier_at(0.90) == pytest.approx(1.177526, abs=1e-6)
