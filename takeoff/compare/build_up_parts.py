"""A build-up as built in one house, part by part: what it costs and emits for one m2."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from takeoff.assess.fabric.elements import Envelope
from takeoff.assess.lines import Line
from takeoff.model.house import BuildUp, Layer, Side
from takeoff.model.life_cycle import UPFRONT

Kind = Literal["external wall", "internal wall", "party wall", "roof", "floor"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUpPart:
    """A part of a build-up as built: what it costs and emits in all, over the area it is fixed on.

    `area` is in m2, `of` says in words of what; `faces` is how often one m2 of the build-up has it: 2 for the
    linings of both faces of a wall. `shares` are its items of the bill, each with the share of it that belongs here.
    `upfront` [kgCO2e, modules A1 to A5] is that of the items that are assessed, None where none of them is;
    `not_assessed` and `not_priced` name the materials that nothing is known of. `stored` [kgCO2] is negative, `cost`
    is works before the cost ladder.
    """

    name: str
    area: float
    of: str
    shares: tuple[tuple[Line, float], ...]
    faces: int = 1

    @property
    def upfront(self) -> float | None:
        """Upfront carbon of what is assessed [kgCO2e], None where nothing is."""
        known = [(line.carbon.sum_of(UPFRONT), share) for line, share in self.shares if line.needs_carbon]
        sums = [amount * share for amount, share in known if amount is not None]
        return sum(sums) + self._work_only if sums else None

    @property
    def _work_only(self) -> float:
        """Upfront carbon of items that take no material, such as excavation [kgCO2e]."""
        return sum(line.carbon.upfront * share for line, share in self.shares if not line.needs_carbon)

    @property
    def stored(self) -> float:
        """Biogenic carbon stored in it, as CO2, below 0 [kgCO2]."""
        return sum(line.carbon.stored * share for line, share in self.shares)

    @property
    def cost(self) -> float:
        """Cost, works before the cost ladder."""
        return sum(line.cost * share for line, share in self.shares)

    def each(self, amount: float | None) -> float | None:
        """Return an amount of the part for one m2 of the build-up, None where it is not assessed."""
        return None if amount is None else amount / self.area * self.faces

    @property
    def not_assessed(self) -> tuple[str, ...]:
        """Materials without a carbon factor, each once."""
        return _materials(line for line, _ in self.shares if line.needs_carbon and line.carbon.a1a3 is None)

    @property
    def not_priced(self) -> tuple[str, ...]:
        """Materials without a price, each once."""
        return _materials(line for line, _ in self.shares if not line.priced)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildUpFigures:
    """A build-up of one house with its layers, its parts and the parts of the envelope that it is.

    `layers` go from outside to inside, each with the build-up that it belongs to; those after the frame of an
    internal wall lie on both faces. `flat` tells a ceiling that hangs below the roof. `envelope` is empty for walls
    between rooms. `missing` says what is left out of the figures for want of any such item in the house.
    """

    kind: Kind
    name: str
    build_ups: tuple[BuildUp, ...]
    layers: tuple[tuple[BuildUp, Layer], ...]
    parts: tuple[BuildUpPart, ...]
    envelope: tuple[Envelope, ...] = ()
    sides: tuple[Side, ...] = ()
    flat: bool = False
    missing: str = ""

    def total(self, amount: Callable[[BuildUpPart], float | None]) -> float | None:
        """Return the sum over its parts of an amount for one m2, None where a part is not assessed."""
        total = 0.0
        for part in self.parts:
            each = part.each(amount(part))
            if each is None:
                return None
            total += each
        return total if self.parts else None

    @property
    def upfront(self) -> float | None:
        """Upfront carbon, modules A1 to A5 [kgCO2e/m2], None where a part of it is not assessed."""
        return self.total(lambda part: part.upfront)

    @property
    def stored(self) -> float | None:
        """Stored carbon [kgCO2/m2], below 0."""
        return self.total(lambda part: part.stored)

    @property
    def cost(self) -> float | None:
        """Cost of one m2, works before the cost ladder."""
        return self.total(lambda part: part.cost)

    @property
    def not_assessed(self) -> tuple[str, ...]:
        """Materials without a carbon factor, each once."""
        return tuple(dict.fromkeys(name for part in self.parts for name in part.not_assessed))

    @property
    def not_priced(self) -> tuple[str, ...]:
        """Materials without a price, each once."""
        return tuple(dict.fromkeys(name for part in self.parts for name in part.not_priced))


def _materials(lines: Iterable[Line]) -> tuple[str, ...]:
    """Return the materials of items, each once."""
    return tuple(dict.fromkeys(line.quantity.material or line.quantity.item for line in lines))
