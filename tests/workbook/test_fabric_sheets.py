"""The sheets of fabric and timber: read in any unit, and what is wrong with them told with its cell."""

from __future__ import annotations

import openpyxl
import pytest

from takeoff.assess.members.sections import Section
from takeoff.assess.members.sizing import greatest_span
from takeoff.compare.evaluate import evaluate
from takeoff.workbook.grid import WorkbookError
from takeoff.workbook.reading import read_job

INCH, PSI, PSF = 0.0254, 6894.757, 47.88026


def problems(spoiled) -> list[str]:
    with pytest.raises(WorkbookError) as raised:
        read_job(spoiled.house)
    return [problem.line() for problem in raised.value.problems]


def test_a_resistance_of_air_needs_a_thickness(spoiled):
    cell = spoiled.cell("Thermal resistances", "still air layer", "Thickness", None, factors=True)
    (line,) = problems(spoiled)
    assert line == (
        f"factors.xlsx Thermal resistances!{cell}: Thickness of a still air layer is blank; expected the thickness "
        "that its resistances are for."
    )


def test_a_surface_has_no_thickness(spoiled):
    cell = spoiled.cell("Thermal resistances", "inside surface", "Thickness", 10, factors=True)
    (line,) = problems(spoiled)
    assert line == (
        f"factors.xlsx Thermal resistances!{cell}: a thickness for the kind inside surface; expected blank: surfaces "
        "have none."
    )


def test_a_deflection_needs_a_limit(spoiled):
    cell = spoiled.cell("Load cases", "rafter", "Limit, span over", None, factors=True, nth=2)
    (line,) = problems(spoiled)
    assert line == (
        f"factors.xlsx Load cases!{cell}: Limit of the case 'sag in the end, creep with it' is blank; expected what "
        "the span is divided by, such as 250."
    )


def test_a_strength_case_has_no_limit(spoiled):
    cell = spoiled.cell("Load cases", "rafter", "Limit, span over", 250, factors=True)
    (line,) = problems(spoiled)
    assert line == (
        f"factors.xlsx Load cases!{cell}: a limit in the strength case 'dead load alone, permanent'; expected blank, "
        "or deflection in the column Checked for."
    )


def test_an_air_layer_in_a_build_up_needs_a_thickness(spoiled):
    cell = spoiled.cell("Build-ups", "Clay brick veneer", "Thickness", None, nth=4)
    (line,) = problems(spoiled)
    assert line == (
        f"heron_bank.xlsx Build-ups!{cell}: Thickness is blank; expected one, for 'still air layer'."
    )


def test_a_ventilated_air_layer_has_no_place_in_a_floor(spoiled):
    cell = spoiled.cell(
        "Build-ups", "Slab on ground, insulated", "Measured by", "ventilated air layer", nth=7
    )
    lines = problems(spoiled)
    assert any(
        line.startswith(
            f"heron_bank.xlsx Build-ups!{cell}: 'ventilated air layer' in a build-up of the part floor"
        )
        for line in lines
    )


def test_a_grade_of_a_material_that_is_not_there_is_located(spoiled):
    cell = spoiled.cell("Timber grades", "LVL lintel, structural", "Material", "LVL lintl", factors=True)
    (line,) = problems(spoiled)
    assert line.startswith(f"factors.xlsx Timber grades!{cell}: 'LVL lintl' is not defined")


def test_a_load_of_the_wrong_kind_is_located(spoiled):
    spoiled.setting("roof imposed load", 20, unit="kg")
    (line,) = problems(spoiled)
    assert line.startswith("heron_bank.xlsx House!C")
    assert "unit 'kg' is not a kind of" in line


def typed_in_imperial(spoiled):
    """The rafters of the demo as a yard in the United States would type them: psi, inches, psf."""

    def change(book: openpyxl.Workbook) -> None:
        sheet = book["Timber grades"]
        rows = list(sheet.iter_rows())
        header = next(i for i, row in enumerate(rows) if row[0].value == "Material")
        titles = [cell.value for cell in rows[header]]
        row = next(r for r in rows[header + 1 :] if r[0].value == "Softwood rafters, structural")
        values = {
            "Grade": "No.2",
            "Depths": "5.5; 7.25; 9.25",
            "Thicknesses": "1.5",
            "Bending": "900 psi",
            "Shear": "180 psi",
            "Bearing": "625 psi",
            "Elasticity": "1600000 psi",
            "Size factor": 1.2,
        }
        for title, value in values.items():
            row[titles.index(title)].value = value
        for title in ("Depths", "Thicknesses"):
            # the unit of the column stands in the row below the heading
            rows[header + 1][titles.index(title)].value = "in"
        for other in rows[header + 2 :]:
            if other[0].value not in (None, "Softwood rafters, structural"):
                other[titles.index("Depths")].value = "4; 6; 8; 10"
                other[titles.index("Thicknesses")].value = "1.5"

    spoiled.edit(change, factors=True)


def test_grades_and_loads_may_be_imperial(spoiled):
    """2x8 Douglas fir-larch No.2, rafter at 12 in, 20 psf and 10 psf, span / 240: 20-5 in the building code of 2018."""
    typed_in_imperial(spoiled)
    spoiled.setting("roof dead load", 10)
    spoiled.setting("roof dead load", unit="psf")
    spoiled.setting("roof imposed load", 20)
    spoiled.setting("roof imposed load", unit="psf")
    job = read_job(spoiled.house)
    house = job.design.house
    assert house.roof_dead == pytest.approx(10 * PSF, rel=1e-6)
    assert house.roof_imposed == pytest.approx(20 * PSF, rel=1e-6)
    grade = next(g for g in job.library.grades if g.material == "Softwood rafters, structural")
    assert grade.depths == pytest.approx((5.5 * INCH, 7.25 * INCH, 9.25 * INCH))
    assert (grade.bending, grade.elasticity) == pytest.approx((900 * PSI, 1.6e6 * PSI), rel=1e-6)
    from takeoff.model.timber import LoadCase

    cases = [
        LoadCase(
            member="rafter",
            case="all",
            kind="strength",
            dead=1,
            imposed=1,
            duration=1.25,
            load_sharing=1.15,
        ),
        LoadCase(member="rafter", case="imposed", kind="deflection", dead=0, imposed=1, limit=240),
    ]
    section = Section(depth=grade.depths[1], thickness=grade.thicknesses[0])
    spacing = 12 * INCH
    span = greatest_span(
        section, grade, cases, dead=house.roof_dead * spacing, imposed=house.roof_imposed * spacing
    )
    assert (span.of, round(span.span / INCH)) == ("deflection", 20 * 12 + 5)


def test_the_air_gap_level_comes_through(spoiled):
    spoiled.setting("air gap level", 1, sheet="Fabric")
    job = read_job(spoiled.house)
    plain = evaluate(job, job.base, planned=False).fabric.u_value("external walls")
    spoiled.setting("air gap level", 0, sheet="Fabric")
    job = read_job(spoiled.house)
    assert plain > evaluate(job, job.base, planned=False).fabric.u_value("external walls")


def test_targets_and_limits_are_read_with_their_units(job):
    read = (job.fabric.target_walls, job.fabric.heat_loss_limit, job.fabric.degree_days)
    assert read == pytest.approx((0.24, 1.02, 1800))


def test_without_any_of_the_sheets_the_house_is_still_evaluated(spoiled):
    def drop(book: openpyxl.Workbook) -> None:
        for title in ("Thermal resistances", "Timber grades", "Load cases"):
            del book[title]

    spoiled.edit(drop, factors=True)
    spoiled.edit(lambda book: book.remove(book["Fabric"]))
    job = read_job(spoiled.house)
    result = evaluate(job, job.base, planned=False)
    assert result.fabric.transmission is None
    assert {member.check.reason for member in result.members} == {"no load case is stated for it"}


def test_every_row_of_the_new_sheets_names_its_source(job):
    rows = (*job.library.resistances, *job.library.grades, *job.library.load_cases)
    assert rows
    for row in rows:
        assert row.source in job.library.sources
        assert row.standing
    for material in job.library.materials.values():
        if material.conductivity is not None or material.u_value is not None:
            assert material.source in job.library.sources
            assert material.standing
