"""Which layers line a wall or ceiling in a room: the room's own lining, or those of the wall or house."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.measure.layer import slug, total_depth
from takeoff.model.geometry import slope_factor
from takeoff.model.house import BuildUp, Bulkhead, Design, Layer, Room
from takeoff.model.library import Library

# Classes of items that a room's own lining takes the place of.
FINISHES = frozenset({"linings", "coatings", "trims"})
_AIRTIGHT = "membranes"
_BOARDS = "linings"


@dataclass(frozen=True, slots=True)
class Lining:
    """The layers that line a surface, the build-up they belong to, and how their ids begin after the element."""

    build_up: BuildUp
    layers: tuple[Layer, ...]
    group: str

    def depth(self, library: Library) -> float:
        """Return the room it takes [m]."""
        return total_depth(self.layers, library.materials)


def finish_layers(build_up: BuildUp, library: Library) -> tuple[Layer, ...]:
    """Return the layers of a wall that its rooms see: linings, coats, tiles and trims inside the frame."""
    return tuple(
        layer
        for layer in build_up.inside_layers()
        if library.materials[layer.material].item_class in FINISHES
    )


def wall_linings(design: Design, library: Library, room: Room, wall: BuildUp) -> tuple[Lining, ...]:
    """Return what lines a wall in a room, from the frame on: its own wall lining, else the wall's finishes.

    The boards of a party wall stay behind the room's own lining, since its fire and sound rest on them.
    """
    group = "IN" if wall.part == "external wall" else f"IW.{slug(wall.name)}"
    finishes = finish_layers(wall, library)
    if not room.wall_lining:
        return (Lining(wall, finishes, group),)
    own = design.build_ups[room.wall_lining]
    lining = Lining(own, own.layers, slug(own.name))
    if wall.part != "party wall":
        return (lining,)
    boards = tuple(layer for layer in finishes if library.materials[layer.material].item_class == _BOARDS)
    return (Lining(wall, boards, group), lining)


def lining_depth(design: Design, library: Library, room: Room, wall: BuildUp) -> float:
    """Return the room that the linings of a wall take in a room [m]."""
    return sum(lining.depth(library) for lining in wall_linings(design, library, room, wall))


def ceiling_lining(design: Design, library: Library, room: Room, bulkhead: Bulkhead | None = None) -> Lining:
    """Return what lines a ceiling in a room: its own lining, else the house's but for the airtight layer."""
    name = (bulkhead.ceiling_lining if bulkhead else None) or room.ceiling_lining
    if name:
        own = design.build_ups[name]
        return Lining(own, own.layers, slug(own.name))
    house = design.build_ups[design.house.ceiling]
    layers = tuple(
        layer for layer in house.layers if library.materials[layer.material].item_class != _AIRTIGHT
    )
    return Lining(house, layers, "ceiling")


def airtight_layers(design: Design, library: Library) -> tuple[Layer, ...]:
    """Return the layers of the house's ceiling that run through over all rooms: its membranes."""
    layers = design.build_ups[design.house.ceiling].layers
    return tuple(layer for layer in layers if library.materials[layer.material].item_class == _AIRTIGHT)


def structure_inset(design: Design, library: Library) -> float:
    """Return the distance from the outside face of the frame to where the finishes of a wall begin [m]."""
    build_up = design.build_ups[design.house.external_wall]
    finishes = finish_layers(build_up, library)
    behind = tuple(layer for layer in build_up.inside_layers() if layer not in finishes)
    return design.house.stud_depth + total_depth(behind, library.materials)


def raked_drop(design: Design, library: Library, room: Room) -> float:
    """Return the upright distance from the underside of the rafters to a raked ceiling in a room [m]."""
    return ceiling_lining(design, library, room).depth(library) * slope_factor(design.house)
