"""An amount for one unit of something."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PerUnit:
    """An amount (money, hours, kgCO2e) for one unit of something: `per` is m3, m2, m, kg or Nr."""

    value: float
    per: str
