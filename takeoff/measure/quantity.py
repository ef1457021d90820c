"""A measured quantity and the dimensions it was squared from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from takeoff.measure.side_calculation import SideCalculation
from takeoff.measure.surface import Surface
from takeoff.model.house import Side
from takeoff.model.library import ELEMENTS

# What takes the sun and weather: a side of the house, or the roof, which takes all of it.
Weathered = Side | Literal["roof"]


@dataclass(frozen=True, slots=True)
class Dimension:
    """One line of dimension paper: timesing and up to three dimensions [m], added or deducted.

    `nil` is a void that the void rule leaves undeducted: written down and squared nil. `side` is the side
    calculation that the dimension `side_of` follows from, None where it is taken as it stands. `opening` is the mark
    of the opening that the line is for, "" for none.
    """

    note: str
    timesing: float = 1.0
    a: float | None = None
    b: float | None = None
    c: float | None = None
    deducted: bool = False
    nil: bool = False
    side: SideCalculation | None = None
    side_of: Literal["a", "b"] = "b"
    opening: str = ""

    @property
    def squaring(self) -> float:
        """The signed product of the line."""
        if self.nil:
            return 0.0
        product = self.timesing
        for dimension in (self.a, self.b, self.c):
            if dimension is not None:
                product *= dimension
        return -product if self.deducted else product


@dataclass(frozen=True, slots=True)
class Piece:
    """Equal pieces of one length [m], with their marks where they have any.

    `joints` are the places along it where it may be made up of shorter ones [m]: () where it may not be,
    None where nothing is known of what it is fixed to, so that only its material can tell.
    """

    length: float
    count: int
    mark: str = ""
    joints: tuple[float, ...] | None = None


@dataclass(frozen=True, slots=True)
class BuiltIn:
    """The layer of a build-up that an item is, in one place of the house.

    `assembly` is the same for the layers of one build-up in one place; `renewed_with` is the number of the layer
    whose renewal brings this one with it.
    """

    build_up: str
    layer: int
    assembly: str
    renewed_with: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """One measured item: net as fixed in position, and required with laps, cover and cut pieces.

    `element` is an element code. `thickness` [m], `section` [m2] and `width` [m] say what one unit is
    made of, where the unit is m2 or m. `work` names the labour row where it is not the material's own.
    `surfaces` are the faces that sheets, panels and membranes cover, laid in `direction` where one is given.
    `built_in` is the layer it is, None where it is no layer. `weather` is where it meets sun and weather, () for what
    is inside or covered.
    """

    id: str
    element: str
    trade: str
    item: str
    description: str
    location: str
    unit: str
    material: str
    net: float
    required: float
    dimensions: tuple[Dimension, ...] = ()
    pieces: tuple[Piece, ...] = ()
    thickness: float | None = None
    section: float | None = None
    width: float | None = None
    work: str | None = None
    void_rule: float | None = None
    how: str = ""
    surfaces: tuple[Surface, ...] = ()
    direction: Literal["vertical", "horizontal"] | None = None
    built_in: BuiltIn | None = None
    weather: tuple[Weathered, ...] = ()

    @property
    def element_name(self) -> str:
        """The element in words."""
        return ELEMENTS[self.element]


def net_of(dimensions: tuple[Dimension, ...] | list[Dimension]) -> float:
    """Return the sum of the squarings of dimension lines."""
    return sum(line.squaring for line in dimensions)
