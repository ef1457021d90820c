"""Heights under the ceilings of rooms, and the faces that linings lie on: walls, ceilings, steps, floors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from takeoff.framing.internal_walls import PlacedDoor
from takeoff.framing.roof import rafter_places
from takeoff.measure.linings import Lining, ceiling_lining, raked_drop
from takeoff.measure.room_plan import CeilingStep, RoomPlan, WallFace, Zone
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void, height_at, plan_point, slope_factor
from takeoff.model.house import SIDES, Design
from takeoff.model.library import Library
from takeoff.model.room_edges import TOLERANCE, Box


@dataclass(frozen=True, slots=True)
class Interior:
    """The inside of a house as measured: its plan at the finished faces and the doors in it."""

    design: Design
    library: Library
    plan: RoomPlan
    doors: tuple[PlacedDoor, ...]

    def lining_of(self, zone: Zone) -> Lining:
        """Return what lines the ceiling of a zone."""
        return ceiling_lining(self.design, self.library, zone.room, zone.bulkhead)

    def ceiling_at(self, zone: Zone, y: float) -> float:
        """Return the height of the finished ceiling of a zone above floor level at y [m]."""
        if zone.flat_height is not None:
            return zone.flat_height
        return height_at(self.design.house, y) - raked_drop(self.design, self.library, zone.room)

    def wall_surface(self, face: WallFace) -> Surface:
        """Return the face of a wall in a zone, floor to ceiling, with the openings in it."""
        zone = self.plan.zones[face.zone]
        if face.axis == "x":
            left = right = self.ceiling_at(zone, face.at)
        else:
            left, right = self.ceiling_at(zone, face.start), self.ceiling_at(zone, face.end)
        shown = Face(face.length, 0.0, left, right)
        return Surface(self._wall_note(face), shown, tuple(self._voids(face)))

    def _wall_note(self, face: WallFace) -> str:
        """Return what a face is called on a dimension sheet."""
        room = self.plan.zones[face.zone].room.name
        if face.wall in SIDES:
            return f"{room}, {face.wall} wall" if room else f"{face.wall} wall, inside"
        return f"{room}, wall {face.wall}" if face.along else f"{room}, end of wall {face.wall}"

    def _voids(self, face: WallFace) -> Iterator[Void]:
        """Yield the openings of a face, measured from its start, cut at its ends."""
        if not face.along:
            return
        if face.wall in SIDES:
            house = self.design.house
            index = 0 if face.axis == "x" else 1
            for opening in self.design.openings:
                if opening.side != face.wall:
                    continue
                ends = sorted(
                    plan_point(house, opening.side, s)[index] for s in (opening.position, opening.right)
                )
                yield from _cut(ends[0], ends[1], opening.sill, opening.height, opening.mark, face)
        else:
            for placed in self.doors:
                if placed.run.mark == face.wall:
                    door = placed.door
                    yield from _cut(placed.position, placed.right, 0.0, door.height, door.mark, face)

    def ceiling_surfaces(self, zone: Zone) -> list[Surface]:
        """Return the ceiling of a zone as faces: along the eaves by up the slope where it rakes."""
        flat, house = zone.flat_height, self.design.house
        factor = 1.0 if flat is not None else slope_factor(house)
        return [
            Surface(
                f"{self.zone_name(zone)} ceiling".strip(),
                _lying(box, factor),
                hung=0.0 if flat is None else height_at(house, (box.from_y + box.to_y) / 2) - flat,
                supports=()
                if flat is not None
                else tuple(x - box.from_x for x in rafter_places(house) if box.from_x < x < box.to_x),
            )
            for box in zone.boxes
        ]

    def step_surfaces(self, zone_number: int) -> list[Surface]:
        """Return the upright faces where the ceiling of a zone is lower than that of a zone beside it."""
        zone = self.plan.zones[zone_number]
        surfaces = []
        for step, higher in self.steps_of(zone_number):
            low, high = self._tops(zone, step), self._tops(higher, step)
            rises = (high[0] - low[0], high[1] - low[1])
            if max(rises) < TOLERANCE:
                continue
            note = f"{self.zone_name(zone)}, upright face to {self.zone_name(higher)}"
            # where the two ceilings cross, only the part counts along which this zone is the lower one
            upright = Face(step.end - step.start, min(*rises, 0.0), *rises)
            surfaces += [Surface(note, face) for _, face in upright.band(0.0, None)]
        return surfaces

    def steps_of(self, zone_number: int) -> list[tuple[CeilingStep, Zone]]:
        """Return the lines on which a flat zone meets others without a wall, and the zone beyond each."""
        zone = self.plan.zones[zone_number]
        if zone.flat_height is None:
            return []
        found = []
        for step in self.plan.steps:
            if zone_number in step.zones:
                other = step.zones[1] if step.zones[0] == zone_number else step.zones[0]
                found.append((step, self.plan.zones[other]))
        return found

    def _tops(self, zone: Zone, step: CeilingStep) -> tuple[float, float]:
        """Return the height of a zone's ceiling at both ends of a line."""
        if step.axis == "x":
            return (self.ceiling_at(zone, step.at), self.ceiling_at(zone, step.at))
        return (self.ceiling_at(zone, step.start), self.ceiling_at(zone, step.end))

    def floor_surfaces(self, zone: Zone) -> list[Surface]:
        """Return the floor of a zone as faces."""
        return [Surface(f"{self.zone_name(zone)} floor".strip(), _lying(box, 1.0)) for box in zone.boxes]

    @staticmethod
    def zone_name(zone: Zone) -> str:
        """Return the name of a zone: its room, and its bulkhead where it is one."""
        return f"{zone.room.name}, {zone.bulkhead.name}" if zone.bulkhead else zone.room.name

    def volume(self, zone: Zone) -> float:
        """Return the air of a zone, floor to ceiling [m3]."""
        return sum(box.area * self.ceiling_at(zone, (box.from_y + box.to_y) / 2) for box in zone.boxes)


def _lying(box: Box, factor: float) -> Face:
    """Return a rectangle of the plan as a face: its width along the eaves, its length up the slope."""
    length = (box.to_y - box.from_y) * factor
    return Face(box.to_x - box.from_x, 0.0, length, length)


def _cut(start: float, end: float, sill: float, height: float, mark: str, face: WallFace) -> Iterator[Void]:
    """Yield the part of an opening that lies between the ends of a face."""
    left, right = max(start, face.start), min(end, face.end)
    if right - left > TOLERANCE:
        yield Void(left - face.start, sill, right - left, height, mark)


def bounded(surface: Surface, bottom: float | None, top: float | None) -> Sequence[Surface]:
    """Return the part of a wall surface between two heights [m], as surfaces with straight tops."""
    if bottom is None and top is None:
        return (surface,)
    return [
        replace(
            surface,
            face=face,
            voids=tuple(_moved(surface.voids, left, left + face.width)),
            at_foot=bottom is None,
            at_head=top is None,
        )
        for left, face in surface.face.band(bottom, top)
    ]


def _moved(voids: Sequence[Void], left: float, right: float) -> Iterator[Void]:
    """Yield voids as a part of their face sees them, between two places along it."""
    for void in voids:
        start, end = max(void.left, left), min(void.right, right)
        if end - start > TOLERANCE:
            yield replace(void, left=start - left, width=end - start)
