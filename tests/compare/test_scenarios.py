"""The same house in every end-of-life scenario: by hand on its wood, and what may not change."""

from __future__ import annotations

from dataclasses import replace

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.compare.scenarios import by_scenario, in_scenario, scenario_names
from takeoff.model.life_cycle import END, MODULES, EndOfLife
from takeoff.model.study import Study


def row(scenario: str, family: str, **known) -> EndOfLife:
    blank = dict.fromkeys(("c1", "mode", "distance", "c3", "c4", "d"))
    return EndOfLife(scenario=scenario, family=family, route="landfill", **{**blank, **known})


@pytest.fixture(scope="module")
def two_scenarios(job):
    """Everything usual at 0.01 in C1; softwood buried or reused besides. No factor states an end of its own."""
    families = {material.family for material in job.library.materials.values()}
    rows = [row("usual", family, c1=0.01) for family in sorted(families)]
    rows += [
        row("buried", "softwood", c4=0.05, released=0.25),
        row("reused", "softwood", c1=0.02, d=-0.5),
    ]
    library = replace(job.library, end_of_life={(r.scenario, r.family): r for r in rows})
    own = dict.fromkeys(("c1", "c2", "c3", "c4", "d"))
    carbon = {name: replace(factor, **own) for name, factor in job.library.carbon.items()}
    job = replace(job, library=replace(library, carbon=carbon), study=Study(period=60.0))
    return job, evaluate(job, job.base, planned=False)


def softwood(job, result):
    return [
        line
        for line in result.lines
        if line.quantity.material in job.library.materials
        and job.library.materials[line.quantity.material].family == "softwood"
    ]


def test_the_study_s_scenario_comes_first(two_scenarios):
    job, _ = two_scenarios
    assert scenario_names(job) == ["usual", "buried", "reused"]
    named = replace(job, study=replace(job.study, end_of_life="reused"))
    assert scenario_names(named) == ["reused", "usual", "buried"]


def test_the_scenario_of_the_study_is_the_house_itself(two_scenarios):
    job, result = two_scenarios
    same = in_scenario(job, result, "usual")
    for module in MODULES:
        assert same.of(module) == pytest.approx(result.totals.of(module)), module
    assert in_scenario(job, result, "usual").kept == pytest.approx(result.totals.kept, abs=1e-9)


def test_modules_by_hand(two_scenarios):
    """C1 is 0.01 of all mass; buried wood has C4 0.05 and no C1; reused wood C1 0.02 and D -0.5 for each kg."""
    job, result = two_scenarios
    wood = sum(line.mass for line in softwood(job, result))
    allowed = {line.quantity.id for each in result.allowances for line in each.lines}
    mass = sum(line.mass or 0.0 for line in result.lines if line.quantity.id not in allowed)
    found = by_scenario(job, result)
    assert found["usual"].of("C1") == pytest.approx(0.01 * mass)
    assert found["buried"].of("C1") == pytest.approx(0.01 * (mass - wood))
    assert found["buried"].of("C4") == pytest.approx(0.05 * wood)
    assert found["usual"].of("C4") is None
    assert found["reused"].of("C1") == pytest.approx(0.01 * (mass - wood) + 0.02 * wood)
    assert found["reused"].of("D") == pytest.approx(-0.5 * wood)


def test_three_quarters_of_buried_carbon_stay(two_scenarios):
    job, result = two_scenarios
    stored = sum(line.carbon.stored + line.carbon.renewed_stored for line in softwood(job, result))
    found = by_scenario(job, result)
    assert stored < 0
    assert found["buried"].kept == pytest.approx(0.75 * stored)
    assert found["reused"].kept == pytest.approx(0.0, abs=1e-6)


def test_renewals_and_wastage_go_the_same_way(two_scenarios):
    """What is renewed or wasted is buried too, so B4 and A5 wastage move with the scenario, A1 to A4 do not."""
    job, result = two_scenarios
    found = by_scenario(job, result)
    wasted = sum(line.mass_wastage for line in softwood(job, result))
    assert found["buried"].of("A5 wastage") - found["usual"].of("A5 wastage") == pytest.approx(0.05 * wasted)
    # each renewal of softwood: C4 0.05 for C1 0.01 of what is built in, and C4 of what is wasted
    change = sum(
        line.renewal.counted * (0.04 * line.mass + 0.05 * line.mass_wastage)
        for line in softwood(job, result)
        if line.renewal
    )
    use = [sum(found[name].of(m) or 0.0 for m in ("B2", "B3", "B4")) for name in ("usual", "buried")]
    assert change > 0
    assert use[1] - use[0] == pytest.approx(change)
    for name in found:
        for module in ("A1-A3", "A4", "A5 site"):
            assert found[name].of(module) == pytest.approx(result.totals.of(module))


def test_credits_are_never_in_the_life_cycle(two_scenarios):
    job, result = two_scenarios
    found = by_scenario(job, result)["reused"]
    parts = [found.of(m) or 0.0 for m in ("A1-A3", "A4", "A5 wastage", "A5 site", "B2", "B3", "B4", *END)]
    assert found.life_cycle() == pytest.approx(sum(parts))
