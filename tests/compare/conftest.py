"""A job with a range for everything, its options evaluated, and items made by hand of parts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from takeoff.assess.allowances import assess_allowances
from takeoff.assess.lines import Line
from takeoff.compare.evaluate import Result, evaluate_all
from takeoff.model.allowance import Allowance
from takeoff.model.job import Job
from takeoff.model.library import Library
from takeoff.model.life_cycle import SPREADS_OF, EndOfLife, Scores, ServiceLife, Spread

_RENEWAL_MODULES = ("B2", "B4", "B4")


def with_every_range(library: Library) -> Library:
    """Return a library in which every material has a life and an end, and every input a range; numbers invented."""
    names = sorted(library.materials)
    return replace(
        library,
        lives={
            name: ServiceLife(
                material=name,
                module=_RENEWAL_MODULES[index % 3],
                sheltered=60.0 - index * 7 % 45,
                moderate=50.0 - index * 7 % 40,
                exposed=40.0 - index * 7 % 33,
                low=0.6,
                high=1.4,
                share=(1.0, 0.5)[index % 2],
                taking_down=0.3,
            )
            for index, name in enumerate(names)
        },
        spreads={(of, "all"): Spread(of=of, name="all", low=-0.10, high=0.15) for of in SPREADS_OF},
        end_of_life={
            ("usual", family): EndOfLife(
                scenario="usual",
                family=family,
                route="landfill",
                c1=0.003,
                mode=next(iter(library.transport)),
                distance=50_000.0,
                c3=0.01,
                c4=0.02,
                d=-0.1,
            )
            for family in {material.family for material in library.materials.values()}
        },
        carbon={
            name: replace(factor, b2=0.01, b3=0.02, scores=Scores(2, 2, 3, 3, 3))
            for name, factor in library.carbon.items()
        },
    )


@pytest.fixture(scope="session")
def ranged_job(job: Job) -> Job:
    """Heron Bank with three of its options, ranges for everything and 2,000 draws."""
    study = replace(job.study, draws=2_000)
    return replace(job, library=with_every_range(job.library), options=job.options[:3], study=study)


@pytest.fixture(scope="session")
def results(ranged_job: Job) -> list[Result]:
    return evaluate_all(ranged_job, planned=False)


@pytest.fixture(scope="session")
def item() -> Callable[..., Line]:
    """Return a maker of an item of given parts; what it is called makes no difference here."""
    allowance = Allowance(
        name="Made by hand",
        element="services",
        trade="services",
        description="",
        basis="Item",
        quantity=None,
        kind="firm",
        rate=0.0,
    )
    (assessed,) = assess_allowances([allowance], inside_floor=1.0)

    def make(**parts: object) -> Line:
        return replace(assessed.line, **{"cost_parts": (), "carbon_parts": (), **parts})

    return make
