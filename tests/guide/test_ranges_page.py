"""The page on ranges: its figures are those of the demo, its sums come out, its kinds are those of the code."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.compare.uncertainty import Uncertainty, draw
from takeoff.compare.uncertainty.pedigree import BASIC, sigma_of, variance_of_log
from takeoff.compare.uncertainty.tornado import MOST
from takeoff.documents.range_tables import FIGURE_WORDS, differences_table, shown_figures, unit_of
from takeoff.guide import page_text
from takeoff.model.life_cycle import SPREADS_OF, Scores
from takeoff.workbook.carbon_factors_sheet import SCORES

P90 = NormalDist().inv_cdf(0.9)


@pytest.fixture(scope="module")
def ranges(job, base, all_timber) -> Uncertainty:
    """Two options are enough: the draws of an option don't depend on which others there are."""
    return draw(job, [base, all_timber, evaluate(job, job.option("Plant-fibre insulation"))])


def plain(text: str) -> str:
    """Return text of a document in the signs of the guide."""
    return text.replace("\u2212", "-").replace("\u202f", ",").replace("₂", "2")


def test_spreads_are_those_of_a_new_workbook(job, table_headed):
    rows = table_headed("ranges", "of", "name", "new workbook")
    assert [row[0] for row in rows] == list(SPREADS_OF)
    known = {
        (of, name): f"{name} {s.low * 100:.0f} to {s.high * 100:.0f} %"
        for (of, name), s in job.library.spreads.items()
    }
    for of, _, shown in rows:
        here = {name: words for (kind, name), words in known.items() if kind == of}
        if of == "quantity":
            ends = (
                min(here, key=lambda name: width(job, name)),
                max(here, key=lambda name: width(job, name)),
            )
            assert shown == f"from {here[ends[0]]} to {here[ends[1]]}, invented"
        else:
            assert shown == ", ".join(here.values())


def width(job, name: str) -> float:
    """Return how wide the spread of quantities of a class is."""
    spread = job.library.spreads["quantity", name]
    return spread.high - spread.low


def test_every_kind_of_spread_stands_among_the_inputs(table_headed):
    named = " ".join(cell for row in table_headed("ranges", "input", "range from") for cell in row)
    assert [of for of in SPREADS_OF if of != "end of life" and f"spread `{of}`" not in named] == []
    assert "spread `end of life`" in named


def test_scores_mean_what_their_columns_say(table_headed):
    assert table_headed("ranges", "score", "meaning") == [[title, words] for _, title, words in SCORES]


def test_variances_are_those_that_scores_are_given(table_headed):
    """Each score by itself, the others being best."""
    best = [1] * len(SCORES)
    for place, (title, *cells) in enumerate(table_headed("ranges", "variance")):
        assert title == SCORES[place][1]
        for score, cell in enumerate(cells, start=1):
            scores = Scores(*(score if index == place else one for index, one in enumerate(best)))
            assert variance_of_log(scores) - BASIC == pytest.approx(float(cell), abs=1e-12)


def test_the_example_of_scores_comes_out(table_headed, amount, holds):
    rows = table_headed("ranges", "what", "sum")
    for _, sum_text, result in rows:
        assert holds(sum_text, result), sum_text
    scores = Scores(2, 2, 3, 3, 3)
    sigma = sigma_of(scores)
    expected = (variance_of_log(scores), sigma, math.exp(-P90 * sigma), math.exp(P90 * sigma))
    assert [amount(row[2]) for row in rows] == [
        round(e, p) for e, p in zip(expected, (4, 4, 3, 3), strict=True)
    ]


def test_the_example_of_drawing_once_comes_out(table_headed, amount, holds):
    """A difference of independent normal variables is normal, its variance the sum of theirs; textbook."""
    once, apart = table_headed("ranges", "the difference, 1.8 t")
    for cell in (*once[1:], *apart[1:]):
        assert holds(*cell.split("=")), cell
    claddings = (0.2 * 1.2) ** 2 + (0.2 * 3.0) ** 2
    for (_, *cells), variance in ((once, claddings), (apart, claddings + 2 * (0.15 * 9) ** 2)):
        difference = NormalDist(3.0 - 1.2, math.sqrt(variance))
        ends = (difference.inv_cdf(0.1), difference.inv_cdf(0.9))
        assert [amount(cell) for cell in cells] == [
            round(difference.stdev, 3),
            *(round(end, 1) for end in ends),
        ]


def test_the_differences_shown_are_those_of_the_demo(job, ranges, table_headed):
    table = differences_table(ranges, job.project.currency)
    assert table is not None
    known, option = [], ""
    for row in table.rows:
        option = row.cells[0] or option
        known.append([option, *(plain(cell) for cell in row.cells[1:])])
    rows = table_headed("ranges", "option", "figure")
    assert rows
    assert [row for row in rows if row not in known] == []


def test_the_ranges_shown_are_those_of_the_demo(job, ranges, table_headed):
    figures = ranges.option(job.base.name).figures
    expected = [
        [
            plain(f"{FIGURE_WORDS[key]}, {unit_of(key, job.project.currency)}"),
            *(
                f"{value / 1000:,.1f}"
                for value in (figures[key].central, figures[key].p10, figures[key].p50, figures[key].p90)
            ),
        ]
        for key in shown_figures()
    ]
    assert table_headed("ranges", "figure of Heron Bank") == expected


def test_the_inputs_that_matter_most_are_those_of_the_demo(ranges, table_headed):
    most = ranges.base_tornado["upfront_kgco2e"]
    rows = table_headed("ranges", "input", "with its P10, tCO2e")
    assert rows == [
        [i.source.label, f"{i.at_low / 1000:.2f}", f"{i.at_high / 1000:.2f}", f"{i.rank_correlation:+.2f}"]
        for i in most[: len(rows)]
    ]
    assert len(most) == MOST == 8
    assert "the eight largest swings" in page_text("ranges")
