"""What is common to all layers: where they lie, the depth they take, how a row is made."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from zlib import crc32

from takeoff.measure.faces import face_dimensions
from takeoff.measure.quantity import BuiltIn, Dimension, Piece, Quantity, Weathered, net_of
from takeoff.measure.surface import Surface
from takeoff.model.house import BuildUp, Layer
from takeoff.model.library import Library, Material
from takeoff.model.measuring_ways import NO_VOID_RULE, WAYS

DEFAULT_SMALLEST_VOID = 0.5
# ids are looked up in workbooks, where no more than 255 signs can be
LONGEST_SLUG = 80
# Ways of measuring whose order follows from how the faces are covered.
_LAID = frozenset({"sheets", "panels", "profiled sheet by cover", "membrane with laps"})
_TAKES_ROOM = frozenset(
    {
        "area",
        "sheets",
        "boards by cover",
        "profiled sheet by cover",
        "panels",
        "masonry units",
        "battens at spacing",
        "ceiling joists",
        "still air layer",
        "ventilated air layer",
    }
)


@dataclass(frozen=True, slots=True)
class LayerPlace:
    """A layer in its place: the build-up it belongs to, its material, the surfaces it lies on."""

    layer: Layer
    material: Material
    build_up: BuildUp
    surfaces: tuple[Surface, ...]
    library: Library

    @property
    def thickness(self) -> float | None:
        """Thickness of the layer, else of its material [m]."""
        return self.layer.thickness or self.material.thickness

    @property
    def smallest_void(self) -> float | None:
        """Largest void within the face that is not deducted [m2]; None where every void is."""
        if self.layer.measured_by in NO_VOID_RULE:
            return None
        rule = self.library.measurement.get(self.material.item_class)
        return rule.smallest_void if rule else DEFAULT_SMALLEST_VOID

    def area_lines(self) -> list[Dimension]:
        """Return the dimension lines of the net area of all surfaces."""
        return [
            line
            for surface in self.surfaces
            for line in face_dimensions(
                surface.face,
                surface.voids,
                smallest_void=self.smallest_void,
                note=surface.note,
                height=surface.height,
            )
        ]

    def sibling(self, measured_by: str) -> Layer | None:
        """Return the nearest layer of the build-up measured in another way, or None."""
        others = [layer for layer in self.build_up.layers if layer.measured_by == measured_by]
        return min(others, key=lambda layer: abs(layer.number - self.layer.number), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What measuring a layer gives, before it is given its place in the bill.

    `required` is None where it equals net.
    """

    dimensions: tuple[Dimension, ...]
    required: float | None = None
    pieces: tuple[Piece, ...] = ()
    thickness: float | None = None
    section: float | None = None
    width: float | None = None
    how: str = ""
    void_rule: float | None = None


def layer_depth(layer: Layer, material: Material) -> float:
    """Return the room that a layer takes across the build-up [m]; 0 for membranes, coats and infill."""
    if layer.measured_by not in _TAKES_ROOM:
        return 0.0
    if layer.measured_by == "battens at spacing":
        return material.thickness or 0.0
    if layer.measured_by == "ceiling joists":
        return material.width or 0.0
    return layer.thickness or material.thickness or 0.0


def total_depth(layers: tuple[Layer, ...], materials: Mapping[str, Material]) -> float:
    """Return the room that a run of layers takes [m]."""
    return sum(layer_depth(layer, materials[layer.material]) for layer in layers)


def slug(text: str) -> str:
    """Return a name as it goes into a stable id: lower case, hyphens, at most eighty signs.

    Letters of any script are kept. A name without letters or digits, and the rest of one that is too long, are told
    by a checksum, so that different names have different ids.

    >>> slug("Softwood boards 180 x 19, lapped")
    'softwood-boards-180-x-19-lapped'
    """
    plain = re.sub(r"[^\w.]+|_+", "-", text.lower()).strip("-.")
    if plain and len(plain) <= LONGEST_SLUG:
        return plain
    return f"{plain[: LONGEST_SLUG - 9]}-{crc32(text.lower().encode()):08x}".lstrip("-")


def row(
    place: LayerPlace,
    measured: Measured,
    *,
    id: str,
    element: str,
    location: str,
    weather: tuple[Weathered, ...] = (),
) -> Quantity:
    """Return the quantity row of a measured layer."""
    net = net_of(measured.dimensions)
    material = place.material
    return Quantity(
        id=id,
        element=element,
        trade=material.trade,
        item=material.name,
        description=_description(place, measured),
        location=location,
        unit=WAYS[place.layer.measured_by].unit,
        material=material.name,
        net=net,
        required=net if measured.required is None else measured.required,
        dimensions=measured.dimensions,
        pieces=measured.pieces or linear_pieces(measured.dimensions, WAYS[place.layer.measured_by].unit),
        thickness=measured.thickness,
        section=measured.section,
        width=measured.width,
        void_rule=measured.void_rule,
        how=measured.how,
        surfaces=place.surfaces if place.layer.measured_by in _LAID else (),
        direction=place.layer.direction,
        built_in=BuiltIn(
            place.build_up.name,
            place.layer.number,
            assembly=id.removesuffix(f".{slug(place.layer.material)}"),
            renewed_with=place.layer.renewed_with,
        ),
        weather=weather,
    )


def linear_pieces(dimensions: tuple[Dimension, ...], unit: str) -> tuple[Piece, ...]:
    """Return the pieces of an item measured in m by dimension lines of one length each.

    Where a length was deducted or counted in part, its pieces are not known.
    """
    lines = [line for line in dimensions if line.squaring > 0]
    known = all(line.a and line.b is None and line.timesing == int(line.timesing) for line in lines)
    if unit != "m" or not known or any(line.deducted for line in dimensions):
        return ()
    return tuple(Piece(line.a or 0.0, int(line.timesing)) for line in lines)


def _description(place: LayerPlace, measured: Measured) -> str:
    """Return the bill description: the material, its thickness where given, how it is measured."""
    parts = [place.material.description]
    if place.layer.thickness:
        parts.append(f"{place.layer.thickness * 1000:g} mm thick")
    if measured.how:
        parts.append(measured.how)
    return ", ".join(parts)


def distinct(rows: list[Quantity]) -> list[Quantity]:
    """Return the rows with ids made distinct: a material used twice in one place gets `.2`, `.3`."""
    seen: dict[str, int] = {}
    result: list[Quantity] = []
    for quantity in rows:
        seen[quantity.id] = seen.get(quantity.id, 0) + 1
        number = seen[quantity.id]
        result.append(quantity if number == 1 else replace(quantity, id=f"{quantity.id}.{number}"))
    return result
