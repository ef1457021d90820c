"""The parts that money and carbon of an item are sums of, each with the inputs it is a product of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from takeoff.model.life_cycle import Module

InputKind = Literal[
    "factor",
    "transport",
    "site work",
    "maintenance",
    "end of life",
    "price",
    "labour",
    "gang",
    "quantity",
    "allowance",
    "allowance carbon",
    "life",
]
INPUT_KINDS: tuple[InputKind, ...] = get_args(InputKind)


@dataclass(frozen=True, slots=True)
class Input:
    """An input of the workbooks that a part is proportional to, by kind and name.

    The name is that of its row: a material for a factor, price, maintenance or life, a way of carrying, a labour
    row, a gang, a family for the end of life, an item class for quantities, an allowance. All items and options that
    use the input share it.
    """

    kind: InputKind
    name: str


@dataclass(frozen=True, slots=True)
class Part:
    """A part of an item's money (`module` is None) [currency] or of a module of its carbon [kgCO2e].

    The amount is proportional to each of its inputs.
    """

    amount: float
    inputs: tuple[Input, ...]
    module: Module | None = None


def sum_of(parts: Iterable[Part], module: Module | None = None) -> float | None:
    """Return the sum of the parts of a module, None where there is none."""
    amounts = [part.amount for part in parts if part.module == module]
    return sum(amounts) if amounts else None
