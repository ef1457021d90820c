"""The renewals of one item over the study period, by itself and with its layer: lives, counts, one renewal."""

from __future__ import annotations

from takeoff.assess.lines import Line as BillLine
from takeoff.documents.explain_parts import Cell, Line, cell, cells, precise
from takeoff.documents.wording import NOT_ASSESSED, number
from takeoff.model.allowance import Allowance
from takeoff.model.job import Job
from takeoff.model.life_cycle import Exposure, Module


def renewal_lines(job: Job, line: BillLine, allowance: Allowance | None) -> list[Line]:
    """Return how an item is renewed: service life and exposure, its layer, how often, what one renewal takes."""
    renewal = line.renewal
    if renewal is None:
        return []
    lines = []
    if renewal.life != float("inf"):
        found = (
            _life_cells(job, renewal.material, renewal.exposure)
            if allowance is None
            else cells(
                cell(allowance.origin, "service_life", f"service life {renewal.life:g} years", renewal.life)
            )
        )
        share = "" if renewal.share == 1 else f", {precise(renewal.share)} of it at a time"
        told = f"{renewal.life:g} years, {renewal.exposure}, counted in {renewal.module}{share}"
        lines.append(Line("service life", told, found))
    if renewal.host is not None and renewal.host_life is not None:
        host = _life_cells(job, renewal.host_material or "", renewal.exposure, renewal.host_life)
        told = f"with {renewal.host}, every {renewal.host_life:g} years, counted in {renewal.host_module}"
        lines.append(Line("renewed", told, host))
    years = ", ".join(f"{year:g}" for year, _, _ in renewal.years)
    how = "annualised, period / life - 1" if job.study.replacements == "annualised" else "whole renewals"
    when = f"in year {years}" if years else "none within it"
    period = cell(
        job.study.origin.get("period"), "value", f"study period {job.study.period:g} years", job.study.period
    )
    counted = f"{precise(renewal.counted)} over {job.study.period:g} years, {how}; {when}"
    lines.append(Line("renewals", counted, cells(period)))
    each = (
        NOT_ASSESSED
        if renewal.carbon_each is None
        else f"A1 to A5 of the new and C1 to C4 of the old = {number(renewal.carbon_each, 3)} kgCO₂e"
    )
    return [*lines, Line("one renewal", each)]


def renewed_words(line: BillLine, module: Module) -> str:
    """Return the renewals that count in a module as a sum in words, "" where none does."""
    renewal = line.renewal
    if renewal is None:
        return ""
    each = renewal.carbon_each
    count = sum(number for counted_in, number in renewal.counts if counted_in == module)
    if not count:
        return "0 renewals" if module == "B4" else ""
    word = "renewal" if count == 1 else "renewals"
    return f"{precise(count)} {word} x {number(each or 0.0, 3)}"


def _life_cells(job: Job, material: str, exposure: Exposure, life: float | None = None) -> tuple[Cell, ...]:
    """Return the cells of a service life: under an exposure, else under that which gives the life.

    A life that is the same sheltered, and one that is the mean of the other two, may be left blank in the workbook:
    those that it is then taken from are told.
    """
    row = job.library.lives.get(material)
    if row is None:
        return ()
    if life is not None and row.years(exposure) != life:
        exposures: tuple[Exposure, ...] = ("sheltered", "moderate", "exposed")
        exposure = next((each for each in exposures if row.years(each) == life), exposure)
    years = row.years(exposure)
    if years == row.sheltered:
        told: tuple[Exposure, ...] = ("sheltered",)
    elif exposure == "moderate" and years == (row.sheltered + row.exposed) / 2:
        told = ("sheltered", "exposed")
    else:
        told = (exposure,)
    mean = f", mean of both: {years:g}" if len(told) > 1 else ""
    return cells(
        *(
            cell(row.origin, each, f"{material}, {each}: {row.years(each):g} years{mean}", row.years(each))
            for each in told
        )
    )
