"""Totals of priced and assessed items: by element, by trade, for the house, with their coverage."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from takeoff.assess.lines import Line
from takeoff.model.life_cycle import LIFE_CYCLE, MODULES, UPFRONT, Module


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleTotal:
    """One module added up over items [kgCO2e], of what is assessed; None where nothing is.

    `cover_mass` and `cover_cost` are the shares of the known mass and of the cost of items with material for which it
    is assessed, None where there is no such mass or cost; `missing` are the ids of the items with material for which
    it is not.
    """

    amount: float | None
    cover_mass: float | None
    cover_cost: float | None
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Sums over items: money in the project's currency, carbon in kgCO2e, mass in kg, wood in m3.

    Carbon sums are of what is assessed, None where nothing is; `not_assessed` lists the ids of items with
    material but no factor, `a4_not_assessed` of those with a factor but no way to the site, `not_priced`
    of those without a price, `mass_not_known` of those with material of no known mass, `upkeep_not_assessed` of those
    with material whose renewals nothing tells; `upkeep_cover` is the share of cost of the others. `carbon_cover_mass`
    and `carbon_cover_cost` are the shares of the mass that is known and of cost that carry a carbon factor.
    `upkeep` is the cost of all renewals that the study counts, not discounted. Stored carbon is negative, what is
    released of it is not; `renewed_stored` and `renewed_released` are those of what is renewed [kgCO2].
    """

    cost: float
    material_cost: float
    labour_cost: float
    plant_cost: float
    stated_cost: float
    hours: float
    upkeep: float
    mass: float
    mass_wastage: float
    wood_volume: float
    modules: Mapping[Module, ModuleTotal]
    land_use: float | None
    stored: float
    released: float | None
    renewed_stored: float
    renewed_released: float | None
    not_assessed: tuple[str, ...]
    a4_not_assessed: tuple[str, ...]
    not_priced: tuple[str, ...]
    mass_not_known: tuple[str, ...]
    upkeep_not_assessed: tuple[str, ...]
    upkeep_cover: float | None
    carbon_cover_mass: float
    carbon_cover_cost: float

    def of(self, module: Module) -> float | None:
        """Return one module [kgCO2e], None where nothing of it is assessed."""
        return self.modules[module].amount

    def sum_of(self, modules: Iterable[Module]) -> float | None:
        """Return the sum of those modules that are assessed, None where none of them is."""
        return _sum(self.of(module) for module in modules)

    @property
    def a1a3(self) -> float | None:
        """Product stage [kgCO2e]."""
        return self.of("A1-A3")

    @property
    def a4(self) -> float | None:
        """Transport to the site [kgCO2e]."""
        return self.of("A4")

    @property
    def a5_wastage(self) -> float | None:
        """Wastage [kgCO2e]."""
        return self.of("A5 wastage")

    @property
    def a5_site(self) -> float | None:
        """Site work [kgCO2e]."""
        return self.of("A5 site")

    @property
    def upfront(self) -> float:
        """A1-A3, A4 and A5 together [kgCO2e], of what is assessed."""
        return self.upfront_assessed or 0.0

    @property
    def upfront_assessed(self) -> float | None:
        """A1-A3, A4 and A5 together [kgCO2e], None where none of them is assessed."""
        return self.sum_of(UPFRONT)

    def life_cycle(self, modules: Iterable[Module] = LIFE_CYCLE) -> float | None:
        """Return life-cycle embodied carbon [kgCO2e]: the modules of a study, D never among them."""
        return self.sum_of(module for module in modules if module != "D")

    @property
    def kept(self) -> float | None:
        """Stored carbon that is never released, negative: what all is stored and released come to [kgCO2].

        None where the end of life of some of it is not assessed.
        """
        if self.released is None or self.renewed_released is None:
            return None
        return self.stored + self.renewed_stored + self.released + self.renewed_released

    @property
    def known_mass(self) -> float | None:
        """Mass built in [kg], None where there is material and the mass of none of it is known."""
        return None if self.mass_not_known and not self.mass else self.mass


def total(lines: Iterable[Line]) -> Totals:
    """Add items up."""
    lines = list(lines)
    with_factor = [line for line in lines if line.carbon.a1a3 is not None]
    mass = sum(line.mass or 0.0 for line in lines)
    cost = sum(line.cost for line in lines)
    material_lines = [line for line in lines if line.needs_carbon]
    wood = [line for line in lines if line.carbon.stored]
    return Totals(
        cost=cost,
        material_cost=sum((line.rate.material + line.rate.sundries) * line.quantity.net for line in lines),
        labour_cost=sum(line.rate.labour * line.quantity.net for line in lines),
        plant_cost=sum(line.rate.plant * line.quantity.net for line in lines),
        stated_cost=sum(line.rate.stated * line.quantity.net for line in lines),
        hours=sum(line.rate.hours * line.quantity.net for line in lines),
        upkeep=sum(line.renewal.cost_each * line.renewal.counted for line in lines if line.renewal),
        mass=mass,
        mass_wastage=sum(line.mass_wastage or 0.0 for line in lines),
        wood_volume=sum(line.wood_volume for line in lines),
        modules={module: _module(lines, material_lines, module) for module in MODULES},
        land_use=_sum(line.carbon.land_use for line in lines),
        stored=sum(line.carbon.stored for line in lines),
        released=_all(line.carbon.released for line in wood),
        renewed_stored=sum(line.carbon.renewed_stored for line in lines),
        renewed_released=_all(line.carbon.renewed_released for line in wood if line.carbon.renewed_stored),
        a4_not_assessed=tuple(line.quantity.id for line in with_factor if line.carbon.a4 is None),
        not_assessed=tuple(line.quantity.id for line in material_lines if line.carbon.a1a3 is None),
        not_priced=tuple(line.quantity.id for line in lines if not line.priced),
        mass_not_known=tuple(line.quantity.id for line in material_lines if line.mass is None),
        upkeep_not_assessed=tuple(line.quantity.id for line in material_lines if line.renewal is None),
        upkeep_cover=_share(
            sum(line.cost for line in material_lines if line.renewal is not None),
            sum(line.cost for line in material_lines),
        ),
        carbon_cover_mass=_share(sum(line.mass or 0.0 for line in with_factor), mass) or 0.0,
        carbon_cover_cost=_share(sum(line.cost for line in with_factor), cost) or 0.0,
    )


def _module(lines: list[Line], material_lines: list[Line], module: Module) -> ModuleTotal:
    """Return the total of one module with its coverage."""
    known = [line for line in material_lines if line.carbon.of(module) is not None]
    return ModuleTotal(
        amount=_sum(line.carbon.of(module) for line in lines),
        cover_mass=_share(_mass(known), _mass(material_lines)),
        cover_cost=_share(sum(line.cost for line in known), sum(line.cost for line in material_lines)),
        missing=tuple(line.quantity.id for line in material_lines if line.carbon.of(module) is None),
    )


def _mass(lines: Iterable[Line]) -> float:
    """Return the mass of items, of what is known of it [kg]."""
    return sum(line.mass or 0.0 for line in lines)


def _sum(amounts: Iterable[float | None]) -> float | None:
    """Return the sum of what is known, None where nothing is."""
    known = [amount for amount in amounts if amount is not None]
    return sum(known) if known else None


def _all(amounts: Iterable[float | None]) -> float | None:
    """Return the sum of amounts, None where one of them is not known."""
    total = 0.0
    for amount in amounts:
        if amount is None:
            return None
        total += amount
    return total


def _share(part: float, whole: float) -> float | None:
    """Return a share, None of nothing."""
    return part / whole if whole else None


def totals_by(lines: Iterable[Line], key: Callable[[Line], str], order: Iterable[str]) -> dict[str, Totals]:
    """Return totals of the groups that a key makes, in a given order, empty groups left out."""
    groups: dict[str, list[Line]] = {}
    for line in lines:
        groups.setdefault(key(line), []).append(line)
    return {name: total(groups[name]) for name in order if name in groups}
