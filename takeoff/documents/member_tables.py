"""The tables of the report about members: their indicative checks, what the options ask the engineer to confirm."""

from __future__ import annotations

from collections.abc import Sequence

from takeoff.assess.members.house_members import HouseMember
from takeoff.assess.members.sections import Section
from takeoff.compare.evaluate import Result
from takeoff.compare.flags import CONFIRM, flags_of
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import number, percent
from takeoff.model.job import Job


def section_words(section: Section) -> str:
    """Return a section as the trade writes it: `2 x 240 x 45`, depth by thickness in mm."""
    words = f"{section.depth * 1000:g} x {section.thickness * 1000:g}"
    return words if section.plies == 1 else f"{section.plies} x {words}"


def outcome_words(member: HouseMember) -> str:
    """Return what the check of a member comes to: within, over and by how much, outside scope and why."""
    check = member.check
    if check.outcome == "outside scope":
        return f"outside scope: {check.reason}"
    if check.outcome == "over":
        return f"over by {percent(check.over_by, 0)}"
    return "within"


def least_words(member: HouseMember) -> str:
    """Return the least section on sale that would do, in words; empty where nothing was checked."""
    if member.check.outcome == "outside scope":
        return ""
    return "none on sale" if member.least is None else section_words(member.least.section)


def members_table(result: Result) -> ReportTable | None:
    """Return the indicative checks of rafters, lintels and floor joists; None where there are none."""
    if not result.members:
        return None
    return ReportTable(
        id="members",
        caption=f"{result.option.name}: indicative checks of members, {CONFIRM}",
        columns=(
            Column(title="Member", figures=False),
            Column(title="Material", figures=False),
            Column(title="Section", unit="mm", figures=False),
            Column(title="Span", unit="m", figures=False),
            Column(title="Dead", unit="kN/m"),
            Column(title="Imposed", unit="kN/m"),
            Column(title="Governed by", figures=False),
            Column(title="Used", unit="%"),
            Column(title="Result", figures=False),
            Column(title="Least that would do", unit="mm", figures=False),
            Column(title="Standing", figures=False),
        ),
        rows=tuple(_member_row(member) for member in result.members),
        note="Members on two or more supports under uniform loads, for every row of the sheet Load cases with the "
        "grades of the sheet Timber grades: bending, shear, bearing and sag. Spans are between the middles of "
        "bearings, of rafters on the slope. The least that would do is of the same material, by the area of its "
        "section. Left out: shear in the sag, wind that lifts the roof, wind on walls, studs, bearers, outriggers, "
        "connections, notches, vibration, the wall over a lintel. This is no structural design.",
    )


def _unbroken(words: str) -> str:
    """Return a section that no line break parts."""
    return words.replace(" ", "\u00a0")


def _member_row(member: HouseMember) -> Row:
    """Return one member."""
    loading, governing = member.loading, member.check.governing
    return Row(
        cells=(
            member.name,
            member.material,
            _unbroken(section_words(member.section)),
            "" if loading is None else " + ".join(number(span, 2) for span in loading.spans),
            "" if loading is None else number(loading.dead / 1000, 2),
            "" if loading is None else number(loading.imposed / 1000, 2),
            "" if governing is None else f"{governing.of}, {governing.case}",
            "" if governing is None else number(governing.used * 100),
            outcome_words(member),
            _unbroken(least_words(member)),
            CONFIRM,
        )
    )


def grades_table(job: Job) -> ReportTable | None:
    """Return grades and load cases with their sources; None where none is stated."""
    grades, cases = job.library.grades, job.library.load_cases
    if not grades and not cases:
        return None
    rows: list[Row] = []
    if grades:
        rows.append(Row(heading="Timber grades: bending, shear, bearing, elasticity in MPa"))
    for grade in grades:
        stresses = (grade.bending, grade.shear, grade.bearing, grade.elasticity)
        words = ", ".join(f"{stress / 1e6:g}" for stress in stresses)
        rows.append(
            Row(
                cells=(grade.material, f"{grade.grade}: {words}", grade.source, grade.standing),
                below=grade.note,
            )
        )
    if cases:
        rows.append(Row(heading="Load cases: dead and imposed load multiplied by"))
    for case in cases:
        factors = (
            f"sag not over span / {case.limit:g}"
            if case.limit
            else f"duration {case.duration:g}, load sharing {case.load_sharing:g}, "
            f"material factor {case.material_factor:g}"
        )
        reach = f", spans to {case.longest_span:g} m" if case.longest_span else ""
        rows.append(
            Row(
                cells=(
                    f"{case.member}: {case.case}",
                    f"{case.dead:g} and {case.imposed:g}; {factors}{reach}",
                    case.source,
                    case.standing,
                ),
                below=case.note,
            )
        )
    return ReportTable(
        id="grades",
        caption="Timber grades and load cases used",
        columns=(
            Column(title="What", figures=False),
            Column(title="Values", figures=False),
            Column(title="Source", figures=False),
            Column(title="Standing", figures=False),
        ),
        rows=tuple(rows),
    )


def flags_table(results: Sequence[Result]) -> ReportTable:
    """Return what every option asks the engineer to confirm, and how many of its members are over."""
    rows = []
    for result in results:
        outcomes = [member.check.outcome for member in result.members]
        rows.append(
            Row(
                cells=(
                    result.option.name,
                    result.design.practice.name,
                    "; ".join(flags_of(result)) or "none",
                    number(outcomes.count("within")),
                    number(outcomes.count("over")),
                    number(outcomes.count("outside scope")),
                ),
                chosen=result is results[0],
            )
        )
    return ReportTable(
        id="flags",
        caption="What each option asks the engineer to confirm",
        columns=(
            Column(title="Option", figures=False),
            Column(title="Framing practice", figures=False),
            Column(title="Flags", figures=False),
            Column(title="Members within", unit="Nr"),
            Column(title="Over", unit="Nr"),
            Column(title="Outside scope", unit="Nr"),
        ),
        rows=tuple(rows),
        note=f"Each flag and each member: {CONFIRM}, whatever the check says. Members that are alike count once; "
        "lintels that carry no roof are not checked.",
    )


def practices_table(results: Sequence[Result]) -> ReportTable:
    """Return the rules of every framing practice that an option uses, with their status."""
    used: dict[str, list[str]] = {}
    rules = {}
    for result in results:
        practice = result.design.practice
        used.setdefault(practice.name, []).append(result.option.name)
        rules[practice.name] = practice.rules()
    rows: list[Row] = []
    for name, options in used.items():
        rows.append(Row(heading=f"{name}, in {len(options)} of {len(results)} options"))
        rows += [Row(cells=(words, status)) for words, status in rules[name]]
    return ReportTable(
        id="practices",
        caption="Framing practices used",
        columns=(Column(title="Rule", figures=False), Column(title="Status", figures=False)),
        rows=tuple(rows),
        note="The status is what the workbook states: within the framing tables in use, or engineer to confirm.",
    )
