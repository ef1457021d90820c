"""The unit registry: the only place where Pint is set up.

Money, carbon and counts are dimensions of their own, so that kg of steel and kgCO2e never add up.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry

# Units a measured quantity can be in, and in which factors and prices are kept.
MEASURED_UNITS = ("m3", "m2", "m", "kg", "Nr", "h")
# what items of a bill may be told in besides: 1000 kg
BILLED_UNITS = (*MEASURED_UNITS, "t")

_DEFINITIONS = """
currency = [currency]
kgCO2e = [carbon]
Nr = [count] = _ = nr = No = each
thousandNr = 1000 * Nr
psf = pound_force / foot ** 2
share = []
tCO2e = 1000 * kgCO2e
gCO2e = 0.001 * kgCO2e
"""


class UnitError(ValueError):
    """A unit is unknown, or of another kind than the one expected."""


@cache
def registry() -> UnitRegistry[float]:
    """Return the one registry, with money, carbon and count as dimensions and the trade's spellings."""
    from pint import UnitRegistry

    units: UnitRegistry[float] = UnitRegistry(cache_folder=None)
    for line in _DEFINITIONS.strip().splitlines():
        units.define(line)
    return units


# What people type, and what the registry knows it as.
_SPELLINGS = (
    (re.compile(r"²"), "**2"),
    (re.compile(r"³"), "**3"),
    (re.compile(r"·"), "*"),
    (re.compile(r"kg\s*CO2\s*-?eq?\b|kg\s*CO₂\s*-?eq?\b", re.I), "kgCO2e"),
    (re.compile(r"\bt\s*CO2\s*-?eq?\b", re.I), "tCO2e"),
    (re.compile(r"\b(mm|cm|dm|m|km|ft|in|inch|yd)([23])\b"), r"\1**\2"),
    (re.compile(r"\bsq\.?\s*(m|ft|in|yd)\b", re.I), r"\1**2"),
    (re.compile(r"\bcu\.?\s*(m|ft|in|yd)\b", re.I), r"\1**3"),
    (re.compile(r"\bin\b"), "inch"),
    (re.compile(r"\b1000\s*(Nr|nr|No|each|pcs)\b"), "thousandNr"),
    (re.compile(r"\bpcs?\b"), "Nr"),
    (re.compile(r"\btkm\b"), "(t*km)"),
    (re.compile(r"(?<=/)\s*t\s+km\b"), "(t*km)"),
    (re.compile(r"°|\bdegrees?\b", re.I), "degree"),
    (re.compile(r"\bdeg\b"), "degree"),
    (re.compile(r"%"), "percent"),
)


def _spelt_for_registry(text: str) -> str:
    """Return a unit as typed, respelt as the registry knows it."""
    text = text.strip()
    for pattern, replacement in _SPELLINGS:
        text = pattern.sub(replacement, text)
    return re.sub(r"(?<=\w)\s+(?=\w)", "*", text)


# The units that stand in the workbooks as we write them. The registry takes most of a second to set up, for a job
# that is told in these it is not needed; the tests hold each against it.
_AS_THEY_ARE = frozenset(
    {
        *("m", "m2", "m3", "kg", "Nr", "h", "deg", "year", "share", "Pa", "1/h", "K d"),
        *("W/(m2 K)", "W/(m K)", "m2 K/W", "kg/m", "kg/m2", "kg/m3", "kg/Nr", "kgCO2e/m2"),
    }
)
_USUAL = {
    ("mm", "m"): 0.001,
    ("km", "m"): 1000.0,
    ("%", "share"): 0.01,
    ("kPa", "Pa"): 1000.0,
    ("MPa", "Pa"): 1_000_000.0,
    ("kgCO2e/(t km)", "kgCO2e/(kg m)"): 1e-6,
    ("kgCO2e/t", "kgCO2e/kg"): 0.001,
}
_USUAL_RATES = {("kgCO2e/t", "kgCO2e"): (0.001, "kg")}


@cache
def factor_between(unit: str, target: str) -> float:
    """Return what one `unit` is in `target` (both as text).

    Raises UnitError where the unit is unknown or of another kind.
    """
    if unit == target and unit in _AS_THEY_ARE:
        return 1.0
    return _USUAL.get((unit, target)) or _registered_factor(unit, target)


def _registered_factor(unit: str, target: str) -> float:
    """Return what the registry knows one `unit` to be in `target`. Raises UnitError."""
    units = registry()
    try:
        one = units.Quantity(1.0, units.parse_units(_spelt_for_registry(unit)))
    except Exception as error:  # the registry raises a dozen kinds for text that is no unit
        raise UnitError(f"unknown unit {unit!r}") from error
    goal = units.parse_units(_spelt_for_registry(target))
    if not one.is_compatible_with(goal):
        raise UnitError(f"unit {unit!r} is not a kind of {target}")
    return float(one.to(goal).magnitude)


@cache
def per_unit_factor(unit: str, numerator: str) -> tuple[float, str]:
    """Return the scale and the measured unit of a rate's unit such as `kgCO2e/t` or `per 1000 Nr`.

    `numerator` is what is counted (`kgCO2e`, `kg`, `currency`, `h`). A unit without it, such as `m2` or
    `per m2`, is read as that much of it for one such unit: `kgCO2e/t` gives (0.001, "kg").

    Raises UnitError where the unit is unknown or not per m3, m2, m, kg, Nr or h.
    """
    text = unit.strip()
    if (text, numerator) in _USUAL_RATES:
        return _USUAL_RATES[text, numerator]
    for measured in MEASURED_UNITS:
        if text in (measured, f"per {measured}", f"{numerator}/{measured}"):
            return 1.0, measured
    return _registered_rate(text, unit, numerator)


def _registered_rate(text: str, unit: str, numerator: str) -> tuple[float, str]:
    """Return scale and measured unit of a rate as the registry knows them. Raises UnitError."""
    bare = re.sub(r"^per\s+", "", text)
    whole = () if bare != text else (text,)
    ways = (*whole, f"{numerator}/({bare})")
    last = f"unknown unit {unit!r}"
    for way in ways:
        for measured in MEASURED_UNITS:
            try:
                return factor_between(way, f"{numerator}/{measured}"), measured
            except UnitError as error:
                if "unknown" in str(error):
                    break
                last = f"unit {unit!r} is not {numerator} for one m3, m2, m, kg, Nr or h"
    raise UnitError(last)
