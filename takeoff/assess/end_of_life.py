"""What becomes of one kg of a material at its end of life, in the scenario of the study."""

from __future__ import annotations

from takeoff.assess.stored_carbon import CO2_PER_CARBON
from takeoff.model.library import Library
from takeoff.model.life_cycle import USUAL, EndOfLife, Module

# kgCO2e of one kg of methane over 100 years: IPCC Fifth Assessment Report, as quoted by designingbuildings.co.uk.
METHANE_GWP = 28.0
_METHANE_PER_CARBON = 16 / 12

EndOfKg = dict[Module, float]


def end_row(family: str, scenario: str, library: Library) -> EndOfLife | None:
    """Return the row of a family in a scenario, else its usual one, None where there is neither."""
    return library.end_of_life.get((scenario, family)) or library.end_of_life.get((USUAL, family))


def methane_beyond_its_co2(stored: float, *, released: float, methane: float) -> float:
    """Return what the methane of decay warms beyond the CO2 it was made from [kgCO2e].

    Args:
        stored: CO2 stored in the wood [kgCO2].
        released: share of it that decays.
        methane: share of the carbon released that leaves as methane, after collection and oxidation.

    The CO2 itself is the release of stored carbon, told apart, so that biogenic carbon closes.

    Source: stoichiometry, 16/12 kg of methane from one kg of carbon; warming as `METHANE_GWP`.

    >>> round(methane_beyond_its_co2(1.6369, released=0.5, methane=0.10), 3)
    0.751
    """
    carbon = stored * released * methane / CO2_PER_CARBON
    return carbon * _METHANE_PER_CARBON * METHANE_GWP - carbon * CO2_PER_CARBON


def end_of_kg(row: EndOfLife, *, stored: float, library: Library) -> EndOfKg:
    """Return the modules of the end of life of one kg that are assessed [kgCO2e/kg].

    `stored` is the CO2 stored in one kg [kgCO2]. Methane of a landfill counts in C4.

    Source: EN 15978 modules C1 to C4 and D.
    """
    modules: EndOfKg = {}
    if row.c1 is not None:
        modules["C1"] = row.c1
    if row.mode is not None and row.distance is not None:
        modules["C2"] = library.transport[row.mode].factor * row.distance
    if row.c3 is not None:
        modules["C3"] = row.c3
    methane = methane_beyond_its_co2(stored, released=row.released, methane=row.methane)
    if row.c4 is not None or methane:
        modules["C4"] = (row.c4 or 0.0) + methane
    if row.d is not None:
        modules["D"] = row.d
    return modules
