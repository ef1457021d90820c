"""Allowances become items: quantities, sums of each kind, and the ladder that is climbed from them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.allowances import (
    AssessedAllowance,
    allowance_id,
    allowance_problems,
    assess_allowances,
    measured_works,
    sums_allowed,
)
from takeoff.assess.ladder import climb
from takeoff.assess.totals import total
from takeoff.compare.evaluate import DesignError, evaluate, evaluate_all
from takeoff.model.allowance import Allowance
from takeoff.model.house import Option
from takeoff.model.library import LadderStep
from takeoff.model.problem import Origin

FLOOR = 70.0
WIRING = Allowance(
    name="Electrical installation",
    element="services",
    trade="services",
    description="Board, wiring, lights",
    basis="m2 of floor",
    quantity=None,
    kind="provisional sum",
    rate=160.0,
)
HEAT_PUMP = replace(
    WIRING, name="Heat pump", basis="kW", quantity=5.0, rate=1400.0, carbon=12.5, mass=16.0, description=""
)
KITCHEN = Allowance(
    name="Kitchen",
    element="fitments",
    trade="joinery",
    description="Cupboards and worktop",
    basis="Item",
    quantity=None,
    kind="prime-cost sum",
    rate=12000.0,
    fixing=2500.0,
)
BASINS = replace(KITCHEN, name="Basins", element="services", basis="Nr", quantity=4.0, rate=900.0, fixing=0.0)
WARDROBES = replace(KITCHEN, name="Wardrobes", kind="firm", rate=5000.0, fixing=0.0)
ALL = (WIRING, HEAT_PUMP, KITCHEN, BASINS, WARDROBES)


def one(allowance: Allowance) -> AssessedAllowance:
    (assessed,) = assess_allowances((allowance,), inside_floor=FLOOR)
    return assessed


def step(kind: str, value: float, base: str | None = None) -> LadderStep:
    return LadderStep(name=kind, kind=kind, value=value, base=base, note="")


def test_m2_of_floor_are_those_inside_the_external_walls():
    line = one(WIRING).line
    assert (line.quantity.unit, line.quantity.net, line.cost) == ("m2", 70.0, 70.0 * 160)
    (dimension,) = line.quantity.dimensions
    assert dimension.note == "floor to the inside face of the external walls"
    assert dimension.squaring == 70.0


def test_a_typed_quantity_wins_over_the_floor_and_over_one_item():
    floor = one(replace(WIRING, quantity=15.0)).line
    assert (floor.quantity.net, floor.cost) == (15.0, 15 * 160)
    assert floor.quantity.dimensions[0].note == "quantity as given"
    assert one(replace(KITCHEN, quantity=2.0)).line.cost == 24000


@pytest.mark.parametrize(
    ("allowance", "unit", "net"),
    [(WIRING, "m2", 70.0), (HEAT_PUMP, "kW", 5.0), (KITCHEN, "Item", 1.0), (BASINS, "Nr", 4.0)],
)
def test_unit_and_quantity_follow_the_basis(allowance, unit, net):
    line = one(allowance).line
    assert (line.quantity.unit, line.quantity.net) == (unit, net)
    assert line.quantity.required == line.ordered.order == net
    assert line.ordered.wastage == 0
    assert line.ordered.rule == "as allowed for"


def test_ids_are_of_element_and_name():
    assert allowance_id(WIRING) == "SV.electrical-installation"
    assert allowance_id(KITCHEN) == "FT.kitchen"


def test_the_fixing_of_a_prime_cost_sum_is_labour_in_the_measured_works():
    kitchen = one(KITCHEN)
    assert kitchen.line.sum_kind == "prime-cost sum"
    assert kitchen.line.cost == 12000
    assert kitchen.fixing is not None
    assert kitchen.fixing.sum_kind is None
    assert kitchen.fixing.quantity.id == "FT.kitchen.fixing"
    assert kitchen.fixing.quantity.item == "Kitchen, fix only"
    assert kitchen.fixing.quantity.description == "Fix only: Cupboards and worktop"
    assert kitchen.fixing.cost == 2500
    # labour takes no product: nothing of it is missing
    assert not kitchen.fixing.needs_carbon
    assert total(kitchen.lines).not_assessed == ("FT.kitchen",)
    assert one(BASINS).fixing is None


def test_carbon_that_is_not_given_is_not_assessed_and_listed():
    wiring = one(WIRING).line
    assert (wiring.carbon.a1a3, wiring.carbon.upfront, wiring.mass) == (None, 0.0, None)
    totals = total([wiring])
    assert totals.a1a3 is None
    assert totals.upfront_assessed is None
    assert totals.known_mass is None
    assert totals.not_assessed == totals.mass_not_known == ("SV.electrical-installation",)
    assert totals.not_priced == ()


def test_carbon_that_is_given_is_the_product_stage_alone():
    pump = one(HEAT_PUMP).line
    # 5 kW x 12.5 kgCO2e, 5 kW x 16 kg
    assert (pump.carbon.a1a3, pump.mass) == (62.5, 80.0)
    assert (pump.carbon.a4, pump.carbon.a5_wastage, pump.carbon.a5_site) == (None, None, None)
    totals = total([pump, one(WIRING).line])
    assert totals.upfront_assessed == totals.a1a3 == 62.5
    assert totals.a4_not_assessed == ("SV.heat-pump",)
    # 5 x 1,400 of 5 x 1,400 + 70 x 160
    assert totals.carbon_cover_cost == pytest.approx(7000 / 18200)


def test_a_rate_of_nothing_is_a_price():
    assert total([one(replace(WIRING, rate=0.0)).line]).not_priced == ()


@pytest.mark.parametrize("basis", ["Nr", "kW"])
def test_a_count_without_a_quantity_is_refused(basis):
    with pytest.raises(ValueError, match=f"Wiring: an allowance by {basis} needs a quantity"):
        one(replace(WIRING, name="Wiring", basis=basis))


def test_works_and_sums_by_kind():
    lines = [line for each in assess_allowances(ALL, inside_floor=FLOOR) for line in each.lines]
    # fixing of the kitchen 2,500 + wardrobes 5,000
    assert measured_works(lines) == 7500
    # 70 x 160 + 5 x 1,400; 12,000 + 4 x 900
    assert sums_allowed(lines) == {"provisional sum": 18200, "prime-cost sum": 15600}
    assert list(sums_allowed(reversed(lines))) == ["provisional sum", "prime-cost sum"]
    assert sums_allowed([one(WARDROBES).line]) == {}
    assert total(lines).cost == 7500 + 18200 + 15600


def test_the_ladder_takes_the_sums_before_its_steps():
    steps = (
        step("percentage", 0.10, "measured works"),
        step("percentage", 0.10, "works and sums"),
        step("margin", 0.20, "running total"),
        step("tax", 0.10, "running total"),
    )
    ladder = climb(100_000, steps, {"provisional sum": 30_000, "prime-cost sum": 20_000})
    assert ladder.measured_works == 100_000
    assert [(r.name, r.words) for r in ladder.rungs[:2]] == [
        ("Provisional sums", "sum of the allowances of that kind"),
        ("Prime-cost sums", "sum of the allowances of that kind"),
    ]
    # 30,000; 20,000; 10 % of 100,000; 10 % of 150,000; 175,000 x 0.2 / 0.8; 10 % of 218,750
    assert [r.amount for r in ladder.rungs] == pytest.approx([30_000, 20_000, 10_000, 15_000, 43_750, 21_875])
    assert [r.running for r in ladder.rungs] == pytest.approx(
        [130_000, 150_000, 160_000, 175_000, 218_750, 240_625]
    )
    assert ladder.total_ex_tax == pytest.approx(218_750)
    assert ladder.total_inc_tax == pytest.approx(240_625)


def test_a_sum_of_the_sheet_joins_those_of_the_allowances():
    steps = (step("sum", 5_000), step("percentage", 0.10, "works and sums"))
    ladder = climb(100_000, steps, {"prime-cost sum": 20_000})
    assert [r.name for r in ladder.rungs] == ["Prime-cost sums", "sum", "percentage"]
    # 10 % of 100,000 + 20,000 + 5,000
    assert ladder.rungs[-1].amount == pytest.approx(12_500)


def test_without_allowances_the_ladder_is_that_of_its_steps():
    steps = (step("sum", 50_000), step("percentage", 0.10, "works and sums"))
    assert climb(100_000, steps, {}) == climb(100_000, steps)
    assert [r.amount for r in climb(100_000, steps).rungs] == pytest.approx([50_000, 15_000])


def test_a_house_without_allowances_has_no_sums(job):
    result = evaluate(replace(job, allowances=()), job.base, planned=False)
    assert result.allowances == ()
    assert [r.name for r in result.ladder.rungs] == [s.name for s in job.library.ladder]
    assert result.ladder.measured_works == pytest.approx(result.totals.cost)


def test_items_of_allowances_stand_in_their_element_and_trade(job):
    without = evaluate(replace(job, allowances=()), job.base, planned=False)
    result = evaluate(replace(job, allowances=ALL), job.base, planned=False)
    floor = result.measured.areas.inside

    def added(by: str, name: str) -> float:
        before = getattr(without, by).get(name)
        return getattr(result, by)[name].cost - (before.cost if before else 0.0)

    assert result.ladder.measured_works == pytest.approx(without.totals.cost + 7500)
    assert added("by_element", "fitments") == pytest.approx(12000 + 2500 + 5000)
    assert added("by_element", "services") == pytest.approx(floor * 160 + 5 * 1400 + 4 * 900)
    assert added("by_trade", "joinery") == pytest.approx(12000 + 2500 + 5000 + 3600)
    for groups in (result.by_element, result.by_trade):
        assert sum(t.cost for t in groups.values()) == pytest.approx(result.totals.cost)
    assert result.ladder.rungs[1].running == pytest.approx(result.totals.cost)
    codes = [line.quantity.element for line in result.lines]
    assert codes.index("FT") < codes.index("SV") < codes.index("PR")


def test_floor_allowances_follow_the_plan_of_each_option(job):
    longer = Option(name="longer", changes={"length": 15.0})
    trial = replace(job, options=(job.base, longer), allowances=(WIRING,))
    base, other = evaluate_all(trial)
    more = other.measured.areas.inside - base.measured.areas.inside
    assert more > 20
    assert other.allowances[0].line.cost - base.allowances[0].line.cost == pytest.approx(more * 160)


def test_two_allowances_of_one_id_are_a_problem_at_the_second(job):
    def typed(allowance: Allowance, row: int) -> Allowance:
        return replace(allowance, origin=Origin("h.xlsx", "Allowances", row, (("name", "A"),)))

    allowances = (typed(KITCHEN, 6), typed(replace(KITCHEN, name="KITCHEN!"), 7))
    with pytest.raises(DesignError) as raised:
        evaluate_all(replace(job, allowances=allowances))
    assert [p.line() for p in raised.value.problems] == [
        "h.xlsx Allowances!A7: 'KITCHEN!' gives the id FT.kitchen, which the allowance 'Kitchen' has already; "
        "expected a name of its own within its element. Rename the allowance."
    ]


def test_an_allowance_named_like_a_measured_item_or_a_fixing_is_a_problem():
    assessed = assess_allowances((KITCHEN, replace(WARDROBES, name="Kitchen.fixing")), inside_floor=FLOOR)
    found = [p.found for p in allowance_problems(assessed, ())]
    assert found == [
        "'Kitchen.fixing' gives the id FT.kitchen.fixing, which the allowance 'Kitchen' has already"
    ]
    window = replace(WARDROBES, name="W01", element="windows")
    found = [
        p.found for p in allowance_problems(assess_allowances((window,), inside_floor=FLOOR), ["WN.W01"])
    ]
    assert found == ["'W01' gives the id WN.w01, which a measured item has already"]
