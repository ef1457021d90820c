"""Biogenic carbon stored in wood."""

from __future__ import annotations

CARBON_FRACTION = 0.5
CO2_PER_CARBON = 44 / 12


def stored_per_kg(*, moisture: float, carbon_fraction: float = CARBON_FRACTION) -> float:
    """Return the CO2 stored in one kg of wood at a moisture content [kgCO2/kg].

    Args:
        moisture: moisture content by dry mass, as a share (0.12).
        carbon_fraction: carbon in oven-dry wood, as a share.

    Source: EN 16449: 44/12 x carbon fraction x density x volume / (1 + moisture / 100), with the
    carbon fraction 0.5. A density of 500 kg/m3 at 12 % gives 818.45 kgCO2 for one m3.

    >>> round(500 * stored_per_kg(moisture=0.12), 2)
    818.45
    """
    return CO2_PER_CARBON * carbon_fraction / (1 + moisture)
