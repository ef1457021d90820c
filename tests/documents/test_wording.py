"""Figures as text."""

from __future__ import annotations

import pytest

from takeoff.documents.quantities_csv import as_text
from takeoff.documents.wording import (
    assessed,
    change,
    figure,
    figure_change,
    number,
    percent,
    quantity,
    to_nearest,
)

THIN = "\u202f"


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (1234567.8, 0, f"1{THIN}234{THIN}568"),
        (-8531.6, 0, f"\u22128{THIN}532"),
        (-0.2, 0, "0"),
        (0.05, 1, "0.1"),
        (999, 0, "999"),
    ],
)
def test_numbers(value, places, text):
    assert number(value, places) == text


@pytest.mark.parametrize(("value", "text"), [(12.0, "+12"), (-12.0, "\u221212"), (0.3, "0"), (-0.3, "0")])
def test_differences_carry_their_sign(value, text):
    assert change(value) == text


def test_figures_are_rounded_as_their_unit_asks():
    assert figure(0.2749, "share") == "27.5 %"
    assert figure_change(-0.078, "share") == "\u22127.8"
    assert figure(6.5404, "m3") == "6.54"
    assert quantity(12.345, "m2") == "12.3"
    assert percent(0.5, 0) == "50 %"
    assert to_nearest(1000)(258_425) == 258_000


def test_not_assessed_is_not_nothing():
    assert assessed(None) == "not assessed"
    assert assessed(0.0) == "0"


@pytest.mark.parametrize(
    ("text", "shown"),
    [("=SUM(A1)", "'=SUM(A1)"), ("+1", "'+1"), ("-x", "'-x"), ("@a", "'@a"), ("a=b", "a=b")],
)
def test_a_text_like_a_formula_is_quoted_off(text, shown):
    assert as_text(text) == shown
