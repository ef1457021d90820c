"""Hand calculation of the upkeep of one timber cladding on two elevations, year by year (derived).

Rules: EN 15978 counts and modules (from memory); present value 1 / (1 + rate) ** year (school arithmetic); that new
boards bring their coat and nails with them, and the rule of exposure, are common practice, no source. Factors: UK
freight 2011, 0.15399 kgCO2e/(t km), read; all else invented in round numbers. Tolerance: floating point.

    house 12.0 x 7.2 m, low wall 2.7 m under an eave of 0.6 m, away from the weather: sheltered
    high wall 2.7 + 7.2 x tan 5 deg = 3.33 m, the same eave, towards the weather: exposed
    boards  low side 10 m2, high side 12 m2; life 40 years sheltered, 20 exposed; taking down 40 % of fixing
    coating on both; life 8 and 4 years; 67 % of it renewed at a time, B2
    nails   15 for each m2; renewed with the boards, no life of their own
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.assess.by_year import by_year, discount_factor
from takeoff.assess.items import assess_lines
from takeoff.assess.totals import total
from takeoff.assess.use_stage import with_renewals
from takeoff.cutting.order import by_allowance
from takeoff.measure.quantity import BuiltIn, Dimension, Quantity
from takeoff.model.exposure import exposure_of, is_under_deep_eave
from takeoff.model.house import SIDES
from takeoff.model.library import Gang, Library, Material, Price, TransportMode, Work
from takeoff.model.life_cycle import CarbonFactor, EndOfLife, ServiceLife
from takeoff.model.per_unit import PerUnit
from takeoff.model.study import Study

BOARDS, COAT, NAILS = "Boards", "Coat", "Nails"
LAYERS = {COAT: 1, BOARDS: 2, NAILS: 3}
AREA = {"low": 10.0, "high": 12.0}


def material(name: str, family: str, **others: object) -> Material:
    return Material(
        name=name,
        description=name,
        family=family,
        trade="cladding",
        item_class="claddings",
        work=None if name == NAILS else name,
        **others,
    )


def price(name: str, value: float, per: str) -> Price:
    return Price(
        material=name,
        price=PerUnit(value, per),
        sundries=0.0,
        wastage_in_price=False,
        **dict.fromkeys(("basis", "date", "place", "source"), ""),
    )


def factor(name: str, value: float, **way: object) -> CarbonFactor:
    blank = {
        **dict.fromkeys(("low", "high", "mode", "distance")),
        **dict.fromkeys(("source", "year", "country", "standing"), ""),
    }
    return CarbonFactor(material=name, a1a3=PerUnit(value, "kg"), **{**blank, **way})


def end(family: str, **known: object) -> EndOfLife:
    blank = dict.fromkeys(("c1", "mode", "distance", "c3", "c4", "d"))
    return EndOfLife(scenario="usual", family=family, route="landfill", **{**blank, **known})


LIBRARY = Library(
    materials={
        # 500 kg/m3 x 0.019 m = 9.5 kg/m2
        BOARDS: material(
            BOARDS, "softwood", density=500.0, thickness=0.019, wastage=0.10, wood_share=1.0, moisture=0.12
        ),
        COAT: material(COAT, "coating", mass=PerUnit(0.45, "m2")),
        NAILS: material(NAILS, "steel", mass=PerUnit(0.005, "Nr")),
    },
    prices={p.material: p for p in (price(BOARDS, 40, "m2"), price(COAT, 4, "m2"), price(NAILS, 0.1, "Nr"))},
    works={
        BOARDS: Work(
            name=BOARDS, gang="carpenters", hours=PerUnit(0.5, "m2"), plant=2.0, site_carbon=None, source=""
        ),
        COAT: Work(
            name=COAT, gang="painters", hours=PerUnit(0.1, "m2"), plant=0.0, site_carbon=None, source=""
        ),
    },
    gangs={n: Gang(name=n, rate=r, source="") for n, r in (("carpenters", 60.0), ("painters", 50.0))},
    carbon={
        BOARDS: factor(BOARDS, 0.2, mode="lorry", distance=100e3),
        COAT: factor(COAT, 2.54),
        NAILS: factor(NAILS, 3.02),
    },
    transport={"lorry": TransportMode(name="lorry", factor=0.15399e-6, source="DEFRA11", standing="read")},
    ladder=(),
    measurement={},
    accuracy={},
    sources={},
    lives={
        BOARDS: ServiceLife(
            material=BOARDS, module="B4", sheltered=40.0, moderate=30.0, exposed=20.0, taking_down=0.4
        ),
        COAT: ServiceLife(material=COAT, module="B2", sheltered=8.0, moderate=6.0, exposed=4.0, share=0.67),
    },
    end_of_life={
        ("usual", "softwood"): end("softwood", c1=0.006, mode="lorry", distance=50e3, c3=0.015),
        ("usual", "coating"): end("coating", c4=0.03408),
    },
)

# Cost of one renewal of all of it. Boards: supply 40 x 1.10 = 44, fixing 0.5 h x 60 = 30, plant 2, and
# taking down 0.4 x 30 = 12: 88 /m2. Coat: supply 4, labour 0.1 h x 50 = 5: 9 /m2. Nails: 15 x 0.10 = 1.50 /m2.
# Low side, 10 m2: boards 880, coat 90, nails 15. High side, 12 m2: 1,056, 108, 18.
# Carbon of one renewal of all of it [kgCO2e].
# Boards, one kg: A1-A3 0.2, A4 100 km = 0.015399, C1 0.006, C2 50 km = 0.0076995, C3 0.015,
# wastage 0.1 x (0.2 + 0.015399 + 0.0076995 + 0.015) = 0.02380985; together 0.26790835, so 2.545129325 /m2.
# Coat, one m2: 0.45 x (2.54 + 0.03408) = 1.158336. Nails: 15 x 0.005 x 3.02 = 0.2265 /m2.
BOARDS_M2, COAT_M2, NAILS_M2 = 2.545129325, 1.158336, 0.2265

# Low side: coated at 8, 16, 24, 32; all new at 40; coated at 48 and 56. A coating is 0.67 x 90 = 60.30.
LOW_YEARS = {
    8: 60.30,
    16: 60.30,
    24: 60.30,
    32: 60.30,
    40: 880.0 + 90.0 + 15.0,
    48: 60.30,
    56: 60.30,
}
# High side: coated every 4 years, all new at 20 and 40. A coating is 0.67 x 108 = 72.36. At 60 the period is over.
HIGH_YEARS = {
    **dict.fromkeys((4, 8, 12, 16, 24, 28, 32, 36, 44, 48, 52, 56), 72.36),
    20: 1056.0 + 108.0 + 18.0,
    40: 1056.0 + 108.0 + 18.0,
}


def quantity(side: str, name: str) -> Quantity:
    amount = AREA[side] * (15 if name == NAILS else 1)
    return Quantity(
        id=f"EW.CL.{side}.{name.lower()}",
        element="EW",
        trade="cladding",
        item=name,
        description=name,
        location=f"{side} side",
        unit="Nr" if name == NAILS else "m2",
        material=name,
        net=amount,
        required=amount,
        dimensions=(Dimension("as given", amount),),
        thickness=0.019 if name == BOARDS else None,
        built_in=BuiltIn(
            "Boarding", LAYERS[name], f"EW.CL.{side}", None if name == BOARDS else LAYERS[BOARDS]
        ),
        weather=(side,),
    )


@pytest.fixture
def house(bare_house):
    return bare_house(
        high_side_faces="N",
        weather_from="N",
        site_exposure="moderate",
        sheltering_overhang=0.2,
        **dict.fromkeys(f"exposure_{side}" for side in SIDES),
    ).house


@pytest.fixture
def lines_of(house):
    def make(study: Study):
        ordered = [by_allowance(quantity(side, name), LIBRARY) for side in AREA for name in LAYERS]
        lines, problems = assess_lines(ordered, LIBRARY, study)
        assert not problems
        return with_renewals(lines, house=house, library=LIBRARY, study=study)

    return make


WHOLE = Study(period=60.0, discount_rate=0.03)
ANNUALISED = Study(period=60.0, discount_rate=0.03, replacements="annualised")


def test_exposures_of_the_two_elevations(house):
    assert exposure_of(house, "low") == "sheltered"
    assert exposure_of(house, "high") == "exposed"


def test_lives_counts_and_hosts(lines_of):
    renewals = {line.quantity.id: line.renewal for line in lines_of(WHOLE)}
    # coat: low 6 x 0.67 + 1 = 5.02, high 12 x 0.67 + 2 = 10.04
    expected = {
        "EW.CL.low.boards": (40.0, 1.0, None),
        "EW.CL.low.coat": (8.0, 5.02, "EW.CL.low.boards"),
        "EW.CL.low.nails": (float("inf"), 1.0, "EW.CL.low.boards"),
        "EW.CL.high.boards": (20.0, 2.0, None),
        "EW.CL.high.coat": (4.0, 10.04, "EW.CL.high.boards"),
        "EW.CL.high.nails": (float("inf"), 2.0, "EW.CL.high.boards"),
    }
    assert set(renewals) == set(expected)
    for id, (life, whole, host) in expected.items():
        assert renewals[id].life == life, id
        assert renewals[id].whole == pytest.approx(whole), id
        assert renewals[id].host == host, id


def test_annualised_counts(lines_of):
    """Boards 60/40 - 1 = 0.5; coat (60/8 - 1 - 0.5) x 0.67 + 0.5 = 4.52; on the high side all divide evenly."""
    renewals = {line.quantity.id: line.renewal for line in lines_of(ANNUALISED)}
    expected = {
        "low.boards": 0.5,
        "low.coat": 4.52,
        "low.nails": 0.5,
        "high.boards": 2.0,
        "high.coat": 10.04,
        "high.nails": 2.0,
    }
    for id, count in expected.items():
        assert renewals[f"EW.CL.{id}"].annualised == pytest.approx(count), id
        assert renewals[f"EW.CL.{id}"].counted == pytest.approx(count), id


def test_money_of_every_year(lines_of):
    years = by_year(lines_of(WHOLE), WHOLE)
    assert [year.year for year in years] == list(range(61))
    for year in years:
        expected = LOW_YEARS.get(year.year, 0.0) + HIGH_YEARS.get(year.year, 0.0)
        assert year.upkeep == pytest.approx(expected), year.year
        assert year.discounted == pytest.approx(expected / 1.03**year.year), year.year


def test_upkeep_as_renewals_fall(lines_of):
    """Low 6 x 60.30 + 985 = 1,346.80; high 12 x 72.36 + 2 x 1,182 = 3,232.32; together 4,579.12."""
    assert total(lines_of(WHOLE)).upkeep == pytest.approx(1346.80 + 3232.32)


def test_discounted_upkeep_as_renewals_fall(lines_of):
    """Coatings are geometric rows of 1.03 ** -8 and 1.03 ** -4; 1.03 ** -20 = 0.553676, 1.03 ** -40 = 0.306557."""
    low, high = 1.03**-8, 1.03**-4
    rows = 60.30 * (low * (1 - low**7) / (1 - low) - low**5) + 72.36 * (
        high * (1 - high**14) / (1 - high) - high**5 - high**10
    )
    new_boards = 985 * 0.306557 + 1182 * (0.553676 + 0.306557)
    years = by_year(lines_of(WHOLE), WHOLE)
    assert sum(year.discounted for year in years) == pytest.approx(rows + new_boards, abs=0.005)
    assert discount_factor(20, 0.03) == pytest.approx(0.553676, abs=5e-7)


def test_upkeep_annualised(lines_of):
    """Low 440 + 7.50 + 4.52 x 90 = 854.30; high as before 3,232.32; evenly over 60 years.

    60 payments of one a year at 3 % are worth (1 - 1.03 ** -60) / 0.03 = 27.675564.
    """
    lines = lines_of(ANNUALISED)
    assert total(lines).upkeep == pytest.approx(854.30 + 3232.32)
    years = by_year(lines, ANNUALISED)
    assert years[0].upkeep == 0.0
    assert years[1].upkeep == pytest.approx(4086.62 / 60)
    assert sum(year.discounted for year in years) == pytest.approx(4086.62 / 60 * 27.675564, abs=0.001)


def test_carbon_of_the_use_stage(lines_of):
    totals = total(lines_of(WHOLE))
    boards = BOARDS_M2 * (10 * 1 + 12 * 2)
    nails = NAILS_M2 * (10 * 1 + 12 * 2)
    # what the boards bring with them is their replacement too
    with_boards = COAT_M2 * (10 * 1 + 12 * 2)
    # 6 and 12 renewals at the end of their own life, 67 % each
    recoats = COAT_M2 * (10 * 4.02 + 12 * 8.04)
    assert totals.of("B4") == pytest.approx(boards + nails + with_boards)
    assert totals.of("B2") == pytest.approx(recoats)
    assert totals.of("B3") is None
    annualised = total(lines_of(ANNUALISED))
    assert annualised.of("B4") == pytest.approx((BOARDS_M2 + NAILS_M2 + COAT_M2) * (10 * 0.5 + 12 * 2))
    # 60 / 8 - 1 - 0.5 = 6 and 60 / 4 - 1 - 2 = 12 by themselves, 67 % each
    assert annualised.of("B2") == pytest.approx(COAT_M2 * (10 * 4.02 + 12 * 8.04))


def test_carbon_of_some_years(lines_of):
    lines = lines_of(WHOLE)
    years = by_year(lines, WHOLE)
    assert years[4].carbon == pytest.approx(0.67 * 12 * COAT_M2)
    assert years[8].carbon == pytest.approx(0.67 * (10 + 12) * COAT_M2)
    assert years[20].carbon == pytest.approx(12 * (BOARDS_M2 + COAT_M2 + NAILS_M2))
    assert years[40].carbon == pytest.approx((10 + 12) * (BOARDS_M2 + COAT_M2 + NAILS_M2))
    # the end of what stands at the end: boards 0.006 + 0.0076995 + 0.015 and coats 0.03408 for one kg
    ending = 22 * 9.5 * 0.0286995 + 22 * 0.45 * 0.03408
    assert years[60].carbon == pytest.approx(ending)
    assert sum(year.carbon for year in years) == pytest.approx(total(lines).life_cycle())


def test_stored_carbon_of_boards_put_up_three_times(lines_of):
    """Low side once and once again, high side once and twice again; every board goes back to the air in the end."""
    of_m2 = 9.5 * 44 / 12 * 0.5 / 1.12
    totals = total(lines_of(WHOLE))
    assert totals.stored == pytest.approx(-22 * of_m2)
    assert totals.renewed_stored == pytest.approx(-(10 * 1 + 12 * 2) * of_m2)
    assert totals.kept == pytest.approx(0.0, abs=1e-9)


# Weather from the south-west: S, SW and W face it, SE and NW lie along it, N, NE and E are turned away.
# The high side faces the point named, the right side a quarter turn on with the sun, then the low, then the left.
FROM_SOUTH_WEST = {
    "N": {"high": "sheltered", "right": "sheltered", "low": "exposed", "left": "exposed"},
    "NE": {"high": "sheltered", "right": "moderate", "low": "exposed", "left": "moderate"},
    "E": {"high": "sheltered", "right": "exposed", "low": "exposed", "left": "sheltered"},
    "SE": {"high": "moderate", "right": "exposed", "low": "moderate", "left": "sheltered"},
    "S": {"high": "exposed", "right": "exposed", "low": "sheltered", "left": "sheltered"},
    "SW": {"high": "exposed", "right": "moderate", "low": "sheltered", "left": "moderate"},
    "W": {"high": "exposed", "right": "sheltered", "low": "sheltered", "left": "exposed"},
    "NW": {"high": "moderate", "right": "sheltered", "low": "moderate", "left": "exposed"},
}


@pytest.fixture
def open_house(bare_house):
    """A house without overhangs on a site like any."""
    return bare_house(
        weather_from="SW",
        site_exposure="moderate",
        sheltering_overhang=0.2,
        **dict.fromkeys((f"overhang_{side}" for side in SIDES), 0.0),
        **dict.fromkeys(f"exposure_{side}" for side in SIDES),
    ).house


@pytest.mark.parametrize("faces", FROM_SOUTH_WEST)
def test_exposure_by_compass(open_house, faces):
    house = replace(open_house, high_side_faces=faces)
    assert {side: exposure_of(house, side) for side in SIDES} == FROM_SOUTH_WEST[faces]


@pytest.mark.parametrize("turned", range(8))
@pytest.mark.parametrize("faces", FROM_SOUTH_WEST)
def test_only_the_angle_between_house_and_weather_matters(open_house, faces, turned):
    """Both turned by the same eighths, north passed on the way."""
    points = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")
    on = {point: points[(number + turned) % 8] for number, point in enumerate(points)}
    house = replace(open_house, high_side_faces=on[faces], weather_from=on["SW"])
    assert {side: exposure_of(house, side) for side in SIDES} == FROM_SOUTH_WEST[faces]


def test_where_weather_is_not_said_to_come_from_every_side_is_moderate(open_house):
    house = replace(open_house, weather_from=None)
    assert {exposure_of(house, side) for side in SIDES} == {"moderate"}


STEPS = ["sheltered", "moderate", "exposed"]


@pytest.mark.parametrize(("site", "step"), [("sheltered", -1), ("moderate", 0), ("exposed", 1)])
@pytest.mark.parametrize("faces", FROM_SOUTH_WEST)
def test_the_site_moves_every_side_by_a_step(open_house, faces, site, step):
    house = replace(open_house, high_side_faces=faces, site_exposure=site)
    for side, alone in FROM_SOUTH_WEST[faces].items():
        moved = {-1: 0, 0: 0, 1: 1, 2: 2, 3: 2}[STEPS.index(alone) + step]
        assert exposure_of(house, side) == STEPS[moved], side


@pytest.mark.parametrize(
    ("side", "height"),
    [
        ("low", 2.7),
        ("high", 3.32992),  # 2.7 + 7.2 x tan 5 deg = 2.7 + 0.62992
        ("left", 3.01496),  # the mean of both
        ("right", 3.01496),
    ],
)
def test_an_eave_of_a_fifth_of_the_wall_takes_one_step_off(open_house, side, height):
    exposed = replace(open_house, **{f"exposure_{s}": None for s in SIDES}, weather_from=None)
    just, short = 0.2 * height + 0.0001, 0.2 * height - 0.0001
    assert is_under_deep_eave(replace(exposed, **{f"overhang_{side}": just}), side)
    assert not is_under_deep_eave(replace(exposed, **{f"overhang_{side}": short}), side)
    assert exposure_of(replace(exposed, **{f"overhang_{side}": just}), side) == "sheltered"
    assert exposure_of(replace(exposed, **{f"overhang_{side}": short}), side) == "moderate"


def test_an_eave_of_a_fifth_exactly_shelters(open_house):
    assert is_under_deep_eave(replace(open_house, overhang_low=0.54), "low")  # 0.2 x 2.7


def test_a_deep_eave_on_an_exposed_site_cancel_out(open_house):
    house = replace(open_house, high_side_faces="SE", site_exposure="exposed", overhang_high=0.7)
    # turned by a quarter: moderate; 0.7 is more than 0.2 x 3.33 = 0.666: one off; exposed site: one on
    assert exposure_of(house, "high") == "moderate"


@pytest.mark.parametrize("stated", STEPS)
def test_what_is_stated_of_a_side_has_the_last_word(open_house, stated):
    for side in SIDES:
        house = replace(
            open_house, high_side_faces="SW", site_exposure="exposed", **{f"exposure_{side}": stated}
        )
        assert exposure_of(house, side) == stated
        others = {s: exposure_of(house, s) for s in SIDES if s != side}
        free = replace(open_house, high_side_faces="SW", site_exposure="exposed")
        assert others == {s: exposure_of(free, s) for s in SIDES if s != side}
