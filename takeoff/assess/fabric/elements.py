"""U-values of the parts of the envelope: walls by side, roof by ceiling, floor, windows and doors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from takeoff.assess.fabric.air_layers import surface
from takeoff.assess.fabric.combined_method import (
    CombinedResistance,
    air_gap_correction,
    combined,
    homogeneous,
)
from takeoff.assess.fabric.ground_floor import GroundFloor, ground_floor
from takeoff.assess.fabric.layers_of import HeatPath, LayerReader, Sticks
from takeoff.framing.walls import WallFrame
from takeoff.measure.cladding import cladding_regions
from takeoff.measure.house import MeasuredHouse
from takeoff.measure.linings import ceiling_lining
from takeoff.model.fabric import Fabric, FabricElement, Flow, ThermalResistance
from takeoff.model.geometry import wall_face
from takeoff.model.house import SIDES, BuildUp, Design
from takeoff.model.library import Library

# The still air over a flat ceiling counts as an air layer this thick [m].
_VOID = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """A part of the envelope and what heat goes through it.

    `area` [m2] is to the outside face of the frame, openings left out. `fraction` is the share of timber measured
    from its own sticks, `assumed_fraction` the one usually taken; both None where it has no frame. `u_value` and
    `assumed_u` go with them [W/(m2 K)], None where `not_assessed` says why. `limits` are those of the combined
    method, `path` its layers; None for what is declared or lies on the ground (`ground`). `edge` is the heat lost
    round its edge [W/K]: the installation of windows and doors, None where that is not assessed.
    """

    element: FabricElement
    name: str
    area: float
    u_value: float | None
    fraction: float | None = None
    assumed_fraction: float | None = None
    assumed_u: float | None = None
    limits: CombinedResistance | None = None
    path: HeatPath | None = None
    ground: GroundFloor | None = None
    edge: float | None = 0.0
    not_assessed: str = ""

    @property
    def heat_loss(self) -> float | None:
        """Heat lost through its face for each degree [W/K]."""
        return None if self.u_value is None else self.u_value * self.area

    @property
    def cost_of_framing(self) -> float | None:
        """Heat lost for each degree beyond what the assumed share of timber would lose [W/K]."""
        if self.u_value is None or self.assumed_u is None:
            return None
        return (self.u_value - self.assumed_u) * self.area


@dataclass(frozen=True, slots=True)
class Surfaces:
    """Surface resistances and the correction for air gaps, for one way of the heat."""

    resistances: Sequence[ThermalResistance]
    flow: Flow
    air_gaps: int

    def limits(self, path: HeatPath, *, unbroken: float = 0.0) -> CombinedResistance:
        """Return the limits of the resistance of a path, `unbroken` [m2 K/W] of insulation laid over it."""
        inside = surface(self.resistances, "inside surface", self.flow)
        outside = inside if path.ventilated else surface(self.resistances, "outside surface", self.flow)
        layers = (*path.layers, homogeneous("unbroken insulation", unbroken)) if unbroken else path.layers
        return combined(layers, inside_surface=inside, outside_surface=outside)

    def u_value(self, path: HeatPath, *, unbroken: float = 0.0) -> float:
        """Return the U-value of a path, the correction for air gaps taken in [W/(m2 K)]."""
        limits = self.limits(path, unbroken=unbroken)
        main = path.insulation
        if main is None:
            return limits.u_value
        gaps = air_gap_correction(
            self.air_gaps,
            insulation_resistance=main.thickness / main.conductivity,
            total_resistance=limits.total,
        )
        return limits.u_value + gaps

    def deeper(self, path: HeatPath, more: float) -> float:
        """Return the U-value with the main insulation thicker by `more` [m], and the sticks it lies between too."""
        main = path.insulation
        if main is None:
            return self.u_value(path)
        scale = (main.thickness + more) / main.thickness
        layer = path.layers[main.layer]
        parts = tuple(replace(part, resistance=part.resistance * scale) for part in layer.parts)
        layers = (
            *path.layers[: main.layer],
            replace(layer, parts=parts),
            *path.layers[main.layer + 1 :],
        )
        insulation = replace(main, thickness=main.thickness + more)
        return self.u_value(replace(path, layers=layers, insulation=insulation))


def envelope(
    design: Design, library: Library, measured: MeasuredHouse, fabric: Fabric
) -> tuple[Envelope, ...]:
    """Return every part of the envelope with its U-value: walls, roof, floor, windows, doors.

    Walls go from floor level to the underside of the rafters on the outside face of the frame; roof and floor go
    to the outside face of the frame. The floor is one on the ground by EN ISO 13370, or a suspended one over
    outside air by EN ISO 6946; a declared U-value takes its place.
    """
    return (
        *_walls(design, library, measured, fabric),
        *_roofs(design, library, measured, fabric),
        _floor(design, library, measured, fabric),
        *_openings(design, library),
    )


def _framed(
    element: FabricElement,
    name: str,
    area: float,
    build_ups: Sequence[BuildUp],
    sticks: Sticks | None,
    assumed: float,
    *,
    flow: Flow,
    library: Library,
    fabric: Fabric,
    void: bool = False,
) -> Envelope:
    """Return a part of the envelope that is worked out from its layers, `void` with still air over a flat ceiling."""
    fraction = None if sticks is None else sticks.fraction
    part = Envelope(
        element=element,
        name=name,
        area=area,
        u_value=None,
        fraction=fraction,
        assumed_fraction=None if sticks is None else assumed,
    )
    if not library.resistances:
        return replace(part, not_assessed="the factors workbook has no sheet Thermal resistances")
    reader = LayerReader(library.materials, library.resistances, flow)
    try:
        path = _path(reader, build_ups, sticks, void=void)
        if path.unknown:
            names = ", ".join(path.unknown)
            return replace(part, path=path, not_assessed=f"no conductivity or thickness of {names}")
        surfaces = Surfaces(library.resistances, flow, fabric.air_gaps)
        limits = surfaces.limits(path)
        usual = None if sticks is None else replace(sticks, fraction=assumed)
        return replace(
            part,
            path=path,
            limits=limits,
            u_value=surfaces.u_value(path),
            assumed_u=None if usual is None else surfaces.u_value(_path(reader, build_ups, usual, void=void)),
        )
    except LookupError as error:
        return replace(part, not_assessed=f"the sheet Thermal resistances lacks {error.args[0]}")


def _path(
    reader: LayerReader, build_ups: Sequence[BuildUp], sticks: Sticks | None, *, void: bool
) -> HeatPath:
    """Return what heat goes through, with still air between the first build-up and the others over a flat ceiling."""
    if not void:
        return reader.path(build_ups, sticks)
    roof, lining = reader.path(build_ups[:1], sticks), reader.path(build_ups[1:], None)
    return replace(
        roof,
        layers=(*roof.layers, reader.air(_VOID), *lining.layers),
        unknown=(*roof.unknown, *lining.unknown),
    )


def _walls(design: Design, library: Library, measured: MeasuredHouse, fabric: Fabric) -> Iterator[Envelope]:
    """Yield the external walls by side; a side with a band of another cladding in its parts.

    The openings of such a side are taken to spread evenly over its parts.
    """
    frames: Mapping[str, WallFrame] = {frame.side: frame for frame in measured.wall_frames}
    wall = design.build_ups[design.house.external_wall]
    for side in SIDES:
        gross = wall_face(design.house, side).area
        net = gross - measured.areas.openings_by_side[side]
        sticks = Sticks(depth=design.house.stud_depth, fraction=frames[side].framing_fraction)
        shares: dict[str, float] = {}
        for name, _, face in cladding_regions(design, side):
            above = sum(piece.area for _, piece in face.band(0.0, None))
            shares[name] = shares.get(name, 0.0) + above / gross
        for name, share in shares.items():
            yield _framed(
                "external walls",
                f"{side} wall" if len(shares) == 1 else f"{side} wall, {name}",
                net * share,
                (design.build_ups[name], wall),
                sticks,
                fabric.assumed_wall_fraction,
                flow="horizontal",
                library=library,
                fabric=fabric,
            )


def _roofs(design: Design, library: Library, measured: MeasuredHouse, fabric: Fabric) -> Iterator[Envelope]:
    """Yield the roof with each ceiling under it: its area goes by the share of the floor under that ceiling."""
    frame = measured.roof_frame
    sticks = Sticks(depth=design.house.rafter_depth, fraction=frame.framing_fraction)
    roof = design.build_ups[design.house.roof]
    floors: dict[tuple[str, bool], float] = {}
    for zone in measured.inside.plan.zones:
        lining = ceiling_lining(design, library, zone.room, zone.bulkhead)
        key = (lining.build_up.name, zone.flat_height is not None)
        floors[key] = floors.get(key, 0.0) + zone.area
    total = sum(floors.values())
    for (name, flat), floor in floors.items():
        told = f"roof over {name}"
        yield _framed(
            "roof",
            f"{told}, flat" if flat and (name, False) in floors else told,
            frame.outline_area * floor / total,
            (roof, design.build_ups[name]),
            sticks,
            fabric.assumed_roof_fraction,
            flow="upwards",
            library=library,
            fabric=fabric,
            void=flat,
        )


def _floor(design: Design, library: Library, measured: MeasuredHouse, fabric: Fabric) -> Envelope:
    """Return the ground floor: declared, suspended over outside air, or on the ground."""
    area = measured.areas.outside
    if fabric.declared_floor is not None:
        return Envelope(
            element="floor", name="ground floor, declared", area=area, u_value=fabric.declared_floor
        )
    build_up = design.build_ups[design.house.floor]
    if measured.floor_frame is not None:
        return _framed(
            "floor",
            "suspended floor",
            area,
            (build_up,),
            Sticks(depth=design.house.floor_joist_depth, fraction=measured.floor_frame.framing_fraction),
            fabric.assumed_floor_fraction,
            flow="downwards",
            library=library,
            fabric=fabric,
        )
    part = Envelope(element="floor", name="floor on the ground", area=area, u_value=None)
    if not library.resistances:
        return replace(part, not_assessed="the factors workbook has no sheet Thermal resistances")
    try:
        ground = ground_floor(design, library, fabric)
    except LookupError as error:
        return replace(part, not_assessed=f"the sheet Thermal resistances lacks {error.args[0]}")
    return replace(part, u_value=ground.u_value, ground=ground)


def _openings(design: Design, library: Library) -> Iterable[Envelope]:
    """Return windows and external doors by unit type, with the heat lost at their joints with the wall."""
    groups: dict[tuple[FabricElement, str], list[tuple[float, float]]] = {}
    for opening in design.openings:
        element: FabricElement = "external doors" if opening.kind == "door" else "windows"
        perimeter = 2 * (opening.width + opening.height)
        groups.setdefault((element, opening.unit_type), []).append((opening.area, perimeter))
    parts = []
    for (element, name), sizes in groups.items():
        unit = library.materials[name]
        round_it = sum(perimeter for _, perimeter in sizes)
        parts.append(
            Envelope(
                element=element,
                name=name,
                area=sum(area for area, _ in sizes),
                u_value=unit.u_value,
                edge=None if unit.installation is None else unit.installation * round_it,
                not_assessed="" if unit.u_value is not None else f"no declared U-value of {name}",
            )
        )
    return sorted(parts, key=lambda part: part.element != "windows")
