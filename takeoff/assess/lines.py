"""What is known of one item of the bill: its rate, its cost, its carbon by module, its renewals."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from takeoff.assess.parts import Part
from takeoff.assess.renewal import Renewal
from takeoff.cutting.order import OrderedQuantity
from takeoff.measure.quantity import Quantity
from takeoff.model.bill import AppliedOverride
from takeoff.model.life_cycle import UPFRONT, Module

SumOf = Literal["provisional sum", "prime-cost sum"]
SUM_KINDS: tuple[SumOf, ...] = get_args(SumOf)
_FIELD_OF: dict[Module, str] = {
    "A1-A3": "a1a3",
    "A4": "a4",
    "A5 wastage": "a5_wastage",
    "A5 site": "a5_site",
    "B2": "b2",
    "B3": "b3",
    "B4": "b4",
    "C1": "c1",
    "C2": "c2",
    "C3": "c3",
    "C4": "c4",
    "D": "d",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RateBuildUp:
    """What a rate is the product of.

    Material: `price` for one `per`, `conversion` of them in one measured unit, `counted` measured units paid for each
    net unit (laps, cover and wastage), `sundries` as a share. Where the price `is_of_stock`, it is the mean of what the
    order buys, for one measured unit. Labour: `constant` hours of a gang for one `labour_per`, `labour_conversion` of
    them in one measured unit, `gang_rate` for one hour, `plant` in money for one `labour_per`.
    """

    price: float = 0.0
    per: str = ""
    conversion: float = 0.0
    counted: float = 0.0
    sundries: float = 0.0
    is_of_stock: bool = False
    constant: float = 0.0
    labour_per: str = ""
    labour_conversion: float = 0.0
    gang_rate: float = 0.0
    plant: float = 0.0


NOT_BUILT_UP = RateBuildUp()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """A rate for one unit of net quantity, in the project's currency.

    `material` holds conversion and wastage; `hours` are those of the gang. `stated` is a rate given whole,
    that of an allowance or an override, of which nothing is known but its sum.
    """

    material: float
    sundries: float
    labour: float
    plant: float
    hours: float
    stated: float = 0.0
    build_up: RateBuildUp = NOT_BUILT_UP

    @property
    def total(self) -> float:
        """The rate."""
        return self.material + self.sundries + self.labour + self.plant + self.stated


@dataclass(frozen=True, slots=True, kw_only=True)
class Carbon:
    """Carbon by module over the study period [kgCO2e]; None is not assessed, which is not 0.

    `land_use` is that of A1-A3. `stored` is biogenic carbon as CO2 in what is built in first, negative, `released`
    how much of it leaves at the end of life [kgCO2]; `renewed_stored` and `renewed_released` are those of what is
    renewed in between.
    """

    a1a3: float | None
    a4: float | None
    a5_wastage: float | None
    a5_site: float | None
    stored: float
    b2: float | None = None
    b3: float | None = None
    b4: float | None = None
    c1: float | None = None
    c2: float | None = None
    c3: float | None = None
    c4: float | None = None
    d: float | None = None
    land_use: float | None = None
    released: float | None = None
    renewed_stored: float = 0.0
    renewed_released: float | None = None

    def of(self, module: Module) -> float | None:
        """Return one module."""
        amount: float | None = getattr(self, _FIELD_OF[module])
        return amount

    @property
    def upfront(self) -> float:
        """Sum of the modules A1 to A5 that are assessed."""
        return self.sum_of(UPFRONT) or 0.0

    def sum_of(self, modules: Iterable[Module]) -> float | None:
        """Return the sum of those modules that are assessed, None where none of them is."""
        known = [amount for module in modules if (amount := self.of(module)) is not None]
        return sum(known) if known else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One item of the bill, measured, priced and assessed.

    `mass` is that of what is built in, `mass_wastage` of what is bought besides [kg]; None where the
    material has none to give. `priced` tells a rate of nothing from a missing price; `needs_carbon` says
    that it takes material, which ought to carry a carbon factor. `sum_kind` is None for measured works,
    and the kind of an allowance that the cost ladder adds after them. `cost_parts` and `carbon_parts` add up to
    its cost and, renewals left out, to its carbon; `renewal` is None where no service life is known. `overrides` are
    what the quantity surveyor put in the place of its quantity, rate or wastage, each already in its figures.
    """

    ordered: OrderedQuantity
    mass: float | None
    mass_wastage: float | None
    wood_volume: float
    rate: Rate
    cost: float
    priced: bool
    needs_carbon: bool
    carbon: Carbon
    sum_kind: SumOf | None = None
    cost_parts: tuple[Part, ...] = ()
    carbon_parts: tuple[Part, ...] = ()
    renewal: Renewal | None = None
    overrides: tuple[AppliedOverride, ...] = ()

    @property
    def quantity(self) -> Quantity:
        """The quantity it prices."""
        return self.ordered.quantity
