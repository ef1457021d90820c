"""Turns allowances into items: what is allowed for and not measured from the plan, priced and assessed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.assess.lines import SUM_KINDS, Carbon, Line, Rate, SumOf
from takeoff.assess.parts import Input, Part
from takeoff.cutting.order import OrderedQuantity
from takeoff.measure.layer import slug
from takeoff.measure.quantity import Dimension, Quantity
from takeoff.model.allowance import Allowance, Basis
from takeoff.model.library import ELEMENTS
from takeoff.model.problem import WorkbookProblem, at

_UNITS: dict[Basis, str] = {"Item": "Item", "Nr": "Nr", "m2 of floor": "m2", "kW": "kW"}
_CODES = {name: code for code, name in ELEMENTS.items()}
_NOT_ASSESSED = Carbon(a1a3=None, a4=None, a5_wastage=None, a5_site=None, stored=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class AssessedAllowance:
    """One allowance with its items: what it allows for, and the fixing of a prime-cost sum where given."""

    allowance: Allowance
    line: Line
    fixing: Line | None = None

    @property
    def lines(self) -> tuple[Line, ...]:
        """Its items, one or two."""
        return (self.line,) if self.fixing is None else (self.line, self.fixing)


def allowance_id(allowance: Allowance) -> str:
    """Return the stable id of an allowance: the code of its element and its name."""
    return f"{_CODES[allowance.element]}.{slug(allowance.name)}"


def assess_allowances(
    allowances: Iterable[Allowance], *, inside_floor: float
) -> tuple[AssessedAllowance, ...]:
    """Price and assess every allowance of a house.

    `inside_floor` is the floor to the inside face of the external walls [m2]: the quantity of what is
    measured by m2 of floor, unless one is given; an Item is 1 unless one is given. Of the modules only A1-A3
    can be given; transport, wastage and site work are not assessed. Raises ValueError for an allowance by Nr
    or kW without a quantity.

    Source: common practice, no source: a provisional sum is supply and work, a prime-cost sum supply only,
    with its fixing among the measured works.
    """
    return tuple(_assessed(allowance, inside_floor) for allowance in allowances)


def _assessed(allowance: Allowance, inside_floor: float) -> AssessedAllowance:
    """Price and assess one allowance."""
    dimension = _dimension(allowance, inside_floor)
    net, kind = dimension.squaring, _sum_of(allowance)
    supply = Line(
        ordered=_as_allowed(_quantity(allowance, dimension)),
        mass=None if allowance.mass is None else net * allowance.mass,
        mass_wastage=None,
        wood_volume=0.0,
        rate=_stated(allowance.rate),
        cost=allowance.rate * net,
        priced=True,
        needs_carbon=True,
        carbon=_NOT_ASSESSED if allowance.carbon is None else _product_stage(allowance.carbon * net),
        sum_kind=kind,
        cost_parts=(_money(allowance, allowance.rate * net),),
        carbon_parts=()
        if allowance.carbon is None
        else (Part(allowance.carbon * net, (Input("allowance carbon", allowance.name),), "A1-A3"),),
    )
    if kind != "prime-cost sum" or not allowance.fixing:
        return AssessedAllowance(allowance=allowance, line=supply)
    fixing = Line(
        ordered=_as_allowed(_quantity(allowance, dimension, fixing=True)),
        mass=None,
        mass_wastage=None,
        wood_volume=0.0,
        rate=_stated(allowance.fixing),
        cost=allowance.fixing * net,
        priced=True,
        needs_carbon=False,
        carbon=_NOT_ASSESSED,
        cost_parts=(_money(allowance, allowance.fixing * net),),
    )
    return AssessedAllowance(allowance=allowance, line=supply, fixing=fixing)


def _money(allowance: Allowance, amount: float) -> Part:
    """Return the one part that the cost of an allowance has."""
    return Part(amount, (Input("allowance", allowance.name),))


def _sum_of(allowance: Allowance) -> SumOf | None:
    """Return the kind of sum an allowance is, None where it is firm."""
    return None if allowance.kind == "firm" else allowance.kind


def _dimension(allowance: Allowance, inside_floor: float) -> Dimension:
    """Return the line that the quantity of an allowance is squared from."""
    if allowance.quantity is not None:
        return Dimension("quantity as given", allowance.quantity)
    if allowance.basis == "m2 of floor":
        return Dimension("floor to the inside face of the external walls", inside_floor)
    if allowance.basis == "Item":
        return Dimension("one item")
    raise ValueError(f"{allowance.name}: an allowance by {allowance.basis} needs a quantity")


def _quantity(allowance: Allowance, dimension: Dimension, *, fixing: bool = False) -> Quantity:
    """Return what an allowance is for as a measured item, or the fixing of it."""
    id, name = allowance_id(allowance), allowance.name
    description = allowance.description or name
    return Quantity(
        id=f"{id}.fixing" if fixing else id,
        element=_CODES[allowance.element],
        trade=allowance.trade,
        item=f"{name}, fix only" if fixing else name,
        description=f"Fix only: {description}" if fixing else description,
        location="as allowed for",
        unit=_UNITS[allowance.basis],
        material="",
        net=dimension.squaring,
        required=dimension.squaring,
        dimensions=(dimension,),
        how=f"allowed for by {allowance.basis}",
    )


def _as_allowed(quantity: Quantity) -> OrderedQuantity:
    """Return a quantity that is bought as it stands."""
    return OrderedQuantity(
        quantity=quantity,
        order=quantity.required,
        charged=quantity.required,
        allowed=quantity.required,
        rule="as allowed for",
        basis="as required",
    )


def _stated(rate: float) -> Rate:
    """Return a rate that is not built up."""
    return Rate(material=0.0, sundries=0.0, labour=0.0, plant=0.0, hours=0.0, stated=rate)


def _product_stage(amount: float) -> Carbon:
    """Return upfront carbon of which only the product stage is assessed."""
    return Carbon(a1a3=amount, a4=None, a5_wastage=None, a5_site=None, stored=0.0)


def allowance_problems(
    assessed: Sequence[AssessedAllowance], measured_ids: Iterable[str]
) -> list[WorkbookProblem]:
    """Return each allowance with an id that another item has: capitals and signs do not tell ids apart."""
    taken = {id.lower(): "a measured item" for id in measured_ids}
    problems = []
    for each in assessed:
        allowance = each.allowance
        ids = [line.quantity.id for line in each.lines]
        id = next((id for id in ids if id.lower() in taken), None)
        if id is not None:
            problems.append(
                at(
                    allowance.origin,
                    "name",
                    found=f"{allowance.name!r} gives the id {id}, which {taken[id.lower()]} has already",
                    expected="a name of its own within its element",
                    mend="Rename the allowance",
                )
            )
        for own in ids:
            taken.setdefault(own.lower(), f"the allowance {allowance.name!r}")
    return problems


def measured_works(lines: Iterable[Line]) -> float:
    """Return the cost of the firm items, where the cost ladder starts, in the project's currency."""
    return sum(line.cost for line in lines if line.sum_kind is None)


def sums_allowed(lines: Iterable[Line]) -> dict[SumOf, float]:
    """Return the sums by kind, in the project's currency and in the order of the ladder, kinds without any left out."""
    lines = list(lines)
    return {
        kind: sum(line.cost for line in lines if line.sum_kind == kind)
        for kind in SUM_KINDS
        if any(line.sum_kind == kind for line in lines)
    }
