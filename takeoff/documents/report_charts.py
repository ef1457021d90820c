"""The charts of cost and carbon by option in the report, each with the table of its figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.chart_tables import parts_table, points_table
from takeoff.documents.charts import PARTS, by_part, scatter, stacked_bars, undominated
from takeoff.documents.drawings import Picture
from takeoff.documents.report_tables import ReportTable
from takeoff.documents.wording import number


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A chart with the table of its figures."""

    picture: Picture
    table: ReportTable

    @property
    def title(self) -> str:
        """The title of the picture."""
        return self.picture.title


def tenths(value: float) -> str:
    """Return a figure of a chart with one decimal."""
    return number(value, 1)


def cost_by_element(results: Sequence[Result], currency: str, *, paper_width_mm: float) -> Chart:
    """Return the cost of works and sums of every option, stacked by element."""
    rows = [
        (r.option.name, by_part({name: t.cost / 1000 for name, t in r.by_element.items()})) for r in results
    ]
    parts, base = parts_of(results), results[0].option.name
    return Chart(
        picture=stacked_bars(
            title=f"Works and sums by element, thousand {currency}",
            desc="Cost of the measured works and allowances of each option, stacked by element.",
            unit_label=f"works and sums before the percentages of the cost ladder, thousand {currency}",
            rows=rows,
            parts=parts,
            number_format=tenths,
            chosen=base,
            paper_width_mm=paper_width_mm,
            id_prefix="cost-bars",
        ),
        table=parts_table(
            id="cost-bars-table",
            caption="Works and sums by element",
            unit=f"thousand {currency}",
            rows=rows,
            parts=parts,
            number_format=tenths,
            chosen=base,
        ),
    )


def carbon_by_element(results: Sequence[Result], *, paper_width_mm: float) -> Chart:
    """Return the upfront carbon of every option, stacked by element."""
    rows = [
        (r.option.name, by_part({name: t.upfront / 1000 for name, t in r.by_element.items()}))
        for r in results
    ]
    parts, base = parts_of(results), results[0].option.name
    return Chart(
        picture=stacked_bars(
            title="Upfront carbon A1-A5 by element, tCO₂e",
            desc="Upfront carbon of each option, stacked by element.",
            unit_label="upfront carbon A1-A5, tCO₂e",
            rows=rows,
            parts=parts,
            number_format=tenths,
            chosen=base,
            paper_width_mm=paper_width_mm,
            id_prefix="carbon-bars",
        ),
        table=parts_table(
            id="carbon-bars-table",
            caption="Upfront carbon A1-A5 by element, of what is assessed",
            unit="tCO₂e",
            rows=rows,
            parts=parts,
            number_format=tenths,
            chosen=base,
        ),
    )


def parts_of(results: Sequence[Result]) -> list[str]:
    """Return the parts that cost and carbon of any option have: the same in both charts."""
    found = {
        part
        for result in results
        for amount in ("cost", "upfront")
        for part, value in by_part({n: getattr(t, amount) for n, t in result.by_element.items()}).items()
        if value
    }
    return [part for part in PARTS if part in found]


def cost_against_carbon(results: Sequence[Result], currency: str, *, paper_width_mm: float) -> Chart:
    """Return every option by its total cost and its upfront carbon; those that no other beats in both are joined."""
    points = [(r.option.name, r.ladder.total_inc_tax / 1000, r.totals.upfront / 1000) for r in results]
    base = results[0].option.name
    return Chart(
        picture=scatter(
            title="Cost against upfront carbon",
            desc="Each option by its total cost and its upfront carbon; those that no other beats in both are "
            "joined.",
            points=points,
            x_label=f"cost including tax, thousand {currency}",
            y_label="upfront carbon A1-A5, tCO₂e",
            x_format=number,
            y_format=tenths,
            chosen=base,
            paper_width_mm=paper_width_mm,
            id_prefix="scatter",
        ),
        table=points_table(
            id="scatter-table",
            caption="Cost against upfront carbon",
            points=points,
            x_title="Cost inc tax",
            x_unit=f"thousand {currency}",
            y_title="Upfront carbon",
            y_unit="tCO₂e",
            x_format=tenths,
            y_format=lambda value: number(value, 2),
            undominated=[points[index][0] for index in undominated(points)],
            chosen=base,
        ),
    )
