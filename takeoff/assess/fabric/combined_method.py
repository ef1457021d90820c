"""Thermal resistance of layers with parts side by side: the combined method of EN ISO 6946."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

_NEAR = 1e-9
# What the levels of air gaps in insulation add before they are scaled [W/(m2 K)]. Source: EN ISO 6946, annex on
# corrections, from memory.
_AIR_GAPS = (0.0, 0.01, 0.04)


@dataclass(frozen=True, slots=True, kw_only=True)
class ThermalPart:
    """A part of a layer: its share of the area and its resistance [m2 K/W]."""

    name: str
    share: float
    resistance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ThermalLayer:
    """A layer of parts side by side, their shares adding up to one; a homogeneous layer has one part.

    `sticks` names what parts it, where other layers are parted by the same: a stud through two layers of batts. Their
    parts then come in the same order with the same shares.

    Raises ValueError where shares do not add up, or a share or a resistance is below 0.
    """

    name: str
    parts: tuple[ThermalPart, ...]
    sticks: str = ""

    def __post_init__(self) -> None:
        """Check shares and resistances."""
        if abs(sum(part.share for part in self.parts) - 1) > _NEAR:
            raise ValueError(f"the shares of {self.name!r} do not add up to one")
        if any(part.share < 0 or part.resistance < 0 for part in self.parts):
            raise ValueError(f"a share or a resistance of {self.name!r} is below 0")


@dataclass(frozen=True, slots=True, kw_only=True)
class CombinedResistance:
    """The limits of a resistance, surfaces taken in [m2 K/W]."""

    upper: float
    lower: float

    @property
    def total(self) -> float:
        """The resistance: the mean of both limits [m2 K/W]."""
        return (self.upper + self.lower) / 2

    @property
    def u_value(self) -> float:
        """The U-value [W/(m2 K)]."""
        return 1 / self.total

    @property
    def relative_error(self) -> float:
        """The most that the resistance can be wrong by, as a share of it."""
        return (self.upper - self.lower) / (2 * self.total)


def homogeneous(name: str, resistance: float) -> ThermalLayer:
    """Return a layer that is the same all over, with its resistance [m2 K/W]."""
    return ThermalLayer(name=name, parts=(ThermalPart(name=name, share=1.0, resistance=resistance),))


def bridged(name: str, *parts: ThermalPart, sticks: str = "") -> ThermalLayer:
    """Return a layer of parts side by side, `sticks` naming what parts it where other layers share it."""
    return ThermalLayer(name=name, parts=parts, sticks=sticks)


def combined(
    layers: Sequence[ThermalLayer], *, inside_surface: float, outside_surface: float
) -> CombinedResistance:
    """Return the limits of the resistance of layers one behind the other.

    The upper limit takes heat to go straight through: every combination of parts is a path, its area the product of
    their shares; layers parted by the same sticks share their paths. The lower limit takes each plane between layers
    to be of one temperature: the parts of a layer conduct side by side. Resistances in m2 K/W. Raises ValueError where
    the whole has no resistance, or layers of the same sticks have other shares.

    Source: EN ISO 6946, combined method for components of homogeneous and inhomogeneous layers.

    The timber-framed wall of annex 6.B of the Scottish building standards, example 2:

    >>> studs = bridged("studs", ThermalPart(name="wool", share=0.85, resistance=0.140 / 0.04),
    ...     ThermalPart(name="timber", share=0.15, resistance=0.140 / 0.12))
    >>> wall = [homogeneous("brick, cavity, sheathing", 0.102 / 0.77 + 0.18 + 0.009 / 0.13), studs,
    ...     homogeneous("plasterboard", 0.0125 / 0.21)]
    >>> result = combined(wall, inside_surface=0.13, outside_surface=0.04)
    >>> round(result.upper, 3), round(result.lower, 3), round(result.u_value, 3)
    (3.435, 3.304, 0.297)
    """
    plain = inside_surface + outside_surface
    mixed = []
    for layer in layers:
        parts = [part for part in layer.parts if part.share > 0]
        if len(parts) == 1:
            plain += parts[0].resistance
        else:
            mixed.append((layer.sticks, parts))
    through = 0.0
    for path in itertools.product(*_sections(mixed)):
        resistance = plain + sum(part.resistance for part in path)
        if resistance <= 0:
            raise ValueError("a path without resistance")
        through += math.prod(part.share for part in path) / resistance
    lower = plain
    for _, parts in mixed:
        if all(part.resistance > 0 for part in parts):
            lower += 1 / sum(part.share / part.resistance for part in parts)
    return CombinedResistance(upper=1 / through, lower=lower)


def _sections(mixed: Sequence[tuple[str, list[ThermalPart]]]) -> list[list[ThermalPart]]:
    """Return layers with parts, those of the same sticks as one: what lies beside a stick stays beside it."""
    sections: list[list[ThermalPart]] = []
    places: dict[str, int] = {}
    for sticks, parts in mixed:
        if sticks and sticks in places:
            before = sections[places[sticks]]
            if [part.share for part in before] != [part.share for part in parts]:
                raise ValueError(f"layers of the same sticks, {sticks}, have other shares")
            sections[places[sticks]] = [
                replace(one, resistance=one.resistance + other.resistance)
                for one, other in zip(before, parts, strict=True)
            ]
            continue
        if sticks:
            places[sticks] = len(sections)
        sections.append(parts)
    return sections


def air_gap_correction(level: int, *, insulation_resistance: float, total_resistance: float) -> float:
    """Return what gaps in insulation add to a U-value [W/(m2 K)].

    Level 0 adds nothing, 1 is for gaps that go through the insulation, 2 for air that moves about it too.
    Resistances [m2 K/W] are those of the layer with the gaps, and of the whole. Raises IndexError for other levels.

    Source: EN ISO 6946, annex on corrections, from memory: dU (R1 / RT)2.
    """
    return _AIR_GAPS[level] * (insulation_resistance / total_resistance) ** 2
