"""Resistances of surfaces and of still air layers, from the rows of the sheet Thermal resistances."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from takeoff.model.fabric import Flow, ResistanceKind, ThermalResistance

_AIR: ResistanceKind = "still air layer"


def surface(rows: Sequence[ThermalResistance], kind: ResistanceKind, flow: Flow) -> float:
    """Return the resistance of a surface for one way of the heat [m2 K/W]; LookupError where no row states it."""
    for row in rows:
        if row.kind == kind:
            return row.towards(flow)
    raise LookupError(f"a row of the kind {kind}")


def still_air(rows: Sequence[ThermalResistance], thickness: float, flow: Flow) -> float:
    """Return the resistance of a still air layer of a thickness [m] for one way of the heat [m2 K/W].

    Between two rows it is interpolated, from nothing at no thickness on; thicker layers than any take the thickest.
    Raises LookupError where no row states an air layer.

    Source: EN ISO 6946, table of air layers: linear interpolation between its rows, as its footnote has it.
    """
    known = sorted((row.thickness or 0.0, row.towards(flow)) for row in rows if row.kind == _AIR)
    if not known:
        raise LookupError(f"a row of the kind {_AIR}")
    for (thinner, low), (thicker, high) in itertools.pairwise([(0.0, 0.0), *known]):
        if thickness <= thicker:
            share = (thickness - thinner) / (thicker - thinner) if thicker > thinner else 1.0
            return low + share * (high - low)
    return known[-1][1]
