"""How the measured unit of an item becomes that of a price or factor: one property of the material after another."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from takeoff.documents.explain_parts import Cell, cell, cells, precise
from takeoff.measure.face_layers import joint_share, units_per_m2
from takeoff.measure.quantity import Quantity
from takeoff.model.house import Layer
from takeoff.model.library import Material


@dataclass(frozen=True, slots=True, kw_only=True)
class Conversion:
    """How much of another unit one measured unit is: the factor, the sum it comes of, the cells of its properties."""

    factor: float
    text: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class _Link:
    """A property that leads from one unit to another: so much of `end` is one of `start`."""

    start: str
    end: str
    value: float
    words: str
    cells: tuple[Cell, ...]


def conversion(
    quantity: Quantity, material: Material | None, target: str, layer: Layer | None
) -> Conversion | None:
    """Return how one unit of an item becomes `target`, None where nothing links the two.

    It goes the way that `takeoff.assess.conversion` goes, the shortest, and names each property.
    """
    if quantity.unit == target:
        return Conversion(factor=1.0, text="1", cells=())
    if material is None:
        return None
    links = _links(quantity, material, layer)
    ways = [
        way
        for link in links
        for way in ((link.start, link.end, link, False), (link.end, link.start, link, True))
    ]
    reached: dict[str, tuple[tuple[_Link, bool], ...]] = {quantity.unit: ()}
    queue = deque([quantity.unit])
    while queue:
        here = queue.popleft()
        for start, end, link, back in ways:
            if start == here and end not in reached:
                reached[end] = (*reached[here], (link, back))
                queue.append(end)
    if target not in reached:
        return None
    factor, text = 1.0, "1"
    for link, back in reached[target]:
        factor = factor / link.value if back else factor * link.value
        text += f" {'/' if back else 'x'} {link.words}"
    return Conversion(
        factor=factor,
        text=f"{text} = {precise(factor)}",
        cells=cells(*(each for link, _ in reached[target] for each in link.cells)),
    )


def _links(quantity: Quantity, material: Material, layer: Layer | None) -> list[_Link]:
    """Return the properties of an item that lead from unit to unit, with their cells."""
    links: list[_Link] = []

    def add(start: str, end: str, value: float | None, words: str, *own: Cell | None) -> None:
        if value:
            links.append(_Link(start, end, value, words, cells(*own)))

    def of_material(field: str, value: float | None, unit: str) -> Cell | None:
        if value is None or getattr(material, field) != value:
            return None
        return cell(material.origin, field, f"{field} {precise(value)} {unit}", value)

    thick, wide, section = quantity.thickness, quantity.width, quantity.section
    thickness = _layer_thickness(layer, thick) or of_material("thickness", thick, "m")
    width = of_material("width", wide, "m")
    sizes = (width, thickness)
    density = f"{precise(material.density or 0.0)} kg/m³"
    add("m3", "kg", material.density, density, of_material("density", material.density, "kg/m³"))
    masonry = bool(material.length and material.height)
    share = 1 - joint_share(material) if masonry else 1.0
    units = f" x {precise(share)} that is no joint" if masonry else ""
    unit_cells = (
        of_material("length", material.length, "m"),
        of_material("height", material.height, "m"),
        of_material("joint", material.joint, "m"),
    )
    add(
        "m2",
        "m3",
        thick * share if thick else None,
        f"thickness {precise(thick or 0.0)} m{units}",
        thickness,
        *(unit_cells if masonry else ()),
    )
    if section is not None:
        by = f"section {precise(section)} m²"
        add("m", "m3", section, by, *sizes)
    elif wide and thick:
        add("m", "m3", wide * thick, f"width {precise(wide)} m x thickness {precise(thick)} m", *sizes)
    add("m", "m2", wide, f"width {precise(wide or 0.0)} m", width)
    if material.mass is not None:
        mass = material.mass
        words = f"{precise(mass.value)} kg/{mass.per}"
        add(mass.per, "kg", mass.value, words, of_mass(material))
    if masonry:
        number = units_per_m2(material)
        add("m2", "Nr", number, f"{precise(number)} Nr/m²", *unit_cells)
    return links


def of_mass(material: Material) -> Cell | None:
    """Return the cell of the mass that a material states for one unit."""
    mass = material.mass
    if mass is None:
        return None
    return cell(material.origin, "mass", f"mass {precise(mass.value)} kg/{mass.per}", mass.value)


def _layer_thickness(layer: Layer | None, thickness: float | None) -> Cell | None:
    """Return the cell of the thickness of a layer, where it is that."""
    if layer is None or layer.thickness is None or layer.thickness != thickness:
        return None
    return cell(layer.origin, "thickness", f"thickness {precise(layer.thickness)} m", layer.thickness)
