"""The floor of each room in plan: its rectangles, the largest of them, and the paper they take."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.places import Patch, on_paper
from takeoff.documents.drawings.plan_cut import cut_plan, largest_box
from takeoff.measure.inside import Inside
from takeoff.model.house import House, Room
from takeoff.model.room_edges import Box, merged_boxes


@dataclass(frozen=True, slots=True)
class RoomFloor:
    """The floor of a room at its finished faces: area [m2], rectangles [m], the largest in it, on paper."""

    room: Room
    area: float
    boxes: tuple[Box, ...]
    largest: Box
    patches: tuple[Patch, ...]

    @property
    def size(self) -> str:
        """Its size, along the eaves by up the slope, of the largest rectangle in it."""
        box = self.largest
        # finished faces seldom fall on whole centimetres; dimensions are taken to 10 mm
        return f"{box.to_x - box.from_x:.2f} × {box.to_y - box.from_y:.2f}"


def room_floors(house: House, inside: Inside, paper: Paper) -> list[RoomFloor]:
    """Return the floor of each room, in the order of the workbook; rooms that walls fill are left out."""
    floors = []
    for figures in inside.rooms:
        zones = [zone for zone in inside.plan.zones if zone.room.name == figures.room.name]
        # cut along every edge first, so that parts under different ceilings join to whole rectangles
        cells = cut_plan(house, rooms=[box for zone in zones for box in zone.boxes]).boxes("room")
        if not cells:
            continue
        boxes = merged_boxes(cells)
        floors.append(
            RoomFloor(
                figures.room,
                figures.floor,
                tuple(boxes),
                largest_box(boxes),
                tuple(on_paper(paper, box) for box in boxes),
            )
        )
    return floors
