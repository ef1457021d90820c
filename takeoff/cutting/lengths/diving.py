"""From numbers with fractions to whole ones: fix what is nearly whole, solve what is left, and so on."""

from __future__ import annotations

from collections import Counter
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from takeoff.cutting.lengths.column_generation import Work, cheaper_bars, price_bars
from takeoff.cutting.lengths.draft import Draft, draft_of, pieces_wanted
from takeoff.cutting.lengths.enumeration import all_full_bars
from takeoff.cutting.lengths.first_fit import first_fit
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.master import Master
from takeoff.cutting.lengths.task import Bar, Task
from takeoff.cutting.lengths.whole_numbers import choose_whole_numbers

_ROUNDS = 6
"""Rounds of pricing after each fixing: what is left changes little."""

_FEW = 10
"""So many pieces at the end are not fixed bar by bar but planned at once, with at most `_FEW_BARS` ways to cut."""

_FEW_BARS = 600

_NODES = 50
"""Nodes of the search among them."""

_Column = TypeVar("_Column", Bar, Chain)


def choose_chains(master: Master, nearly: float) -> Counter[Chain]:
    """Return a way to make up every joined part, by fixing chains until all are whole.

    A share of a chain from `nearly` on is taken as a whole one.
    """
    task = master.task
    left = [part.count for part in task.joined]
    chains: Counter[Chain] = Counter()
    master.charge_joints()
    master.want(pieces_wanted(task, chains), left)
    while any(left):
        _, numbers, _ = master.solve()
        used = {chain: share for chain, share in _used(master, numbers, Chain).items() if left[chain.joined]}
        for chain, number in _to_fix(used, nearly):
            fixed = min(number, left[chain.joined])
            chains[chain] += fixed
            left[chain.joined] -= fixed
        master.want(pieces_wanted(task, chains), left)
    return +chains


def dive(master: Master, work: Work, nearly: float) -> Draft:
    """Return a draft by fixing bars, each time solving again for the pieces left.

    For tasks without joined parts. A share of a bar from `nearly` on is taken as a whole one.
    """
    task = master.task
    left = Counter(task.demand)
    bars: Counter[Bar] = Counter()
    while left:
        if left.total() <= _FEW:
            bars.update(_finish(task.for_pieces(left)))
            break
        master.want(left, [])
        master.allow_within(left)
        used = _used(master, _solve_rest(master, left, work), tuple)
        for bar, number in _to_fix(used, nearly):
            need = Counter(bar)
            fixed = min(number, *(left[length] // times for length, times in need.items()))
            bars[bar] += fixed
            left -= Counter({length: times * fixed for length, times in need.items()})
    return draft_of(task, bars, Counter())


def _finish(rest: Task) -> Counter[Bar]:
    """Return the best bars for the last few pieces, for which all ways to cut can be listed."""
    simple = first_fit(rest)
    bars = all_full_bars(rest, _FEW_BARS)
    return simple.bars if bars is None else choose_whole_numbers(rest, bars, simple, _NODES).draft.bars


def _solve_rest(master: Master, left: Counter[int], work: Work) -> NDArray[np.float64]:
    """Return numbers for the pieces left, after a few rounds of pricing for them."""
    for turn in range(_ROUNDS + 1):
        _, numbers, prices = master.solve()
        if turn == _ROUNDS or not work.spend(len(master.lengths)):
            break
        bars = cheaper_bars(master, price_bars(master, prices, left))
        if not master.add(bar for bar in bars if Counter(bar) <= left):
            break
    return numbers


def _used(master: Master, numbers: NDArray[np.float64], kind: type[_Column]) -> dict[_Column, float]:
    """Return the columns of a kind that are used, and how often."""
    places = np.flatnonzero(numbers > 1e-6)
    used = ((master.columns[place], float(numbers[place])) for place in places)
    return {column: number for column, number in used if isinstance(column, kind)}


def _to_fix(used: dict[_Column, float], nearly: float) -> list[tuple[_Column, int]]:
    """Return what to fix: the whole part of every number, and what is nearly whole, or else the largest share."""
    whole = {column: int(number + 1e-6) for column, number in used.items()}
    rest = sorted(used, key=lambda column: whole[column] - used[column])
    fixed = [(column, number) for column, number in whole.items() if number]
    fixed += [(column, 1) for column in rest if used[column] - whole[column] >= nearly]
    return fixed or [(rest[0], 1)]
