"""Carbon and upkeep over the whole life: sums that must hold for any house, study and set of lives."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from takeoff.assess.by_year import by_year
from takeoff.assess.ladder import climb, slopes_of
from takeoff.assess.renewal import renewal_years, renewals, whole_renewals
from takeoff.assess.totals import Totals, totals_by
from takeoff.compare.evaluate import Result, evaluate
from takeoff.compare.scenarios import by_scenario, scenario_names
from takeoff.model.exposure import exposure_of
from takeoff.model.geometry import COMPASS_POINTS
from takeoff.model.house import SIDES, Design, Option
from takeoff.model.job import Job
from takeoff.model.library import LadderStep, Library
from takeoff.model.life_cycle import EXPOSURES, LIFE_CYCLE, MODULES
from takeoff.model.study import Study

FEW = settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
Evaluated = Callable[..., Result]


@st.composite
def studies(draw: st.DrawFn, scenarios: tuple[str, ...] = ("usual",)) -> Study:
    """Draw a study: any period, both ways of counting, some of the modules."""
    chosen = draw(st.sets(st.sampled_from(LIFE_CYCLE), min_size=1))
    return Study(
        period=draw(st.one_of(st.integers(10, 120).map(float), st.floats(10, 120))),
        replacements=draw(st.sampled_from(["whole", "annualised"])),
        discount_rate=draw(st.sampled_from([0.0, 0.03])),
        end_of_life=draw(st.sampled_from(scenarios)),
        modules=tuple(module for module in LIFE_CYCLE if module in chosen),
    )


@st.composite
def libraries(draw: st.DrawFn, library: Library) -> Library:
    """Draw the lives anew, and let some factors state modules of their own."""
    lives = {
        name: replace(
            row,
            sheltered=draw(st.floats(2, 120)),
            moderate=draw(st.floats(2, 120)),
            exposed=draw(st.floats(2, 120)),
            share=draw(st.sampled_from([0.1, 0.67, 1.0])),
            taking_down=draw(st.sampled_from([0.0, 0.5])),
        )
        for name, row in list(library.lives.items())
    }
    gone = draw(st.sets(st.sampled_from(sorted(lives)), max_size=20))
    some = st.sampled_from([None, 0.0, 0.3])
    carbon = dict(library.carbon)
    for name in draw(st.sets(st.sampled_from(sorted(carbon)), max_size=15)):
        carbon[name] = replace(
            carbon[name],
            a5=draw(some),
            b2=draw(some),
            b3=draw(some),
            c1=draw(some),
            c4=draw(some),
            d=draw(some),
        )
    return replace(
        library, carbon=carbon, lives={name: row for name, row in lives.items() if name not in gone}
    )


@pytest.fixture(scope="session")
def studied(job: Job) -> Evaluated:
    """Return a function that evaluates a design as the only option, under a study and a library."""

    def of(design: Design, study: Study, library: Library | None = None) -> Result:
        only = Option(name="base", changes={})
        plain = replace(job, design=design, options=(only,), library=library or job.library, study=study)
        return evaluate(plain, only, planned=False)

    return of


def by_material(result: Result) -> dict[str, Totals]:
    names = sorted({line.quantity.material for line in result.lines})
    return totals_by(result.lines, lambda line: line.quantity.material, names)


@given(data=st.data())
@FEW
def test_biogenic_carbon_closes_where_all_of_it_is_released(job, houses, studied, data):
    library = data.draw(libraries(job.library))
    rows = {key: replace(row, released=1.0) for key, row in library.end_of_life.items()}
    scenarios = tuple(dict.fromkeys(scenario for scenario, _ in rows))
    result = studied(data.draw(houses()), data.draw(studies(scenarios)), replace(library, end_of_life=rows))
    totals = result.totals
    assert totals.stored < 0
    assert totals.stored + totals.released == pytest.approx(0.0, abs=1e-6)
    assert totals.renewed_stored + totals.renewed_released == pytest.approx(0.0, abs=1e-6)
    assert totals.kept == pytest.approx(0.0, abs=1e-6)


@given(data=st.data(), released=st.floats(0.0, 1.0))
@FEW
def test_what_is_kept_is_what_is_not_released(job, houses, studied, data, released):
    rows = {key: replace(row, released=released) for key, row in job.library.end_of_life.items()}
    library = replace(job.library, end_of_life=rows)
    totals = studied(data.draw(houses()), data.draw(studies()), library).totals
    assert totals.kept == pytest.approx((1 - released) * (totals.stored + totals.renewed_stored), abs=1e-6)


@given(data=st.data())
@FEW
def test_the_years_add_up_to_the_totals(job, houses, studied, data):
    study = data.draw(studies())
    result = studied(data.draw(houses()), study, data.draw(libraries(job.library)))
    years = result.years
    assert [year.year for year in years] == list(range(math.ceil(study.period - 1e-9) + 1))
    assert sum(year.carbon for year in years) == pytest.approx(result.life_cycle or 0.0)
    carried = sum(
        line.renewal.cost_each * line.renewal.counted * result.slopes.of(line.sum_kind)
        for line in result.lines
        if line.renewal
    )
    assert sum(year.upkeep for year in years) == pytest.approx(carried)
    assert sum(year.upkeep for year in by_year(result.lines, study)) == pytest.approx(result.totals.upkeep)
    assert years[0].upkeep == 0.0
    assert result.life_cycle == result.totals.sum_of(study.modules)
    assert result.upkeep == pytest.approx(sum(year.discounted for year in years))
    for year in years:
        assert year.discounted == pytest.approx(year.upkeep / (1 + study.discount_rate) ** year.year)


@given(data=st.data())
@FEW
def test_elements_trades_and_materials_each_add_up_to_the_house(job, houses, studied, data):
    result = studied(data.draw(houses()), data.draw(studies()), data.draw(libraries(job.library)))
    for groups in (result.by_element, result.by_trade, by_material(result)):
        for module in MODULES:
            known = [t.of(module) for t in groups.values() if t.of(module) is not None]
            whole = result.totals.of(module)
            assert (whole is None) == (not known), module
            assert whole is None or whole == pytest.approx(sum(known), abs=1e-6), module
            missing = sorted(id for t in groups.values() for id in t.modules[module].missing)
            assert missing == sorted(result.totals.modules[module].missing)
        assert sum(t.upkeep for t in groups.values()) == pytest.approx(result.totals.upkeep)
        assert sum(t.renewed_stored for t in groups.values()) == pytest.approx(result.totals.renewed_stored)


@given(data=st.data())
@FEW
def test_parts_of_an_item_add_up_to_it(job, houses, studied, data):
    """Money but for rates given whole, and every module but for its renewals."""
    result = studied(data.draw(houses()), data.draw(studies()), data.draw(libraries(job.library)))
    for line in result.lines:
        assert sum(part.amount for part in line.cost_parts) == pytest.approx(line.cost)
        renewal = line.renewal
        for module in MODULES:
            parts = [part.amount for part in line.carbon_parts if part.module == module]
            amount = line.carbon.of(module)
            counted = 0.0 if renewal is None else sum(n for where, n in renewal.counts if where == module)
            renewed = bool(counted)
            if amount is None:
                assert not parts or renewed
                continue
            expected = sum(parts)
            if renewed:
                expected += counted * renewal.carbon_each
            assert amount == pytest.approx(expected, abs=1e-9), (line.quantity.id, module)


@given(data=st.data(), module=st.sampled_from(["B3", "C1", "C3", "C4", "D"]))
@FEW
def test_a_module_nobody_states_is_not_assessed_anywhere(job, houses, studied, data, module):
    name = module.lower()
    library = job.library
    carbon = {key: replace(row, **{name: None}) for key, row in library.carbon.items()}
    # methane of decay is C4 as well
    gone = {"methane": 0.0} if name == "c4" else {}
    rows = {
        key: row if name == "b3" else replace(row, **{name: None, **gone})
        for key, row in library.end_of_life.items()
    }
    library = replace(library, carbon=carbon, end_of_life=rows)
    result = studied(data.draw(houses()), data.draw(studies()), library)
    for totals in (result.totals, *result.by_element.values(), *by_material(result).values()):
        one = totals.modules[module]
        assert one.amount is None
        assert totals.sum_of([module]) is None
        assert one.cover_mass in (0.0, None)
        assert one.cover_cost in (0.0, None)
    assert (result.totals.modules[module].cover_mass, result.totals.modules[module].cover_cost) == (0.0, 0.0)
    assert all(line.carbon.of(module) is None for line in result.lines)


@given(data=st.data())
@FEW
def test_without_lives_replacement_is_not_assessed(job, houses, data):
    library = replace(job.library, lives={})
    only = Option(name="base", changes={})
    allowances = tuple(replace(each, service_life=None) for each in job.allowances)
    design = data.draw(houses())
    plain = replace(job, design=design, options=(only,), library=library, allowances=allowances)
    result = evaluate(plain, only, planned=False)
    assert result.totals.of("B4") is None
    assert result.totals.modules["B4"].cover_mass == 0.0
    assert result.totals.upkeep == 0.0
    assert all(year.upkeep == 0.0 for year in result.years)


@given(data=st.data())
@FEW
def test_both_ways_of_counting_on_a_house(job, houses, studied, data):
    study = data.draw(studies())
    result = studied(data.draw(houses()), study, data.draw(libraries(job.library)))
    for line in result.lines:
        renewal = line.renewal
        if renewal is None:
            continue
        assert 0.0 <= renewal.annualised <= renewal.whole + 1 + 1e-9
        assert renewal.counted == (
            renewal.annualised if study.replacements == "annualised" else renewal.whole
        )
        assert renewal.whole == pytest.approx(sum(weight for _, weight, _ in renewal.years))
        assert all(0 < year < study.period for year, *_ in renewal.years)


@given(data=st.data())
@FEW
def test_an_item_goes_with_its_layer_whenever_that_is_renewed(job, houses, studied, data):
    result = studied(data.draw(houses()), data.draw(studies()), data.draw(libraries(job.library)))
    renewed = {line.quantity.id: line.renewal for line in result.lines}
    for renewal in renewed.values():
        if renewal is None or renewal.host is None:
            continue
        host = renewed[renewal.host]
        years = {year: rest for year, *rest in renewal.years}
        for year, *_ in host.years:
            assert years[year] == [1.0, host.module], renewal
        assert {module for _, weight, module in renewal.years} <= {renewal.module, host.module}
        assert dict(renewal.counts).keys() == {renewal.module, host.module}
        assert sum(count for _, count in renewal.counts) == pytest.approx(renewal.counted)


# Lives and periods in tenths of a year, so that the plain loop counts in whole numbers.
TENTHS = st.integers(5, 1500)


def plainly(life: int, period: int, host: int | None) -> Iterator[tuple[int, bool]]:
    """Walk through time event by event, in tenths of a year: when the item is new again, and whether with its host."""
    new, next_host = 0, host
    while True:
        due = new + life
        with_host = next_host is not None and next_host <= due
        new = next_host if with_host else due
        if new >= period:
            return
        if with_host:
            next_host += host
        yield new, with_host


@given(life=TENTHS, period=TENTHS, host=st.none() | TENTHS)
@settings(max_examples=400)
def test_years_of_renewals_against_a_walk_through_time(life, period, host):
    expected = list(plainly(life, period, host))
    found = renewal_years(life / 10, period / 10, None if host is None else host / 10)
    assert [with_host for _, with_host in found] == [with_host for _, with_host in expected]
    assert [year for year, _ in found] == pytest.approx([year / 10 for year, _ in expected])


@given(
    lives=st.lists(st.tuples(TENTHS, TENTHS), min_size=1, max_size=30), period=TENTHS, hosted=st.booleans()
)
@settings(max_examples=200)
def test_counts_of_many_at_once_against_a_walk_through_time(lives, period, hosted):
    own = np.array([life / 10 for life, _ in lives])
    hosts = np.array([host / 10 for _, host in lives]) if hosted else None
    counts = renewals(own, period / 10, hosts)
    for index, (life, host) in enumerate(lives):
        walked = list(plainly(life, period, host if hosted else None))
        assert counts.with_host[index] == sum(with_host for _, with_host in walked)
        assert counts.own[index] == sum(not with_host for _, with_host in walked)
        one = renewal_years(life / 10, period / 10, host / 10 if hosted else None)
        assert counts.own[index] + counts.with_host[index] == len(one)


@given(life=TENTHS, period=TENTHS, host=TENTHS)
@settings(max_examples=300)
def test_nothing_is_ever_older_than_the_layer_it_belongs_to(life, period, host):
    """At any time before the end both were renewed, the item never before its host."""
    years = renewal_years(life / 10, period / 10, host / 10)
    host_years = [host * n / 10 for n in range(1, whole_renewals(host / 10, period / 10) + 1)]
    assert [year for year, with_host in years if with_host] == pytest.approx(host_years)
    starts = [0.0, *(year for year, _ in years)]
    ends = [*(year for year, _ in years), period / 10]
    for start, stop in zip(starts, ends, strict=True):
        assert 0 < stop - start <= min(life, host) / 10 + 1e-6
        assert all(not (start + 1e-6 < year < stop - 1e-6) for year in host_years)


@given(life=st.floats(0.5, 150), longer=st.floats(0, 100), period=st.floats(1, 150), host=st.floats(0.5, 150))
@settings(max_examples=300)
def test_a_longer_life_never_means_more_renewals(life, longer, period, host):
    assert whole_renewals(life + longer, period) <= whole_renewals(life, period)
    lives, alone = np.array([life, life + longer]), np.array([host, host])
    for annualised in (False, True):
        short, long = renewals(lives, period, annualised=annualised).own
        assert long <= short
        counts = renewals(lives, period, alone, annualised=annualised)
        assert counts.own[1] <= counts.own[0]
        assert counts.with_host[1] == counts.with_host[0]
        other = renewals(alone, period, lives, annualised=annualised).with_host
        assert other[1] <= other[0]


@given(life=st.floats(0.5, 150), period=st.floats(1, 150), host=st.none() | st.floats(0.5, 150))
@settings(max_examples=300)
def test_annualised_is_at_most_one_more_than_whole(life, period, host):
    hosts = None if host is None else np.array([host])
    whole = renewals(np.array([life]), period, hosts)
    even = renewals(np.array([life]), period, hosts, annualised=True)
    for part in ("own", "with_host"):
        assert getattr(even, part)[0] + 1e-9 >= 0
        assert getattr(even, part)[0] <= getattr(whole, part)[0] + 1
    if host is None:
        assert even.own[0] <= whole.own[0] + 1e-6


@given(life=st.integers(1, 40), times=st.integers(1, 12), of_host=st.integers(1, 6))
def test_both_ways_agree_where_all_divides_evenly(life, times, of_host):
    own, host, period = np.array([life / 2]), np.array([life * times / 2]), life * times * of_host / 2
    for hosts in (None, host):
        whole = renewals(own, period, hosts)
        even = renewals(own, period, hosts, annualised=True)
        assert even.own[0] == pytest.approx(whole.own[0])
        assert even.with_host[0] == pytest.approx(whole.with_host[0])


EXPOSED = st.none() | st.sampled_from(EXPOSURES)


@st.composite
def weathered(draw: st.DrawFn, design: Design) -> Design:
    """Draw how a house stands to sun and weather."""
    house = replace(
        design.house,
        high_side_faces=draw(st.sampled_from(COMPASS_POINTS)),
        weather_from=draw(st.none() | st.sampled_from(COMPASS_POINTS)),
        site_exposure=draw(st.sampled_from(EXPOSURES)),
        sheltering_overhang=draw(st.floats(0.0, 0.5)),
        exposure_low=draw(EXPOSED),
        exposure_left=draw(EXPOSED),
    )
    return replace(design, house=house)


def half_turn(point: str | None) -> str | None:
    return None if point is None else COMPASS_POINTS[(COMPASS_POINTS.index(point) + 4) % 8]


@given(data=st.data())
@FEW
def test_turning_house_and_weather_by_half_a_turn_changes_nothing(houses, studied, data):
    design = data.draw(weathered(data.draw(houses(2))))
    house = design.house
    turned = replace(
        design,
        house=replace(
            house,
            high_side_faces=half_turn(house.high_side_faces),
            weather_from=half_turn(house.weather_from),
        ),
    )
    study = data.draw(studies())
    here, there = studied(design, study), studied(turned, study)
    assert here.exposures == there.exposures
    assert here.totals == there.totals
    assert here.years == there.years


@given(data=st.data(), side=st.sampled_from(SIDES), more=st.floats(0.0, 2.0))
@FEW
def test_a_deeper_overhang_never_exposes_a_side(houses, data, side, more):
    house = data.draw(weathered(data.draw(houses(0)))).house
    deeper = replace(house, **{f"overhang_{side}": getattr(house, f"overhang_{side}") + more})
    assert EXPOSURES.index(exposure_of(deeper, side)) <= EXPOSURES.index(exposure_of(house, side))
    for other in set(SIDES) - {side}:
        assert exposure_of(deeper, other) == exposure_of(house, other)


@given(data=st.data())
@FEW
def test_more_weather_never_means_less_upkeep(job, houses, studied, data):
    """Where no life grows with exposure, an exposed site costs at least what a sheltered one does."""
    lives = job.library.lives.values()
    assert all(row.exposed <= row.moderate <= row.sheltered for row in lives)
    design = data.draw(weathered(data.draw(houses(2))))
    upkeep = []
    for site in EXPOSURES:
        at = replace(design, house=replace(design.house, site_exposure=site))
        upkeep.append(studied(at, Study(replacements="annualised")).totals.upkeep)
    assert upkeep == sorted(upkeep) or upkeep == pytest.approx(sorted(upkeep))


@given(data=st.data())
@FEW
def test_floor_to_the_outside_of_the_cladding_is_the_largest(houses, evaluated, data):
    result = evaluated(data.draw(houses(1)))
    areas = result.measured.areas
    assert result.gross_floor >= areas.outside >= areas.inside > 0


@given(data=st.data())
@FEW
def test_scenarios_change_the_end_of_life_alone(job, houses, studied, data):
    """A1-A3, A4, site work and money stay; a scenario by itself is the study that names it."""
    study = data.draw(studies())
    result = studied(data.draw(houses(1)), study)
    scenarios = by_scenario(replace(job, study=study), result)
    assert list(scenarios) == scenario_names(replace(job, study=study))
    for name, totals in scenarios.items():
        named = studied(result.design, replace(study, end_of_life=name)).totals
        for module in MODULES:
            assert totals.of(module) == pytest.approx(named.of(module)), (name, module)
        assert totals.kept == pytest.approx(named.kept, abs=1e-6)
        for module in ("A1-A3", "A4", "A5 site"):
            assert totals.of(module) == pytest.approx(result.totals.of(module))
        assert totals.cost == pytest.approx(result.totals.cost)
        assert totals.upkeep == pytest.approx(result.totals.upkeep)


@given(
    steps=st.lists(
        st.tuples(
            st.sampled_from(["sum", "percentage", "markup", "margin", "index ratio", "tax"]),
            st.floats(0.0, 0.6),
            st.sampled_from(["measured works", "works and sums", "running total"]),
        ),
        max_size=7,
    ),
    works=st.floats(1e3, 1e6),
    upkeep=st.floats(1.0, 1e6),
)
def test_more_works_climb_the_ladder_by_its_slope(steps, works, upkeep):
    assume(sum(kind == "tax" for kind, _, _ in steps) <= 1)
    ladder = tuple(
        LadderStep(
            name=f"{kind} {number}",
            kind=kind,
            value={"sum": value * 1e4, "index ratio": 0.5 + value}.get(kind, value),
            base=base,
            note="",
        )
        for number, (kind, value, base) in enumerate(steps)
    )
    sums = {"provisional sum": 12_345.0}
    more = climb(works + upkeep, ladder, sums).total_inc_tax - climb(works, ladder, sums).total_inc_tax
    assert more == pytest.approx(upkeep * slopes_of(ladder).works, rel=1e-6, abs=1e-4)


def test_slope_of_a_ladder_by_hand():
    """12 % on works, 15 % margin of the price, a sum, 10 % tax: 1.12 / 0.85 x 1.10 = 1.449412."""
    rows = [("percentage", 0.12), ("margin", 0.15), ("sum", 5000.0), ("tax", 0.10)]
    steps = tuple(
        LadderStep(name=kind, kind=kind, value=value, base="running total", note="") for kind, value in rows
    )
    assert slopes_of(steps).works == pytest.approx(1.449412, abs=5e-7)


@given(data=st.data())
@FEW
def test_years_of_any_study_of_the_same_items(houses, studied, data):
    """Leaving a module out takes its carbon from the years and nothing else; money stays."""
    study = Study(modules=LIFE_CYCLE)
    result = studied(data.draw(houses(1)), study)
    left_out = data.draw(st.sampled_from(LIFE_CYCLE))
    fewer = replace(study, modules=tuple(m for m in LIFE_CYCLE if m != left_out))
    years = by_year(result.lines, fewer, result.slopes)
    gone = sum(year.carbon for year in result.years) - sum(year.carbon for year in years)
    assert gone == pytest.approx(result.totals.of(left_out) or 0.0, abs=1e-6)
    assert [year.upkeep for year in years] == [year.upkeep for year in result.years]
