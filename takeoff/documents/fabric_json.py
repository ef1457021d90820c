"""The parts of results.json about the thermal fabric: how it is judged, U-values, heat loss, parity."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from takeoff.assess.fabric.elements import Envelope
from takeoff.compare.evaluate import Result
from takeoff.compare.parity import Shortfall
from takeoff.model.fabric import FABRIC_ELEMENTS
from takeoff.model.job import Job


def fabric_settings_data(job: Job) -> dict[str, Any]:
    """Return how the fabric is judged."""
    settings = asdict(job.fabric)
    del settings["origin"]
    return settings


def fabric_data(result: Result, missed: Sequence[Shortfall]) -> dict[str, Any]:
    """Return U-values and heat loss of one option, and the targets it misses; null is not assessed."""
    fabric = result.fabric
    return {
        "parts": [_part(part) for part in fabric.parts],
        "u_values": {element: fabric.u_value(element) for element in FABRIC_ELEMENTS},
        "areas_m2": {element: fabric.area(element) for element in FABRIC_ELEMENTS},
        "heat_loss_w_per_k": {
            **{element: fabric.heat_loss(element) for element in FABRIC_ELEMENTS},
            "installation": fabric.installation,
            "junctions": fabric.bridges,
            "through_the_envelope": fabric.transmission,
            "with_the_air": fabric.ventilation,
            "total": fabric.total,
            "more_than_assumed_framing": fabric.cost_of_framing,
        },
        "mean_u": fabric.mean_u,
        "envelope_m2": fabric.envelope_area,
        "envelope_to_floor": fabric.envelope_to_floor,
        "airtight_layer_m2": fabric.airtight_area,
        "air_m3": fabric.air_volume,
        "windows_to_wall": dict(fabric.windows_to_wall),
        "degree_day_demand_kwh": fabric.degree_day_demand,
        "falls_short": [_shortfall(each) for each in missed],
    }


def _part(part: Envelope) -> dict[str, Any]:
    """Return one part of the envelope; resistances are in m2 K/W, U-values in W/(m2 K)."""
    limits, path = part.limits, part.path
    return {
        "element": part.element,
        "name": part.name,
        "area_m2": part.area,
        "u_value": part.u_value,
        "framing_fraction": part.fraction,
        "framing_fraction_assumed": part.assumed_fraction,
        "u_value_assumed": part.assumed_u,
        "heat_loss_w_per_k": part.heat_loss,
        "edge_w_per_k": part.edge,
        "upper_limit": None if limits is None else limits.upper,
        "lower_limit": None if limits is None else limits.lower,
        "layers": [
            [{"name": p.name, "share": p.share, "resistance": p.resistance} for p in layer.parts]
            for layer in (path.layers if path else ())
        ],
        "not_assessed": part.not_assessed,
    }


def _shortfall(shortfall: Shortfall) -> dict[str, Any]:
    """Return one target missed, with the thicknesses that would restore it [m]."""
    return {
        "of": shortfall.of,
        "where": shortfall.where,
        "value": shortfall.value,
        "target": shortfall.target,
        "by": shortfall.by,
        "unit": shortfall.unit,
        "restored_by": [
            {
                "element": remedy.element,
                "material": remedy.more.material,
                "deeper_m": remedy.more.deeper,
                "unbroken_m": remedy.more.unbroken,
            }
            for remedy in shortfall.remedies
        ],
    }
