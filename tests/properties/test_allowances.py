"""Any allowance adds its rate by its quantity to the works and sums, and nothing else before the ladder."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from takeoff.compare.evaluate import evaluate
from takeoff.model.allowance import BASES, SUM_KINDS, Allowance
from takeoff.model.library import ELEMENTS, TRADES

FEW = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))


@st.composite
def allowances(draw: st.DrawFn) -> Allowance:
    basis = draw(st.sampled_from(BASES))
    kind = draw(st.sampled_from(SUM_KINDS))
    must = basis in ("Nr", "kW")
    quantity = st.floats(0.5, 200) if must else st.one_of(st.none(), st.floats(0.5, 200))
    return Allowance(
        name="drawn by lot",
        element=draw(st.sampled_from(list(ELEMENTS.values()))),
        trade=draw(st.sampled_from(TRADES)),
        description="",
        basis=basis,
        quantity=draw(quantity),
        kind=kind,
        rate=draw(st.floats(0, 20_000)),
        fixing=draw(st.floats(0, 2_000)) if kind == "prime-cost sum" else 0.0,
        carbon=draw(st.one_of(st.none(), st.floats(0, 500))),
    )


@given(data=st.data())
@FEW
def test_an_allowance_adds_rate_by_quantity_to_every_sum(job, houses, data):
    allowance = data.draw(allowances())
    design = data.draw(houses(most=1))
    option = replace(job.base, changes={})
    plain = replace(job, design=design, options=(option,), allowances=())
    without = evaluate(plain, option, planned=False)
    result = evaluate(replace(plain, allowances=(allowance,)), option, planned=False)
    floor = result.measured.areas.inside
    quantity = allowance.quantity or (floor if allowance.basis == "m2 of floor" else 1.0)
    supply, fixing = quantity * allowance.rate, quantity * allowance.fixing
    assert result.totals.cost - without.totals.cost == pytest.approx(supply + fixing, abs=1e-6)
    firm = supply if allowance.kind == "firm" else fixing
    assert result.ladder.measured_works - without.ladder.measured_works == pytest.approx(firm, abs=1e-6)
    for groups in (result.by_element, result.by_trade):
        assert sum(t.cost for t in groups.values()) == pytest.approx(result.totals.cost)
    carbon = quantity * (allowance.carbon or 0.0)
    assert result.totals.upfront - without.totals.upfront == pytest.approx(carbon, abs=1e-6)
    missing = set(result.totals.not_assessed) - set(without.totals.not_assessed)
    assert bool(missing) == (allowance.carbon is None)
