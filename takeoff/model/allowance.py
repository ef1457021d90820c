"""What is allowed for and not measured from the plan: services, kitchen, sanitary ware, site works."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.problem import Origin

Basis = Literal["Item", "Nr", "m2 of floor", "kW"]
BASES: tuple[Basis, ...] = get_args(Basis)
SumKind = Literal["firm", "provisional sum", "prime-cost sum"]
SUM_KINDS: tuple[SumKind, ...] = get_args(SumKind)


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """One allowance, in the project's currency, kgCO2e and kg for one unit of its basis.

    `quantity` is None where the basis gives it: 1 for an Item, the floor inside the external walls for m2
    of floor. `rate` is supply and work, or supply alone for a prime-cost sum, whose fixing by the builder
    is `fixing`. `carbon` is A1-A3, None where it is not assessed; `mass` is None where it is not known;
    `service_life` [years] after which all of it is renewed, None where that is not assessed.
    """

    name: str
    element: str
    trade: str
    description: str
    basis: Basis
    quantity: float | None
    kind: SumKind
    rate: float
    fixing: float = 0.0
    carbon: float | None = None
    mass: float | None = None
    service_life: float | None = None
    source: str = ""
    standing: str = ""
    note: str = ""
    origin: Origin = field(default_factory=Origin, compare=False, repr=False)
