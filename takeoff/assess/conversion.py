"""Converts a measured quantity into the unit that a price or a factor is stated in.

A factor for one kg meets a quantity in m2 by way of thickness and density; each link is a physical
property of the material, which says how much in one measured unit one of another is.
"""

from __future__ import annotations

from collections import deque
from functools import lru_cache

from takeoff.measure.face_layers import joint_share, units_per_m2
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Material


class ConversionError(ValueError):
    """No property of the material leads from one unit to the other; `missing` names what would."""

    def __init__(self, unit: str, target: str, missing: str) -> None:
        """Keep the units and what is missing."""
        super().__init__(f"no way from {unit} to {target}: {missing}")
        self.missing = missing


def _links(
    material: Material, thickness: float | None, section: float | None, width: float | None
) -> list[tuple[str, str, float]]:
    """Return the links between units that the properties of a material give: from, to, how much one comes to."""
    links: list[tuple[str, str, float]] = []

    def link(start: str, end: str, value: float | None) -> None:
        if value:
            links.append((start, end, value))

    if section is None and width and thickness:
        section = width * thickness
    link("m3", "kg", material.density)
    masonry = bool(material.length and material.height)
    # of a masonry face only the units are the material, the joints are mortar
    share = 1 - joint_share(material) if masonry else 1.0
    link("m2", "m3", thickness * share if thickness else None)
    link("m", "m3", section)
    link("m", "m2", width)
    if material.mass is not None:
        link(material.mass.per, "kg", material.mass.value)
    if masonry:
        link("m2", "Nr", units_per_m2(material))
    return links


@lru_cache(maxsize=4096)
def convert(
    material: Material,
    unit: str,
    target: str,
    *,
    thickness: float | None = None,
    section: float | None = None,
    width: float | None = None,
) -> float:
    """Return how much in `target` one `unit` of a material is.

    Args:
        material: its density, mass and sizes are the links between units.
        unit: measured unit (m3, m2, m, kg, Nr, h).
        target: measured unit wanted.
        thickness: of one m2 [m], where known.
        section: of one m [m2], where known.
        width: of one m [m], where known.

    Raises ConversionError where nothing links the two.

    Source: dimensional analysis; the shortest way is taken.
    """
    if unit == target:
        return 1.0
    ways: list[tuple[str, str, float]] = []
    for start, end, value in _links(material, thickness, section, width):
        ways += [(start, end, value), (end, start, 1 / value)]
    reached = {unit: 1.0}
    queue = deque([unit])
    while queue:
        here = queue.popleft()
        for start, end, value in ways:
            if start == here and end not in reached:
                reached[end] = reached[here] * value
                queue.append(end)
    if target not in reached:
        raise ConversionError(unit, target, _missing(material, unit, thickness, section))
    return reached[target]


def _missing(material: Material, unit: str, thickness: float | None, section: float | None) -> str:
    """Return in words which properties would close the gap."""
    wanted = []
    if unit == "m2" and thickness is None:
        wanted.append("a thickness")
    if unit == "m" and section is None:
        wanted.append("a width and a thickness")
    if material.density is None:
        wanted.append("a density")
    mass = f"a mass in kg/{unit}" if unit not in ("kg", "m3") else ""
    joined = " and ".join(wanted)
    return f"{joined} or {mass}" if joined and mass else joined or mass or "a mass"


def convert_quantity(quantity: Quantity, material: Material, target: str) -> float:
    """Return how much in `target` one unit of a quantity is. Raises ConversionError."""
    return convert(
        material,
        quantity.unit,
        target,
        thickness=quantity.thickness,
        section=quantity.section,
        width=quantity.width,
    )
