"""How much sun and weather each elevation takes."""

from __future__ import annotations

from takeoff.model.geometry import COMPASS_POINTS, compass_of, overhang_over, wall_face
from takeoff.model.house import House, Side
from takeoff.model.life_cycle import EXPOSURES, Exposure

# Eighths of a turn between the compass point of a wall and that of sun and weather, to the step of exposure.
_FACING_IT = 1
_ALONG_IT = 2


def exposure_of(house: House, side: Side) -> Exposure:
    """Return the exposure of one elevation.

    A side facing within 45 degrees of the point that sun and weather come from is exposed, one at right angles
    to it moderate, one turned away sheltered; where that point is not stated, every side is moderate. An
    overhang above of at least `sheltering_overhang` times the height of the wall takes one step off. A
    sheltered site takes one off too, an exposed one adds one. A setting of the side itself has the last word.

    Source: common practice, no source; every number of the rule is a setting.
    """
    stated = {
        "low": house.exposure_low,
        "high": house.exposure_high,
        "left": house.exposure_left,
        "right": house.exposure_right,
    }[side]
    if stated is not None:
        return stated
    step = _step_by_compass(house, side)
    if is_under_deep_eave(house, side):
        step -= 1
    step += EXPOSURES.index(house.site_exposure) - EXPOSURES.index("moderate")
    return EXPOSURES[min(max(step, 0), len(EXPOSURES) - 1)]


def _step_by_compass(house: House, side: Side) -> int:
    """Return the place among the exposures that the compass point of a side alone gives."""
    if house.weather_from is None:
        return EXPOSURES.index("moderate")
    eighths = abs(COMPASS_POINTS.index(compass_of(house, side)) - COMPASS_POINTS.index(house.weather_from))
    turned = min(eighths, len(COMPASS_POINTS) - eighths)
    if turned <= _FACING_IT:
        return EXPOSURES.index("exposed")
    return EXPOSURES.index("moderate" if turned <= _ALONG_IT else "sheltered")


def is_under_deep_eave(house: House, side: Side) -> bool:
    """Return whether the overhang is deep enough for the mean height of the wall to shelter it."""
    height = wall_face(house, side).mean_height
    return overhang_over(house, side) >= house.sheltering_overhang * height - 1e-9


def worst_of(exposures: list[Exposure]) -> Exposure:
    """Return the most exposed of several, sheltered where there is none."""
    return max(exposures, key=EXPOSURES.index, default="sheltered")
