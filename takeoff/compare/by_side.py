"""Palettes side by side: what the cladding of each elevation costs and emits for one m2, built."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.compare.claddings import CladdingFigures, claddings_of
from takeoff.compare.evaluate import Result
from takeoff.model.house import SIDES, Side


@dataclass(frozen=True, slots=True, kw_only=True)
class SideFigures:
    """The claddings of one elevation: their names, the face less its openings [m2], cost and carbon for one m2.

    `cost` is works before the cost ladder; `upfront` is None where a cladding of the side is not assessed [kgCO2e].
    """

    side: Side
    claddings: tuple[str, ...]
    area: float
    cost: float
    upfront: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaletteFigures:
    """A palette as the first option that has it builds it, and the names of all options that have it."""

    palette: str
    result: Result
    options: tuple[str, ...]
    sides: tuple[SideFigures, ...]


def palettes_of(results: Sequence[Result]) -> list[PaletteFigures]:
    """Return the palettes of all options, that of the base first."""
    found: dict[str, list[Result]] = {}
    for result in results:
        found.setdefault(result.design.palette.name, []).append(result)
    return [
        PaletteFigures(
            palette=name,
            result=those[0],
            options=tuple(result.option.name for result in those),
            sides=_sides(claddings_of(those[0])),
        )
        for name, those in found.items()
    ]


def _sides(claddings: Sequence[CladdingFigures]) -> tuple[SideFigures, ...]:
    """Return the figures of each side, its claddings together."""
    return tuple(_together(side, [each for each in claddings if each.side == side]) for side in SIDES)


def _together(side: Side, claddings: Sequence[CladdingFigures]) -> SideFigures:
    """Return the claddings of one side as one."""
    area = sum(each.area for each in claddings)
    upfront = [each.upfront for each in claddings]
    assessed = [amount for amount in upfront if amount is not None]
    whole = area > 0 and len(assessed) == len(upfront)
    return SideFigures(
        side=side,
        claddings=tuple(each.build_up for each in claddings),
        area=area,
        cost=sum(each.cost for each in claddings) / area if area > 0 else 0.0,
        upfront=sum(assessed) / area if whole else None,
    )
