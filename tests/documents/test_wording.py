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
    unit_text,
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


@pytest.mark.parametrize(
    ("unit", "currency", "text"),
    [
        ("m2", "", "m²"),
        ("m3", "", "m³"),
        ("kgCO2e/m2", "", "kgCO₂e/m²"),
        ("currency/m2", "AUD", "AUD/m²"),
        ("share", "", "%"),
        ("m", "", "m"),
    ],
)
def test_units_as_printed(unit, currency, text):
    assert unit_text(unit, currency) == text


def test_what_rounds_to_nothing_has_no_sign():
    assert number(-0.04, 1) == "0.0"
    assert change(-0.04, 1) == "0.0"
    assert figure_change(0.0004, "share") == "0.0"
    assert quantity(-0.0001, "m3") == "0.00"


def test_numbers_and_other_things_are_left_as_they_are_in_the_csv():
    assert as_text(-1.5) == -1.5
    assert as_text("") == ""
    assert as_text(None) is None
