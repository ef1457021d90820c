"""Measures the whole house: every element in order, and the areas that go with it."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.framing.member import Member
from takeoff.framing.roof import RoofFrame, frame_roof
from takeoff.framing.walls import WallFrame, frame_wall
from takeoff.measure.cladding import measure_cladding
from takeoff.measure.floor import measure_floor
from takeoff.measure.openings import measure_openings
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.roof import measure_ceiling, measure_roof
from takeoff.measure.walls import ceiling_drop, measure_walls, wall_inset
from takeoff.model import geometry
from takeoff.model.house import SIDES, BuildUp, Design, Side
from takeoff.model.library import ELEMENTS, Library


@dataclass(frozen=True, slots=True, kw_only=True)
class Areas:
    """Areas [m2], volumes [m3] and lengths [m] of the house, each as its name says.

    `outside` is the floor area to the outside face of the frame, `inside` that to the finished inside
    face of the external walls; `wall_gross` is floor level to underside of roof on the outside face.
    """

    outside: float
    inside: float
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
    """The sticks, the quantities and the areas of one house."""

    wall_frames: tuple[WallFrame, ...]
    roof_frame: RoofFrame
    quantities: tuple[Quantity, ...]
    areas: Areas

    @property
    def members(self) -> tuple[Member, ...]:
        """Every stick of walls and roof."""
        return (*(m for frame in self.wall_frames for m in frame.members), *self.roof_frame.members)

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


def measure_areas(design: Design, library: Library) -> Areas:
    """Return the areas and volumes of a house."""
    house = design.house
    inset, drop = wall_inset(design, library), ceiling_drop(design, library)
    return Areas(
        outside=geometry.outside_area(house),
        inside=geometry.inside_area(house, inset),
        wall_gross=geometry.gross_wall_area(house),
        wall_by_side={side: geometry.wall_face(house, side).area for side in SIDES},
        openings=sum(opening.area for opening in design.openings),
        openings_by_side={side: sum(o.area for o in design.openings_in(side)) for side in SIDES},
        roof_slope=geometry.roof_area(house),
        roof_plan=geometry.roof_plan_area(house),
        slope_length=geometry.slope_length(house),
        high_height=geometry.height_at(house, house.span),
        enclosed_volume=geometry.enclosed_volume(house),
        air_volume=geometry.air_volume(house, wall_inset=inset, ceiling_drop=drop),
    )


def measure_house(design: Design, library: Library) -> MeasuredHouse:
    """Frame and measure a house whose workbook has been checked.

    Quantities come in elemental order; rows that measure to nothing are left out.
    """
    house = design.house
    stud = frame_material(design.build_ups[house.external_wall])
    rafter = frame_material(design.build_ups[house.roof])
    frames = tuple(frame_wall(design, side, material=stud) for side in SIDES)
    roof = frame_roof(house, material=rafter)
    rows = [
        *measure_floor(design, library),
        *measure_roof(design, library, roof),
        *measure_walls(design, library, frames),
        *measure_cladding(design, library),
        *measure_openings(design, library),
        *measure_ceiling(design, library),
        *_site(design),
    ]
    order = list(ELEMENTS)
    return MeasuredHouse(
        wall_frames=frames,
        roof_frame=roof,
        quantities=tuple(sorted((q for q in rows if q.net > 1e-9), key=lambda q: order.index(q.element))),
        areas=measure_areas(design, library),
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
