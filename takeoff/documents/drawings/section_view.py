"""What all parts of a section are drawn with: the cut house, the paper, and layers laid up, down or along the slope."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.compare.evaluate import Result
from takeoff.documents.drawings.build_up_hatches import Cut, cut_of, draw_cut
from takeoff.documents.drawings.paper import Paper
from takeoff.documents.drawings.section_line import SectionLine
from takeoff.documents.drawings.svg import DETAIL, INK, Point, along, path
from takeoff.framing.member import Member
from takeoff.measure.ceilings import Interior
from takeoff.measure.layer import layer_depth
from takeoff.model.geometry import height_at, slope_factor
from takeoff.model.house import Design, House, Layer
from takeoff.model.library import Library, Material

# Membranes and thin sheets are drawn with lines of these weights at the scale of a section [mm].
MEMBRANE = 0.3
Quad = tuple[Point, Point, Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionView:
    """A house cut at a place, and the paper it is drawn on: y up the slope to the right, z up [m]."""

    result: Result
    library: Library
    line: SectionLine
    paper: Paper
    id_prefix: str

    @property
    def design(self) -> Design:
        """The design."""
        return self.result.design

    @property
    def house(self) -> House:
        """Its settings."""
        return self.result.design.house

    @property
    def interior(self) -> Interior:
        """The inside as measured."""
        inside = self.result.measured.inside
        return Interior(self.design, self.library, inside.plan, inside.doors)

    def id(self, name: str) -> str:
        """Return the id of a part."""
        return f"{self.id_prefix}-{name}"

    def material(self, layer: Layer) -> Material:
        """Return the material of a layer."""
        return self.library.materials[layer.material]

    def depth(self, layer: Layer) -> float:
        """Return the room a layer takes [m]."""
        return layer_depth(layer, self.material(layer))

    def under_rafters(self, y: float) -> float:
        """Return the height of the underside of the rafters [m]."""
        return height_at(self.house, y)

    def box(self, y1: float, y2: float, z1: float, z2: float) -> Quad:
        """Return an upright rectangle on paper, an upright edge first."""
        at = self.paper.at
        return (at(y1, z1), at(y1, z2), at(y2, z2), at(y2, z1))

    def level(self, y1: float, y2: float, z1: float, z2: float) -> Quad:
        """Return a lying rectangle on paper, a level edge first."""
        at = self.paper.at
        return (at(y1, z1), at(y2, z1), at(y2, z2), at(y1, z2))

    def under_slope(self, y1: float, y2: float, z1: float, *, drop: float = 0.0) -> Quad:
        """Return an upright layer from a height to the underside of the rafters, or so far below it [m]."""
        at = self.paper.at
        return (
            at(y1, z1),
            at(y1, self.under_rafters(y1) - drop),
            at(y2, self.under_rafters(y2) - drop),
            at(y2, z1),
        )

    def on_slope(self, y1: float, y2: float, v1: float, v2: float) -> Quad:
        """Return a layer along the slope between two distances from the underside of the rafters [m], ends plumb."""
        factor, at = slope_factor(self.house), self.paper.at
        one, other = self.under_rafters(y1), self.under_rafters(y2)
        return (
            at(y1, one + v1 * factor),
            at(y2, other + v1 * factor),
            at(y2, other + v2 * factor),
            at(y1, one + v2 * factor),
        )

    def cut(self, corners: Sequence[Point], layer: Layer, *, id: str | None = None) -> list[str]:
        """Return a layer cut, by its material."""
        return draw_cut(corners, cut_of(layer, self.material(layer)), weight=DETAIL, id=id)

    def timber(self, corners: Sequence[Point], *, id: str | None = None) -> list[str]:
        """Return a stick cut across."""
        return draw_cut(corners, "timber", weight=0.2, id=id)

    def filled(self, corners: Sequence[Point], cut: Cut, *, id: str | None = None) -> list[str]:
        """Return an area with the hatch of a material."""
        return draw_cut(corners, cut, weight=DETAIL, id=id)

    def lines(
        self,
        segments: Iterable[tuple[float, float, float, float]],
        *,
        width: float,
        dash: str | None = None,
        id: str | None = None,
    ) -> list[str]:
        """Return straight lines between points of the section [m]."""
        drawn = [(*self.paper.at(y1, z1), *self.paper.at(y2, z2)) for y1, z1, y2, z2 in segments]
        return (
            [path(along(drawn), width=width, stroke=INK, dash=dash, cap="butt" if dash else "square", id=id)]
            if drawn
            else []
        )


def crossing(members: Iterable[Member], s: float) -> list[Member]:
    """Return the level sticks of a frame that are cut at a place along it [m], plies hidden behind others too."""
    return [
        member
        for member in members
        if member.run in ("level", "eaves", "rake") and abs(member.s - s) < member.length / 2 - 1e-9
    ]
