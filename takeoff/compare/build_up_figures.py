"""What a build-up comes to for one m2 as built in one house: upfront and stored carbon, cost, U-values.

A build-up is taken with all it is built with: a wall with its cladding, its frame and its lining, a roof with the
ceiling under it. Each part counts over the area that it is fixed on, so that their figures for one m2 add up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from takeoff.assess.fabric.elements import Envelope
from takeoff.assess.lines import Line
from takeoff.compare.build_up_parts import BuildUpFigures, BuildUpPart
from takeoff.compare.claddings import claddings_of
from takeoff.compare.evaluate import Result
from takeoff.framing.member import Member
from takeoff.measure.ceilings import Interior
from takeoff.measure.cladding import cladding_regions
from takeoff.measure.framing_rows import measure_members
from takeoff.measure.linings import airtight_layers, ceiling_lining
from takeoff.model.house import SIDES, BuildUp, Layer, Side
from takeoff.model.library import Library

# Layers whose area is that of the lining they belong to.
_BOARDS = frozenset({"sheets", "area", "boards by cover", "panels"})


def build_up_figures(result: Result, library: Library) -> tuple[BuildUpFigures, ...]:
    """Return every build-up of an option: external walls by cladding, internal and party walls, roofs, floor.

    The cladding counts over its own face, the frame of a wall and all behind the linings over the face of the frame,
    a lining over the faces that have it, openings deducted; the roof over its slope, overhangs included, a ceiling
    over its own area; the floor over that to the outside face of the frame.
    """
    return (
        *_external_walls(result, library),
        *_internal_walls(result, library),
        *_roofs(result, library),
        _floor(result),
    )


def _external_walls(result: Result, library: Library) -> Iterator[BuildUpFigures]:
    """Yield the external wall with each cladding, in the order of the sides."""
    design = result.design
    wall = design.build_ups[design.house.external_wall]
    sides: dict[str, list[Side]] = {}
    for side in SIDES:
        for name in dict.fromkeys(name for name, _, _ in cladding_regions(design, side)):
            sides.setdefault(name, []).append(side)
    figures = claddings_of(result)
    frame = BuildUpPart(
        name="frame and layers",
        area=result.fabric.area("external walls"),
        of="the outside face of the frame",
        shares=_whole(
            line
            for line in result.lines
            if line.quantity.id.startswith("EW.FR.") or _is_of(line, wall.name, "EW")
        ),
    )
    lining = _lining(result, wall, element="WF")
    for name, own in sides.items():
        cladding = design.build_ups[name]
        clad = BuildUpPart(
            name="cladding",
            area=sum(each.area for each in figures if each.build_up == name),
            of="its own face",
            shares=_whole(line for line in result.lines if _is_of(line, name, "EW")),
        )
        yield BuildUpFigures(
            kind="external wall",
            name=f"{name} on {wall.name}",
            build_ups=(cladding, wall),
            layers=_layers(cladding, wall),
            parts=(clad, frame, *([lining] if lining else [])),
            envelope=tuple(_walls_of(result, name, own)),
            sides=tuple(own),
            missing="" if lining else "its own lining, as all rooms have linings of their own",
        )


def _walls_of(result: Result, cladding: str, sides: Iterable[Side]) -> Iterator[Envelope]:
    """Yield the parts of the envelope that have a cladding, in the order of the sides."""
    parts = {part.name: part for part in result.fabric.of("external walls")}
    for side in sides:
        for name in (f"{side} wall", f"{side} wall, {cladding}"):
            if name in parts:
                yield parts[name]


def _internal_walls(result: Result, library: Library) -> Iterator[BuildUpFigures]:
    """Yield internal and party walls as their build-ups come up in the plan, party walls last."""
    inside = result.measured.inside
    frames_of = {frame.build_up: frame.party for frame in inside.wall_frames}
    for name, party in sorted(frames_of.items(), key=lambda each: each[1]):
        wall = result.design.build_ups[name]
        frames = [frame for frame in inside.wall_frames if frame.build_up == name]
        sticks = [member for frame in frames for member in frame.members]
        framing = BuildUpPart(
            name="frame and layers",
            area=sum(frame.net_area for frame in frames) / (2 if party else 1),
            of="one face of the wall",
            shares=(
                *_of_sticks(result.lines, sticks, library, element="IW", prefix="IW.PW." if party else "IW."),
                *_whole(line for line in result.lines if _is_of(line, name, "IW")),
            ),
        )
        lining = _lining(result, wall, element="WF", faces=2)
        yield BuildUpFigures(
            kind="party wall" if party else "internal wall",
            name=name,
            build_ups=(wall,),
            layers=_layers(wall),
            parts=(framing, *([lining] if lining else [])),
            missing="" if lining else "its own lining, as the rooms beside it have linings of their own",
        )


def _roofs(result: Result, library: Library) -> Iterator[BuildUpFigures]:
    """Yield the roof with each ceiling under it, in the order of the rooms."""
    design, zones = result.design, result.measured.inside.plan.zones
    roof, house_ceiling = design.build_ups[design.house.roof], design.build_ups[design.house.ceiling]
    airtight = airtight_layers(design, library)
    numbers = frozenset(layer.number for layer in airtight)
    own_roof = BuildUpPart(
        name="roof",
        area=result.measured.areas.roof_slope,
        of="the slope with its overhangs",
        shares=_whole(
            line
            for line in result.lines
            if line.quantity.id.startswith("RF.FR.") or _is_of(line, roof.name, "RF")
        ),
    )
    membranes = [
        line for line in result.lines if _is_of(line, house_ceiling.name) and _layer_number(line) in numbers
    ]
    behind = [_airtight_part(membranes)] if membranes else []
    envelope = {part.name: part for part in result.fabric.of("roof")}
    seen: dict[tuple[str, bool], None] = {}
    for zone in zones:
        lining = ceiling_lining(design, library, zone.room, zone.bulkhead)
        seen.setdefault((lining.build_up.name, zone.flat_height is not None))
    for name, flat in seen:
        ceiling = design.build_ups[name]
        part = _lining(
            result, ceiling, without=numbers if ceiling is house_ceiling else frozenset(), name="ceiling"
        )
        if part is not None:
            joists = [
                member
                for zone in zones
                if ceiling_lining(design, library, zone.room, zone.bulkhead).build_up.name == name
                for member in result.measured.inside.ceiling_members
                if member.place == f"ceiling of {Interior.zone_name(zone)}"
            ]
            sticks = _of_sticks(result.lines, joists, library, element="CF", prefix="CF.")
            part = replace(part, shares=(*part.shares, *sticks))
        own = () if ceiling is house_ceiling else tuple((house_ceiling, layer) for layer in airtight)
        told = f"roof over {name}, flat" if flat and (name, False) in seen else f"roof over {name}"
        yield BuildUpFigures(
            kind="roof",
            name=f"{roof.name}, over {name}",
            build_ups=(roof, ceiling),
            layers=(*_layers(roof), *own, *_layers(ceiling)),
            parts=(own_roof, *behind, *([part] if part else [])),
            envelope=(envelope[told],) if told in envelope else (),
            flat=flat,
        )


def _airtight_part(lines: Sequence[Line]) -> BuildUpPart:
    """Return the membranes that run through under the rafters over all rooms."""
    return BuildUpPart(
        name="airtight layer",
        area=max(line.quantity.net for line in lines),
        of="the slope inside the walls",
        shares=_whole(lines),
    )


def _floor(result: Result) -> BuildUpFigures:
    """Return the ground floor, floor finishes left out."""
    floor = result.design.build_ups[result.design.house.floor]
    part = BuildUpPart(
        name="floor",
        area=result.measured.areas.outside,
        of="the floor to the outside face of the frame",
        shares=_whole(
            line
            for line in result.lines
            if line.quantity.id.startswith("SB.FR.") or _is_of(line, floor.name, "SB")
        ),
    )
    return BuildUpFigures(
        kind="floor",
        name=floor.name,
        build_ups=(floor,),
        layers=_layers(floor),
        parts=(part,),
        envelope=tuple(result.fabric.of("floor")),
    )


def _lining(
    result: Result,
    build_up: BuildUp,
    *,
    element: str = "",
    without: frozenset[int] = frozenset(),
    faces: int = 1,
    name: str = "lining",
) -> BuildUpPart | None:
    """Return the layers of a build-up that line rooms over the area of its boards, None where there are none.

    `element` is the code of its items, "" for any; `without` are numbers of layers that count elsewhere.
    """
    lines = [
        line
        for line in result.lines
        if _is_of(line, build_up.name, element) and _layer_number(line) not in without
    ]
    boards = {layer.number for layer in build_up.layers if layer.measured_by in _BOARDS}
    areas = [line.quantity.net for line in lines if _layer_number(line) in boards]
    if not areas:
        return None
    return BuildUpPart(
        name=name,
        area=max(areas),
        of="the faces that have it",
        shares=_whole(lines),
        faces=faces,
    )


def _of_sticks(
    lines: Iterable[Line], sticks: Sequence[Member], library: Library, *, element: str, prefix: str
) -> Iterator[tuple[Line, float]]:
    """Yield the items of framing with the share of their length that some sticks are."""
    own = {
        quantity.id.removeprefix(f"{element}."): quantity.net
        for quantity in measure_members(sticks, library, element=element, location="")
    }
    for line in lines:
        length = (
            own.get(line.quantity.id.removeprefix(prefix)) if line.quantity.id.startswith(prefix) else None
        )
        if length and line.quantity.net:
            yield line, length / line.quantity.net


def _layers(*build_ups: BuildUp) -> tuple[tuple[BuildUp, Layer], ...]:
    """Return the layers of build-ups one behind the other."""
    return tuple((build_up, layer) for build_up in build_ups for layer in build_up.layers)


def _whole(lines: Iterable[Line]) -> tuple[tuple[Line, float], ...]:
    """Return items that belong to a part as a whole."""
    return tuple((line, 1.0) for line in lines)


def _is_of(line: Line, build_up: str, element: str = "") -> bool:
    """Whether an item is a layer of a build-up, under an element where one is named."""
    built = line.quantity.built_in
    return built is not None and built.build_up == build_up and element in ("", line.quantity.element)


def _layer_number(line: Line) -> int:
    """Return the number of the layer that an item is, 0 where it is none."""
    built = line.quantity.built_in
    return built.layer if built is not None else 0
