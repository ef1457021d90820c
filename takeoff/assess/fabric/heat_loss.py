"""Heat loss of the whole house: by element, total, mean U-value, and the figures of its envelope."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from takeoff.assess.fabric.elements import Envelope, envelope
from takeoff.measure.house import MeasuredHouse
from takeoff.measure.roof import ceiling_surface
from takeoff.measure.walls import wall_inset
from takeoff.model.fabric import FABRIC_ELEMENTS, Fabric, FabricElement
from takeoff.model.geometry import inside_face
from takeoff.model.house import SIDES, Design, Side
from takeoff.model.library import Library

# Heat that a cubic metre of air takes up for each degree [Wh/(m3 K)]: 1.2 kg/m3 x 1005 J/(kg K) / 3600 s/h = 0.335,
# taken as 0.33. Source: common practice, from memory.
AIR_HEAT = 0.33
_HOURS_A_DAY = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseFabric:
    """The fabric of one house. None stands for what is not assessed.

    `parts` are those of the envelope. `installation` and `bridges` are heat lost at the joints of windows and
    doors and at junctions, `ventilation` with the air that is renewed [W/K]. `envelope_area` is that of all parts
    [m2], `airtight_area` the inside surface of the airtight layer [m2], `windows_to_wall` windows as a share of
    the gross wall, by side. `degree_day_demand` [kWh a year] is a comparison between options and no prediction.
    """

    parts: tuple[Envelope, ...]
    installation: float | None
    bridges: float | None
    ventilation: float
    envelope_area: float
    envelope_to_floor: float
    airtight_area: float
    air_volume: float
    floor_area: float
    windows_to_wall: dict[Side, float]
    degree_days: float | None

    def of(self, element: FabricElement) -> list[Envelope]:
        """Return the parts of one element."""
        return [part for part in self.parts if part.element == element]

    def area(self, element: FabricElement) -> float:
        """Return the area of one element [m2]."""
        return sum(part.area for part in self.of(element))

    def heat_loss(self, element: FabricElement) -> float | None:
        """Return the heat that the faces of an element lose for each degree [W/K]."""
        return _sum(part.heat_loss for part in self.of(element))

    def u_value(self, element: FabricElement) -> float | None:
        """Return the mean U-value of an element [W/(m2 K)], None where it has no area."""
        area, loss = self.area(element), self.heat_loss(element)
        return loss / area if loss is not None and area > 0 else None

    @property
    def transmission(self) -> float | None:
        """Heat lost through the envelope for each degree [W/K], installation and bridges as far as assessed."""
        faces = _sum(self.heat_loss(element) for element in FABRIC_ELEMENTS)
        return None if faces is None else faces + (self.installation or 0.0) + (self.bridges or 0.0)

    @property
    def total(self) -> float | None:
        """Heat loss coefficient: through the envelope and with the air [W/K]."""
        return None if self.transmission is None else self.transmission + self.ventilation

    @property
    def mean_u(self) -> float | None:
        """Heat lost through the envelope for each m2 of it [W/(m2 K)]."""
        return None if self.transmission is None else self.transmission / self.envelope_area

    @property
    def cost_of_framing(self) -> float | None:
        """Heat lost beyond what the usually assumed shares of timber would lose [W/K]."""
        framed = [part for part in self.parts if part.fraction is not None]
        return _sum(part.cost_of_framing for part in framed)

    @property
    def degree_day_demand(self) -> float | None:
        """Heat demand by degree days [kWh a year]: for comparing options only; sun, people and storage left out."""
        if self.degree_days is None or self.total is None:
            return None
        return self.total * self.degree_days * _HOURS_A_DAY / 1000

    @property
    def not_assessed(self) -> tuple[str, ...]:
        """Each part that has no U-value, and why."""
        return tuple(f"{part.name}: {part.not_assessed}" for part in self.parts if part.u_value is None)


def house_fabric(design: Design, library: Library, measured: MeasuredHouse, fabric: Fabric) -> HouseFabric:
    """Return the fabric of a measured house.

    Source: EN ISO 13789, heat loss as the sum of areas times U-values, lengths times linear ones, and ventilation
    0.33 n V; from memory.
    """
    parts = envelope(design, library, measured, fabric)
    area = sum(part.area for part in parts)
    areas = measured.areas
    bridges = None if fabric.thermal_bridges is None else fabric.thermal_bridges * area
    return HouseFabric(
        parts=parts,
        installation=_sum(part.edge for part in parts),
        bridges=bridges,
        ventilation=AIR_HEAT * fabric.air_changes * areas.air_volume * (1 - fabric.heat_recovery),
        envelope_area=area,
        envelope_to_floor=area / areas.outside,
        airtight_area=airtight_area(design, library),
        air_volume=areas.air_volume,
        floor_area=areas.outside,
        windows_to_wall={
            side: sum(o.area for o in design.openings_in(side) if o.kind != "door") / areas.wall_by_side[side]
            for side in SIDES
        },
        degree_days=fabric.degree_days,
    )


def airtight_area(design: Design, library: Library) -> float:
    """Return the inside surface of the airtight layer, openings included [m2].

    It is the floor to the inside faces of the external walls, those faces up to the underside of the rafters, and
    the slope under the rafters.
    """
    inset = wall_inset(design, library)
    walls = sum(inside_face(design.house, side, wall_inset=inset, ceiling_drop=0.0).area for side in SIDES)
    floor = (design.house.length - 2 * inset) * (design.house.span - 2 * inset)
    return floor + walls + ceiling_surface(design, library).face.area


def _sum(values: Iterable[float | None]) -> float | None:
    """Return a sum, None where any of it is not assessed."""
    total = 0.0
    for value in values:
        if value is None:
            return None
        total += value
    return total
