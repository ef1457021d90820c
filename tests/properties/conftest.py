"""Random houses for the whole folder: any size, pitch and practice, with openings that fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import strategies as st

from takeoff.compare.evaluate import Result, evaluate
from takeoff.framing.openings import opening_problems
from takeoff.model import geometry
from takeoff.model.house import SIDES, Design, Opening, Option
from takeoff.model.job import Job
from takeoff.model.library import Library


def _millimetres(low: float, high: float) -> st.SearchStrategy[float]:
    """Whole mm between two lengths [m]: what a drawing can say."""
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda mm: mm / 1000)


@st.composite
def _practices(draw: st.DrawFn, design: Design) -> Design:
    """Draw every rule of the framing practice by itself, not only the two of the demo."""
    practice = replace(
        design.practice,
        bottom_plates=draw(st.integers(1, 2)),
        top_plates=draw(st.integers(1, 2)),
        corner_studs=draw(st.integers(0, 3)),
        jamb_studs=draw(st.sampled_from(["from table", "one full-height stud"])),
        jack_studs_over_lintels=draw(st.booleans()),
        lintels_in_nonbearing_walls=draw(st.booleans()),
        openings_on_grid=draw(st.booleans()),
        nogging_spacing=draw(st.sampled_from([0.9, 1.2, 1.35])),
    )
    return replace(design, practices={practice.name: practice})


@st.composite
def _openings(draw: st.DrawFn, design: Design, sample: Opening, most: int) -> Design:
    """Draw openings from left to right in each wall; one that does not fit is left out."""
    for side in SIDES:
        wide, here = geometry.side_length(design.house, side), 0.0
        for number in range(draw(st.integers(0, most))):
            if wide - here < 2.0:
                break
            opening = replace(
                sample,
                mark=f"{side}{number}",
                side=side,
                kind=draw(st.sampled_from(["window", "sliding door"])),
                position=here + draw(_millimetres(0.3, 1.2)),
                width=draw(_millimetres(0.4, 3.0)),
                height=draw(_millimetres(0.4, 2.1)),
                sill=draw(st.sampled_from([0.0, 0.0, 0.03, 0.3, 0.9, 1.5])),
                number=1,
                shutter=None,
            )
            trial = replace(design, openings=(*design.openings, opening))
            if not opening_problems(trial):
                design, here = trial, opening.right
    return design


@st.composite
def _designs(draw: st.DrawFn, job: Job, most: int = 3) -> Design:
    """Draw a whole house."""
    span = draw(_millimetres(3.0, 9.0))
    house = replace(
        job.design.house,
        length=draw(_millimetres(3.0, 20.0)),
        span=span,
        low_height=draw(_millimetres(2.3, 3.2)),
        pitch=draw(st.sampled_from([0.5, 1.5, 3.0, 5.0, 10.0, 15.0, 22.5, 30.0])),
        overhang_low=draw(_millimetres(0.0, 1.0)),
        overhang_high=draw(_millimetres(0.0, 1.0)),
        overhang_left=draw(st.sampled_from([0.0, 0.3, 0.6])),
        overhang_right=draw(st.sampled_from([0.0, 0.3, 0.6])),
        stud_depth=draw(st.sampled_from([0.09, 0.14, 0.17])),
        stud_thickness=draw(st.sampled_from([0.035, 0.045])),
        stud_spacing=draw(st.sampled_from([0.3, 0.4, 0.45, 0.6])),
        rafter_spacing=draw(st.sampled_from([0.45, 0.6, 0.9])),
        rafter_blocking=draw(st.booleans()),
        support_lines=draw(st.sampled_from([(), (span / 2,), (span / 3, span * 2 / 3)])),
        palette=draw(st.sampled_from(sorted(job.design.palettes))),
        cladding_drop=draw(_millimetres(0.0, 0.3)),
    )
    shell = replace(job.design, rooms=(), bulkheads=(), wall_choices=(), internal_doors=())
    design = draw(_practices(replace(shell, house=house, openings=())))
    return draw(_openings(design, job.design.openings[0], most))


@pytest.fixture(scope="session")
def houses(job: Job) -> Callable[..., st.SearchStrategy[Design]]:
    """Return a maker of strategies for houses, with at most so many openings a side."""

    def make(most: int = 3) -> st.SearchStrategy[Design]:
        return _designs(job, most)

    return make


@pytest.fixture(scope="session")
def evaluated(job: Job) -> Callable[..., Result]:
    """Return a function that evaluates a design as the only option of the demo job."""

    def of(design: Design, library: Library | None = None) -> Result:
        only = Option(name="base", changes={})
        plain = replace(job, design=design, options=(only,), library=library or job.library)
        # the rules of measuring and pricing are held here; plans of what is bought have tests of their own
        return evaluate(plain, only, planned=False)

    return of
