"""The most valuable filling of a length, for every length up to the longest at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, eq=False)
class Filling:
    """Best fillings of every length up to a capacity.

    `value[c]` is the most that pieces of at most `c` mm together can be worth, `values` what each is. `parcels` are the
    (piece, number) that were offered one after the other, `taken[i, c]` says whether the i-th was taken at `c`.
    """

    value: NDArray[np.float64]
    sizes: tuple[int, ...]
    values: NDArray[np.float64]
    parcels: tuple[tuple[int, int], ...]
    taken: NDArray[np.bool_]

    def pieces(self, capacity: int) -> tuple[int, ...]:
        """Return the pieces of the best filling of `capacity` [mm], by their places, repeated."""
        found: list[int] = []
        parcel = len(self.parcels)
        while True:
            earlier = self.taken[:parcel, capacity].nonzero()[0]
            if not len(earlier):
                return tuple(found)
            parcel = int(earlier[-1])
            piece, number = self.parcels[parcel]
            found.extend([piece] * number)
            capacity -= number * self.sizes[piece]

    def best_with_each(self, capacity: int) -> list[tuple[float, int]]:
        """Return for each piece what the best filling that holds it is worth, and its place, best first.

        Such a filling may hold one piece more than its limit.
        """
        rooms = capacity - np.array(self.sizes)
        fits = np.flatnonzero(rooms >= 0)
        worth = self.values[fits] + self.value[rooms[fits]]
        order = np.argsort(-worth, kind="stable")
        return list(zip(worth[order].tolist(), fits[order].tolist(), strict=True))


def fill_lengths(
    sizes: tuple[int, ...], values: NDArray[np.float64], limits: tuple[int, ...] | None, capacity: int
) -> Filling:
    """Return the best fillings with pieces of `sizes` [mm] worth `values`, each at most `limits` times if given.

    Dynamic programming over whole mm. A piece that may be taken n times is offered in parcels of 1, 2, 4, ...
    pieces, which together make every number up to n.

    >>> filling = fill_lengths((3, 5), np.array([2.0, 4.0]), None, 11)
    >>> float(filling.value[11]), filling.pieces(11)
    (8.0, (1, 0, 0))

    Source: P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, part II,
    Operations Research 11 (1963), for the knapsack as the pricing problem (from memory).
    """
    value = np.zeros(capacity + 1)
    room = np.empty(capacity + 1)
    parcels: list[tuple[int, int]] = []
    taken: list[NDArray[np.bool_]] = []
    none = np.zeros((0, capacity + 1), dtype=np.bool_)
    worth = values.tolist()
    for piece in sorted(range(len(sizes)), key=sizes.__getitem__):
        # without limits, a piece worth no more than what shorter ones make of its place is never needed
        least = 0.0 if limits else float(value[min(sizes[piece], capacity)])
        if worth[piece] <= least:
            continue
        for number in _parcels(min(limits[piece] if limits else capacity, capacity // sizes[piece])):
            size = sizes[piece] * number
            with_it = np.add(value[:-size], worth[piece] * number, out=room[size:])
            better = np.zeros(capacity + 1, dtype=np.bool_)
            np.greater(with_it, value[size:], out=better[size:])
            np.maximum(with_it, value[size:], out=value[size:])
            parcels.append((piece, number))
            taken.append(better)
    return Filling(
        value=value,
        sizes=sizes,
        values=values,
        parcels=tuple(parcels),
        taken=np.array(taken) if taken else none,
    )


def _parcels(most: int) -> list[int]:
    """Return parcels that together make every number up to the most: 1, 2, 4, ... and what is left.

    >>> _parcels(9)
    [1, 2, 4, 2]
    """
    parcels, number = [], 1
    while most > 0:
        parcels.append(min(number, most))
        most -= parcels[-1]
        number *= 2
    return parcels
