"""The palettes of a job beside each other: tinted elevations by upfront carbon and by cost, and their table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.by_side import palettes_of
from takeoff.compare.evaluate import Result
from takeoff.documents.charts import tinted_elevations
from takeoff.documents.drawings import Drawing
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import NOT_ASSESSED, number
from takeoff.model.geometry import compass_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Palettes:
    """Tinted elevations with the table of their figures."""

    drawings: tuple[Drawing, ...]
    table: ReportTable


def palettes_shown(results: Sequence[Result], currency: str, *, paper_width_mm: float) -> Palettes:
    """Return the palettes of all options, that of the base first."""
    palettes = palettes_of(results)
    rows = [
        Row(
            cells=(
                palette.palette if place == 0 else "",
                f"{side.side}, {compass_of(palette.result.design.house, side.side)}",
                " and ".join(dict.fromkeys(side.claddings)),
                number(side.area, 1),
                number(side.cost),
                NOT_ASSESSED if side.upfront is None else number(side.upfront, 1),
            )
        )
        for palette in palettes
        for place, side in enumerate(palette.sides)
    ]
    unit = f"{currency}/m²"
    return Palettes(
        drawings=(
            tinted_elevations(
                palettes,
                figure=lambda side: side.upfront,
                title="Upfront carbon of the cladding by elevation, kgCO₂e/m²",
                unit="Upfront carbon A1-A5 of the cladding, kgCO₂e for one m² of it",
                number_format=lambda value: number(value, 1),
                paper_width_mm=paper_width_mm,
                id_prefix="palettes-carbon",
            ),
            tinted_elevations(
                palettes,
                figure=lambda side: side.cost,
                title=f"Cost of the cladding by elevation, {unit}",
                unit=f"Works before the cost ladder, {currency} for one m² of cladding",
                number_format=number,
                paper_width_mm=paper_width_mm,
                id_prefix="palettes-cost",
            ),
        ),
        table=ReportTable(
            id="palettes-table",
            caption="Palettes by elevation",
            columns=(
                Column(title="Palette", figures=False),
                Column(title="Side", figures=False),
                Column(title="Cladding", figures=False),
                Column(title="Face less openings", unit="m²"),
                Column(title="Cost", unit=unit),
                Column(title="Upfront carbon", unit="kgCO₂e/m²"),
            ),
            rows=tuple(rows),
            note="Cladding with its battens, fixings and trims, as the first option with the palette builds it. Upkeep "
            "by exposure stands under “Carbon and upkeep in figures”.",
        ),
    )
