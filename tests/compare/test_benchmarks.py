"""Published figures stand beside ours only where modules, area basis and period are the same; our figure by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.compare.benchmarks import compare_with, drawn, figure_for
from takeoff.compare.evaluate import evaluate
from takeoff.measure.floor_areas import cladding_depths, gross_floor
from takeoff.model.house import Option
from takeoff.model.life_cycle import AREA_BASES, LIFE_CYCLE, MODULE_SCOPES, Benchmark
from takeoff.model.study import Study

GROSS = "gross, outside of cladding"


def benchmark(modules="A-C", basis=GROSS, period=60.0) -> Benchmark:
    return Benchmark(
        name="invented",
        value=400.0,
        low=None,
        high=None,
        modules=modules,
        area_basis=basis,
        study_period=period,
        **dict.fromkeys(("covers", "version", "source", "standing"), "invented"),
    )


@pytest.fixture
def with_benchmarks(job):
    def make(*benchmarks, **study):
        study = Study(**{"period": 60.0, **study})
        return replace(job, library=replace(job.library, benchmarks=benchmarks), study=study)

    return make


def why_not(job, scope="A-C", basis=GROSS) -> str:
    (compared,) = compare_with(job, scope, basis)
    return compared.why_not


def test_the_same_in_everything_is_drawn(with_benchmarks):
    row = benchmark()
    assert why_not(with_benchmarks(row)) == ""
    assert drawn(with_benchmarks(row)) == [("A-C", GROSS, [row])]


@pytest.mark.parametrize("theirs", MODULE_SCOPES)
@pytest.mark.parametrize("ours", MODULE_SCOPES)
def test_other_modules_are_not_drawn(with_benchmarks, ours, theirs):
    reason = why_not(with_benchmarks(benchmark(theirs)), scope=ours)
    assert reason == ("" if ours == theirs else f"covers {theirs}, not {ours}")


@pytest.mark.parametrize("theirs", AREA_BASES)
@pytest.mark.parametrize("ours", AREA_BASES)
@pytest.mark.parametrize("scope", MODULE_SCOPES)
def test_another_area_is_not_drawn(with_benchmarks, scope, ours, theirs):
    reason = why_not(with_benchmarks(benchmark(scope, theirs)), scope=scope, basis=ours)
    assert reason == ("" if ours == theirs else f"is per m2 {theirs}, not {ours}")


@pytest.mark.parametrize(
    ("period", "reason"),
    [
        (60.0, ""),
        (50.0, "is over 50 years, not 60 years"),
        (None, "is over no stated period, not 60 years"),
    ],
)
def test_another_period_is_not_drawn_where_use_is_in_it(with_benchmarks, period, reason):
    job = with_benchmarks(benchmark(period=period))
    assert why_not(job) == reason
    assert bool(drawn(job)) == (not reason)


@pytest.mark.parametrize("scope", ["A1-A3", "A1-A5"])
@pytest.mark.parametrize("period", [None, 50.0])
def test_the_period_does_not_matter_before_use(with_benchmarks, scope, period):
    assert why_not(with_benchmarks(benchmark(scope, period=period)), scope=scope) == ""


@pytest.mark.parametrize("left_out", LIFE_CYCLE)
def test_a_study_that_leaves_modules_out_has_no_whole_life_to_compare(with_benchmarks, left_out):
    modules = tuple(module for module in LIFE_CYCLE if module != left_out)
    job = with_benchmarks(benchmark(), benchmark("A1-A5"), modules=modules)
    assert [c.why_not for c in compare_with(job, "A-C", GROSS)] == [
        "covers A-C, while the study leaves modules out",
        "covers A1-A5, not A-C",
    ]
    assert [(scope, basis) for scope, basis, _ in drawn(job)] == [("A1-A5", GROSS)]


def test_each_chart_has_only_those_that_are_the_same(with_benchmarks):
    rows = [
        benchmark(),
        benchmark(period=50.0),
        benchmark(basis="inside faces"),
        benchmark("A1-A5"),
        benchmark("A1-A5", period=None),
    ]
    assert drawn(with_benchmarks(*rows)) == [
        ("A1-A5", GROSS, [rows[3], rows[4]]),
        ("A-C", GROSS, [rows[0]]),
        ("A-C", "inside faces", [rows[2]]),
    ]


@pytest.fixture
def plain_house(job, bare_house):
    """12.0 x 7.2 m, timber boards all round, wrap and 170 studs behind, evaluated."""
    design = bare_house(stud_depth=0.17)
    boarded = replace(
        design.palette,
        band=None,
        **dict.fromkeys(("low", "high", "left", "right"), "Timber boards, horizontal"),
    )
    design = replace(design, palettes={**design.palettes, boarded.name: boarded})
    only = Option(name="base", changes={})
    return evaluate(replace(job, design=design, options=(only,)), only, planned=False)


def test_areas_that_figures_are_divided_by(job, plain_house):
    """Boards lapped 19 on battens 20: 39 mm out on every side: 12.078 x 7.278 = 87.903684 m2. A wrap takes no room."""
    materials = job.library.materials
    boards, battens = (
        materials[name].thickness
        for name in ("Weatherboard, treated softwood 180 x 19", "Cavity batten, treated softwood 45 x 20")
    )
    assert (boards, battens) == pytest.approx((0.019, 0.020))
    depths = cladding_depths(plain_house.design, job.library)
    assert list(depths.values()) == pytest.approx([0.039] * 4)
    assert gross_floor(plain_house.design, job.library) == pytest.approx(87.903684)
    assert plain_house.measured.areas.outside == pytest.approx(86.4)


def test_sheathing_before_the_frame_stands_out_too(job, plain_house):
    """9 mm of plywood under boards and battens: 48 mm, 12.096 x 7.296 m. Linings inside do not count."""
    house = replace(plain_house.design.house, external_wall="Stud 170, glass wool, sheathed")
    design = replace(plain_house.design, house=house)
    assert list(cladding_depths(design, job.library).values()) == pytest.approx([0.048] * 4)
    assert gross_floor(design, job.library) == pytest.approx(12.096 * 7.296)


def test_a_side_that_stands_out_further_lengthens_one_direction(job, plain_house):
    """Brick of 110 mm on the left side only: 12 + 0.110 + 0.039 by 7.2 + 0.078, and its cavity if it has one."""
    design = plain_house.design
    other = replace(design.palette, left="Clay brick veneer")
    changed = replace(design, palettes={**design.palettes, other.name: other})
    depths = cladding_depths(changed, job.library)
    assert depths["right"] == depths["low"] == depths["high"] == pytest.approx(0.039)
    assert depths["left"] >= 0.110
    expected = (12.0 + depths["left"] + 0.039) * (7.2 + 0.078)
    assert gross_floor(changed, job.library) == pytest.approx(expected)


@pytest.mark.parametrize("basis", AREA_BASES)
def test_our_figures_by_hand(plain_house, basis):
    totals, areas = plain_house.totals, plain_house.measured.areas
    area = {"outside of frame": 86.4, "inside faces": areas.inside, GROSS: 87.903684}[basis]
    product, way = totals.of("A1-A3"), totals.of("A4")
    site = totals.of("A5 wastage") + (totals.of("A5 site") or 0.0)
    use = sum(totals.of(module) or 0.0 for module in ("B2", "B3", "B4"))
    end = sum(totals.of(module) or 0.0 for module in ("C1", "C2", "C3", "C4"))
    assert figure_for(plain_house, "A1-A3", basis) == pytest.approx(product / area)
    assert figure_for(plain_house, "A1-A5", basis) == pytest.approx((product + way + site) / area)
    assert figure_for(plain_house, "A-C", basis) == pytest.approx((product + way + site + use + end) / area)


def test_no_figure_where_nothing_is_assessed(job, plain_house):
    library = replace(job.library, carbon={}, works={}, end_of_life={}, lives={})
    only = Option(name="base", changes={})
    bare = replace(job, design=plain_house.design, options=(only,), library=library, allowances=())
    result = evaluate(bare, only, planned=False)
    for scope in MODULE_SCOPES:
        assert figure_for(result, scope, GROSS) is None
