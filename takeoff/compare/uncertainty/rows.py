"""Rows: the products of inputs that figures are weighted sums of.

A figure of an option is a sum of amounts, each times the same product of multipliers in every item and option that has
it. Products are therefore drawn once each, and a figure is one row of amounts times them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from takeoff.assess.parts import Input
from takeoff.assess.renewal import Renewal, renewals
from takeoff.compare.uncertainty.discounting import discounted_renewals
from takeoff.model.study import Study

Array = npt.NDArray[np.float64]

CountOf = Literal["all", "own", "with host"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """How often something is renewed, as far as it depends on lives: central lives [years] and their inputs.

    `life_input` is None for what lasts as long as its host, `host_input` where there is no host. `is_discounted`
    counts each renewal at what its money is worth at completion. `of` says which renewals are counted: those at the
    end of its own life, those with its host, or all.
    """

    life: float
    life_input: Input | None
    host_life: float | None
    host_input: Input | None
    share: float
    is_discounted: bool = False
    of: CountOf = "all"

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The lives it depends on."""
        return tuple(each for each in (self.life_input, self.host_input) if each is not None)


def count_of(renewal: Renewal) -> Count:
    """Return how the count of renewals of an item follows from lives."""
    return Count(
        life=renewal.life,
        life_input=Input("life", renewal.material) if np.isfinite(renewal.life) else None,
        host_life=renewal.host_life,
        host_input=None
        if renewal.host_life is None or renewal.host_material is None
        else Input("life", renewal.host_material),
        share=renewal.share,
    )


@dataclass(frozen=True, slots=True)
class Row:
    """A product of the multipliers of inputs, and of a count of renewals where it is for those."""

    inputs: frozenset[Input]
    count: Count | None = None

    @property
    def all_inputs(self) -> frozenset[Input]:
        """Its inputs and the lives that its count depends on."""
        return self.inputs if self.count is None else self.inputs | frozenset(self.count.inputs)


def counts_drawn(count: Count, multiplier_of: Callable[[Input | None], Array], study: Study) -> Array:
    """Return the count of renewals for every draw, lives being multiplied."""
    life = count.life * multiplier_of(count.life_input)
    host = None if count.host_life is None else count.host_life * multiplier_of(count.host_input)
    if count.is_discounted:
        return discounted_renewals(life, host, share=count.share, study=study)
    drawn = renewals(life, study.period, host, annualised=study.replacements == "annualised")
    own: Array = drawn.own * count.share
    counts: dict[CountOf, Array] = {
        "all": own + drawn.with_host,
        "own": own,
        "with host": drawn.with_host,
    }
    return counts[count.of]


class Products:
    """Multiplies inputs into rows, many draws at a time."""

    def __init__(self, rows: Sequence[Row], inputs: Sequence[Input], study: Study) -> None:
        """Look up once which columns of inputs each row takes."""
        self._study = study
        self._place = {source: index for index, source in enumerate(inputs)}
        self._one = len(inputs)
        # rows of one count and number of factors lie together, so that each is one multiplication of whole arrays
        self._counts: dict[Count, list[int]] = {}
        for index, row in enumerate(rows):
            if row.count is not None:
                self._counts.setdefault(row.count, []).append(index)
        longest = max((len(row.inputs) for row in rows), default=0)
        self._factors = np.full((longest, len(rows)), self._one, dtype=np.intp)
        for index, row in enumerate(rows):
            places = sorted(self._place[source] for source in row.inputs)
            self._factors[: len(places), index] = places
        self._rows = len(rows)

    def of(self, multipliers: Array) -> Array:
        """Return rows x draws from multipliers of inputs x draws."""
        draws = multipliers.shape[1]
        with_one = np.vstack([multipliers, np.ones((1, draws))])
        products = np.ones((self._rows, draws))
        for places in self._factors:
            taking = np.flatnonzero(places != self._one)
            products[taking] *= with_one[places[taking]]

        def multiplier_of(source: Input | None) -> Array:
            column: Array = with_one[self._one if source is None else self._place[source]]
            return column

        for count, indices in self._counts.items():
            products[indices] *= counts_drawn(count, multiplier_of, self._study)
        return products


def inputs_of(rows: Iterable[Row]) -> tuple[Input, ...]:
    """Return every input of some rows, sorted by kind and name."""
    found = {source for row in rows for source in row.all_inputs}
    return tuple(sorted(found, key=lambda source: (source.kind, source.name)))


def amounts_matrix(figures: Sequence[Mapping[Row, float]], rows: Sequence[Row]) -> Array:
    """Return figures x rows: the amount that each figure has of each row."""
    return np.array([[figure.get(row, 0.0) for row in rows] for figure in figures]).reshape(
        len(figures), len(rows)
    )
