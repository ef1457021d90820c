"""Modules of an item: which row tells, what is not assessed, and how the layers of a house find their host."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.allowances import assess_allowances
from takeoff.assess.by_year import by_year, year_of
from takeoff.assess.end_of_life import end_row
from takeoff.assess.items import assess_lines
from takeoff.assess.parts import Input
from takeoff.assess.totals import total
from takeoff.assess.use_stage import allowance_renewals, exposure_at, with_renewals
from takeoff.cutting.order import by_allowance
from takeoff.measure.quantity import BuiltIn, Quantity
from takeoff.model.allowance import Allowance
from takeoff.model.life_cycle import EndOfLife, ServiceLife
from takeoff.model.per_unit import PerUnit
from takeoff.model.study import Study

HOST, GUEST = "Plasterboard 12.5", "Interior paint, water-based"


def row(scenario: str, family: str, **known: object) -> EndOfLife:
    blank = dict.fromkeys(("c1", "mode", "distance", "c3", "c4", "d"))
    return EndOfLife(scenario=scenario, family=family, route="landfill", **{**blank, **known})


def item(id: str, material: str, built_in: BuiltIn | None = None, weather=()) -> Quantity:
    return Quantity(
        id=id,
        element="WF",
        trade="linings",
        item=material,
        description=material,
        location="anywhere",
        unit="m2",
        material=material,
        net=10.0,
        required=10.0,
        thickness=0.0125 if material == HOST else None,
        built_in=built_in,
        weather=weather,
    )


@pytest.fixture
def renewed(job):
    """Return a function that prices, assesses and renews items: the board lasts 25 years, the paint 10."""

    def of(*quantities: Quantity, study: Study | None = None, **changes: object):
        lives = {
            name: ServiceLife(
                material=name, module="B4", sheltered=years, moderate=years / 2, exposed=years / 5
            )
            for name, years in ((HOST, 25.0), (GUEST, 10.0))
        }
        library = replace(job.library, **{"lives": lives, **changes})
        study = study or Study()
        lines, problems = assess_lines([by_allowance(q, library) for q in quantities], library, study)
        assert not problems
        lines = with_renewals(lines, house=job.design.house, library=library, study=study)
        return {line.quantity.id: line for line in lines}

    return of


def test_a_scenario_without_a_row_goes_by_the_usual_one(job):
    rows = {
        ("usual", "clay"): row("usual", "clay", c1=1.0),
        ("other", "steel"): row("other", "steel", c1=2.0),
    }
    library = replace(job.library, end_of_life=rows)
    assert end_row("steel", "other", library).c1 == 2.0
    assert end_row("clay", "other", library).c1 == 1.0
    assert end_row("steel", "usual", library) is None


def test_modules_of_the_factor_come_before_those_of_the_family(job, renewed):
    """Nought stated is a statement; a blank is not."""
    factor = replace(
        job.library.carbon[HOST], a1a3=PerUnit(0.4, "kg"), c1=0.0, c2=None, c3=None, c4=0.7, d=-0.2
    )
    line = renewed(
        item("a", HOST),
        carbon={HOST: factor},
        end_of_life={("usual", "gypsum"): row("usual", "gypsum", c1=0.5, c3=0.3, c4=0.1)},
    )["a"]
    assert line.carbon.c1 == 0.0
    assert line.carbon.c2 is None
    assert line.carbon.c3 == pytest.approx(0.3 * line.mass)
    assert line.carbon.c4 == pytest.approx(0.7 * line.mass)
    assert line.carbon.d == pytest.approx(-0.2 * line.mass)


def test_coverage_is_of_mass_and_cost(job, renewed):
    """Two boards alike, one without a factor: half of mass and cost is assessed, and the other one is named."""
    other = replace(job.library.materials[HOST], name="Board without factor")
    materials = {**job.library.materials, other.name: other}
    prices = {**job.library.prices, other.name: replace(job.library.prices[HOST], material=other.name)}
    bare = replace(item("b", HOST), material=other.name)
    totals = total(renewed(item("a", HOST), bare, materials=materials, prices=prices).values())
    module = totals.modules["A1-A3"]
    assert (module.cover_mass, module.cover_cost) == (pytest.approx(0.5), pytest.approx(0.5))
    assert module.missing == ("b",)
    # its family is known, so its end of life is assessed all the same
    assert totals.modules["C1"].missing == ()


def test_an_item_is_renewed_with_the_layer_of_its_own_place(renewed):
    board = [item(f"{place}.board", HOST, BuiltIn("Lining", 1, place)) for place in ("x", "y")]
    paint = [item(f"{place}.paint", GUEST, BuiltIn("Lining", 2, place, 1)) for place in ("x", "y")]
    lines = renewed(*board, *paint)
    for place in ("x", "y"):
        renewal = lines[f"{place}.paint"].renewal
        assert renewal.host == f"{place}.board"
        assert [year for year, *_ in renewal.years] == [10, 20, 25, 35, 45, 50]


def test_else_with_the_only_layer_of_that_number(renewed):
    lines = renewed(
        item("slope.board", HOST, BuiltIn("Roof", 1, "slope")),
        item("edge.paint", GUEST, BuiltIn("Roof", 2, "edge", 1)),
    )
    assert lines["edge.paint"].renewal.host == "slope.board"


def test_and_with_none_where_two_could_be_meant(renewed):
    boards = [item(f"{place}.board", HOST, BuiltIn("Lining", 1, place)) for place in ("x", "y")]
    lines = renewed(*boards, item("z.paint", GUEST, BuiltIn("Lining", 2, "z", 1)))
    assert lines["z.paint"].renewal.host is None
    assert [year for year, *_ in lines["z.paint"].renewal.years] == [10, 20, 30, 40, 50]


def test_a_layer_of_another_build_up_is_no_host(renewed):
    lines = renewed(
        item("a", HOST, BuiltIn("Lining", 1, "x")), item("b", GUEST, BuiltIn("Another", 2, "x", 1))
    )
    assert lines["b"].renewal.host is None


def test_the_worst_weather_of_an_item_counts(job, renewed):
    house = replace(
        job.design.house,
        exposure_low="sheltered",
        exposure_high="exposed",
        exposure_left="moderate",
        exposure_right="sheltered",
    )
    for weather, exposure in (
        ((), "sheltered"),
        (("low",), "sheltered"),
        (("low", "left"), "moderate"),
        (("low", "left", "high"), "exposed"),
        (("roof",), "exposed"),
        (("low", "roof"), "exposed"),
    ):
        assert exposure_at(item("a", GUEST, weather=weather), house) == exposure


def test_work_alone_is_not_renewed(job, renewed):
    digging = replace(item("dig", "Excavation, topsoil strip and trenches"), unit="m3")
    life = ServiceLife(material=digging.material, module="B4", sheltered=5.0, moderate=5.0, exposed=5.0)
    line = renewed(digging, lives={digging.material: life})["dig"]
    assert line.renewal is None


def test_taking_down_is_of_labour_alone(job, renewed):
    """A renewal costs what the item did and 25 % of its labour, neither of its supply nor of its plant."""
    life = ServiceLife(
        material=HOST, module="B4", sheltered=25.0, moderate=25.0, exposed=25.0, taking_down=0.25
    )
    line = renewed(item("a", HOST), lives={HOST: life})["a"]
    labour = line.rate.labour * 10.0
    assert labour > 0
    assert line.renewal.cost_each == pytest.approx(line.cost + 0.25 * labour)
    assert total([line]).upkeep == pytest.approx(2 * (line.cost + 0.25 * labour))


@pytest.fixture
def sum_allowed():
    """A prime-cost sum of 1,000 with fixing at 200 and 300 kgCO2e, renewed after 20 years."""
    return Allowance(
        name="Kitchen",
        element="fitments",
        trade="joinery",
        description="Kitchen, invented",
        basis="Item",
        quantity=None,
        kind="prime-cost sum",
        rate=1000.0,
        fixing=200.0,
        carbon=300.0,
        service_life=20.0,
    )


def test_an_allowance_is_renewed_whole_and_its_fixing_with_it(sum_allowed):
    study = Study(period=60.0)
    (each,) = allowance_renewals(assess_allowances([sum_allowed], inside_floor=80.0), study)
    totals = total(each.lines)
    assert totals.upkeep == pytest.approx(2 * 1200)
    assert totals.of("B4") == pytest.approx(2 * 300)
    years = by_year(each.lines, study)
    assert [year.year for year in years if year.upkeep] == [20, 40]
    assert years[20].carbon == pytest.approx(300)


def test_an_allowance_without_a_life_is_not_assessed(sum_allowed):
    bare = replace(sum_allowed, service_life=None)
    (each,) = allowance_renewals(assess_allowances([bare], inside_floor=80.0), Study())
    assert each.line.renewal is None
    assert total(each.lines).of("B4") is None
    assert total(each.lines).upkeep == 0.0


def test_a_renewal_due_in_the_course_of_a_year_counts_in_that_year():
    """7.5 years after completion lies in year 8; 8 years after is its end."""
    assert [year_of(time) for time in (0.5, 1.0, 7.5, 8.0, 8.0 + 1e-12)] == [1, 1, 8, 8, 8]


def test_a_period_that_is_no_whole_number_ends_in_the_year_begun(renewed):
    study = Study(period=25.5)
    lines = list(renewed(item("a", HOST), item("b", GUEST), study=study).values())
    years = by_year(lines, study)
    assert years[-1].year == 26
    # the board is new after 25 years, half a year before the end
    assert [year.year for year in years if year.upkeep] == [10, 20, 25]
    assert sum(year.carbon for year in years) == pytest.approx(total(lines).life_cycle())


@pytest.mark.parametrize("period", [50.0, 60.0, 25.5])
def test_maintenance_of_a_year_counts_for_every_year_of_the_period(job, renewed, period):
    """0.3 kgCO2e a year for each m2, 10 m2."""
    factor = replace(job.library.carbon[HOST], a1a3=PerUnit(4.0, "m2"), b2=0.3, b3=0.1)
    study = Study(period=period)
    line = renewed(item("a", HOST), carbon={HOST: factor}, lives={}, study=study)["a"]
    assert line.carbon.b2 == pytest.approx(3.0 * period)
    assert line.carbon.b3 == pytest.approx(1.0 * period)
    yearly = sum(year.carbon for year in by_year([line], study)[1:-1])
    years = len(by_year([line], study)) - 1
    assert yearly == pytest.approx(4.0 * period * (years - 1) / years)


def test_site_work_follows_what_is_fixed_not_what_is_cut(job, renewed):
    """0.5 kgCO2e for each m2 fixed: 10 m2 net, 12 m2 with cut pieces, 1.2 kgCO2e a m2 of the factor's own A5."""
    work = replace(
        job.library.works[job.library.materials[HOST].work], site_carbon=0.5, hours=PerUnit(0.2, "m2")
    )
    factor = replace(job.library.carbon[HOST], a1a3=PerUnit(4.0, "m2"), a5=1.2)
    board = replace(item("a", HOST), required=12.0)
    line = renewed(board, works={**job.library.works, work.name: work}, carbon={HOST: factor})["a"]
    assert line.carbon.a5_site == pytest.approx(0.5 * 10 + 1.2 * 12)


def test_methane_counts_where_nothing_else_of_c4_does(job, renewed):
    """Wood of 10 kg at 0 %, half carbon: 0.1 of 5 kg as methane is 0.5 x (16/12 x 28 - 44/12) more than its CO2."""
    wood = replace(
        job.library.materials[HOST],
        wood_share=1.0,
        moisture=0.0,
        carbon_fraction=0.5,
        mass=PerUnit(1.0, "m2"),
    )
    rows = {("usual", "gypsum"): row("usual", "gypsum", released=1.0, methane=0.1)}
    line = renewed(item("a", HOST), materials={**job.library.materials, HOST: wood}, end_of_life=rows)["a"]
    share = line.mass / 10
    assert line.carbon.c4 == pytest.approx(share * 0.5 * (16 / 12 * 28 - 44 / 12))


def test_what_stores_nothing_releases_nothing_whatever_its_end(renewed):
    line = renewed(item("a", HOST), end_of_life={})["a"]
    assert (line.carbon.stored, line.carbon.released) == (0.0, 0.0)


def test_the_way_of_c2_goes_with_its_transport_and_the_rest_with_the_family(job, renewed):
    rows = {("usual", "gypsum"): row("usual", "gypsum", c1=0.1, mode="Rail", distance=1e4, c3=0.1, c4=0.1)}
    line = renewed(item("a", HOST), end_of_life=rows)["a"]
    leading = {part.module: part.inputs[0] for part in line.carbon_parts if part.module != "A5 wastage"}
    assert leading["C2"] == Input("transport", "Rail")
    assert {leading[module] for module in ("C1", "C3", "C4")} == {Input("end of life", "gypsum")}
    assert leading["A1-A3"] == Input("factor", HOST)


def test_nought_of_a_family_is_assessed_and_a_blank_is_not(renewed):
    rows = {
        ("usual", "gypsum"): row("usual", "gypsum", c1=0.0, mode="Rail", distance=0.0, c3=0.0, c4=0.0, d=0.0)
    }
    line = renewed(item("a", HOST), end_of_life=rows)["a"]
    ends = ("c1", "c2", "c3", "c4", "d")
    assert [getattr(line.carbon, module) for module in ends] == [0.0] * 5
    blank = renewed(item("a", HOST), end_of_life={("usual", "gypsum"): row("usual", "gypsum")})["a"]
    assert [getattr(blank.carbon, module) for module in ends] == [None] * 5


def test_what_is_never_renewed_has_no_replacement_even_without_a_factor(renewed):
    """A life of 110 years: nought is known, whatever one renewal would emit."""
    life = ServiceLife(material=HOST, module="B4", sheltered=110.0, moderate=110.0, exposed=110.0)
    line = renewed(item("a", HOST), lives={HOST: life}, carbon={})["a"]
    assert line.carbon.b4 == 0.0
    assert line.renewal.whole == 0


def test_a_renewal_without_a_factor_is_not_assessed_though_its_end_is(renewed):
    line = renewed(item("a", HOST), carbon={})["a"]
    assert line.renewal.whole == 2
    assert line.carbon.c1 is not None
    assert line.renewal.carbon_each is None
    assert line.carbon.b4 is None
    # money does not wait for carbon
    assert total([line]).upkeep > 0


def test_recoating_comes_on_top_of_the_care_of_every_year(job, renewed):
    """10 m2 at 2 kgCO2e, recoated five times, and 0.1 a year for 60 years: 5 x 20 + 60 x 1 = 160, wastage left out."""
    paint = replace(job.library.materials[GUEST], wastage=0.0)
    own = dict.fromkeys(("c1", "c2", "c3", "c4", "d", "a5", "b3", "mode", "distance"))
    factor = replace(job.library.carbon[GUEST], a1a3=PerUnit(2.0, "m2"), b2=0.1, **own)
    life = ServiceLife(material=GUEST, module="B2", sheltered=10.0, moderate=10.0, exposed=10.0)
    line = renewed(
        item("a", GUEST),
        materials={**job.library.materials, GUEST: paint},
        carbon={GUEST: factor},
        lives={GUEST: life},
        end_of_life={},
        works={},
    )["a"]
    assert line.carbon.b2 == pytest.approx(160.0)
    assert sum(year.carbon for year in by_year([line], Study())) == pytest.approx(20.0 + 160.0)


@pytest.mark.parametrize("module", ["A1-A3", "A5 wastage", "B2", "B3", "B4", "C1"])
def test_years_count_only_the_modules_of_the_study(job, renewed, module):
    factor = replace(job.library.carbon[HOST], a1a3=PerUnit(4.0, "m2"), b2=0.3, b3=0.1, c1=0.2)
    study = Study(modules=(module,))
    line = renewed(item("a", HOST), carbon={HOST: factor}, study=study)["a"]
    alone = line.carbon.of(module)
    assert alone > 0
    years = by_year([line], study)
    assert sum(year.carbon for year in years) == pytest.approx(alone)
    upfront, end = module.startswith("A"), module.startswith("C")
    assert years[0].carbon == pytest.approx(alone if upfront else 0.0)
    assert years[60].carbon == pytest.approx(alone if end else alone / 60 if module in ("B2", "B3") else 0.0)


def test_an_item_of_nought_is_not_missing_and_one_not_assessed_is(job, renewed):
    factor = replace(job.library.carbon[HOST], a1a3=PerUnit(0.0, "kg"), b2=None, b3=None)
    totals = total(renewed(item("a", HOST), carbon={HOST: factor}).values())
    assert totals.modules["A1-A3"].missing == ()
    assert totals.modules["A1-A3"].cover_mass == 1.0
    assert totals.of("A1-A3") == 0.0
    assert totals.modules["B3"].missing == ("a",)
    assert totals.modules["B3"].cover_mass == 0.0
    assert totals.of("B3") is None
    assert totals.sum_of(["B3"]) is None
