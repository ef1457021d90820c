"""What no cutting of given pieces can go below: by area, and by strips that can't lie side by side."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from takeoff.cutting.sheets.offcuts import Stock
from takeoff.cutting.sheets.sizes import SheetOnSale, SheetSize, hundredths

_Shares = npt.NDArray[np.float64]
# how many thresholds between nothing and half a sheet are tried each way, and into how many parts
_THRESHOLDS = 10
_PARTS = (1, 2, 3, 4)
_IN_A_SQUARE_METRE = 100_000**2


def area_bound(area: float, size: SheetSize) -> int:
    """Return the whole sheets of one size that an area [m2] takes at least.

    >>> area_bound(1060 * 0.3048**2, SheetSize(8 * 0.3048, 4 * 0.3048))
    34
    """
    return math.ceil(area / size.area - 1e-9)


def strip_bound(pieces: Sequence[tuple[float, float]], size: SheetSize, *, kerf: float = 0.0) -> int:
    """Return the whole sheets of one size that pieces, each a length and a width [m], take at least.

    Pieces wider than half a sheet need lengths of it for themselves, pieces longer than half widths, pieces that are
    both a sheet each; see `least_cost`.
    """
    whole = [(hundredths(length), hundredths(width)) for length, width in pieces]
    return round(
        least_cost(whole, [Stock(hundredths(size.length), hundredths(size.width), 1.0)], hundredths(kerf))
    )


def in_whole_sheets(area: float, sizes: Sequence[SheetOnSale]) -> float:
    """Return an area [m2] rounded up to what whole sheets of the sizes on sale can come to.

    Their areas are multiples of the greatest area that goes into each of them without rest.

    >>> round(in_whole_sheets(3.0, [SheetOnSale(2.4, 1.2), SheetOnSale(2.7, 1.2)]), 9)
    3.24
    """
    step = (
        math.gcd(*(hundredths(size.length) * hundredths(size.width) for size in sizes)) / _IN_A_SQUARE_METRE
    )
    return math.ceil(area / step - 1e-9) * step


def least_area(pieces: Sequence[tuple[int, int]], sizes: Sequence[SheetOnSale], kerf: int) -> float:
    """Return the area [m2] of sheets of the sizes on sale that no cutting of the pieces can go below.

    Pieces and saw cut are in hundredths of a mm.
    """
    stocks = [Stock(hundredths(s.length), hundredths(s.width), s.size.area) for s in sizes]
    return in_whole_sheets(least_cost(pieces, stocks, kerf), sizes)


def least_cost(pieces: Sequence[tuple[int, int]], stocks: Sequence[Stock], kerf: int) -> float:
    """Return a cost that no cutting of the pieces [hundredths of a mm] from the sizes on sale can go below.

    Each piece, with a saw cut added as each sheet has one added, counts for a share of the sheet: a share of the
    length times a share of the width. Whatever shares are changed so that pieces side by side never come to
    more than one leave a bound: those over half become one and as small ones nothing (strips), or they are
    rounded to so many parts. A piece counts for the least of what it would on any size that holds it. The
    highest of all is taken, in whole sheets where one size is on sale.

    Source: S. P. Fekete, J. Schepers, dual feasible functions for orthogonal packing, 2001 and 2004 (from memory).
    """
    if not pieces:
        return 0.0
    sizes, inverse = np.unique(np.array(pieces, dtype=np.int64), axis=0, return_inverse=True)
    counts = np.bincount(inverse.ravel())
    least: _Shares | None = None
    for stock in stocks:
        along = _changed_shares(sizes[:, 0] + kerf, stock.length + kerf)
        across = _changed_shares(sizes[:, 1] + kerf, stock.width + kerf)
        counted = stock.cost * along[:, None, :] * across[None, :, :]
        counted[:, :, (sizes[:, 0] > stock.length) | (sizes[:, 1] > stock.width)] = np.inf
        least = counted if least is None else np.minimum(least, counted)
    assert least is not None
    bound = float((least @ counts).max())
    if len(stocks) == 1 and stocks[0].cost:
        return math.ceil(bound / stocks[0].cost - 1e-9) * stocks[0].cost
    return bound


def _changed_shares(lengths: npt.NDArray[np.int64], whole: int) -> _Shares:
    """Return shares of a whole, each row changed in one way that keeps the sum of what fits within one."""
    shares = lengths / whole
    rows = [shares]
    halves = np.unique(lengths[2 * lengths <= whole])
    chosen = halves[np.linspace(0, len(halves) - 1, min(len(halves), _THRESHOLDS)).astype(int)]
    rows += [
        np.where(lengths > whole - threshold, 1.0, np.where(lengths < threshold, 0.0, shares))
        for threshold in [*chosen.tolist(), whole / 2]
    ]
    # the same number of rows for every size on sale
    rows += [shares] * (_THRESHOLDS + 2 - len(rows))
    for parts in _PARTS:
        times, rest = np.divmod((parts + 1) * lengths, whole)
        rows.append(np.where(rest == 0, shares, times / parts))
    return np.array(rows)
