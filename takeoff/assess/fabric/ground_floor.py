"""The floor on the ground of a house: EN ISO 13370 with what its slab is insulated with."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.assess.fabric.air_layers import surface
from takeoff.assess.fabric.ground import edge_insulated, slab_on_ground
from takeoff.assess.fabric.layers_of import unbroken_insulation
from takeoff.measure.floor_areas import cladding_depths
from takeoff.measure.walls import wall_inset
from takeoff.model.fabric import Fabric
from takeoff.model.house import Design
from takeoff.model.library import Library

_ALL_OVER = frozenset({"area", "sheets"})
_WITHIN = frozenset({"within edge beams"})
_EDGE = frozenset({"slab edge"})


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundFloor:
    """A floor on the ground and its U-value [W/(m2 K)].

    `area` [m2] and `perimeter` [m] are to the outside face of the frame. `all_over` and `within` are the
    resistances of insulation over the whole floor and within the edge beams alone [m2 K/W], `within_share` the
    share of the floor that has the latter; `edge_depth` below ground [m] and `edge_resistance` [m2 K/W] are of the
    insulation on the outside of the edge beams, 0 where there is none. `material`, `thickness` [m] and `conductivity`
    [W/(m K)] are those of the insulation under the floor that resists most, None where there is none.
    """

    area: float
    perimeter: float
    wall_thickness: float
    ground_conductivity: float
    inside_surface: float
    outside_surface: float
    all_over: float
    within: float
    within_share: float
    edge_depth: float
    edge_thickness: float
    edge_resistance: float
    material: str | None
    thickness: float
    conductivity: float | None

    @property
    def u_value(self) -> float:
        """U-value, edge insulation taken in [W/(m2 K)]."""
        return self.with_more(0.0)

    def with_more(self, thickness: float) -> float:
        """Return the U-value with the insulation under the floor thicker by so much [m], where it lies now.

        EN ISO 13370 knows insulation over the whole floor; what lies within the edge beams alone counts by the mean
        of the U-values with and without it, by area: our own rule, on the safe side of leaving the strip out.
        """
        more = thickness / self.conductivity if self.conductivity else 0.0
        within = self.within + (more if self.within else 0.0)
        all_over = self.all_over + (0.0 if self.within else more)
        insulated = self._u_value(all_over + within)
        if not within:
            return insulated
        return self.within_share * insulated + (1 - self.within_share) * self._u_value(all_over)

    def _u_value(self, resistance: float) -> float:
        """Return the U-value of the whole floor with a resistance over all of it [W/(m2 K)]."""
        plain = slab_on_ground(
            area=self.area,
            perimeter=self.perimeter,
            wall_thickness=self.wall_thickness,
            ground_conductivity=self.ground_conductivity,
            floor_resistance=resistance,
            inside_surface=self.inside_surface,
            outside_surface=self.outside_surface,
        )
        if not self.edge_resistance or not self.edge_depth:
            return plain.u_value
        return edge_insulated(
            plain,
            depth=self.edge_depth,
            thickness=self.edge_thickness,
            resistance=self.edge_resistance,
        )


def ground_floor(design: Design, library: Library, fabric: Fabric) -> GroundFloor:
    """Return the floor on the ground of a design. Raises LookupError where a surface is not stated.

    Concrete, floor finishes and fill are left out (EN ISO 13370: dense slabs and thin coverings may be neglected,
    hardcore counts as ground). The walls are as thick as on their thinnest side. Of insulation on the edge
    beams only what lies below ground counts, as that standard has it of its depth.
    """
    house = design.house
    layers = design.build_ups[house.floor].layers
    width = house.edge_beam_width
    all_over = list(unbroken_insulation(layers, library.materials, _ALL_OVER))
    within = list(unbroken_insulation(layers, library.materials, _WITHIN))
    edge = list(unbroken_insulation(layers, library.materials, _EDGE))
    under = within or all_over
    main = max(under, key=lambda each: each[1] / (each[0].conductivity or 1.0), default=None)
    outside = min(cladding_depths(design, library).values())
    return GroundFloor(
        area=house.length * house.span,
        perimeter=2 * (house.length + house.span),
        wall_thickness=wall_inset(design, library) + outside,
        ground_conductivity=fabric.ground_conductivity,
        inside_surface=surface(library.resistances, "inside surface", "downwards"),
        outside_surface=surface(library.resistances, "outside surface", "downwards"),
        all_over=sum(thickness / (material.conductivity or 1.0) for material, thickness in all_over),
        within=sum(thickness / (material.conductivity or 1.0) for material, thickness in within),
        within_share=(house.length - 2 * width) * (house.span - 2 * width) / (house.length * house.span),
        edge_depth=max(house.edge_beam_depth - house.floor_above_ground, 0.0) if edge else 0.0,
        edge_thickness=sum(thickness for _, thickness in edge),
        edge_resistance=sum(thickness / (material.conductivity or 1.0) for material, thickness in edge),
        material=main[0].name if main else None,
        thickness=main[1] if main else 0.0,
        conductivity=main[0].conductivity if main else None,
    )
