"""Widths of columns on paper, as CSS 2.1, 17.5.2.2 suggests them, of texts as fontTools measures them."""

from __future__ import annotations

import font_source_sans_pro
import pytest
from fontTools.ttLib import TTFont

from takeoff.documents.column_widths import (
    AFTER_FIGURES,
    BETWEEN,
    LONG_TEXT,
    UPRIGHT,
    WIDE,
    ColumnTexts,
    column_shares,
)
from takeoff.documents.report_tables import Column, ReportTable, Row


@pytest.fixture(scope="module")
def em():
    font = TTFont(font_source_sans_pro.font_files_ttf["SourceSansProSemibold"])
    glyphs, metrics, size = font.getBestCmap(), font["hmtx"].metrics, font["head"].unitsPerEm
    return lambda text: sum(metrics[glyphs[ord(sign)]][0] for sign in text) / size


def words(*cells: str, title: str = "") -> ColumnTexts:
    return ColumnTexts(title, "", cells, figures=False)


def figures(*cells: str, title: str = "", unit: str = "") -> ColumnTexts:
    return ColumnTexts(title, unit, cells, figures=True)


def test_columns_that_fit_are_as_wide_as_their_longest_cells(em):
    shares = column_shares([words("low wall", "roof"), figures("41.3", "1 041.3")], 60)
    wide, narrow = em("low wall") + BETWEEN, em("1 041.3") + BETWEEN
    assert shares == pytest.approx([100 * wide / (wide + narrow), 100 * narrow / (wide + narrow)], abs=0.06)


def test_a_long_text_takes_what_figures_leave(em):
    long = "a softwood rail under every window " * 8
    shares = column_shares([words(long.strip()), figures("12 345.6")], 40)
    assert shares[1] == pytest.approx(100 * (em("12 345.6") + BETWEEN) / 40, abs=0.06)
    assert sum(shares) == pytest.approx(100, abs=0.11)


def test_two_long_texts_share_by_what_each_would_take(em):
    one, other = "oak " * 100, "oak " * 50
    shares = column_shares([words(one.strip()), words(other.strip())], 80)
    wishes = [em(text.strip()) + BETWEEN - LONG_TEXT for text in (one, other)]
    assert shares[0] == pytest.approx(
        100 * (LONG_TEXT + (80 - 2 * LONG_TEXT) * wishes[0] / sum(wishes)) / 80, abs=0.06
    )


def test_one_long_text_leaves_the_others_what_they_need(em):
    long, short = ("oak " * 200).strip(), "rigid lorry, all sizes"
    shares = column_shares([words(long), words(short)], 60)
    assert shares[1] == pytest.approx(100 * (em(short) + BETWEEN) / 60, abs=0.06)


def test_no_word_and_no_figure_is_cut_where_there_is_too_little_room(em):
    texts = [words("unbreakable"), words("", title="Conductivity"), figures("1 234 567 890")]
    shares = column_shares(texts, 5)
    least = [em(text) + BETWEEN for text in ("unbreakable", "Conductivity", "1 234 567 890")]
    assert shares == pytest.approx([100 * one / sum(least) for one in least], abs=0.06)


def test_words_keep_their_distance_from_figures_before_them(em):
    shares = column_shares([figures("12.5"), words("read")], 1)
    first, second = em("12.5") + BETWEEN, em("read") + AFTER_FIGURES
    assert shares[0] == pytest.approx(100 * first / (first + second), abs=0.06)


def test_a_space_that_does_not_break_keeps_a_word_together(em):
    broken, kept = (column_shares([words(text), words("x")], 1)[0] for text in ("25 MPa", "25\u00a0MPa"))
    assert kept > broken


def test_a_title_of_figures_may_take_two_lines(em):
    title = "Upfront carbon of all together"
    shares = column_shares([figures("1", title=title), figures("1 234 567", unit="kgCO₂e")], 60)
    first, second = em(title) / 2 + BETWEEN, em("1 234 567") + BETWEEN
    assert shares[0] == pytest.approx(100 * first / (first + second), abs=0.06)


def test_a_table_has_more_room_on_a_sheet_that_lies(em):
    long = ("oak " * 200).strip()
    table = ReportTable(
        caption="Woods",
        columns=(Column(title="Wood", figures=False), Column(title="Density")),
        rows=(Row(cells=(long, "12 345.6")),),
    )
    for lies, width in ((False, UPRIGHT), (True, WIDE)):
        assert table.shares(lies)[1] == pytest.approx(100 * (em("12 345.6") + BETWEEN) / width, abs=0.06)
