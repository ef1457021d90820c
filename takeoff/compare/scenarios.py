"""The same house at its end of life in every scenario of the practice."""

from __future__ import annotations

from dataclasses import replace

from takeoff.assess.end_of_life import end_row
from takeoff.assess.items import assess_lines
from takeoff.assess.lines import Line
from takeoff.assess.totals import Totals, total
from takeoff.assess.use_stage import with_renewals
from takeoff.compare.evaluate import Result
from takeoff.model.job import Job


def scenario_names(job: Job) -> list[str]:
    """Return the scenarios of the sheet End of life in their order, that of the study first."""
    names = dict.fromkeys(scenario for scenario, _ in job.library.end_of_life)
    return [job.study.end_of_life, *(name for name in names if name != job.study.end_of_life)]


def in_scenario(job: Job, result: Result, scenario: str) -> Totals:
    """Return the totals of an option as if its study named another end of life; all else stays the same.

    Only items that end otherwise are assessed anew.
    """
    study = replace(job.study, end_of_life=scenario)
    allowed = [line for each in result.allowances for line in each.lines]
    ids = {line.quantity.id for line in allowed}
    own = [line for line in result.lines if line.quantity.id not in ids]
    ends_otherwise = [line for line in own if _ends_otherwise(line, job, scenario)]
    lines, _ = assess_lines([line.ordered for line in ends_otherwise], job.library, study)
    anew = with_renewals(lines, house=result.design.house, library=job.library, study=study, among=own)
    by_id = {line.quantity.id: line for line in anew}
    return total([*(by_id.get(line.quantity.id, line) for line in own), *allowed])


def _ends_otherwise(line: Line, job: Job, scenario: str) -> bool:
    """Whether the end of life of an item's material is another in a scenario than in that of the study."""
    material = job.library.materials.get(line.quantity.material)
    if material is None:
        return False
    ends = (end_row(material.family, name, job.library) for name in (scenario, job.study.end_of_life))
    return next(ends) is not next(ends)


def by_scenario(job: Job, result: Result) -> dict[str, Totals]:
    """Return the totals of an option in every scenario, by name."""
    return {name: in_scenario(job, result, name) for name in scenario_names(job)}
