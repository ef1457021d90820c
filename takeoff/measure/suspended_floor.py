"""Measures what a suspended timber floor stands on and is filled with: stumps, pads, insulation, fixings."""

from __future__ import annotations

from collections.abc import Callable

from takeoff.framing.floor import FloorFrame
from takeoff.measure.layer import LayerPlace, Measured
from takeoff.measure.quantity import Dimension
from takeoff.measure.walls import mass_of_fixings
from takeoff.model.house import House
from takeoff.model.suspended_floor import stump_length


def _stumps(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure the number of stumps, times the column Rate."""
    rate = place.layer.rate
    note = "stumps" if rate == 1 else f"stumps, {rate:g} each"
    return Measured(dimensions=(Dimension(note, len(frame.stumps) * rate),), how="under the bearers")


def _stump_length(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure the stumps from the underside of the bearer to the top of the pad."""
    each = stump_length(house, place.build_up, place.library.materials)
    return Measured(
        dimensions=(Dimension("stumps, underside of bearer to top of pad", len(frame.stumps), each),),
        how=f"{len(frame.stumps)} of {each:.3f} m",
    )


def _pads(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure the square pads under the stumps."""
    line = Dimension("pads", len(frame.stumps), house.pad_width, house.pad_width, house.pad_depth)
    return Measured(dimensions=(line,))


def _between_joists(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure insulation between the joists: outline less gaps, joists and blocking."""
    lines = [Dimension("outline", 1, house.length, house.span)]
    if frame.gap_area > 1e-9:
        lines.append(Dimension("ddt gaps of party walls", 1, frame.gap_area, deducted=True))
    lines.append(Dimension("ddt joists and blocking, seen face", 1, frame.timber_area, deducted=True))
    return Measured(
        dimensions=tuple(lines),
        thickness=place.layer.thickness or house.floor_joist_depth,
        how="between joists, sticks deducted",
    )


def _excavation(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure the topsoil strip under the outline and the holes of the pads below it."""
    hole = max(house.footing_depth - house.topsoil_depth, 0.0)
    lines = [Dimension("topsoil strip", 1, house.length, house.span, house.topsoil_depth)]
    if hole and house.pad_width:
        lines.append(Dimension("holes of pads", len(frame.stumps), house.pad_width, house.pad_width, hole))
    return Measured(dimensions=tuple(lines))


def _fixings(place: LayerPlace, house: House, frame: FloorFrame) -> Measured:
    """Measure nails, straps and brackets by the mass for one m3 of joists, blocking and bearers."""
    return mass_of_fixings(place, sum(member.volume for member in frame.members))


SUSPENDED_WAYS: dict[str, Callable[[LayerPlace, House, FloorFrame], Measured]] = {
    "stumps": _stumps,
    "stump length": _stump_length,
    "pads": _pads,
    "between joists": _between_joists,
    "excavation": _excavation,
    "mass per m3 of frame": _fixings,
}
