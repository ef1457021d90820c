"""The drawings of the report, all of the base."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings import (
    Drawing,
    axonometric,
    build_up_details,
    common_scale,
    elevation,
    frame_ceiling_plans,
    frame_elevations,
    frame_floor_plan,
    frame_roof_plan,
    plan,
    section,
)
from takeoff.measure.floor_areas import cladding_depths
from takeoff.measure.walls import wall_inset
from takeoff.model.house import SIDES
from takeoff.model.job import Job
from takeoff.model.library import Library


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportDrawings:
    """Every drawing of the report, and the name of the palette that the elevations show."""

    plan: Drawing
    elevations: tuple[Drawing, ...]
    palette: str
    section: Drawing
    axonometric: Drawing
    framing: tuple[Drawing, ...]
    build_ups: tuple[Drawing, ...]


def report_drawings(job: Job, base: Result, *, paper_width_mm: float) -> ReportDrawings:
    """Return the drawings of an option for the given width of paper [mm]."""
    design, library, name = base.design, job.library, job.project.name
    scale = common_scale(design, paper_width_mm=paper_width_mm)
    return ReportDrawings(
        plan=plan(
            design,
            library,
            wall_thickness_in=wall_inset(design, library),
            cladding_thickness=cladding_depths(design, library),
            paper_width_mm=paper_width_mm,
            id_prefix="plan",
            name=name,
            inside=base.measured.inside,
        ),
        elevations=tuple(
            elevation(
                design,
                library,
                side,
                paper_width_mm=paper_width_mm,
                id_prefix=f"elevation-{side}",
                name=name,
                scale=scale,
                floor=base.measured.floor_frame,
            )
            for side in SIDES
        ),
        palette=design.palette.name,
        section=section(base, library, paper_width_mm=paper_width_mm, id_prefix="section", name=name),
        axonometric=axonometric(base, paper_width_mm=paper_width_mm, id_prefix="axonometric", name=name),
        framing=_framing(base, library, name, paper_width_mm),
        build_ups=tuple(build_up_details(job, base, paper_width_mm=paper_width_mm, id_prefix="build-up")),
    )


def _framing(base: Result, library: Library, name: str, paper_width_mm: float) -> tuple[Drawing, ...]:
    """Return the framing of roof, suspended floor, flat ceilings and every wall."""
    floor = frame_floor_plan(base, paper_width_mm=paper_width_mm, id_prefix="floor-framing", name=name)
    return (
        frame_roof_plan(base, library, paper_width_mm=paper_width_mm, id_prefix="roof-framing", name=name),
        *(() if floor is None else (floor,)),
        *frame_ceiling_plans(
            base, library, paper_width_mm=paper_width_mm, id_prefix="ceiling-framing", name=name
        ),
        *frame_elevations(base, paper_width_mm=paper_width_mm, id_prefix="wall-framing", name=name),
    )
