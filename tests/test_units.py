"""Units as people type them. Conversion factors: International yard and pound agreement, 1959 (0.3048 m a foot)."""

from __future__ import annotations

import pytest

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
