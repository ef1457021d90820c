"""Measures what each room is finished with: wall linings, ceilings, floors; one item a lining and layer."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from takeoff.framing.member import Member
from takeoff.framing.studs import stud_positions
from takeoff.measure.ceilings import Interior, bounded
from takeoff.measure.face_layers import FACE_WAYS
from takeoff.measure.framing_rows import measure_members
from takeoff.measure.layer import LayerPlace, Measured, distinct, row, slug
from takeoff.measure.linings import FINISHES, Lining, wall_linings
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face
from takeoff.model.house import BuildUp, Layer

# What has no meaning on the upright face of a bulkhead: its frame is set out by itself.
_NOT_UPRIGHT = frozenset({"ceiling joists", "hangers", "battens at spacing", "between battens"})


@dataclass(frozen=True, slots=True)
class _Face:
    """A surface, the layers on it, and whether it is the upright side of a bulkhead."""

    surface: Surface
    layers: tuple[Layer, ...]
    upright: bool


@dataclass(slots=True)
class _Lined:
    """What one lining lies on: a build-up with its surfaces, and the rooms they are in."""

    build_up: BuildUp
    group: str
    faces: list[_Face] = field(default_factory=list)
    rooms: dict[str, None] = field(default_factory=dict)

    def add(self, lining: Lining, surfaces: Iterable[Surface], room: str, *, upright: bool = False) -> None:
        """Add surfaces of a room; `upright` for those of a bulkhead's side."""
        self.faces += [_Face(surface, lining.layers, upright) for surface in surfaces]
        self.rooms.setdefault(room)

    @property
    def layers(self) -> list[Layer]:
        """The layers that lie on any of the surfaces, in order."""
        found = {layer.number: layer for face in self.faces for layer in face.layers}
        return [found[number] for number in sorted(found)]

    def of(self, layer: Layer) -> tuple[Surface, ...]:
        """Return the surfaces that a layer lies on."""
        return tuple(
            part
            for face in self.faces
            if layer in face.layers and not (face.upright and layer.measured_by in _NOT_UPRIGHT)
            for part in bounded(face.surface, layer.bottom, layer.top)
        )

    def where(self, nowhere: str) -> str:
        """Return the rooms in words; `nowhere` where the house has no rooms."""
        names = [name for name in self.rooms if name]
        if not names:
            return nowhere
        return ", ".join(names) if len(names) <= 3 else f"{len(names)} rooms"


def measure_wall_linings(interior: Interior) -> list[Quantity]:
    """Measure the linings of all walls, each face in the room it belongs to."""
    design, library = interior.design, interior.library
    groups: dict[str, _Lined] = {}
    for face in interior.plan.faces:
        room = interior.plan.zones[face.zone].room
        surface = interior.wall_surface(face)
        for lining in wall_linings(design, library, room, design.build_ups[face.build_up]):
            _group(groups, lining).add(lining, [surface], room.name)
    return _rows(
        interior,
        groups,
        element=lambda _: "WF",
        nowhere="external walls, inside",
        way=lambda place: FACE_WAYS[place.layer.measured_by](place),
    )


def measure_floor_finishes(interior: Interior) -> list[Quantity]:
    """Measure the floor finishes, net of walls."""
    groups: dict[str, _Lined] = {}
    for zone in interior.plan.zones:
        if zone.room.floor_finish:
            build_up = interior.design.build_ups[zone.room.floor_finish]
            lining = Lining(build_up, build_up.layers, slug(build_up.name))
            _group(groups, lining).add(lining, interior.floor_surfaces(zone), zone.room.name)
    return _rows(
        interior,
        groups,
        element=lambda _: "FF",
        nowhere="",
        way=lambda place: FACE_WAYS[place.layer.measured_by](place),
    )


def measure_room_ceilings(interior: Interior, members: Iterable[Member]) -> list[Quantity]:
    """Measure the ceilings of all rooms, with the sides of bulkheads; `members` are their joists.

    The airtight layer, which runs through over all rooms, is measured apart.
    """
    groups: dict[str, _Lined] = {}
    for number, zone in enumerate(interior.plan.zones):
        lining = interior.lining_of(zone)
        group = _group(groups, lining)
        group.add(lining, interior.ceiling_surfaces(zone), zone.room.name)
        group.add(lining, interior.step_surfaces(number), zone.room.name, upright=True)

    def way(place: LayerPlace) -> Measured | None:
        if place.layer.measured_by == "ceiling joists":
            return None
        if place.layer.measured_by == "hangers":
            return _hangers(place)
        return FACE_WAYS[place.layer.measured_by](place)

    rows = _rows(
        interior,
        groups,
        element=lambda name: "" if name == "ceiling" else "CF",
        nowhere="raked ceiling",
        way=way,
    )
    return [*measure_members(members, interior.library, element="CF", location="ceilings"), *rows]


def _group(groups: dict[str, _Lined], lining: Lining) -> _Lined:
    """Return the group of a lining, made where it is the first: by name, for two names may give one id."""
    return groups.setdefault(lining.build_up.name, _Lined(lining.build_up, lining.group))


def _rows(
    interior: Interior,
    groups: dict[str, _Lined],
    *,
    element: Callable[[str], str],
    nowhere: str,
    way: Callable[[LayerPlace], Measured | None],
) -> list[Quantity]:
    """Return a row for each layer of each lining."""
    library = interior.library
    rows: list[Quantity] = []
    for lined in groups.values():
        for layer in lined.layers:
            material = library.materials[layer.material]
            surfaces = lined.of(layer)
            place = LayerPlace(layer, material, lined.build_up, surfaces, library)
            measured = way(place) if surfaces else None
            if measured is None:
                continue
            code = element(lined.group) or ("CF" if material.item_class in FINISHES else "RF")
            bounds = _bounds(layer)
            if bounds:
                measured = replace(measured, how=", ".join(part for part in (measured.how, bounds) if part))
            rows.append(
                row(
                    place,
                    measured,
                    id=f"{code}.{lined.group}.{slug(layer.material)}",
                    element=code,
                    location=lined.where(nowhere),
                )
            )
    return distinct(rows)


def _bounds(layer: Layer) -> str:
    """Return in words between which heights a layer lies."""
    words = []
    if layer.bottom is not None:
        words.append(f"from {layer.bottom:g} m")
    if layer.top is not None:
        words.append(f"up to {layer.top:g} m")
    return " ".join(words)


def _hangers(place: LayerPlace) -> Measured:
    """Measure hangers along each batten of the build-up, first and last at its ends."""
    spacing = place.layer.spacing or 1.0
    battens = place.sibling("battens at spacing")
    lines: list[Dimension] = []
    for surface in (surface for surface in place.surfaces if surface.hung > 0):
        rows, along = _batten_rows(place, battens, surface.face)
        each = math.ceil(along / spacing - 1e-9) + 1
        note = f"{surface.note}, {rows} battens, about {surface.hung:.2f} m long"
        lines.append(Dimension(note, rows * each * place.layer.rate))
    return Measured(dimensions=tuple(lines), how=f"at {spacing * 1000:g} mm along each batten")


def _batten_rows(place: LayerPlace, battens: Layer | None, face: Face) -> tuple[int, float]:
    """Return the number of battens on a lying face and the length of each [m]."""
    across, along = face.top_left, face.width
    if battens is None:
        return 1, along
    width = place.library.materials[battens.material].width or 0.0
    if battens.direction == "vertical":
        across, along = along, across
    return len(stud_positions(across, spacing=battens.spacing or 1.0, thickness=width)), along
