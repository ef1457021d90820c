"""Turns the layers of build-ups into thermal layers: what the heat goes through, from outside to inside."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from takeoff.assess.fabric.air_layers import still_air
from takeoff.assess.fabric.combined_method import ThermalLayer, ThermalPart, bridged, homogeneous
from takeoff.model.fabric import Flow, ThermalResistance
from takeoff.model.house import BuildUp, Layer
from takeoff.model.library import Material

# Ways of measuring that lay a layer over the whole face.
_UNBROKEN = frozenset(
    {"area", "sheets", "boards by cover", "profiled sheet by cover", "panels", "masonry units"}
)
_INFILL = {
    "frame": frozenset({"between studs", "between rafters"}),
    "floor joists": frozenset({"between joists"}),
}
_INSULATION = frozenset({"mineral insulation", "plant insulation", "plastic foam"})
_NEAR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Sticks:
    """The timber of a framed layer: its depth [m] and its share of the face."""

    depth: float
    fraction: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MainInsulation:
    """The insulation that resists most: its material, thickness [m], conductivity [W/(m K)], its thermal layer."""

    material: str
    thickness: float
    conductivity: float
    layer: int


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatPath:
    """What heat goes through, from outside to inside.

    `ventilated` says that moving air lies outside the first layer, so that its surface is as calm as an inside
    one. `unknown` names the materials that can't be counted because their conductivity or thickness is not stated.
    """

    layers: tuple[ThermalLayer, ...]
    insulation: MainInsulation | None
    ventilated: bool
    unknown: tuple[str, ...]


@dataclass(slots=True)
class _Gathered:
    """Thermal layers as they come together."""

    layers: list[ThermalLayer] = field(default_factory=list)
    insulations: list[MainInsulation] = field(default_factory=list)
    ventilated: bool = False
    unknown: list[str] = field(default_factory=list)

    def drop_what_is_outside(self) -> None:
        """Forget what lies outside moving air."""
        self.layers.clear()
        self.insulations.clear()
        self.unknown.clear()
        self.ventilated = True

    def insulated(self, material: Material, thickness: float) -> None:
        """Note that the layer to come is insulated with a material."""
        if material.family in _INSULATION and material.conductivity:
            self.insulations.append(
                MainInsulation(
                    material=material.name,
                    thickness=thickness,
                    conductivity=material.conductivity,
                    layer=len(self.layers),
                )
            )


@dataclass(frozen=True, slots=True)
class LayerReader:
    """Reads build-ups with the practice's conductivities and air layers, for one way of the heat."""

    materials: Mapping[str, Material]
    resistances: Sequence[ThermalResistance]
    flow: Flow

    def path(self, build_ups: Sequence[BuildUp], sticks: Sticks | None) -> HeatPath:
        """Return what heat goes through in build-ups that lie one behind the other, the outermost first.

        Membranes, coats, fixings and trims have no resistance. Battens outside the frame with nothing between
        them stand in moving air: what lies outside them does not count; inside it the air between them is still.
        Room that insulation leaves in a frame is still air.

        Source: EN ISO 6946, well-ventilated air layers and still ones; that air behind a cladding on battens
        moves: common practice, no source.
        """
        gathered = _Gathered()
        for build_up in build_ups:
            frame = build_up.frame_index()
            for index, layer in enumerate(build_up.layers):
                outside = build_up.part == "cladding" or (frame is not None and index < frame)
                self._add(layer, build_up, gathered, sticks, outside=outside)
        return HeatPath(
            layers=tuple(gathered.layers),
            insulation=max(
                gathered.insulations, key=lambda each: each.thickness / each.conductivity, default=None
            ),
            ventilated=gathered.ventilated,
            unknown=tuple(dict.fromkeys(gathered.unknown)),
        )

    def air(self, thickness: float) -> ThermalLayer:
        """Return a still air layer of a thickness [m]."""
        return homogeneous("still air", still_air(self.resistances, thickness, self.flow))

    def _add(
        self, layer: Layer, build_up: BuildUp, gathered: _Gathered, sticks: Sticks | None, *, outside: bool
    ) -> None:
        """Add one layer as it counts."""
        way, material = layer.measured_by, self.materials[layer.material]
        if way in _UNBROKEN:
            self._unbroken(layer, material, gathered)
        elif way == "still air layer":
            gathered.layers.append(self.air(layer.thickness or 0.0))
        elif way == "ventilated air layer":
            gathered.drop_what_is_outside()
        elif way == "battens at spacing":
            infill = _between_battens(layer, build_up)
            if outside and not infill:
                gathered.drop_what_is_outside()
            else:
                share = (material.width or 0.0) / (layer.spacing or 1.0)
                depth = material.thickness or 0.0
                self._framed(layer, build_up, infill, Sticks(depth=depth, fraction=share), gathered)
        elif way in _INFILL and sticks is not None:
            infill = [each for each in build_up.layers if each.measured_by in _INFILL[way]]
            self._framed(layer, build_up, infill, sticks, gathered)

    def _unbroken(self, layer: Layer, material: Material, gathered: _Gathered) -> None:
        """Add a layer over the whole face; one without thickness and conductivity is too thin to count."""
        thickness = layer.thickness or material.thickness
        if not thickness and not material.conductivity:
            return
        if not thickness or not material.conductivity:
            gathered.unknown.append(material.name)
            return
        gathered.insulated(material, thickness)
        gathered.layers.append(homogeneous(material.name, thickness / material.conductivity))

    def _framed(
        self,
        frame: Layer,
        build_up: BuildUp,
        infill: Sequence[Layer],
        sticks: Sticks,
        gathered: _Gathered,
    ) -> None:
        """Add a layer of sticks with what fills the room between them, and still air where nothing does.

        Several layers of one material between the same sticks are one.
        """
        timber, mark = self.materials[frame.material], f"{build_up.name}, {frame.number}"
        if not timber.conductivity:
            gathered.unknown.append(timber.name)
            return
        room = sticks.depth
        thicknesses: dict[str, float] = {}
        for layer in infill:
            thickness = min(layer.thickness or room, room)
            room -= thickness
            thicknesses[layer.material] = thicknesses.get(layer.material, 0.0) + thickness
        for name, thickness in thicknesses.items():
            material = self.materials[name]
            if thickness <= _NEAR:
                continue
            if not material.conductivity:
                gathered.unknown.append(name)
                continue
            gathered.insulated(material, thickness)
            resistance = thickness / material.conductivity
            gathered.layers.append(_bridged(timber, thickness, name, resistance, sticks, mark))
        if room > _NEAR:
            air = still_air(self.resistances, room, self.flow)
            gathered.layers.append(_bridged(timber, room, "still air", air, sticks, mark))


def _bridged(
    timber: Material, thickness: float, name: str, resistance: float, sticks: Sticks, mark: str
) -> ThermalLayer:
    """Return a layer of sticks with one thing between them, `mark` telling them from other sticks."""
    conductivity = timber.conductivity or 1.0
    return bridged(
        name,
        ThermalPart(name=timber.name, share=sticks.fraction, resistance=thickness / conductivity),
        ThermalPart(name=name, share=1 - sticks.fraction, resistance=resistance),
        sticks=mark,
    )


def _between_battens(battens: Layer, build_up: BuildUp) -> list[Layer]:
    """Return the layers between some battens: those to which they are the nearest of the build-up."""
    rows = [layer for layer in build_up.layers if layer.measured_by == "battens at spacing"]

    def nearest(layer: Layer) -> Layer:
        return min(rows, key=lambda row: abs(row.number - layer.number))

    return [
        layer
        for layer in build_up.layers
        if layer.measured_by == "between battens" and nearest(layer) is battens
    ]


def unbroken_insulation(
    layers: Sequence[Layer], materials: Mapping[str, Material], ways: frozenset[str]
) -> Iterator[tuple[Material, float]]:
    """Yield the insulation and boards of a floor measured in some ways, each with its thickness [m].

    Concrete, screeds and fill are left out, as EN ISO 13370 has it of dense slabs and hardcore.
    """
    for layer in layers:
        material = materials[layer.material]
        thickness = layer.thickness or material.thickness
        counts = material.family in _INSULATION or material.family == "wood board"
        if layer.measured_by in ways and counts and thickness and material.conductivity:
            yield material, thickness
