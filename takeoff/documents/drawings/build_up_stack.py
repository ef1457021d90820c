"""The layers of a build-up in their places across it: what is drawn, what is only listed, and its thickness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from takeoff.compare.build_up_parts import BuildUpFigures
from takeoff.documents.drawings.build_up_hatches import Cut, cut_of
from takeoff.measure.layer import layer_depth
from takeoff.model.house import BuildUp, House, Layer
from takeoff.model.library import STEEL, Library, Material
from takeoff.model.measuring_ways import WAYS

Shape = Literal["solid", "profile", "air", "sticks", "infill", "membrane", "mesh", "face", "bearers"]
_SOLID = frozenset(
    {"area", "sheets", "boards by cover", "panels", "masonry units", "poured", "within edge beams"}
)
_AIR = frozenset({"still air layer", "ventilated air layer"})
_FRAMES = frozenset({"frame", "floor joists"})
_INFILLS = frozenset({"between studs", "between rafters", "between joists"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A layer as drawn: where it lies across the build-up, from the outside face on [m].

    `number` is that of its row in the list, 0 for the other half of a wall that is the same both ways. `wide` is the
    width of one stick where it is sticks [m]. `hung` tells what hangs below the void over a flat ceiling.
    """

    number: int
    layer: Layer
    material: Material
    shape: Shape
    cut: Cut
    start: float
    end: float
    wide: float = 0.0
    hung: bool = False

    @property
    def middle(self) -> float:
        """The middle of it [m]."""
        return (self.start + self.end) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A row of the list: the layer's number in it (0 where it is not drawn), its name and its thickness in words."""

    number: int
    layer: Layer
    name: str
    thickness: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """A build-up set out across: what is drawn of it, all its layers as listed, its thickness [m].

    `void_at` is where the void over a flat ceiling lies, None where there is none; its height is not drawn to scale
    and not counted. `zones` are the places between which its thickness is dimensioned.
    """

    pieces: tuple[Piece, ...]
    listed: tuple[Listed, ...]
    depth: float
    zones: tuple[float, ...]
    void_at: float | None = None


def stack_of(figures: BuildUpFigures, house: House, library: Library) -> Stack:
    """Return the layers of a build-up in their places.

    Insulation between rafters and joists lies at the inner side of them, between studs at the outer one; the layers
    of a wall between rooms are the same both ways from its middle.
    """
    return _Stacking(figures, house, library).stack()


class _Stacking:
    """Sets layers out one behind the other."""

    def __init__(self, figures: BuildUpFigures, house: House, library: Library) -> None:
        """Begin at the outside face."""
        self.figures, self.house, self.library = figures, house, library
        self.pieces: list[Piece] = []
        self.listed: list[Listed] = []
        self.at = 0.0
        self.frame: tuple[float, float] | None = None
        self.battens: tuple[float, float] | None = None
        self.void_at: float | None = None

    def stack(self) -> Stack:
        """Return everything in its place."""
        ceiling = self.figures.build_ups[-1] if self.figures.flat else None
        for build_up, layer in self.figures.layers:
            if ceiling is not None and build_up is ceiling and self.void_at is None:
                self.void_at = self.at
            self._add(build_up, layer)
        if self.figures.kind in ("internal wall", "party wall"):
            return self._both_ways()
        frame = self.frame or (0.0, 0.0)
        zones = sorted({0.0, *frame, self.at}) if self.figures.kind != "floor" else [0.0, self.at]
        return Stack(
            pieces=tuple(self.pieces),
            listed=tuple(self.listed),
            depth=self.at,
            zones=tuple(zones),
            void_at=self.void_at,
        )

    def _add(self, build_up: BuildUp, layer: Layer) -> None:
        """Add one layer."""
        material = self.library.materials[layer.material]
        placed = self._placed(layer, material, build_up)
        number = max((each.number for each in self.listed), default=0) + 1 if placed else 0
        name = f"{material.name}{_bounds(layer)}"
        thickness = thickness_words(layer, material, self._depth_of(layer))
        self.listed.append(Listed(number=number, layer=layer, name=name, thickness=thickness))
        if placed is not None:
            shape, start, end, wide = placed
            self.pieces.append(
                Piece(
                    number=number,
                    layer=layer,
                    material=material,
                    shape=shape,
                    cut=cut_of(layer, material),
                    start=start,
                    end=end,
                    wide=wide,
                    hung=self.void_at is not None,
                )
            )

    def _depth_of(self, layer: Layer) -> float | None:
        """Return the depth that the frame gives a layer [m], None where it gives none."""
        if layer.measured_by == "bearers":
            return self.house.bearer_depth
        if layer.measured_by in _FRAMES:
            return self._frame_depth(layer)
        if layer.measured_by in _INFILLS and self.frame is not None:
            return self.frame[1] - self.frame[0]
        return None

    def _frame_depth(self, layer: Layer) -> float:
        """Return the depth of the sticks of a frame [m]."""
        if self.figures.kind == "external wall":
            return self.house.stud_depth
        if self.figures.kind == "roof":
            return self.house.rafter_depth
        if self.figures.kind == "floor":
            return self.house.floor_joist_depth
        return layer.thickness or 0.0

    def _frame_thickness(self) -> float:
        """Return the thickness of the sticks of a frame [m]."""
        return {
            "roof": self.house.rafter_thickness,
            "floor": self.house.floor_joist_thickness,
        }.get(self.figures.kind, self.house.stud_thickness)

    def _placed(
        self, layer: Layer, material: Material, build_up: BuildUp
    ) -> tuple[Shape, float, float, float] | None:
        """Return shape, start, end [m] and width of sticks [m] of a layer, None where it is not drawn."""
        way, here = layer.measured_by, self.at
        if way in _FRAMES:
            self.at += self._frame_depth(layer)
            self.frame = (here, self.at)
            return "sticks", here, self.at, self._frame_thickness()
        if way in _INFILLS and self.frame is not None:
            start, end = self.frame
            thick = min(layer.thickness or end - start, end - start)
            return (
                ("infill", start, start + thick, 0.0)
                if way == "between studs"
                else ("infill", end - thick, end, 0.0)
            )
        if way == "between battens" and self.battens is not None:
            start, end = self.battens
            return "infill", start, min(start + (layer.thickness or end - start), end), 0.0
        if way in ("battens at spacing", "ceiling joists"):
            self.at += layer_depth(layer, material)
            self.battens = (here, self.at)
            wide = material.width if way == "battens at spacing" else material.thickness
            return "sticks", here, self.at, wide or 0.0
        if way == "bearers":
            start = self.frame[1] if self.frame else here
            return "bearers", start, start + self.house.bearer_depth, self.house.bearer_thickness
        if way == "membrane with laps":
            if material.family == STEEL and self.pieces:
                last = self.pieces[-1]
                return "mesh", last.middle, last.middle, 0.0
            return "membrane", here, here, 0.0
        if way == "coats":
            return "face", here, here, 0.0
        thick = layer.thickness or material.thickness or 0.0
        if way in (*_SOLID, *_AIR, "profiled sheet by cover") and thick > 0:
            self.at += thick
            shape: Shape = "air" if way in _AIR else "solid"
            return "profile" if way == "profiled sheet by cover" else shape, here, self.at, 0.0
        return None

    def _both_ways(self) -> Stack:
        """Return a wall that is the same both ways from the middle of its frame, or of the gap between its leaves."""
        frame = self.frame or (0.0, 0.0)
        party = self.figures.kind == "party wall"
        # what lies before the frame of a leaf is the packing of the gap, drawn once
        once = frame[0] if party else frame[1]
        shift = self.at - once
        depth = self.at + shift
        moved = [replace(p, start=p.start + shift, end=p.end + shift) for p in self.pieces]
        other = [
            replace(p, number=0, start=depth - p.end, end=depth - p.start)
            for p in moved
            if p.start >= shift + once - 1e-9 and (party or p.start >= shift + frame[1] - 1e-9)
        ]
        inner = {shift + frame[0], shift + frame[1]}
        zones = {0.0, depth, *inner, *(depth - place for place in inner)}
        return Stack(
            pieces=(*other, *moved),
            listed=tuple(self.listed),
            depth=depth,
            zones=tuple(sorted(_distinct(zones))),
        )


def _distinct(places: set[float]) -> Sequence[float]:
    """Return places without those that differ by rounding alone."""
    kept: list[float] = []
    for place in sorted(places):
        if not kept or place - kept[-1] > 1e-6:
            kept.append(place)
    return kept


def _bounds(layer: Layer) -> str:
    """Return where a layer that does not cover the whole height begins or ends, in words."""
    if layer.bottom is not None and layer.top is not None:
        return f", {layer.bottom:g} to {layer.top:g} m"
    if layer.top is not None:
        return f", to {layer.top:g} m"
    return f", from {layer.bottom:g} m" if layer.bottom is not None else ""


def mm(value: float) -> str:
    """Return a length [m] in mm, whole where it is."""
    return f"{round(value * 1000, 2):g}"


def thickness_words(layer: Layer, material: Material, depth: float | None) -> str:
    """Return the thickness of a layer in words; `depth` is that which the frame gives it [m], None for none."""
    way = layer.measured_by
    if way == "coats":
        return f"{layer.rate:g} coat{'s' if layer.rate != 1 else ''}"
    if way == "number per m2":
        return f"{layer.rate:g} per m²"
    if way == "mass per m3 of frame":
        return f"{layer.rate:g} kg per m³ of timber"
    thick = layer.thickness or depth or material.thickness
    if way == "battens at spacing" and layer.spacing:
        return f"{mm(material.thickness or 0.0)} mm at {mm(layer.spacing)}"
    if way == "ceiling joists" and layer.spacing:
        return f"{mm(material.width or 0.0)} mm at {mm(layer.spacing)}"
    if not thick:
        if way == "membrane with laps":
            return "mesh" if material.family == STEEL else "membrane"
        return f"by the {_UNITS.get(WAYS[way].unit, 'item')}"
    return f"{mm(min(thick, depth) if depth else thick)} mm"


_UNITS = {"m": "metre", "m2": "m²", "m3": "m³", "kg": "kg", "Nr": "piece"}
