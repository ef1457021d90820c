"""Draws every figure of every option at once, with the same draws of the inputs that they share."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from takeoff.assess.parts import Input
from takeoff.compare.uncertainty.amounts import DRAWN_FIGURES, Amounts, DrawnFigure
from takeoff.compare.uncertainty.inputs import DrawnInput
from takeoff.compare.uncertainty.rows import Products, Row, amounts_matrix, inputs_of
from takeoff.model.study import Study

Array = npt.NDArray[np.float64]

# Draws held at once: rows times these are the largest array.
_AT_ONCE = 1000
# Amounts of an option and the base closer than this, relative to them, are the same: nothing but rounding.
_ROUNDING = 1e-10
# The least share, so that none is nought: the spacing of the numbers drawn.
_LEAST = 2.0**-53


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """Figures of options as amounts of rows: `amounts` is options x figures x rows, the first option the base.

    `differences` are those less the base's, alike: what both have in the same amount is in neither, so that it
    cancels exactly. `inputs` are what is known of every input, in the order that multipliers are given in.
    """

    options: tuple[str, ...]
    rows: tuple[Row, ...]
    inputs: tuple[DrawnInput, ...]
    amounts: Array
    differences: Array
    study: Study

    def products(self) -> Products:
        """Return what multiplies its inputs into its rows."""
        return Products(self.rows, [each.source for each in self.inputs], self.study)

    def figures(self, drawn_rows: Array) -> tuple[Array, Array]:
        """Return the figures and their differences from the base, options x figures x draws.

        `drawn_rows` are rows x draws, as its products have them; with every multiplier 1 the figures are the central
        ones.
        """
        return _weighted(self.amounts, drawn_rows), _weighted(self.differences, drawn_rows)


def _weighted(amounts: Array, drawn_rows: Array) -> Array:
    """Return amounts times rows, added up; each figure has but some of the rows."""
    options, figures, _ = amounts.shape
    weighted = np.zeros((options, figures, drawn_rows.shape[1]))
    for figure in range(figures):
        places = np.flatnonzero(amounts[:, figure].any(axis=0))
        weighted[:, figure] = amounts[:, figure, places] @ drawn_rows[places]
    return weighted


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What was drawn: `values` and `differences` from the base are options x figures x draws.

    `central` and `central_differences` are options x figures, with every input at its central value.
    """

    model: Model
    values: Array
    differences: Array
    central: Array
    central_differences: Array

    def of(self, option: int, figure: DrawnFigure) -> Array:
        """Return the draws of a figure of an option, by its place."""
        values: Array = self.values[option, DRAWN_FIGURES.index(figure)]
        return values

    def difference_of(self, option: int, figure: DrawnFigure) -> Array:
        """Return the draws of a figure of an option less that of the base, draw by draw."""
        values: Array = self.differences[option, DRAWN_FIGURES.index(figure)]
        return values


def model_of(
    options: Sequence[tuple[str, dict[DrawnFigure, Amounts]]],
    known: Callable[[tuple[Input, ...]], tuple[DrawnInput, ...]],
    study: Study,
) -> Model:
    """Return the model of options by name, the first being the base; `known` tells what is known of inputs."""
    figures = [amounts[key] for _, amounts in options for key in DRAWN_FIGURES]
    rows = tuple(dict.fromkeys(row for figure in figures for row in figure))
    amounts = amounts_matrix(figures, rows).reshape(len(options), len(DRAWN_FIGURES), len(rows))
    differences = amounts - amounts[:1]
    larger = np.maximum(np.abs(amounts), np.abs(amounts[:1]))
    differences[np.abs(differences) <= _ROUNDING * larger] = 0.0
    return Model(
        options=tuple(name for name, _ in options),
        rows=rows,
        inputs=known(inputs_of(rows)),
        amounts=amounts,
        differences=differences,
        study=study,
    )


def stream_of(source: Input, seed: int) -> np.random.Generator:
    """Return the stream of random numbers that is an input's own: by seed, kind and name, and nothing else.

    What other inputs or options there are makes no difference to it: so options that share an input share its draws.
    """
    named = hashlib.blake2b(f"{source.kind}|{source.name}".encode(), digest_size=16).digest()
    entropy = [seed, int.from_bytes(named, "big")]
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(entropy)))


def shares_of(stream: np.random.Generator, draws: int) -> Array:
    """Return the next uniform numbers of a stream, none of them 0 or 1."""
    shares: Array = np.maximum(stream.random(draws), _LEAST)
    return shares


def multipliers_of(known: DrawnInput, *, draws: int, seed: int) -> Array:
    """Return every draw of one input, as `draw_model` has it."""
    return known.distribution.at(shares_of(stream_of(known.source, seed), draws))


def draw_model(model: Model, *, draws: int, seed: int) -> Drawn:
    """Draw every figure of every option. Draws are made in portions, so that memory does not grow with them.

    Source: pairing is the method of common random numbers, as in any textbook of simulation, from memory.
    """
    streams = [stream_of(each.source, seed) if each.varies else None for each in model.inputs]
    products = model.products()
    values = np.empty((*model.amounts.shape[:2], draws))
    differences = np.empty_like(values)
    for start in range(0, draws, _AT_ONCE):
        portion = min(_AT_ONCE, draws - start)
        multipliers = np.ones((len(model.inputs), portion))
        for column, known, stream in zip(multipliers, model.inputs, streams, strict=True):
            if stream is not None:
                column[:] = known.distribution.at(shares_of(stream, portion))
        here = slice(start, start + portion)
        values[:, :, here], differences[:, :, here] = model.figures(products.of(multipliers))
    central, central_differences = model.figures(products.of(np.ones((len(model.inputs), 1))))
    return Drawn(
        model=model,
        values=values,
        differences=differences,
        central=central[:, :, 0],
        central_differences=central_differences[:, :, 0],
    )
