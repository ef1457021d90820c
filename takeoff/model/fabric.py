"""The thermal fabric as the workbooks state it: surfaces, air layers, targets, how the fabric is judged."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.problem import Origin

# The way heat goes: up through a roof, level through a wall, down through a floor.
Flow = Literal["upwards", "horizontal", "downwards"]
FLOWS: tuple[Flow, ...] = get_args(Flow)

ResistanceKind = Literal["inside surface", "outside surface", "still air layer"]
RESISTANCE_KINDS: tuple[ResistanceKind, ...] = get_args(ResistanceKind)

FabricElement = Literal["external walls", "roof", "floor", "windows", "external doors"]
FABRIC_ELEMENTS: tuple[FabricElement, ...] = get_args(FabricElement)


@dataclass(frozen=True, slots=True, kw_only=True)
class ThermalResistance:
    """The resistance of a surface or of a still air layer of one thickness [m2 K/W] by way of the heat.

    `thickness` [m] is that of an air layer, None for surfaces.
    """

    kind: ResistanceKind
    thickness: float | None
    upwards: float
    horizontal: float
    downwards: float
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)

    def towards(self, flow: Flow) -> float:
        """Return the resistance for one way of the heat [m2 K/W]."""
        return {"upwards": self.upwards, "horizontal": self.horizontal, "downwards": self.downwards}[flow]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabric:
    """How the fabric is judged, the same for every option.

    Targets are mean U-values by area [W/(m2 K)], None where there is none. `heat_loss_limit` is the most heat loss
    of an option as a share of the base's. The assumed fractions are the shares of timber usually taken for walls, roof
    and suspended floors. `ground_conductivity` is in W/(m K); `declared_floor` is a U-value worked out
    elsewhere, in place of ours. `air_gaps` is the level of the correction for gaps in insulation, 0 to 2;
    `thermal_bridges` what junctions add for one m2 of envelope [W/(m2 K)], None where they are not assessed.
    `degree_days` [K d], `air_changes` [1/h] and `heat_recovery` (a share) serve the comparison of heat demand.
    """

    target_walls: float | None = None
    target_roof: float | None = None
    target_floor: float | None = None
    target_windows: float | None = None
    target_doors: float | None = None
    heat_loss_limit: float | None = None
    assumed_wall_fraction: float = 0.15
    assumed_roof_fraction: float = 0.10
    assumed_floor_fraction: float = 0.12
    ground_conductivity: float = 2.0
    declared_floor: float | None = None
    air_gaps: int = 0
    thermal_bridges: float | None = None
    degree_days: float | None = None
    air_changes: float = 0.5
    heat_recovery: float = 0.0
    origin: Mapping[str, Origin] = field(default_factory=dict, compare=False, repr=False)

    def target(self, element: FabricElement) -> float | None:
        """Return the target of an element [W/(m2 K)], None where there is none."""
        return {
            "external walls": self.target_walls,
            "roof": self.target_roof,
            "floor": self.target_floor,
            "windows": self.target_windows,
            "external doors": self.target_doors,
        }[element]
