"""Ranges of cost and carbon: all options drawn together, so that what they share cancels in their differences.

Every figure is a sum of parts, and every part a product of inputs of the workbooks (`takeoff.assess.parts`). Each input
is drawn from its range once for all items and options that use it (`distributions`, `inputs`, `draws`); inputs of
different names are drawn apart, as nothing is known of how they go together. The percentages of the cost ladder, the
cutting plans and the settings of the study are as given. `draw` does all of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from takeoff.compare.evaluate import Result
from takeoff.compare.uncertainty.amounts import DRAWN_FIGURES, DrawnFigure, amounts_of
from takeoff.compare.uncertainty.draws import Drawn, Model, draw_model, model_of
from takeoff.compare.uncertainty.inputs import DrawnInput, drawn_inputs
from takeoff.compare.uncertainty.ranges import Difference, Range, Verdict, difference_of, range_of
from takeoff.compare.uncertainty.tornado import Influence, Swings, swings_of, tornado
from takeoff.model.job import Job

__all__ = [
    "DRAWN_FIGURES",
    "Difference",
    "DrawnFigure",
    "DrawnInput",
    "Influence",
    "OptionRanges",
    "Range",
    "Uncertainty",
    "Verdict",
    "draw",
    "model_of_results",
]

Array = npt.NDArray[np.float64]

# The figures whose inputs are ranked.
_RANKED: tuple[DrawnFigure, ...] = ("total_inc_tax", "upfront_kgco2e", "life_cycle_kgco2e")


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionRanges:
    """The ranges of the figures of one option, by key; `differences` from the base are empty for the base itself."""

    name: str
    figures: Mapping[DrawnFigure, Range]
    differences: Mapping[DrawnFigure, Difference]


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncertainty:
    """The ranges of all options, the first being the base, from `draws` draws with a seed.

    `base_tornado` are the inputs that move the base most, by figure. `without_range` are the inputs for which no range
    is stated anywhere: they stay at their central values, so ranges are narrower than they should be.
    """

    draws: int
    seed: int
    options: tuple[OptionRanges, ...]
    base_tornado: Mapping[DrawnFigure, tuple[Influence, ...]]
    without_range: tuple[DrawnInput, ...]
    drawn: Drawn = field(repr=False, compare=False)
    swings: Swings = field(repr=False, compare=False)

    def option(self, name: str) -> OptionRanges:
        """Return the ranges of an option by its name. Raises KeyError if there is none."""
        return self.options[self._place(name)]

    def tornado(self, figure: DrawnFigure, name: str) -> tuple[Influence, ...]:
        """Return the inputs that move a figure of an option most. Raises KeyError if there is no such option."""
        return tornado(self.drawn, self.swings, figure, option=self._place(name), seed=self.seed)

    def difference_tornado(self, figure: DrawnFigure, name: str) -> tuple[Influence, ...]:
        """Return the inputs that move the difference of an option from the base most. Raises KeyError as above."""
        place = self._place(name)
        return tornado(self.drawn, self.swings, figure, option=place, seed=self.seed, less_base=True)

    def _place(self, name: str) -> int:
        """Return the place of an option among them."""
        for place, option in enumerate(self.options):
            if option.name == name:
                return place
        raise KeyError(name)


def model_of_results(job: Job, results: Sequence[Result]) -> Model:
    """Return the figures of evaluated options as sums of products of inputs; the first result is the base."""
    options = [
        (result.option.name, amounts_of(result.lines, job.library.ladder, job.study)) for result in results
    ]
    return model_of(options, lambda inputs: drawn_inputs(inputs, job), job.study)


def draw(job: Job, results: Sequence[Result]) -> Uncertainty:
    """Draw the figures of all options, as many times and with the seed that the job's study says.

    The first result is the base. Raises ValueError where a range leaves its central value out.
    """
    draws, seed = job.study.draws, job.study.seed
    model = model_of_results(job, results)
    drawn, swings = draw_model(model, draws=draws, seed=seed), swings_of(model)
    return Uncertainty(
        draws=draws,
        seed=seed,
        options=tuple(_ranges(drawn, place) for place in range(len(results))),
        base_tornado={key: tornado(drawn, swings, key, option=0, seed=seed) for key in _RANKED},
        without_range=tuple(known for known in model.inputs if not known.is_stated),
        drawn=drawn,
        swings=swings,
    )


def _ranges(drawn: Drawn, place: int) -> OptionRanges:
    """Return the ranges of one option."""
    figures = {key: range_of(drawn.of(place, key), _at(drawn.central, place, key)) for key in DRAWN_FIGURES}
    differences = {
        key: difference_of(
            drawn.difference_of(place, key),
            _at(drawn.central_differences, place, key),
            option=drawn.of(place, key),
            base=drawn.of(0, key),
        )
        for key in (DRAWN_FIGURES if place else ())
    }
    return OptionRanges(name=drawn.model.options[place], figures=figures, differences=differences)


def _at(central: Array, place: int, key: DrawnFigure) -> float:
    """Return one central figure."""
    return float(central[place, DRAWN_FIGURES.index(key)])
