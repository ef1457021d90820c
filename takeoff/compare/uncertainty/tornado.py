"""Which inputs matter most: each moved from the low to the high end of its range, the others kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from takeoff.compare.uncertainty.amounts import DRAWN_FIGURES, DrawnFigure
from takeoff.compare.uncertainty.draws import Drawn, Model, multipliers_of
from takeoff.compare.uncertainty.inputs import DrawnInput
from takeoff.compare.uncertainty.ranks import rank_correlation

Array = npt.NDArray[np.float64]

MOST = 8
_LOW, _HIGH = 0.10, 0.90
# A swing below this, relative to the largest, is rounding.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Influence:
    """How an input moves a figure: `at_low` with the P10 of its values, `at_high` with their P90, the others central.

    `low` and `high` are those values as multiples of the central one. `rank_correlation` is that of its values
    with the figure over all draws, when everything varies together.
    """

    source: DrawnInput
    low: float
    high: float
    at_low: float
    at_high: float
    rank_correlation: float

    @property
    def swing(self) -> float:
        """How much the figure rises from the one to the other."""
        return self.at_high - self.at_low


@dataclass(frozen=True, slots=True, kw_only=True)
class Swings:
    """Figures with one input at a time moved: options x figures x inputs, and the same of differences from the base."""

    at_low: Array
    at_high: Array
    differences_at_low: Array
    differences_at_high: Array


def swings_of(model: Model) -> Swings:
    """Return every figure with each input in turn at the low and at the high end of its range."""
    products, ends = model.products(), []
    for share in (_LOW, _HIGH):
        multipliers = np.ones((len(model.inputs), len(model.inputs)))
        np.fill_diagonal(multipliers, [known.multiplier_at(share) for known in model.inputs])
        ends.append(model.figures(products.of(multipliers)))
    (at_low, differences_at_low), (at_high, differences_at_high) = ends
    return Swings(
        at_low=at_low,
        at_high=at_high,
        differences_at_low=differences_at_low,
        differences_at_high=differences_at_high,
    )


def tornado(
    drawn: Drawn,
    swings: Swings,
    figure: DrawnFigure,
    *,
    option: int,
    seed: int,
    less_base: bool = False,
    most: int = MOST,
) -> tuple[Influence, ...]:
    """Return the inputs that move a figure of an option most, the largest swing first.

    Inputs without a range, and those that don't move it, are left out. With `less_base` it is the difference of
    the option from the base that is moved. `option` is its place among the options.

    Source: one-at-a-time swings and Spearman's rank correlation, common practice.
    """
    model, place = drawn.model, DRAWN_FIGURES.index(figure)
    if less_base:
        low, high = swings.differences_at_low[option, place], swings.differences_at_high[option, place]
        figures = drawn.difference_of(option, figure)
    else:
        low, high = swings.at_low[option, place], swings.at_high[option, place]
        figures = drawn.of(option, figure)
    sizes = np.abs(high - low)
    # of equal swings the one whose kind and name come first, as the inputs do
    order = np.argsort(-sizes, kind="stable")[:most]
    least = _ROUNDING * max(float(sizes.max(initial=0.0)), float(np.abs(low).max(initial=0.0)))
    influences = []
    for index in order[sizes[order] > least].tolist():
        known = model.inputs[index]
        values = multipliers_of(known, draws=figures.size, seed=seed)
        sign = -1.0 if known.central is not None and known.central < 0 else 1.0
        influences.append(
            Influence(
                source=known,
                low=known.multiplier_at(_LOW),
                high=known.multiplier_at(_HIGH),
                at_low=float(low[index]),
                at_high=float(high[index]),
                rank_correlation=sign * rank_correlation(values, figures),
            )
        )
    return tuple(influences)
