"""Assumptions, sources and cautions of the comparison report, as ready text."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.end_of_life import end_row
from takeoff.compare.caution import Caution
from takeoff.compare.cautions import GENERAL, cautions_of
from takeoff.compare.evaluate import Result
from takeoff.compare.parity import Shortfall
from takeoff.documents.parity_words import parity_cautions
from takeoff.documents.report_tables import Column, ReportTable, Row, rows_alike_as_one
from takeoff.documents.wording import NOT_ASSESSED, number, percent, unit_text
from takeoff.model.geometry import compass_of
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.model.life_cycle import CarbonFactor, module_words


def used_materials(results: Sequence[Result]) -> list[str]:
    """Return the materials that any option uses, in order of first use."""
    names: dict[str, None] = {}
    for result in results:
        for line in result.lines:
            if line.quantity.material:
                names.setdefault(line.quantity.material)
    return list(names)


def factors_table(job: Job, results: Sequence[Result]) -> ReportTable:
    """Return the carbon factor of every material used, with range, source and standing."""
    rows = []
    for name in used_materials(results):
        factor = job.library.carbon.get(name)
        if factor is None:
            work_only = job.library.materials[name].family == "work only"
            rows.append(Row(cells=(name, "no material" if work_only else NOT_ASSESSED, *[""] * 4)))
            continue
        rows.append(
            Row(
                cells=(
                    name,
                    f"{_amount(factor.a1a3.value)} per {unit_text(factor.a1a3.per)}",
                    _range(factor),
                    "" if factor.scores is None else "\u00a0".join(map(str, factor.scores.values())),
                    _way(factor),
                    ", ".join(
                        part for part in (factor.source, factor.year, factor.country, factor.standing) if part
                    ),
                ),
                below=_below(factor),
            )
        )
    return ReportTable(
        id="factors",
        caption="Carbon factors used, A1-A3",
        columns=(
            Column(title="Material", figures=False),
            Column(title="A1-A3", unit="kgCO₂e"),
            Column(title="Low to high"),
            Column(title="Scores", figures=False),
            Column(title="Transport", figures=False),
            Column(title="Source and standing", figures=False),
        ),
        rows=rows_alike_as_one(rows),
        note="Fossil; stored biogenic carbon is left out. Scores from 1 (best) to 5: reliability, completeness, time, "
        "geography, technology; they give the spread where no range is stated. Modules besides A1-A3 that a source "
        "states itself stand below it.",
    )


def _below(factor: CarbonFactor) -> str:
    """Return the standard of a factor, the other modules it states, and its note."""
    stated = (
        ("land use", factor.land_use),
        ("A5", factor.a5),
        ("B2 a year", factor.b2),
        ("B3 a year", factor.b3),
        ("C1", factor.c1),
        ("C2", factor.c2),
        ("C3", factor.c3),
        ("C4", factor.c4),
        ("D", factor.d),
    )
    modules = ", ".join(f"{name} {_amount(value)}" for name, value in stated if value is not None)
    biogenic = "" if factor.biogenic is None else f"stored {_amount(factor.biogenic)} kgCO₂"
    standard = "" if factor.standard in ("", "none stated") else factor.standard
    return " · ".join(part for part in (standard, modules, biogenic, factor.note) if part)


def _amount(value: float) -> str:
    """Return a factor with three significant figures or so."""
    return f"{value:.4g}"


def _range(factor: CarbonFactor) -> str:
    """Return the range of a factor."""
    if factor.low is None or factor.high is None:
        return "not stated"
    return f"{_amount(factor.low)} to {_amount(factor.high)}"


def _way(factor: CarbonFactor) -> str:
    """Return mode and distance."""
    if factor.mode is None or factor.distance is None:
        return NOT_ASSESSED
    return f"{factor.mode}, {number(factor.distance / 1000)} km"


def sources_list(job: Job, results: Sequence[Result]) -> list[tuple[str, str]]:
    """Return the sources that the materials used and the allowances rely on: key and full wording."""
    library = job.library
    keys: dict[str, None] = {}
    for each in results[0].allowances:
        # rate and carbon may come from two sources: "invented; ICE2"
        keys.update(dict.fromkeys(key.strip() for key in each.allowance.source.split(";")))
    for name in used_materials(results):
        keys.setdefault(library.materials[name].source)
        for found in (library.carbon.get(name), library.prices.get(name)):
            if found is not None:
                keys.setdefault(found.source)
        factor = library.carbon.get(name)
        if factor is not None and factor.mode is not None:
            keys.setdefault(library.transport[factor.mode].source)
        if (life := library.lives.get(name)) is not None:
            keys.setdefault(life.source)
        if (end := end_row(library.materials[name].family, job.study.end_of_life, library)) is not None:
            keys.setdefault(end.source)
    keys.update(dict.fromkeys(each.source for each in library.benchmarks))
    for rows in (library.resistances, library.grades, library.load_cases):
        keys.update(dict.fromkeys(each.source for each in rows))
    keys.update(dict.fromkeys(each.source for each in library.spreads.values()))
    listed = [library.sources[key] for key in sorted(keys) if key in library.sources]
    return [
        (source.key, ". ".join(part for part in (source.title, source.where, source.licence) if part))
        for source in listed
    ]


def assumptions(job: Job, result: Result) -> list[tuple[str, str]]:
    """Return what the figures of the base rest on: term and sentence."""
    house, areas = result.design.house, result.measured.areas
    faces = ", ".join(f"{side} {compass_of(house, side)}" for side in SIDES)
    practice = result.design.practice
    rules = "; ".join(f"{words} ({status})" for words, status in practice.rules())
    return [
        (
            "Areas",
            f"{areas.outside:.2f} m² of floor to the outside face of the frame, {areas.inside:.2f} m² to the "
            "finished inside face of the external walls (internal walls not deducted)"
            + (
                f", {areas.rooms:.2f} m² in the rooms, net of internal walls." if result.design.rooms else "."
            ),
        ),
        (
            "Volumes",
            f"{areas.enclosed_volume:.1f} m³ under the roof to the outside face of the frame, "
            f"{areas.air_volume:.1f} m³ of air inside the linings.",
        ),
        ("Sides", f"{faces}; left and right as seen facing the high side with the back to the low side."),
        ("Framing", f"{practice.name}, studs at {result.design.stud_spacing * 1000:g} mm: {rules}."),
        (
            "Quantities",
            "Net: as fixed in position, measured from dimensions. Required: with laps, and boards and sheets "
            "as cut from whole width. Order: what is bought, in whole lengths, sheets, rolls and packs.",
        ),
        ("Order", _ordering(result)),
        (
            "Voids",
            "A void wholly inside a face is deducted only if it is larger than the smallest void of its "
            "class of items (0.50 m² unless the sheet Measurement says otherwise); one at an edge always is. "
            "Insulation gives way to every void and stick.",
        ),
        (
            "Carbon",
            "Modules of EN 15978. Upfront: A1-A3 and A4 of what is built in, A5 wastage (A1-A3, A4, C2, C3 and C4 of "
            "what is bought and not built in), A5 site. Life cycle: "
            f"{module_words(job.study.modules)} of what is assessed; D is never added. Biogenic carbon stored in wood "
            "is by EN 16449, on a line of its own.",
        ),
        ("Study", _study(job)),
        (
            "Coverage",
            f"{percent(result.totals.carbon_cover_mass, 2)} of the mass that is known and "
            f"{percent(result.totals.carbon_cover_cost, 2)} of the cost of the works and sums "
            f"carry a carbon factor. {_uncovered(job, result)}".strip(),
        ),
    ]


def _study(job: Job) -> str:
    """Return the settings of the study in words."""
    study = job.study
    counting = (
        "annualised (period / life less 1)"
        if study.replacements == "annualised"
        else "whole, as they fall due (period / life, rounded up, less 1)"
    )
    return (
        f"{study.period:g} years; renewals counted {counting}; a layer renewed brings those that its build-up renews "
        f"with it. End of life: {study.end_of_life}. Discount rate {study.discount_rate * 100:g} % a year, in real "
        "terms: money of later years is at prices of today."
    )


def _ordering(result: Result) -> str:
    """Return how order quantities follow, and what the cutting plans aim at."""
    allowed = (
        "Required with the wastage allowance of the material, in whole packs or steps where it is sold so"
    )
    if not any(plan.planned for plan in result.plans):
        return f"{allowed}."
    aim = result.design.house.cutting_aim.removeprefix("least ")
    least = {
        "length": "the least length or area of what is bought",
        "cost": "the least cost of what is bought",
    }.get(aim, "the least carbon, A1-A3, of what is bought")
    return (
        f"From a plan of every piece where the sheet Stock says what is on sale: lengths cut by patterns, sheets and "
        f"rolls laid on every face. The cutting plans aim at {least}. {allowed.replace('Required', 'Else required')}. "
        "Money and carbon count all of lengths and sheets, but of rolls and packs only what is used."
    )


def _uncovered(job: Job, result: Result) -> str:
    """Return in a sentence or two what of the allowances and of the cost ladder carries no carbon."""
    sentences = []
    if result.allowances:
        without = sum(each.line.carbon.a1a3 is None for each in result.allowances)
        sentences.append(
            f"Of {len(result.allowances)} allowances {without or 'none'} "
            f"{'is' if without == 1 else 'are'} without one; none has transport, wastage or site work assessed."
        )
    if any(step.kind == "sum" for step in job.library.ladder):
        sentences.append("Sums that the cost ladder itself adds carry none and stand in no element or trade.")
    return " ".join(sentences)


def not_covered(job: Job, result: Result) -> list[str]:
    """Return what the figures leave out: what the project says, and whole sheets without rows."""
    missing = list(job.project.exclusions)
    if not result.design.rooms:
        missing.append(
            "internal walls and doors, linings by room and floor finishes are not in the figures, because the "
            "sheet Rooms has no rows: the house is measured as one room"
        )
    if not result.allowances:
        missing.append(
            "services, kitchen, sanitary ware and site works are not in the figures, because the sheet Allowances "
            "has no rows"
        )
    return missing


def caution_groups(
    results: Sequence[Result], falls: Sequence[Sequence[Shortfall]]
) -> list[tuple[str, list[Caution]]]:
    """Return the cautions of the base and, for each option, those it has besides; `falls` are its shortfalls."""
    base = [*cautions_of(results[0]), *parity_cautions(falls[0])]
    groups = [("All documents", list(GENERAL)), (f"Every option, {results[0].option.name} included", base)]
    for result, short in zip(results[1:], falls[1:], strict=True):
        own = (*cautions_of(result), *parity_cautions(short))
        more = [caution for caution in own if caution not in base]
        if more:
            groups.append((result.option.name, more))
    return groups
