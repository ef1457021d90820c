"""Measures the whole house: every element in order, and the areas that go with it."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.framing.floor import FloorFrame
from takeoff.framing.member import Member
from takeoff.framing.roof import RoofFrame, frame_roof
from takeoff.framing.walls import WallFrame, frame_wall
from takeoff.measure.cladding import measure_cladding
from takeoff.measure.floor import floor_frame, measure_floor
from takeoff.measure.inside import Inside, measure_inside
from takeoff.measure.openings import measure_openings
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.roof import measure_airtight_ceiling, measure_roof
from takeoff.measure.walls import measure_walls
from takeoff.model import geometry
from takeoff.model.house import SIDES, BuildUp, Design, Side
from takeoff.model.library import ELEMENTS, STEEL, Library
from takeoff.model.suspended_floor import depth_over_stumps
from takeoff.model.wall_runs import party_gaps


@dataclass(frozen=True, slots=True, kw_only=True)
class Areas:
    """Areas [m2], volumes [m3] and lengths [m] of the house, each as its name says.

    `outside` is the floor area to the outside face of the frame, `inside` that to the finished inside
    face of the external walls, `rooms` the floor of the rooms, net of internal walls; `wall_gross` is floor
    level to underside of roof on the outside face.
    """

    outside: float
    inside: float
    rooms: float
    wall_gross: float
    wall_by_side: dict[Side, float]
    openings: float
    openings_by_side: dict[Side, float]
    roof_slope: float
    roof_plan: float
    slope_length: float
    high_height: float
    enclosed_volume: float
    air_volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredHouse:
    """The sticks, the quantities and the areas of one house.

    `floor_frame` is None where the floor is not a suspended one; `under_floor` is then None, else the clear
    height from finished ground to the underside of its bearers [m], below 0 where they reach into the ground.
    `steel` names the materials of sticks that are steel.
    """

    wall_frames: tuple[WallFrame, ...]
    roof_frame: RoofFrame
    floor_frame: FloorFrame | None
    under_floor: float | None
    quantities: tuple[Quantity, ...]
    areas: Areas
    inside: Inside
    steel: frozenset[str] = frozenset()

    @property
    def timber(self) -> tuple[Member, ...]:
        """Every stick but those of steel."""
        return tuple(member for member in self.members if member.material not in self.steel)

    @property
    def members(self) -> tuple[Member, ...]:
        """Every stick of walls, roof, suspended floor and flat ceilings."""
        floor = self.floor_frame.members if self.floor_frame else ()
        external = (member for frame in self.wall_frames for member in frame.members)
        return (*external, *self.roof_frame.members, *floor, *self.inside.members)

    @property
    def framing_fraction(self) -> float:
        """Share of the net face of the external wall frames that is timber."""
        net = sum(frame.net_area for frame in self.wall_frames)
        return sum(frame.timber_area for frame in self.wall_frames) / net if net else 0.0


def frame_material(build_up: BuildUp) -> str:
    """Return the material of the frame of a build-up."""
    index = build_up.frame_index()
    if index is None:
        raise LookupError(f"build-up {build_up.name!r} has no layer measured by frame")
    return build_up.layers[index].material


def measure_areas(design: Design, inside: Inside) -> Areas:
    """Return the areas and volumes of a house."""
    house = design.house
    return Areas(
        outside=geometry.outside_area(house),
        inside=inside.plan.inside,
        rooms=sum(room.floor for room in inside.rooms),
        wall_gross=geometry.gross_wall_area(house),
        wall_by_side={side: geometry.wall_face(house, side).area for side in SIDES},
        openings=sum(opening.area for opening in design.openings),
        openings_by_side={side: sum(o.area for o in design.openings_in(side)) for side in SIDES},
        roof_slope=geometry.roof_area(house),
        roof_plan=geometry.roof_plan_area(house),
        slope_length=geometry.slope_length(house),
        high_height=geometry.height_at(house, house.span),
        enclosed_volume=geometry.enclosed_volume(house),
        air_volume=inside.air_volume,
    )


def measure_house(design: Design, library: Library) -> MeasuredHouse:
    """Frame and measure a house whose workbook has been checked.

    Quantities come in elemental order; rows that measure to nothing are left out.
    """
    house = design.house
    stud = frame_material(design.build_ups[house.external_wall])
    rafter = frame_material(design.build_ups[house.roof])
    frames = tuple(frame_wall(design, side, material=stud) for side in SIDES)
    inside = measure_inside(design, library)
    gaps = party_gaps(inside.runs, house)
    roof = frame_roof(house, material=rafter, gaps=gaps)
    floor = floor_frame(design, gaps=gaps)
    rows = [
        *measure_floor(design, library, floor),
        *measure_roof(design, library, roof),
        *measure_walls(design, library, frames),
        *measure_cladding(design, library),
        *measure_openings(design, library),
        *measure_airtight_ceiling(design, library),
        *inside.quantities,
        *_site(design),
    ]
    order = list(ELEMENTS)
    return MeasuredHouse(
        wall_frames=frames,
        roof_frame=roof,
        floor_frame=floor,
        under_floor=None if floor is None else _under_floor(design, library),
        quantities=tuple(sorted((q for q in rows if q.net > 1e-9), key=lambda q: order.index(q.element))),
        areas=measure_areas(design, inside),
        inside=inside,
        steel=frozenset(
            row.material for row in design.lintels if library.materials[row.material].family == STEEL
        ),
    )


def _under_floor(design: Design, library: Library) -> float:
    """Return the clear height from finished ground to the underside of the bearers [m]."""
    house = design.house
    return house.floor_above_ground - depth_over_stumps(
        house, design.build_ups[house.floor], library.materials
    )


def _site(design: Design) -> list[Quantity]:
    """Measure site energy by floor area, where the house names the labour row it follows."""
    house = design.house
    if house.site_activity is None:
        return []
    line = Dimension("floor to the outside face of the frame", 1, house.length, house.span)
    return [
        Quantity(
            id="PR.site-energy",
            element="PR",
            trade="site",
            item="Site energy",
            description="Energy used on site, by floor area",
            location="site",
            unit="m2",
            material="",
            net=line.squaring,
            required=line.squaring,
            dimensions=(line,),
            work=house.site_activity,
        )
    ]
