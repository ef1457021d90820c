"""What tests of the documents share: the base of the demo house, and a house whose rafters nothing on sale serves."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from takeoff.compare.evaluate import Result, evaluate
from takeoff.model.job import Job
from takeoff.workbook.reading import read_job

RAFTERS = "Softwood rafters, structural"


@pytest.fixture(scope="session")
def base(job: Job) -> Result:
    return evaluate(job, job.base)


@pytest.fixture(scope="session")
def short_stock(demo_folder: Path) -> tuple[Job, Result]:
    """Return the studio with no rafters on sale over 4.2 m; its rafters are longer."""
    job = read_job(demo_folder / "dune_studio.xlsx")
    rows = tuple(replace(row, lengths=(3.0, 4.2)) for row in job.library.stock[RAFTERS][:1])
    job = replace(job, library=replace(job.library, stock={**job.library.stock, RAFTERS: rows}))
    return job, evaluate(job, job.base)
