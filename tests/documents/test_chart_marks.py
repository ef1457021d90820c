"""Marks of charts say their name, their figure and what it is; the pointer finds them, print shows nothing of it."""

from __future__ import annotations

import re
from html import unescape

from takeoff.documents.charts import over_time, scatter, stacked_bars
from takeoff.documents.charts.waterfall import WaterfallStep, waterfall


def said(svg: str) -> list[str]:
    """Return what the marks of a chart say, in their order; the title of the chart itself has an id."""
    return [unescape(words) for words in re.findall(r"<title>([^<]*)</title>", svg)]


def tenths(value: float) -> str:
    return f"{value:.1f}"


def test_a_part_of_a_bar_says_option_part_and_figure():
    picture = stacked_bars(
        title="Carbon",
        desc="Carbon of two options.",
        unit_label="carbon, t",
        rows=[("Base", {"roof": 1.25, "other": 0.5}), ("Brick & <block>", {"roof": 2.0})],
        parts=["roof", "other"],
        number_format=tenths,
        chosen="Base",
        paper_width_mm=180,
        id_prefix="c",
    )
    assert said(picture.svg) == [
        "Base, roof: 1.2\ncarbon, t",
        "Base, other: 0.5\ncarbon, t",
        "Brick & <block>, roof: 2.0\ncarbon, t",
    ]


def test_a_point_says_both_its_measures():
    picture = scatter(
        title="Cost against carbon",
        desc="Options.",
        points=[("Base", 300.0, 16.4), ("Steel", 310.0, 15.0)],
        x_label="cost, thousand",
        y_label="carbon, t",
        x_format=lambda value: f"{value:.0f}",
        y_format=tenths,
        chosen="Base",
        paper_width_mm=180,
        id_prefix="s",
    )
    assert said(picture.svg) == [
        "Base\n300: cost, thousand\n16.4: carbon, t",
        "Steel\n310: cost, thousand\n15.0: carbon, t",
    ]


def test_a_line_says_its_value_every_ten_years_and_at_the_end():
    picture = over_time(
        title="Carbon so far",
        desc="One option.",
        unit_label="carbon so far, t",
        courses=[("Base", {0: 10.0, 10: 12.0, 15: 13.0, 25: 20.0})],
        period=25,
        number_format=tenths,
        chosen=None,
        paper_width_mm=180,
        id_prefix="t",
    )
    # what a year brings is in its value: 12 from year 10 on, 13 from year 15 on
    assert [words.split("\n")[0] for words in said(picture.svg)] == [
        "Base, after year 25: 20.0",
        "Base, year 0: 10.0",
        "Base, year 10: 12.0",
        "Base, year 20: 13.0",
        "Base, year 25: 20.0",
    ]


def test_a_step_of_a_waterfall_says_its_change_and_what_there_is_after_it():
    picture = waterfall(
        title="Savings",
        desc="Two steps.",
        unit_label="cost, change in thousand",
        base_name="Base",
        base_value=100.0,
        steps=[
            WaterfallStep(name="Studs", change=-2.0, after=100.0 - 2.0),
            WaterfallStep(name="Pitch", change=-3.0, after=100.0 - 2.0 - 3.0),
        ],
        total_name="All",
        change_format=lambda value: f"{value:+.1f}",
        value_format=tenths,
        value_heading="cost",
        paper_width_mm=180,
        id_prefix="w",
    )
    assert [words.split("\n")[0] for words in said(picture.svg)] == [
        "Base: 100.0",
        "Studs: -2.0, then 98.0",
        "Pitch: -3.0, then 95.0",
        "All: -5.0, then 95.0",
    ]
