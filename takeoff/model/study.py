"""How carbon and upkeep over the whole life are counted: period, modules, scenario, draws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from takeoff.model.life_cycle import LIFE_CYCLE, USUAL, Module
from takeoff.model.problem import Origin

Counting = Literal["whole", "annualised"]
COUNTINGS: tuple[Counting, ...] = get_args(Counting)


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """The settings of the study, the same for every option.

    `period` is the reference study period [years]. `replacements` says whether renewals count whole, as they
    fall, or annualised, period / life - 1. `discount_rate` is a share a year, in real terms. `end_of_life` names a
    scenario of the sheet End of life. `modules` are those added up as life-cycle carbon; D never is. `draws`
    and `seed` are those of the ranges.
    """

    period: float = 60.0
    replacements: Counting = "whole"
    discount_rate: float = 0.0
    end_of_life: str = USUAL
    modules: tuple[Module, ...] = LIFE_CYCLE
    draws: int = 10_000
    seed: int = 1
    origin: Mapping[str, Origin] = field(default_factory=dict, compare=False, repr=False)
