"""Which items are bought together, and which rows of the stock they are bought from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.measure.quantity import Quantity
from takeoff.model.library import Library, Material, Stock

_SAME = 5e-5


@dataclass(frozen=True, slots=True)
class Pool:
    """Items of one material and section, and the rows of the stock that serve them.

    `rows` are () where nothing on sale is known: then each item is ordered by its wastage allowance.
    """

    material: Material
    depth: float | None
    thickness: float | None
    quantities: tuple[Quantity, ...]
    rows: tuple[Stock, ...]

    @property
    def unit(self) -> str:
        """Unit of its quantities."""
        return self.quantities[0].unit

    @property
    def name(self) -> str:
        """The material, with the section or thickness where the stock is sold by it."""
        by_section = any(row.depth is not None for row in self.rows) or _by_section(self)
        if by_section and self.depth and self.thickness:
            return f"{self.material.name}, {self.depth * 1000:g} x {self.thickness * 1000:g} mm"
        if any(row.thickness is not None for row in self.rows) and self.thickness:
            return f"{self.material.name}, {self.thickness * 1000:g} mm"
        return self.material.name


def _by_section(pool: Pool) -> bool:
    """Whether the section is that of the framing, not the material's own."""
    return pool.unit == "m" and pool.material.width is None and pool.depth is not None


def pools_of(quantities: Iterable[Quantity], library: Library) -> list[Pool]:
    """Group items by material, unit and section (sheets by their direction too), in the order in which they come.

    Items without a material, or whose material is not in the library, stay out.
    """
    groups: dict[tuple[object, ...], list[Quantity]] = {}
    for quantity in quantities:
        material = library.materials.get(quantity.material)
        if material is None:
            continue
        section = (_key(quantity.width), _key(quantity.thickness)) if quantity.unit == "m" else ()
        thickness = _key(quantity.thickness) if quantity.unit == "m2" else None
        direction = quantity.direction if _in_sheets(material, library) else None
        key = (material.name, quantity.unit, section, thickness, direction)
        groups.setdefault(key, []).append(quantity)
    return [_pool(tuple(group), library) for group in groups.values()]


def _in_sheets(material: Material, library: Library) -> bool:
    """Whether a material is sold in sheets, which are laid in one direction."""
    return any(row.sold_by == "sheet" for row in library.stock.get(material.name, ()))


def _key(size: float | None) -> int | None:
    """Return a size in tenths of a mm."""
    return None if size is None else round(size * 10000)


def _pool(group: tuple[Quantity, ...], library: Library) -> Pool:
    """Return the items of one group with the rows of the stock that serve them."""
    first = group[0]
    material = library.materials[first.material]
    thickness = first.thickness or material.thickness
    rows = [
        row
        for row in library.stock.get(material.name, ())
        if _meets(row.depth, first.width) and _meets(row.thickness, thickness)
    ]
    return Pool(material, first.width, thickness, group, tuple(_closest(rows)))


def _meets(stated: float | None, actual: float | None) -> bool:
    """Whether a row that states a size, or none, serves an item of that size."""
    return stated is None or (actual is not None and abs(stated - actual) < _SAME)


def _closest(rows: Sequence[Stock]) -> Sequence[Stock]:
    """Return the rows for the very section where there are any, else those for any section."""
    stated = [row for row in rows if row.depth is not None or row.thickness is not None]
    return stated or rows
