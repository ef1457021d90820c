"""Rectangular timber sections of one or more plies side by side."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A section on edge: depth and thickness of one ply [m], and how many plies."""

    depth: float
    thickness: float
    plies: int = 1

    @property
    def width(self) -> float:
        """Thickness of all plies [m]."""
        return self.thickness * self.plies

    @property
    def area(self) -> float:
        """Area [m2]."""
        return self.width * self.depth

    @property
    def modulus(self) -> float:
        """Section modulus on edge [m3].

        >>> f"{Section(depth=0.2, thickness=0.075).modulus:.4g}"
        '0.0005'
        """
        return self.width * self.depth**2 / 6

    @property
    def inertia(self) -> float:
        """Second moment of area on edge [m4].

        >>> f"{Section(depth=0.24, thickness=0.12).inertia:.5g}"
        '0.00013824'
        """
        return self.width * self.depth**3 / 12
