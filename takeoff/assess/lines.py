"""Prices and assesses every ordered quantity: mass, rate build-up, upfront carbon by module."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from takeoff.assess.conversion import ConversionError, convert_quantity
from takeoff.assess.parts import Part
from takeoff.assess.renewal import Renewal
from takeoff.assess.stock_worth import money_for
from takeoff.assess.stored_carbon import stored_per_kg
from takeoff.cutting.order import OrderedQuantity
from takeoff.measure.quantity import Quantity
from takeoff.model.library import Library, Material, Price, Work
from takeoff.model.life_cycle import CarbonFactor, Module
from takeoff.model.problem import Origin, WorkbookProblem, at

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
class Rate:
    """The build-up of a rate for one unit of net quantity, in the project's currency.

    `material` holds conversion and wastage; `hours` are those of the gang. `stated` is a rate given whole,
    that of an allowance, of which nothing is known but its sum.
    """

    material: float
    sundries: float
    labour: float
    plant: float
    hours: float
    stated: float = 0.0

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
        """Sum of the modules that are assessed."""
        return sum(part for part in (self.a1a3, self.a4, self.a5_wastage, self.a5_site) if part is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One item of the bill, measured, priced and assessed.

    `mass` is that of what is built in, `mass_wastage` of what is bought besides [kg]; None where the
    material has none to give. `priced` tells a rate of nothing from a missing price; `needs_carbon` says
    that it takes material, which ought to carry a carbon factor. `sum_kind` is None for measured works,
    and the kind of an allowance that the cost ladder adds after them. `cost_parts` and `carbon_parts` add up to
    its cost and, renewals left out, to its carbon; `renewal` is None where no service life is known.
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

    @property
    def quantity(self) -> Quantity:
        """The quantity it prices."""
        return self.ordered.quantity


def assess_lines(
    ordered: Iterable[OrderedQuantity], library: Library
) -> tuple[list[Line], list[WorkbookProblem]]:
    """Price and assess every item.

    A price, labour constant or factor that can't meet the unit of its item is a located problem.
    """
    problems: list[WorkbookProblem] = []
    lines = [_line(item, library, problems) for item in ordered]
    return lines, problems


def _line(item: OrderedQuantity, library: Library, problems: list[WorkbookProblem]) -> Line:
    """Price and assess one item."""
    quantity = item.quantity
    material = library.materials.get(quantity.material)
    work_name = quantity.work or (material.work if material else None)
    work = library.works.get(work_name) if work_name else None
    into = _Converter(quantity, material, problems)
    mass_per_unit = into.mass()
    rate, priced = _rate(item, material, work, library, into)
    return Line(
        ordered=item,
        mass=None if mass_per_unit is None else item.built_in * mass_per_unit,
        mass_wastage=None if mass_per_unit is None else item.wastage * mass_per_unit,
        wood_volume=into.wood_volume() * item.built_in,
        rate=rate,
        cost=rate.total * quantity.net,
        priced=priced,
        needs_carbon=_has_material(material),
        carbon=_carbon(item, material, work, library, into, mass_per_unit),
    )


@dataclass(slots=True)
class _Converter:
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


def _has_material(material: Material | None) -> bool:
    """Whether an item takes material, which ought to have a price and a carbon factor."""
    return material is not None and material.family != "work only"


def _rate(
    item: OrderedQuantity, material: Material | None, work: Work | None, library: Library, into: _Converter
) -> tuple[Rate, bool]:
    """Return the rate for one net unit, and whether it has a price where it needs one.

    Rate = material x conversion x wastage + sundries + labour constant x gang rate + plant. Wastage
    enters once: a price that allows for it is taken on the required quantity.
    """
    quantity = item.quantity
    supply = sundries = 0.0
    price = library.prices.get(quantity.material)
    if _has_own_prices(item):
        supply = _supply_from_stock(item, library, price) / quantity.net
    elif price is not None:
        conversion = into.to(price.price.per, price.origin, "unit", "the price")
        bought = quantity.required if price.wastage_in_price else item.charged
        if conversion is not None:
            supply = price.price.value * conversion * bought / quantity.net
    if price is not None:
        sundries = supply * price.sundries
    labour = plant = hours = 0.0
    if work is not None:
        conversion = into.to(work.hours.per, work.origin, "unit", "the labour constant")
        if conversion is not None:
            hours = work.hours.value * conversion
            labour = hours * library.gangs[work.gang].rate
            plant = work.plant * conversion
    rate = Rate(material=supply, sundries=sundries, labour=labour, plant=plant, hours=hours)
    priced = price is not None or _all_have_own_prices(item) or not _has_material(material)
    return rate, priced


def _has_own_prices(item: OrderedQuantity) -> bool:
    """Whether anything that is bought for an item has a price of its own in the stock."""
    return item.plan is not None and any(bought.stock.price is not None for bought in item.plan.items)


def _all_have_own_prices(item: OrderedQuantity) -> bool:
    """Whether everything that is bought for an item has a price of its own in the stock."""
    return item.plan is not None and all(bought.stock.price is not None for bought in item.plan.items)


def _supply_from_stock(item: OrderedQuantity, library: Library, price: Price | None) -> float:
    """Return what an item's share of its plan costs, size by size.

    Sizes without a price of their own cost the material's price; where that allows for wastage, of what is
    required only.
    """
    plan, quantity = item.plan, item.quantity
    if plan is None:
        return 0.0
    total = 0.0
    for bought in plan.items:
        row = bought.stock
        each = money_for(quantity, row, bought.amount / bought.count, library) or 0.0
        raised = row.price is None and price is not None and price.wastage_in_price
        total += each * bought.count * (plan.required if raised else plan.charged) / plan.order
    return total * item.share


def _carbon(
    item: OrderedQuantity,
    material: Material | None,
    work: Work | None,
    library: Library,
    into: _Converter,
    mass_per_unit: float | None,
) -> Carbon:
    """Return the upfront carbon of an item by module.

    A1-A3 and A4 are those of what is built in; A5 wastage is the A1-A3 and A4 of what is bought and not
    built in (its end of life is not assessed yet); A5 site follows the work.

    Source: EN 15978 modules; wastage factor as in `takeoff.cutting.allowance`.
    """
    quantity = item.quantity
    factor = library.carbon.get(quantity.material)
    a1a3 = a4 = a5_wastage = None
    if factor is not None:
        conversion = into.to(factor.a1a3.per, factor.origin, "unit", "the factor")
        if conversion is not None:
            per_unit = factor.a1a3.value * conversion
            a1a3 = item.built_in * per_unit
            transport = transport_per_kg(factor, library)
            a4_per_unit = None
            if transport is not None and mass_per_unit is not None:
                a4_per_unit = transport * mass_per_unit
                a4 = item.built_in * a4_per_unit
            a5_wastage = item.wastage * (per_unit + (a4_per_unit or 0.0))
    a5_site = None
    if work is not None and work.site_carbon is not None:
        conversion = into.to(work.hours.per, work.origin, "unit", "the site carbon")
        if conversion is not None:
            a5_site = quantity.net * work.site_carbon * conversion
    stored = 0.0
    if material is not None and mass_per_unit is not None and material.wood_share:
        wood = item.built_in * mass_per_unit * material.wood_share
        stored = -wood * stored_per_kg(moisture=material.moisture)
    return Carbon(a1a3=a1a3, a4=a4, a5_wastage=a5_wastage, a5_site=a5_site, stored=stored)


def transport_per_kg(factor: CarbonFactor, library: Library) -> float | None:
    """Return the carbon of bringing one kg to the site [kgCO2e/kg], None where it is not assessed."""
    if factor.mode is None or factor.distance is None:
        return None
    return library.transport[factor.mode].factor * factor.distance
