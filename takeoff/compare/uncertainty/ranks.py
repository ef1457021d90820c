"""Rank correlation: how steadily one thing rises with another, whatever the shape of the curve."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


def ranks(values: Array) -> Array:
    """Return the rank of each value from 1; equal values share the mean of their ranks.

    >>> ranks(np.array([30.0, 10.0, 20.0, 10.0])).tolist()
    [4.0, 1.5, 3.0, 1.5]
    """
    _, place, counts = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    shared: Array = (last - (counts - 1) / 2)[place]
    return shared


def rank_correlation(one: Array, other: Array) -> float:
    """Return Spearman's correlation, -1 to 1; 0 where either does not vary.

    Source: Pearson's correlation of the ranks, ties having the mean of theirs; textbook, from memory.
    """
    first, second = (each - each.mean() for each in (ranks(one), ranks(other)))
    scale = float(np.sqrt((first @ first) * (second @ second)))
    return float(first @ second) / scale if scale else 0.0
