"""What tests share: the demo job, and a bare house of round numbers made from it."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import settings

from takeoff.model.house import Design, Opening
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

# The same examples in every run; HYPOTHESIS_PROFILE=search looks for new ones.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("search", derandomize=False, deadline=None, max_examples=300)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))

# Tests already run on every processor; those that are about processes say so themselves.
os.environ.setdefault("TAKEOFF_PROCESSES", "1")

DEMO = Path(__file__).resolve().parents[1] / "demo_projects"


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    return DEMO


@pytest.fixture(scope="session")
def job() -> Job:
    return read_job(DEMO / "heron_bank.xlsx")


def without_rooms(design: Design) -> Design:
    """Return a design measured as one room."""
    return replace(design, rooms=(), bulkheads=(), wall_choices=(), internal_doors=())


@pytest.fixture(scope="session")
def bare_house(job: Job) -> Callable[..., Design]:
    """Return a maker of the 12.0 x 7.2 m house without openings; settings may be given."""

    def make(*, openings: tuple[Opening, ...] = (), **settings: object) -> Design:
        house = replace(
            job.design.house,
            **{
                "length": 12.0,
                "span": 7.2,
                "low_height": 2.7,
                "pitch": 5.0,
                "overhang_low": 0.6,
                "overhang_high": 0.6,
                "overhang_left": 0.45,
                "overhang_right": 0.45,
                **settings,
            },
        )
        return replace(without_rooms(job.design), house=house, openings=openings)

    return make


@pytest.fixture(scope="session")
def window(job: Job) -> Callable[..., Opening]:
    """Return a maker of windows by size and place."""

    def make(
        mark: str, side: str, position: float, width: float, height: float, sill: float = 0.9
    ) -> Opening:
        return replace(
            job.design.openings[0],
            mark=mark,
            side=side,
            position=position,
            width=width,
            height=height,
            sill=sill,
            kind="window" if sill else "door",
            number=1,
            shutter=None,
        )

    return make
