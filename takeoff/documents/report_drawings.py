"""The drawings of the report: those of the base, and palettes beside each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings import Drawing, common_scale, elevation, plan
from takeoff.measure.floor_areas import cladding_depths
from takeoff.measure.walls import wall_inset
from takeoff.model.house import SIDES
from takeoff.model.job import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportDrawings:
    """Every drawing of the report, and the name of the palette that the elevations show."""

    plan: Drawing
    elevations: tuple[Drawing, ...]
    palette: str


def report_drawings(job: Job, results: Sequence[Result], *, paper_width_mm: float) -> ReportDrawings:
    """Return the drawings of the base."""
    base, library, name = results[0], job.library, job.project.name
    design = base.design
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
            )
            for side in SIDES
        ),
        palette=design.palette.name,
    )
