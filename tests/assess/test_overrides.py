"""Overrides in the figures of an item: what goes with them, what stays, and which do not fit; numbers by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from takeoff.assess.allowances import assess_allowances
from takeoff.assess.items import assess_lines
from takeoff.assess.lines import Line
from takeoff.assess.overrides import override_allowances, override_lines, overrides_in
from takeoff.assess.parts import Input, Part
from takeoff.assess.stock_worth import convertible
from takeoff.assess.use_stage import with_renewals
from takeoff.compare.evaluate import DesignError, Result, evaluate, evaluate_all
from takeoff.compare.figures import figures_of
from takeoff.cutting.order import OrderedQuantity, by_allowance, order_quantities
from takeoff.measure.quantity import Quantity
from takeoff.model.allowance import Allowance
from takeoff.model.bill import Override
from takeoff.model.job import Job
from takeoff.model.library import Gang, Library, Material, Price, Stock, Work
from takeoff.model.life_cycle import CarbonFactor, ServiceLife
from takeoff.model.per_unit import PerUnit
from takeoff.model.problem import Origin
from takeoff.model.study import Study

ROW = Origin("house.xlsx", "Overrides", 6, (("id", "A"), ("figure", "B"), ("value", "C"), ("unit", "D")))
BOARDS = Material(
    name="Boards",
    description="Boards",
    family="timber",
    trade="cladding",
    item_class="cladding",
    density=500.0,
    wastage=0.05,
    work="Fix boards",
)
ITEM = Quantity(
    id="EW.boards",
    element="EW",
    trade="cladding",
    item="Boards",
    description="Boards",
    location="low side",
    unit="m2",
    material="Boards",
    net=40.0,
    required=44.0,
    thickness=0.02,
)
# laps make 44 of 40; 5 % on that is 46.2
MATERIAL = 30 * 46.2 / 40
RATE = MATERIAL * 1.1 + 0.5 * 60 + 1
COST = 40 * RATE


def of(figure: str, value: float, **more: object) -> Override:
    unit = "" if figure == "wastage" else "m2"
    values = {
        "id": ITEM.id,
        "figure": figure,
        "value": value,
        "unit": unit,
        "reason": "as agreed",
        "who": "J. Sedge",
        "date": "2026-09-01",
        "origin": ROW,
        **more,
    }
    return Override(**values)


@pytest.fixture(scope="module")
def library(job) -> Library:
    return replace(
        job.library,
        materials={"Boards": BOARDS},
        prices={
            "Boards": Price(
                material="Boards",
                price=PerUnit(30.0, "m2"),
                sundries=0.10,
                wastage_in_price=False,
                basis="guess",
                date="",
                place="",
                source="",
            )
        },
        works={
            "Fix boards": Work(
                name="Fix boards",
                gang="joiners",
                hours=PerUnit(0.5, "m2"),
                plant=1.0,
                site_carbon=0.25,
                source="",
            )
        },
        gangs={"joiners": Gang(name="joiners", rate=60.0, source="")},
        carbon={
            "Boards": CarbonFactor(
                material="Boards",
                a1a3=PerUnit(2.0, "m2"),
                low=None,
                high=None,
                mode=None,
                distance=None,
                source="",
                year="",
                country="",
                standing="",
            )
        },
        stock={},
        end_of_life={},
        lives={
            "Boards": ServiceLife(material="Boards", module="B4", sheltered=40.0, moderate=40.0, exposed=40.0)
        },
    )


def line_of(library: Library, ordered: OrderedQuantity | None = None) -> Line:
    (line,), problems = assess_lines([ordered or by_allowance(ITEM, library)], library)
    assert not problems
    return line


def overridden(library: Library, *overrides: Override, line: Line | None = None) -> Line:
    (changed,), problems = override_lines([line or line_of(library)], overrides, library)
    assert not problems
    return changed


def test_the_item_as_worked_out(library):
    line = line_of(library)
    assert line.rate.total == pytest.approx(34.65 * 1.1 + 30 + 1)
    assert line.cost == pytest.approx(COST) == pytest.approx(2764.6)
    assert (line.carbon.a1a3, line.carbon.a5_wastage) == pytest.approx((88.0, 4.4))


def test_a_quantity_takes_all_but_the_rate_with_it(library):
    line = overridden(library, of("quantity", 50.0))
    # 50 / 40 = 1.25 of everything
    ordered = line.ordered
    assert line.quantity.net == 50.0
    assert (line.quantity.required, ordered.order, ordered.charged, ordered.allowed) == pytest.approx(
        (55.0, 57.75, 57.75, 57.75)
    )
    assert ordered.rule == "wastage allowance 5 % on net; quantity overridden"
    assert line.rate == line_of(library).rate
    assert line.cost == pytest.approx(1.25 * COST) == pytest.approx(sum(p.amount for p in line.cost_parts))
    # 10 kg/m2
    assert (line.mass, line.mass_wastage) == pytest.approx((550.0, 27.5))
    assert (line.carbon.a1a3, line.carbon.a5_wastage) == pytest.approx((110.0, 5.5))
    assert line.carbon.a5_site == pytest.approx(50 * 0.25)
    assert line.carbon.a4 is None
    assert sum(p.amount for p in line.carbon_parts) == pytest.approx(110 + 5.5 + 12.5)
    (applied,) = line.overrides
    assert applied.was == 40.0
    assert applied.effect == pytest.approx(0.25 * COST)


def test_wood_goes_with_the_quantity(library):
    wood = {**library.materials, "Boards": replace(BOARDS, wood_share=1.0, thickness=0.02)}
    library = replace(library, materials=wood)
    line = overridden(library, of("quantity", 50.0))
    before = line_of(library).wood_volume
    assert before > 0
    assert line.wood_volume == pytest.approx(1.25 * before)


def test_a_quantity_of_nothing_leaves_the_item_with_its_rate(library):
    line = overridden(library, of("quantity", 0.0))
    assert (line.quantity.net, line.ordered.order, line.cost, line.carbon.a1a3) == (0.0, 0.0, 0.0, 0.0)
    assert line.rate == line_of(library).rate


def test_wastage_is_on_the_required_quantity_and_in_the_rate(library):
    line = overridden(library, of("wastage", 0.20))
    # 44 x 1.2 = 52.8 bought for 40 net
    assert (line.quantity.net, line.quantity.required) == (40.0, 44.0)
    assert (line.ordered.order, line.ordered.charged) == pytest.approx((52.8, 52.8))
    assert line.ordered.allowed == pytest.approx(46.2)
    assert line.ordered.basis == "wastage allowance"
    assert line.ordered.rule == "wastage overridden, 20 % of the required quantity"
    assert line.rate.total == pytest.approx(30 * 52.8 / 40 * 1.1 + 31)
    assert (line.carbon.a1a3, line.carbon.a5_wastage) == pytest.approx((88.0, 17.6))
    assert line.mass_wastage == pytest.approx(88.0)
    (applied,) = line.overrides
    assert applied.was == pytest.approx(0.05)
    # 6.6 m2 more at 30 and a tenth of sundries
    assert applied.effect == pytest.approx(6.6 * 33)


def test_wastage_leaves_a_price_that_allows_for_it(library):
    price = replace(library.prices["Boards"], wastage_in_price=True)
    allowed_for = replace(library, prices={"Boards": price})
    line = overridden(allowed_for, of("wastage", 0.20))
    assert line.rate.material == pytest.approx(30 * 44 / 40)
    assert line.overrides[0].effect == 0.0
    assert line.carbon.a5_wastage == pytest.approx(17.6)


def test_a_rate_takes_the_cost_with_it_and_leaves_the_carbon(library):
    before, line = line_of(library), overridden(library, of("rate", 80.0))
    assert line.rate.stated == line.rate.total == 80.0
    assert (line.rate.hours, line.rate.build_up) == (before.rate.hours, before.rate.build_up)
    assert line.cost == pytest.approx(3200.0)
    assert [part.inputs for part in line.cost_parts] == [part.inputs for part in before.cost_parts]
    # material with sundries, labour and plant keep their shares of 2764.6
    assert [part.amount for part in line.cost_parts] == pytest.approx(
        [40 * amount * 3200 / 2764.6 for amount in (38.115, 30, 1)]
    )
    assert line.carbon == before.carbon
    (applied,) = line.overrides
    assert applied.was == pytest.approx(RATE)
    assert applied.effect == pytest.approx(3200 - COST)


def test_a_rate_prices_what_had_none(library):
    bare = replace(library, prices={}, works={}, materials={"Boards": replace(BOARDS, work=None)})
    assert (line_of(bare).cost, line_of(bare).priced) == (0.0, False)
    line = overridden(bare, of("rate", 25.0))
    assert (line.cost, line.priced) == (1000.0, True)
    assert line.cost_parts == (Part(1000.0, (Input("quantity", "cladding"),)),)


def test_all_three_come_in_the_order_of_the_bill_whatever_order_they_stand_in(library):
    line = overridden(library, of("rate", 80.0), of("quantity", 50.0), of("wastage", 0.20))
    assert [applied.override.figure for applied in line.overrides] == ["wastage", "quantity", "rate"]
    # 74.56 a m2 with the wastage; 40, then 50 m2; then 80 a m2
    assert [applied.was for applied in line.overrides] == pytest.approx([0.05, 40.0, 74.56])
    assert [applied.effect for applied in line.overrides] == pytest.approx([217.8, 745.6, 272.0])
    assert line.cost == 4000.0


def test_renewals_follow(library, job):
    def renewal_cost(*overrides: Override) -> float:
        lines, _ = override_lines([line_of(library)], overrides, library)
        (line,) = with_renewals(lines, house=job.design.house, library=library, study=Study())
        assert line.renewal is not None
        return line.renewal.cost_each

    assert renewal_cost() == pytest.approx(COST)
    assert renewal_cost(of("quantity", 50.0)) == pytest.approx(1.25 * COST)
    assert renewal_cost(of("rate", 80.0)) == pytest.approx(3200.0)


def packed(library: Library) -> OrderedQuantity:
    """Return the item bought in packs of 10 m2 for 320 each; 46.2 m2 of five packs are charged."""
    row = Stock(
        material="Boards", sold_by="pack", contents=10.0, contents_unit="m2", price=PerUnit(320.0, "Nr")
    )
    stocked = replace(library, stock={"Boards": (row,)})
    (ordered,) = order_quantities([ITEM], stocked, convert=convertible)
    assert (ordered.order, ordered.charged) == pytest.approx((50.0, 46.2))
    return ordered


def test_sizes_on_sale_keep_their_price_and_the_plan_stays(library):
    ordered = packed(library)
    before = line_of(library, ordered)
    assert before.rate.material == pytest.approx(32 * 46.2 / 40)
    wasteful = overridden(library, of("wastage", 0.20), line=before)
    assert wasteful.rate.material == pytest.approx(32 * 52.8 / 40)
    assert wasteful.ordered.plan is ordered.plan
    assert wasteful.ordered.rule == (
        "wastage overridden, 20 % of the required quantity; the plan is that of the model"
    )
    more = overridden(library, of("quantity", 50.0), line=before)
    assert more.rate == before.rate
    assert (more.ordered.order, more.ordered.charged) == pytest.approx((62.5, 57.75))
    assert more.ordered.plan is ordered.plan
    assert more.ordered.rule == f"{ordered.rule}; quantity overridden, the plan is that of the model"


def test_wastage_is_what_is_charged_beyond_the_required(library):
    line = overridden(library, of("wastage", 0.20), line=line_of(library, packed(library)))
    assert line.overrides[0].was == pytest.approx(46.2 / 44 - 1)


@pytest.mark.parametrize(
    ("override", "told"),
    [
        (
            of("quantity", 3.0, unit="m3"),
            "house.xlsx Overrides!D6: m3 for 'EW.boards', which is measured in m2; expected m2.",
        ),
        (
            of("rate", 3.0, unit="m"),
            "house.xlsx Overrides!D6: per m for 'EW.boards', which is measured in m2; expected per m2.",
        ),
    ],
)
def test_a_unit_that_is_not_the_items(library, override, told):
    (line,), problems = override_lines([line_of(library)], [override], library)
    assert line == line_of(library)
    assert [problem.line() for problem in problems] == [told]


SUM = Allowance(
    name="Kitchen",
    element="fitments",
    trade="joinery",
    description="",
    basis="Item",
    quantity=None,
    kind="prime-cost sum",
    rate=12000.0,
    fixing=2500.0,
    carbon=100.0,
)


def test_an_allowance_and_its_fixing_are_overridden_each_by_its_id(library):
    before = assess_allowances([SUM], inside_floor=70.0)
    (after,), problems = override_allowances(
        before,
        [
            of("quantity", 2.0, id="FT.kitchen", unit="Item"),
            of("rate", 13000.0, id="FT.kitchen", unit="Item"),
            of("rate", 2000.0, id="FT.kitchen.fixing", unit="Item"),
        ],
        library,
    )
    assert not problems
    assert after.fixing is not None
    assert (after.line.cost, after.fixing.cost) == (26000.0, 2000.0)
    assert after.line.carbon.a1a3 == 200.0
    assert after.line.cost_parts == (Part(26000.0, (Input("allowance", "Kitchen"),)),)
    assert after.line.ordered.rule == "as allowed for; quantity overridden"


def test_wastage_of_what_takes_no_material(library):
    wasted = of("wastage", 0.1, id="FT.kitchen")
    _, problems = override_allowances(assess_allowances([SUM], inside_floor=70.0), [wasted], library)
    assert [problem.line() for problem in problems] == [
        "house.xlsx Overrides!B6: wastage of 'FT.kitchen', which takes no material; expected quantity or rate."
    ]


def test_one_for_an_option_counts_before_one_for_all_wherever_it_stands():
    general, own = of("rate", 80.0), of("rate", 90.0, option="All timber")
    other = of("quantity", 50.0, option="All steel")
    for overrides in ([general, own, other], [own, other, general]):
        assert overrides_in(overrides, "All timber") == (own,)
        assert overrides_in(overrides, "As drawn") == (general,)
        assert set(overrides_in(overrides, "All steel")) == {general, other}


@pytest.fixture(scope="module")
def base(job) -> Result:
    return evaluate(job, job.base, planned=False)


def as_worked_out(line: Line, figure: str) -> Override:
    """Return the override that puts the very figure in the place of itself."""
    values = {
        "quantity": line.quantity.net,
        "rate": line.rate.total,
        "wastage": line.ordered.charged / line.quantity.required - 1,
    }
    unit = "" if figure == "wastage" else line.quantity.unit
    return of(figure, values[figure], id=line.quantity.id, unit=unit)


def takes_material(line: Line) -> bool:
    """Whether it is a measured item with a material, which wastage can be on."""
    return line.needs_carbon and bool(line.quantity.material)


def figures_with(job: Job, *overrides: Override) -> Result:
    return evaluate(replace(job, overrides=overrides), job.base, planned=False)


@given(data=st.data())
def test_a_figure_as_worked_out_changes_nothing(job, base, data):
    before = data.draw(st.sampled_from([line for line in base.lines if takes_material(line)]))
    figures = data.draw(st.sets(st.sampled_from(["quantity", "rate", "wastage"]), min_size=1))
    # as it was before its renewals were added
    (bare,), _ = assess_lines([before.ordered], job.library, job.study)
    overrides = [as_worked_out(before, figure) for figure in figures]
    (after,), problems = override_lines([bare], overrides, job.library, job.study)
    assert not problems
    assert after.cost == pytest.approx(bare.cost)
    assert after.rate.total == pytest.approx(bare.rate.total)
    assert after.rate.hours == pytest.approx(bare.rate.hours)
    assert [part.amount for part in after.carbon_parts] == pytest.approx(
        [part.amount for part in bare.carbon_parts]
    )
    assert [part.inputs for part in after.cost_parts] == [part.inputs for part in bare.cost_parts]
    assert all(
        applied.effect == pytest.approx(0.0, abs=1e-9 + 1e-9 * bare.cost) for applied in after.overrides
    )


def test_every_item_overridden_with_its_own_figures_is_the_same_house(job, base):
    overrides = [
        as_worked_out(line, figure)
        for line in base.lines
        for figure in ("quantity", "rate", "wastage")
        if figure != "wastage" or takes_material(line)
    ]
    after, before = figures_of(figures_with(job, *overrides)), figures_of(base)
    known = [key for key, value in before.items() if value is not None]
    assert [after[key] for key in known] == pytest.approx([before[key] for key in known], rel=1e-9)
    assert all(after[key] is None for key in before if key not in known)


def test_a_rate_goes_up_the_ladder_and_into_both_ways_of_ordering(job, base):
    window = next(line for line in base.lines if line.quantity.id == "WN.w01")
    after = figures_with(job, of("rate", window.rate.total + 100, id="WN.w01"))
    more = 100 * window.quantity.net
    assert after.totals.cost - base.totals.cost == pytest.approx(more)
    assert after.ladder.measured_works - base.ladder.measured_works == pytest.approx(more)
    assert after.by_allowance.totals.cost - base.by_allowance.totals.cost == pytest.approx(more)
    assert after.totals.upfront == base.totals.upfront
    assert after.upkeep > base.upkeep


def test_wastage_stays_out_of_what_the_allowances_would_give(job, base):
    studs = next(line for line in base.lines if line.quantity.id.startswith("EW.FR.studs"))
    after = figures_with(job, of("wastage", 0.30, id=studs.quantity.id))
    assert after.totals.cost > base.totals.cost
    assert after.by_allowance.totals.cost == base.by_allowance.totals.cost


def test_an_item_that_no_option_has_is_told_with_the_nearest_id(job):
    wrong = replace(job, overrides=(of("rate", 1.0, id="WN.wO1"),))
    told = (
        "house.xlsx Overrides!A6: no item 'WN.wO1' in any option; expected the id of an item, as takeoff measure "
        "shows it. Did you mean 'WN.w01'?"
    )
    for option in (job.options[0], job.options[1]):
        with pytest.raises(DesignError) as error:
            evaluate(wrong, option, planned=False)
        assert [problem.line() for problem in error.value.problems] == [told]
    with pytest.raises(DesignError) as error:
        evaluate_all(replace(wrong, options=job.options[:3]), planned=False)
    assert [problem.line() for problem in error.value.problems] == [told]


def test_an_item_of_another_option_is_no_problem_unless_the_row_names_this_one(job, base):
    timber = evaluate(job, job.option("All timber"), planned=False)
    here = {line.quantity.id for line in base.lines}
    (id, unit) = next(
        (line.quantity.id, line.quantity.unit) for line in timber.lines if line.quantity.id not in here
    )
    general = replace(job, overrides=(of("rate", 50.0, id=id, unit=unit),))
    assert not any(line.overrides for line in evaluate(general, job.base, planned=False).lines)
    changed = [line for line in evaluate(general, timber.option, planned=False).lines if line.overrides]
    assert [(line.quantity.id, line.rate.total) for line in changed] == [(id, 50.0)]

    named = replace(job, overrides=(of("rate", 50.0, id=id, unit=unit, option="As drawn"),))
    evaluate(named, timber.option, planned=False)
    with pytest.raises(DesignError) as error:
        evaluate(named, job.base, planned=False)
    (problem,) = error.value.problems
    assert (problem.sheet, problem.cell, problem.found) == ("Overrides", "A6", f"no item {id!r}")
    assert problem.expected == "the id of an item of the option 'As drawn', as takeoff measure shows it"


def test_a_wrong_row_for_an_option_is_told_with_the_option(job):
    wrong = replace(
        job, options=job.options[:2], overrides=(of("rate", 1.0, id="WN.w1O", option="All timber"),)
    )
    with pytest.raises(DesignError) as error:
        evaluate_all(wrong, planned=False)
    (problem,) = error.value.problems
    assert problem.found == "in option 'All timber', no item 'WN.w1O'"
