"""Heat loss through a floor on the ground: EN ISO 13370."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabOnGround:
    """A floor on the ground: its characteristic dimension and equivalent thickness [m], ground [W/(m K)], U-value."""

    characteristic: float
    equivalent: float
    ground_conductivity: float
    u_value: float


def characteristic_dimension(*, area: float, perimeter: float) -> float:
    """Return the characteristic dimension of a floor [m]: its area over half its exposed perimeter.

    Raises ValueError where either is not above 0. Source: EN ISO 13370, from memory.

    >>> round(characteristic_dimension(area=86.4, perimeter=38.4), 3)
    4.5
    """
    if area <= 0 or perimeter <= 0:
        raise ValueError("area and perimeter must be above 0")
    return area / (0.5 * perimeter)


def slab_on_ground(
    *,
    area: float,
    perimeter: float,
    wall_thickness: float,
    ground_conductivity: float,
    floor_resistance: float,
    inside_surface: float,
    outside_surface: float,
) -> SlabOnGround:
    """Return a slab on the ground with its U-value, edge insulation left out.

    Args:
        area: of the floor [m2].
        perimeter: exposed perimeter [m].
        wall_thickness: whole thickness of the external walls [m].
        ground_conductivity: of the ground [W/(m K)].
        floor_resistance: of insulation over the whole floor, dense slabs left out [m2 K/W].
        inside_surface: surface resistance, heat going down [m2 K/W].
        outside_surface: surface resistance outside [m2 K/W].

    Raises ValueError where area, perimeter or conductivity is not above 0.

    Source: EN ISO 13370, slab-on-ground floors, from memory.
    """
    if ground_conductivity <= 0:
        raise ValueError("the conductivity of the ground must be above 0")
    across = characteristic_dimension(area=area, perimeter=perimeter)
    resistance = inside_surface + floor_resistance + outside_surface
    equivalent = wall_thickness + ground_conductivity * resistance
    if equivalent < across:
        u_value = (
            2
            * ground_conductivity
            / (math.pi * across + equivalent)
            * math.log(math.pi * across / equivalent + 1)
        )
    else:
        u_value = ground_conductivity / (0.457 * across + equivalent)
    return SlabOnGround(
        characteristic=across,
        equivalent=equivalent,
        ground_conductivity=ground_conductivity,
        u_value=u_value,
    )


def edge_insulated(slab: SlabOnGround, *, depth: float, thickness: float, resistance: float) -> float:
    """Return the U-value of a slab with upright insulation along its edge [W/(m2 K)].

    `depth` is how far it goes down, `thickness` its own [m], `resistance` its own [m2 K/W]; it takes the place of
    ground of the same thickness. Raises ValueError where a value is not above 0.

    Source: EN ISO 13370, vertical edge insulation, from memory.
    """
    if min(depth, thickness, resistance) <= 0:
        raise ValueError("depth, thickness and resistance must be above 0")
    ground = slab.ground_conductivity
    added = max(resistance - thickness / ground, 0.0) * ground
    without = math.log(2 * depth / slab.equivalent + 1)
    with_it = math.log(2 * depth / (slab.equivalent + added) + 1)
    edge = -(ground / math.pi) * (without - with_it)
    return slab.u_value + 2 * edge / slab.characteristic
