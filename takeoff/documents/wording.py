"""Figures as text: one place for every rounding in the documents."""

from __future__ import annotations

import math
from collections.abc import Callable

MINUS = "\u2212"
NOT_ASSESSED = "not assessed"
NOT_KNOWN = "not known"


def _signed(text: str) -> str:
    """Return a number's text with a true minus sign, and no minus before nothing."""
    if text.startswith("-"):
        return text[1:] if not any(c in "123456789" for c in text) else MINUS + text[1:]
    return text


def number(value: float, places: int = 0) -> str:
    """Return a number with thousands set off by a thin comma-free space.

    >>> number(1234567.8)
    '1\u202f234\u202f568'
    """
    return _signed(f"{value:,.{places}f}").replace(",", "\u202f")


def change(value: float, places: int = 0) -> str:
    """Return a difference with its sign; nothing is 0."""
    text = number(value, places)
    nothing = not any(c in "123456789" for c in text)
    return text if nothing or text.startswith(MINUS) else f"+{text}"


def significant(value: float, figures: int = 3) -> str:
    """Return a number with so many significant figures.

    >>> significant(13523.4), significant(0.11917), significant(66), significant(0)
    ('13\u202f500', '0.119', '66.0', '0')
    """
    if not value:
        return "0"
    places = figures - 1 - math.floor(math.log10(abs(value)))
    return number(round(value, places), max(places, 0))


def percent(value: float, places: int = 1) -> str:
    """Return a share as per cent."""
    return f"{number(value * 100, places)} %"


def to_nearest(step: float) -> Callable[[float], float]:
    """Return a rounding to the nearest multiple of a step."""

    def rounded(value: float) -> float:
        return round(value / step) * step

    return rounded


def figure(value: float | None, unit: str) -> str:
    """Return a figure rounded as its unit asks, or the words for one that is not assessed."""
    if value is None:
        return NOT_ASSESSED
    if unit == "share":
        return percent(value)
    return number(value, _PLACES.get(unit, 0))


def figure_change(value: float | None, unit: str) -> str:
    """Return a difference rounded as its unit asks, of shares in percentage points; empty where there is none."""
    if value is None:
        return ""
    if unit == "share":
        return change(value * 100, 1)
    return change(value, _PLACES.get(unit, 0))


_PLACES = {"m3": 2, "m2": 1, "kgCO2e/m2": 1, "Nr": 0, "W/K": 1, "W/(m2 K)": 3}


def quantity(value: float, unit: str) -> str:
    """Return a quantity as the bill shows it; part of an Item, or of a kW, is shown where there is one.

    >>> quantity(1, "Item"), quantity(0.5, "Item"), quantity(4.5, "kW")
    ('1', '0.50', '4.5')
    """
    if unit == "Item" and value % 1:
        return number(value, 2)
    return number(value, {"m3": 2, "m2": 1, "m": 1, "kg": 0, "Nr": 0, "Item": 0}.get(unit, 1))


def rate(value: float) -> str:
    """Return a rate for one unit."""
    return number(value, 2)


def assessed(value: float | None, places: int = 0) -> str:
    """Return a carbon figure, or the words for one that is not assessed."""
    return NOT_ASSESSED if value is None else number(value, places)


def unit_text(unit: str, currency: str = "") -> str:
    """Return a unit as printed: superscripts, the project's currency for money, % for shares."""
    text = "%" if unit == "share" else unit.replace("currency", currency)
    return text.replace("m2", "m²").replace("m3", "m³").replace("CO2", "CO₂")
