"""Units as people type them. Conversion factors: International yard and pound agreement, 1959 (0.3048 m a foot)."""

from __future__ import annotations

import pytest

from takeoff import units
from takeoff.units import UnitError, factor_between, per_unit_factor


@pytest.mark.parametrize(
    ("unit", "target", "factor"),
    [
        ("mm", "m", 0.001),
        ("ft", "m", 0.3048),
        ("in", "m", 0.0254),
        ("inch", "m", 0.0254),
        ("km", "m", 1000.0),
        ("m²", "m2", 1.0),
        ("sq ft", "m2", 0.3048**2),
        ("ft2", "m2", 0.3048**2),
        ("%", "share", 0.01),
        ("°", "deg", 1.0),
        ("degrees", "deg", 1.0),
        ("kg/m³", "kg/m3", 1.0),
        ("g/cm3", "kg/m3", 1000.0),
        ("tCO2e", "kgCO2e", 1000.0),
        ("kg CO2-eq", "kgCO2e", 1.0),
        ("kgCO2e/(t km)", "kgCO2e/(kg m)", 1e-6),
        ("kgCO2e/tkm", "kgCO2e/(kg m)", 1 / (1000 * 1000)),
        ("kg CO2e/tkm", "kgCO2e/(kg m)", 1 / (1000 * 1000)),
        ("yd", "m", 3 * 0.3048),
        ("cu yd", "m3", (3 * 0.3048) ** 3),
        ("m³", "m3", 1.0),
        ("lb", "kg", 0.45359237),
        ("lb/ft3", "kg/m3", 0.45359237 / 0.3048**3),
        ("kgCO₂e", "kgCO2e", 1.0),
    ],
)
def test_spellings(unit, target, factor):
    assert factor_between(unit, target) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "target"), [("kg", "m"), ("m2", "m"), ("kg", "kgCO2e"), ("Nr", "m"), ("deg", "m")]
)
def test_units_of_another_kind_are_refused(unit, target):
    with pytest.raises(UnitError, match=f"^unit '{unit}' is not a kind of {target}$"):
        factor_between(unit, target)


@pytest.mark.parametrize("unit", ["furlongs per", "$", "xyz", "12 m"])
def test_unknown_units_are_refused(unit):
    with pytest.raises(UnitError, match=r"^unknown unit "):
        factor_between(unit, "m")


@pytest.mark.parametrize(
    ("unit", "numerator", "scale", "per"),
    [
        ("per m2", "currency", 1.0, "m2"),
        ("m2", "currency", 1.0, "m2"),
        ("per t", "currency", 0.001, "kg"),
        ("per 1000 Nr", "currency", 0.001, "Nr"),
        ("per ft2", "currency", 1 / 0.3048**2, "m2"),
        ("each", "currency", 1.0, "Nr"),
        ("kgCO2e/kg", "kgCO2e", 1.0, "kg"),
        ("kgCO2e/t", "kgCO2e", 0.001, "kg"),
        ("tCO2e/m3", "kgCO2e", 1000.0, "m3"),
        ("kg/m2", "kg", 1.0, "m2"),
        ("per Nr", "h", 1.0, "Nr"),
        ("per yd3", "currency", 1 / (3 * 0.3048) ** 3, "m3"),
        ("per lb", "currency", 1 / 0.45359237, "kg"),
        ("per sq m", "currency", 1.0, "m2"),
        ("per h", "currency", 1.0, "h"),
        ("kgCO2e/m²", "kgCO2e", 1.0, "m2"),
        ("gCO2e/kg", "kgCO2e", 0.001, "kg"),
    ],
)
def test_rates(unit, numerator, scale, per):
    found, measured = per_unit_factor(unit, numerator)
    assert found == pytest.approx(scale)
    assert measured == per


@pytest.mark.parametrize("unit", ["MJ/kg", "kgCO2e/J", "kgCO2e/xyz"])
def test_rates_of_another_kind_are_refused(unit):
    with pytest.raises(UnitError):
        per_unit_factor(unit, "kgCO2e")


@pytest.mark.parametrize(
    ("unit", "message"),
    [
        ("kgCO2e/tkm", "unit 'kgCO2e/tkm' is not currency for one m3, m2, m, kg, Nr or h"),
        ("per mol", "unit 'per mol' is not currency for one m3, m2, m, kg, Nr or h"),
        ("$/m2", "unknown unit '$/m2'"),
    ],
)
def test_a_refused_rate_says_what_it_is(unit, message):
    with pytest.raises(UnitError) as refused:
        per_unit_factor(unit, "currency")
    assert str(refused.value) == message


def test_a_price_per_pc_is_not_one_for_a_parsec():
    assert per_unit_factor("per pc", "currency") == (1.0, "Nr")


@pytest.mark.parametrize(
    ("unit", "target"), [*((unit, unit) for unit in sorted(units._AS_THEY_ARE)), *sorted(units._USUAL)]
)
def test_usual_units_are_what_the_registry_knows_them_to_be(unit, target):
    assert factor_between(unit, target) == units._registered_factor(unit, target)


@pytest.mark.parametrize("numerator", ["kg", "currency", "h", "kgCO2e"])
@pytest.mark.parametrize("measured", units.MEASURED_UNITS)
def test_usual_rates_are_what_the_registry_knows_them_to_be(numerator, measured):
    for text in (measured, f"per {measured}", f"{numerator}/{measured}"):
        assert (
            per_unit_factor(text, numerator)
            == units._registered_rate(text, text, numerator)
            == (1.0, measured)
        )


def test_carbon_of_a_tonne_is_a_thousandth_for_a_kilogram():
    assert per_unit_factor("kgCO2e/t", "kgCO2e") == (1 / 1000, "kg")
    assert units._registered_rate("kgCO2e/t", "kgCO2e/t", "kgCO2e") == (1 / 1000, "kg")
