"""The tables of charts: each figure in its own column, of the row and the year that it belongs to."""

from __future__ import annotations

from takeoff.documents.chart_tables import (
    courses_table,
    modules_chart_table,
    parts_table,
    tornado_table,
    whiskers_table,
)
from takeoff.documents.charts import ModuleRow, TornadoInput, WhiskerRow
from takeoff.documents.report_tables import ReportTable
from takeoff.documents.wording import number


def cells(table: ReportTable) -> list[tuple[str, ...]]:
    return [row.cells for row in table.rows]


def titles(table: ReportTable) -> list[str]:
    return [column.title for column in table.columns]


def test_a_course_has_what_it_comes_to_in_a_year_that_year_counted_in():
    # 16 at first, 18 from year 20 on, 21 from year 25 on
    table = courses_table(
        id="t",
        caption="Carbon so far",
        unit="tCO₂e",
        courses=[("Base", {0: 16.0, 20: 18.0, 25: 21.0}), ("Late", {5: 1.0})],
        period=35,
        number_format=number,
        chosen="Base",
    )
    assert titles(table) == ["Option", "year 0", "year 10", "year 20", "year 30", "year 35"]
    assert cells(table) == [("Base", "16", "16", "18", "21", "21"), ("Late", "0", "1", "1", "1", "1")]
    assert [row.chosen for row in table.rows] == [True, False]


def test_an_input_stands_with_each_end_and_the_figure_at_it():
    table = tornado_table(
        id="t",
        caption="What matters",
        unit="tCO₂e",
        inputs=[
            TornadoInput(
                name="cement",
                low_words="0.5 kg",
                high_words="0.9 kg",
                at_low=11.0,
                at_high=17.0,
                correlation=0.5,
            ),
            TornadoInput(name="sand", low_words="1", high_words="2", at_low=12.0, at_high=13.0),
        ],
        number_format=number,
    )
    assert titles(table)[1:5] == ["Low end", "Figure at low end", "High end", "Figure at high end"]
    assert cells(table) == [
        ("cement", "0.5 kg", "11", "0.9 kg", "17", "+0.50"),
        ("sand", "1", "12", "2", "13", ""),
    ]


def test_whiskers_have_their_value_before_both_ends():
    table = whiskers_table(
        id="t",
        caption="Beside others",
        unit="kg",
        rows=[WhiskerRow(name="Base", value=5.0, low=3.0, high=8.0)],
        number_format=number,
        chosen=None,
    )
    assert titles(table) == ["Option", "Central", "P10", "P90"]
    assert cells(table) == [("Base", "5", "3", "8")]


def test_stored_carbon_stands_beside_the_sum_of_the_modules_and_not_in_it():
    table = modules_chart_table(
        id="t",
        caption="By module",
        unit="tCO₂e",
        rows=[ModuleRow(name="Base", modules={"A1-A3": 10.0, "C1-C4": 4.0}, stored=-7.0)],
        groups=["A1-A3", "B2-B4", "C1-C4"],
        number_format=number,
        chosen="Base",
    )
    assert titles(table) == ["Option", "A1-A3", "B2-B4", "C1-C4", "together", "stored, apart"]
    # 10 + 4 = 14
    assert cells(table) == [("Base", "10", "0", "4", "14", "−7")]


def test_parts_stand_in_the_order_of_the_chart_with_their_sum():
    table = parts_table(
        id="t",
        caption="By element",
        unit="thousand AUD",
        rows=[("Base", {"roof": 3.0, "substructure": 2.0})],
        parts=["substructure", "roof"],
        number_format=number,
        chosen="Base",
    )
    assert titles(table) == ["Option", "substructure", "roof", "together"]
    assert cells(table) == [("Base", "2", "3", "5")]
