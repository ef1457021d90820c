"""The figures of the charts as tables, for whoever can't see them or wants to read them off."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from takeoff.documents.charts import ModuleRow, TornadoInput, WhiskerRow
from takeoff.documents.report_tables import Column, ReportTable, Row
from takeoff.documents.wording import change

Format = Callable[[float], str]
# Courses over the years are told at these steps, and at their last year.
_EVERY = 10


def parts_table(
    *,
    id: str,
    caption: str,
    unit: str,
    rows: Sequence[tuple[str, Mapping[str, float]]],
    parts: Sequence[str],
    number_format: Format,
    chosen: str,
    sum_title: str = "together",
) -> ReportTable:
    """Return options with the parts their bars are stacked of, and the sum of all parts."""
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Option", figures=False),
            *(Column(title=part, unit=unit) for part in parts),
            Column(title=sum_title, unit=unit),
        ),
        rows=tuple(
            Row(
                cells=(
                    name,
                    *(number_format(values.get(part, 0.0)) for part in parts),
                    number_format(sum(values.values())),
                ),
                chosen=name == chosen,
            )
            for name, values in rows
        ),
    )


def modules_chart_table(
    *,
    id: str,
    caption: str,
    unit: str,
    rows: Sequence[ModuleRow],
    groups: Sequence[str],
    number_format: Format,
    chosen: str,
) -> ReportTable:
    """Return options with their carbon by group of modules, their sum, and stored carbon apart."""
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Option", figures=False),
            *(Column(title=group, unit=unit) for group in groups),
            Column(title="together", unit=unit),
            Column(title="stored, apart", unit="tCO₂"),
        ),
        rows=tuple(
            Row(
                cells=(
                    row.name,
                    *(number_format(row.modules.get(group, 0.0)) for group in groups),
                    number_format(sum(row.modules.values())),
                    number_format(row.stored),
                ),
                chosen=row.name == chosen,
            )
            for row in rows
        ),
    )


def courses_table(
    *,
    id: str,
    caption: str,
    unit: str,
    courses: Sequence[tuple[str, Mapping[int, float]]],
    period: int,
    number_format: Format,
    chosen: str,
) -> ReportTable:
    """Return what options come to so far, every ten years and in the last year; that year is counted in."""
    years = [*range(0, period, _EVERY), period]
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Option", figures=False),
            *(Column(title=f"year {year}", unit=unit) for year in years),
        ),
        rows=tuple(
            Row(
                cells=(name, *(number_format(_so_far(course, year)) for year in years)), chosen=name == chosen
            )
            for name, course in courses
        ),
    )


def _so_far(course: Mapping[int, float], year: int) -> float:
    """Return the value of a course in a year: that of the last year before it where it has none of its own."""
    at = max((each for each in course if each <= year), default=None)
    return 0.0 if at is None else course[at]


def tornado_table(
    *, id: str, caption: str, unit: str, inputs: Sequence[TornadoInput], number_format: Format
) -> ReportTable:
    """Return the inputs that move a figure most: their ends, what it comes to at each, the rank correlation."""
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Input", figures=False),
            Column(title="Low end"),
            Column(title="Figure at low end", unit=unit),
            Column(title="High end"),
            Column(title="Figure at high end", unit=unit),
            Column(title="Rank correlation"),
        ),
        rows=tuple(
            Row(
                cells=(
                    each.name,
                    each.low_words,
                    number_format(each.at_low),
                    each.high_words,
                    number_format(each.at_high),
                    "" if each.correlation is None else change(each.correlation, 2),
                )
            )
            for each in inputs
        ),
    )


def whiskers_table(
    *, id: str, caption: str, unit: str, rows: Sequence[WhiskerRow], number_format: Format, chosen: str | None
) -> ReportTable:
    """Return options with the value and the range of their bars."""
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Option", figures=False),
            *(Column(title=title, unit=unit) for title in ("Central", "P10", "P90")),
        ),
        rows=tuple(
            Row(
                cells=(row.name, *(number_format(value) for value in (row.value, row.low, row.high))),
                chosen=row.name == chosen,
            )
            for row in rows
        ),
    )


def points_table(
    *,
    id: str,
    caption: str,
    points: Sequence[tuple[str, float, float]],
    x_title: str,
    x_unit: str,
    y_title: str,
    y_unit: str,
    x_format: Format,
    y_format: Format,
    undominated: Sequence[str],
    chosen: str,
) -> ReportTable:
    """Return options with both figures of a scatter, and which no other beats in both."""
    return ReportTable(
        id=id,
        caption=caption,
        columns=(
            Column(title="Option", figures=False),
            Column(title=x_title, unit=x_unit),
            Column(title=y_title, unit=y_unit),
            Column(title="Beaten in both", figures=False),
        ),
        rows=tuple(
            Row(
                cells=(name, x_format(x), y_format(y), "by none" if name in undominated else "by another"),
                chosen=name == chosen,
            )
            for name, x, y in points
        ),
    )
