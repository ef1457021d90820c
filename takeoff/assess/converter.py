"""Converts the unit of an item on behalf of its price, labour and factors, locating what can't be converted."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.assess.conversion import ConversionError, convert_quantity
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Material
from takeoff.model.problem import Origin, WorkbookProblem, at


@dataclass(slots=True)
class Converter:
    """Converts the unit of one quantity, locating what can't be converted."""

    quantity: Quantity
    material: Material | None
    problems: list[WorkbookProblem]

    def mass(self) -> float | None:
        """Return the mass of one unit [kg], or None where the material has no mass to give."""
        if self.material is None:
            return None
        try:
            return convert_quantity(self.quantity, self.material, "kg")
        except ConversionError:
            return None

    def to(self, per: str, origin: Origin, field: str, what: str) -> float | None:
        """Return how much in `per` one unit is; None, with a problem, where nothing links them."""
        if self.material is None:
            return 1.0 if per == self.quantity.unit else None
        try:
            return convert_quantity(self.quantity, self.material, per)
        except ConversionError as error:
            self.problems.append(
                at(
                    origin,
                    field,
                    found=f"{what} for one {per} can't meet {self._measured()}",
                    expected=f"a unit for one {self.quantity.unit}, or a way to it",
                    mend=f"Give the material {self.material.name!r} {error.missing}",
                )
            )
            return None

    def _measured(self) -> str:
        """Return the item and its unit, as a message quotes them."""
        return f"{self.quantity.item!r}, measured in {self.quantity.unit}"

    def wood_volume(self) -> float:
        """Return the volume of wood in one unit [m3]; 0 where the material is not wood or has no volume."""
        if self.material is None or not self.material.wood_share:
            return 0.0
        try:
            return convert_quantity(self.quantity, self.material, "m3") * self.material.wood_share
        except ConversionError:
            return 0.0
