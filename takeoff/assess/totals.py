"""Totals of priced and assessed items: by element, by trade, for the house, with their coverage."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from takeoff.assess.lines import Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Sums over items: money in the project's currency, carbon in kgCO2e, mass in kg, wood in m3.

    Carbon sums are of what is assessed, None where nothing is; `not_assessed` lists the ids of items with
    material but no factor, `a4_not_assessed` of those with a factor but no way to the site, `not_priced`
    of those without a price, `mass_not_known` of those with material of no known mass. `carbon_cover_mass`
    and `carbon_cover_cost` are the shares of the mass that is known and of cost that carry a carbon factor.
    """

    cost: float
    material_cost: float
    labour_cost: float
    hours: float
    mass: float
    mass_wastage: float
    wood_volume: float
    a1a3: float | None
    a4: float | None
    a5_wastage: float | None
    a5_site: float | None
    stored: float
    a4_not_assessed: tuple[str, ...]
    not_assessed: tuple[str, ...]
    not_priced: tuple[str, ...]
    mass_not_known: tuple[str, ...]
    carbon_cover_mass: float
    carbon_cover_cost: float

    @property
    def upfront(self) -> float:
        """A1-A3, A4 and A5 together [kgCO2e], of what is assessed."""
        return self.upfront_assessed or 0.0

    @property
    def upfront_assessed(self) -> float | None:
        """A1-A3, A4 and A5 together [kgCO2e], None where none of them is assessed."""
        modules = (self.a1a3, self.a4, self.a5_wastage, self.a5_site)
        known = [module for module in modules if module is not None]
        return sum(known) if known else None

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
    return Totals(
        cost=cost,
        material_cost=sum((line.rate.material + line.rate.sundries) * line.quantity.net for line in lines),
        labour_cost=sum(line.rate.labour * line.quantity.net for line in lines),
        hours=sum(line.rate.hours * line.quantity.net for line in lines),
        mass=mass,
        mass_wastage=sum(line.mass_wastage or 0.0 for line in lines),
        wood_volume=sum(line.wood_volume for line in lines),
        a1a3=_module(lines, lambda line: line.carbon.a1a3),
        a4=_module(lines, lambda line: line.carbon.a4),
        a5_wastage=_module(lines, lambda line: line.carbon.a5_wastage),
        a5_site=_module(lines, lambda line: line.carbon.a5_site),
        stored=sum(line.carbon.stored for line in lines),
        a4_not_assessed=tuple(line.quantity.id for line in with_factor if line.carbon.a4 is None),
        not_assessed=tuple(line.quantity.id for line in material_lines if line.carbon.a1a3 is None),
        not_priced=tuple(line.quantity.id for line in lines if not line.priced),
        mass_not_known=tuple(line.quantity.id for line in material_lines if line.mass is None),
        carbon_cover_mass=_share(sum(line.mass or 0.0 for line in with_factor), mass),
        carbon_cover_cost=_share(sum(line.cost for line in with_factor), cost),
    )


def _module(lines: list[Line], of: Callable[[Line], float | None]) -> float | None:
    """Return the sum of one module over the items that assess it, None where none does."""
    assessed = [amount for line in lines if (amount := of(line)) is not None]
    return sum(assessed) if assessed else None


def _share(part: float, whole: float) -> float:
    """Return a share, 0 of nothing."""
    return part / whole if whole else 0.0


def totals_by(lines: Iterable[Line], key: Callable[[Line], str], order: Iterable[str]) -> dict[str, Totals]:
    """Return totals of the groups that a key makes, in a given order, empty groups left out."""
    groups: dict[str, list[Line]] = {}
    for line in lines:
        groups.setdefault(key(line), []).append(line)
    return {name: total(groups[name]) for name in order if name in groups}
