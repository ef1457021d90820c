"""Measures layers that lie on a face: areas, boards, sheets, panels, masonry, battens, membranes, coats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from takeoff.framing.studs import stud_positions
from takeoff.measure.layer import LayerPlace, Measured
from takeoff.measure.quantity import Dimension, Piece
from takeoff.measure.strips import (
    Strip,
    level_lines,
    level_strips,
    over_supports,
    pieces_of,
    upright_lines,
    upright_strips,
)
from takeoff.measure.surface import Surface
from takeoff.model.geometry import Face, Void, what_is_left
from takeoff.model.house import Layer
from takeoff.model.library import Material


def _area(place: LayerPlace) -> Measured:
    """Measure the area less openings."""
    return Measured(
        dimensions=tuple(place.area_lines()), thickness=place.thickness, void_rule=place.smallest_void
    )


def _board_strips(place: LayerPlace, cover: float) -> list[Strip]:
    """Cut all surfaces into boards in the layer's direction, which may be joined on what they are fixed to."""
    upright = place.layer.direction == "vertical"
    cut = upright_strips if upright else level_strips
    return [
        strip
        for surface in place.surfaces
        for strip in over_supports(
            cut(surface.face, surface.voids, cover=cover), _supports_of_boards(place, surface, upright)
        )
    ]


def _supports_of_boards(place: LayerPlace, surface: Surface, upright: bool) -> tuple[float, ...]:
    """Return the places along boards of what they are fixed to: battens across them, else the frame [m]."""
    battens = place.sibling("battens at spacing")
    if battens is not None and battens.direction == ("horizontal" if upright else "vertical"):
        return batten_places(battens, place.library.materials[battens.material], surface.face)
    return () if upright or battens is not None else surface.supports


def _boards(place: LayerPlace) -> Measured:
    """Measure boards by their cover: required is the overall face of every board as cut."""
    width, cover = place.material.width or 0.0, place.material.cover or 0.0
    strips = _board_strips(place, cover)
    return Measured(
        dimensions=tuple(place.area_lines()),
        required=sum(strip.length for strip in strips) * width,
        pieces=pieces_of(strips),
        thickness=place.thickness,
        width=width,
        how=f"{place.layer.direction}, {width * 1000:g} mm wide by {cover * 1000:g} mm cover",
        void_rule=place.smallest_void,
    )


def _profiled_sheet(place: LayerPlace) -> Measured:
    """Measure profiled sheets by their cover: required is cover times length of every sheet as cut."""
    cover = place.material.cover or 0.0
    strips: list[Strip] = []
    for surface in place.surfaces:
        if place.layer.direction == "vertical":
            cut = upright_strips(surface.face, surface.voids, cover=cover)
            strips += [replace(strip, end=strip.end + surface.run_on) for strip in cut]
        else:
            strips += level_strips(surface.face, surface.voids, cover=cover)
    return Measured(
        dimensions=tuple(place.area_lines()),
        required=sum(strip.length for strip in strips) * cover,
        pieces=pieces_of(strips),
        thickness=place.thickness,
        how=f"{place.layer.direction}, {cover * 1000:g} mm cover, cut to length",
        void_rule=place.smallest_void,
    )


def _panels(place: LayerPlace) -> Measured:
    """Measure flat panels in columns: each column is cut into whole panels and a made-up piece."""
    width, height = place.material.width or 0.0, place.material.length or 0.0
    joint = place.material.joint
    strips: list[Strip] = []
    for surface in place.surfaces:
        for column in upright_strips(surface.face, surface.voids, cover=width + joint):
            foot = column.start
            while column.end - foot > height + 1e-9:
                strips.append(Strip(column.place, foot, foot + height))
                foot += height + joint
            if column.end - foot > 1e-9:
                strips.append(Strip(column.place, foot, column.end))
    return Measured(
        dimensions=tuple(place.area_lines()),
        required=sum(strip.length for strip in strips) * width,
        pieces=pieces_of(strips),
        thickness=place.thickness,
        how=f"panels {width * 1000:g} x {height * 1000:g} mm, {joint * 1000:g} mm joints",
        void_rule=place.smallest_void,
    )


def units_per_m2(material: Material) -> float:
    """Return the masonry units in one m2 of face, from length, height and joint.

    Source: common practice, no source. A face of 230 x 76 mm with 10 mm joints gives 48.45.
    """
    length, height = material.length or 0.0, material.height or 0.0
    return 1 / ((length + material.joint) * (height + material.joint))


def joint_share(material: Material) -> float:
    """Return the share of a masonry face that is mortar joint."""
    length, height = material.length or 0.0, material.height or 0.0
    return 1 - length * height * units_per_m2(material)


def _masonry(place: LayerPlace) -> Measured:
    """Measure brickwork or blockwork by area; the number of units goes with it."""
    how = f"{units_per_m2(place.material):.2f} units per m2"
    return replace(_area(place), how=how)


def _mortar(place: LayerPlace) -> Measured:
    """Measure the mortar in the joints of the masonry units of the same build-up."""
    masonry = place.sibling("masonry units")
    if masonry is None:
        return Measured(dimensions=())
    units = place.library.materials[masonry.material]
    thickness = masonry.thickness or units.thickness or 0.0
    share = joint_share(units)
    lines = [replace(line, timesing=line.timesing * share, c=thickness) for line in place.area_lines()]
    return Measured(
        dimensions=tuple(lines),
        how=f"joints {share * 100:.1f} % of the face, {thickness * 1000:g} mm thick",
        void_rule=place.smallest_void,
    )


def batten_strips(layer: Layer, material: Material, surfaces: tuple[Surface, ...]) -> list[Strip]:
    """Set out battens on centres over surfaces, first and last flush with the edges, cut out at openings."""
    strips: list[Strip] = []
    for surface in surfaces:
        places = batten_places(layer, material, surface.face)
        if layer.direction == "vertical":
            strips += upright_lines(surface.face, surface.voids, places=places)
        else:
            lines = level_lines(surface.face, surface.voids, places=places)
            strips += over_supports(lines, surface.supports)
    return strips


def batten_places(layer: Layer, material: Material, face: Face) -> tuple[float, ...]:
    """Return where battens stand: along the face, or at heights above floor level where they are level [m]."""
    spacing, width = layer.spacing or 1.0, material.width or 0.0
    if layer.direction == "vertical":
        return tuple(stud_positions(face.width, spacing=spacing, thickness=width))
    height = max(face.top_left, face.top_right) - face.bottom
    rows = stud_positions(height, spacing=spacing, thickness=width)
    return tuple(face.bottom + z for z in rows)


def piece_lines(pieces: tuple[Piece, ...], note: str) -> tuple[Dimension, ...]:
    """Return the dimension lines of pieces: number times length."""
    return tuple(Dimension(note, piece.count, piece.length) for piece in pieces)


def _battens(place: LayerPlace) -> Measured:
    """Measure battens piece by piece."""
    material, spacing = place.material, place.layer.spacing or 0.0
    pieces = pieces_of(batten_strips(place.layer, material, place.surfaces))
    return Measured(
        dimensions=piece_lines(pieces, f"{place.layer.direction} battens"),
        pieces=pieces,
        section=(material.width or 0.0) * (place.thickness or 0.0),
        how=f"{place.layer.direction} at {spacing * 1000:g} mm",
    )


def _membrane(place: LayerPlace) -> Measured:
    """Measure a membrane: required adds the lap of every roll width."""
    lines = tuple(place.area_lines())
    net = sum(line.squaring for line in lines)
    width, lap = place.material.width or 1.0, place.material.lap
    return Measured(
        dimensions=lines,
        required=net * width / (width - lap),
        thickness=place.thickness,
        how=f"rolls {width:g} m wide, laps {lap * 1000:g} mm",
        void_rule=place.smallest_void,
    )


def _between_battens(place: LayerPlace) -> Measured:
    """Measure insulation between the battens of the same build-up: their face is deducted."""
    lines = place.area_lines()
    battens = place.sibling("battens at spacing")
    if battens is not None:
        material = place.library.materials[battens.material]
        length = sum(strip.length for strip in batten_strips(battens, material, place.surfaces))
        lines.append(Dimension("ddt face of battens", 1, length, material.width or 0.0, deducted=True))
    return Measured(dimensions=tuple(lines), thickness=place.thickness)


def _times(place: LayerPlace, how: str) -> Measured:
    """Measure the area times the rate of the layer: coats, or fixings per m2."""
    rate = place.layer.rate
    lines = tuple(replace(line, timesing=line.timesing * rate) for line in place.area_lines())
    return Measured(dimensions=lines, how=how.format(rate=rate), void_rule=place.smallest_void)


def _coats(place: LayerPlace) -> Measured:
    """Measure coats: m2 of one coat."""
    return _times(place, "{rate:g} coats, measured for each coat")


def _number_per_m2(place: LayerPlace) -> Measured:
    """Measure fixings by the number for one m2."""
    return _times(place, "{rate:g} per m2")


def _base(place: LayerPlace) -> Measured:
    """Measure the foot of the elevation, less openings that reach it."""
    lines: list[Dimension] = []
    strips: list[Strip] = []
    for surface in (s for s in place.surfaces if s.at_foot):
        face = surface.face
        lines.append(Dimension(f"{surface.note}, foot", 1, face.width))
        reaching = [void for void in surface.voids if void.bottom <= face.bottom + 1e-9]
        lines += [Dimension(f"ddt opening {void.mark}", 1, void.width, deducted=True) for void in reaching]
        between = what_is_left(0.0, face.width, [(void.left, void.right) for void in reaching])
        strips += [Strip(face.bottom, start, end) for start, end in between]
    return Measured(dimensions=tuple(lines), pieces=pieces_of(strips))


def _top_edge(place: LayerPlace) -> Measured:
    """Measure the head of the elevation, on the rake."""
    return Measured(
        dimensions=tuple(Dimension(f"{s.note}, head", 1, s.face.rake) for s in place.surfaces if s.at_head)
    )


def _outside_corner(place: LayerPlace) -> Measured:
    """Measure the right-hand end of the faces, so that each house corner is counted once."""
    return Measured(
        dimensions=tuple(
            Dimension(f"{s.note}, right-hand end", 1, s.face.top_right - s.face.bottom)
            for s in place.surfaces
        )
    )


def perimeter(void: Void, foot: float) -> float:
    """Return jambs, head and, where the void does not reach the foot of the face, sill [m]."""
    sill = void.width if void.bottom > foot + 1e-9 else 0.0
    return 2 * void.height + void.width + sill


def edges_within(void: Void, face: Face) -> list[float]:
    """Return the edges of a void that lie in a face [m]: jambs, head, and sill where it is above the floor."""
    part = face.clip(void)
    if part is None:
        return []
    edges = [part.height, part.height]
    if part.top >= void.top - 1e-9:
        edges.append(void.width)
    if void.bottom > 1e-9 and part.bottom <= void.bottom + 1e-9:
        edges.append(void.width)
    return edges


def _around_openings(place: LayerPlace) -> Measured:
    """Measure round every opening, as far as its edge lies in the face."""
    edges = [(void, edges_within(void, surface.face)) for surface in place.surfaces for void in surface.voids]
    return Measured(
        dimensions=tuple(Dimension(f"opening {void.mark}", 1, sum(lengths)) for void, lengths in edges),
        pieces=pieces_of(Strip(0.0, 0.0, length) for _, lengths in edges for length in lengths),
    )


def _nothing(place: LayerPlace) -> Measured:
    """Measure an air layer: there is nothing to buy."""
    return Measured(dimensions=())


FACE_WAYS: dict[str, Callable[[LayerPlace], Measured]] = {
    "area": _area,
    "sheets": _area,
    "boards by cover": _boards,
    "profiled sheet by cover": _profiled_sheet,
    "panels": _panels,
    "masonry units": _masonry,
    "mortar": _mortar,
    "battens at spacing": _battens,
    "membrane with laps": _membrane,
    "between battens": _between_battens,
    "still air layer": _nothing,
    "ventilated air layer": _nothing,
    "coats": _coats,
    "number per m2": _number_per_m2,
    "base": _base,
    "top edge": _top_edge,
    "outside corner": _outside_corner,
    "around openings": _around_openings,
}
