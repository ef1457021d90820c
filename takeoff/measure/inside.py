"""Frames and measures the inside of a house: internal walls, doors, ceilings and finishes, room by room."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.framing.internal_walls import InternalFrame, PlacedDoor, door_places, frame_internal_walls
from takeoff.framing.member import Member
from takeoff.measure.ceiling_frames import frame_ceilings
from takeoff.measure.ceilings import Interior
from takeoff.measure.internal_doors import measure_internal_doors
from takeoff.measure.internal_walls import measure_internal_walls
from takeoff.measure.linings import ceiling_lining, structure_inset
from takeoff.measure.quantity import Quantity
from takeoff.measure.room_finishes import measure_floor_finishes, measure_room_ceilings, measure_wall_linings
from takeoff.measure.room_plan import RoomPlan, room_plan
from takeoff.model.house import Design, Room
from takeoff.model.library import Library
from takeoff.model.room_edges import Edge, rooms_of
from takeoff.model.wall_runs import WallRun, wall_runs


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomFigures:
    """What a room comes to: areas [m2], lengths [m], volume [m3].

    `floor` is net of walls; `walls` is the gross face of its walls, openings not deducted, `wall_length` the
    length of those faces. `lowest` and `highest` are heights of its ceiling.
    """

    room: Room
    floor: float
    wall_length: float
    walls: float
    ceiling: float
    lowest: float
    highest: float
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """The inside of one house: walls, doors, sticks, rooms, and its quantities."""

    runs: tuple[WallRun, ...]
    doors: tuple[PlacedDoor, ...]
    wall_frames: tuple[InternalFrame, ...]
    ceiling_members: tuple[Member, ...]
    plan: RoomPlan
    rooms: tuple[RoomFigures, ...]
    quantities: tuple[Quantity, ...]

    @property
    def members(self) -> tuple[Member, ...]:
        """Every stick of internal walls and flat ceilings."""
        return (*(m for frame in self.wall_frames for m in frame.members), *self.ceiling_members)

    @property
    def air_volume(self) -> float:
        """Air of all rooms [m3]."""
        return sum(room.volume for room in self.rooms)


def measure_inside(design: Design, library: Library) -> Inside:
    """Frame and measure the inside of a house whose workbook has been checked."""
    runs = wall_runs(design)
    inset = structure_inset(design, library)
    doors = tuple(door_places(design, runs, inset=inset))
    frames = frame_internal_walls(
        design, runs, inset=inset, stop_height=lambda edge: stop_height(design, library, edge)
    )
    interior = Interior(design, library, room_plan(design, library, runs), doors)
    joists = frame_ceilings(interior)
    rows = [
        *measure_internal_walls(design, library, runs, frames),
        *measure_internal_doors(design, library, doors),
        *measure_wall_linings(interior),
        *measure_floor_finishes(interior),
        *measure_room_ceilings(interior, joists),
    ]
    return Inside(
        runs=runs,
        doors=doors,
        wall_frames=frames,
        ceiling_members=joists,
        plan=interior.plan,
        rooms=tuple(_figures(interior, room) for room in rooms_of(design)),
        quantities=tuple(rows),
    )


def stop_height(design: Design, library: Library, edge: Edge) -> float | None:
    """Return the height at which the wall on an edge stops, None where it goes to the roof [m].

    A wall between two rooms with flat ceilings stops at the top of the higher one's framing.
    """
    rooms = {room.name: room for room in rooms_of(design)}
    tops = []
    for name in (edge.before, edge.after):
        room = rooms[name]
        if room.flat_ceiling is None:
            return None
        tops.append(room.flat_ceiling + ceiling_lining(design, library, room).depth(library))
    return max(tops)


def _figures(interior: Interior, room: Room) -> RoomFigures:
    """Return the figures of one room."""
    zones = [(number, zone) for number, zone in enumerate(interior.plan.zones) if zone.room.name == room.name]
    numbers = {number for number, _ in zones}
    faces = [face for face in interior.plan.faces if face.zone in numbers]
    heights = [
        interior.ceiling_at(zone, y)
        for _, zone in zones
        for box in zone.boxes
        for y in (box.from_y, box.to_y)
    ]
    return RoomFigures(
        room=room,
        floor=sum(zone.area for _, zone in zones),
        wall_length=sum(face.length for face in faces),
        walls=sum(interior.wall_surface(face).face.area for face in faces),
        ceiling=sum(s.face.area for _, zone in zones for s in interior.ceiling_surfaces(zone)),
        lowest=min(heights, default=0.0),
        highest=max(heights, default=0.0),
        volume=sum(interior.volume(zone) for _, zone in zones),
    )
