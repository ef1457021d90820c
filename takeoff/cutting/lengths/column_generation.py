"""Column generation: bars and chains that lower the cost are added until none is left, with a safe bound."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.knapsack import Filling, fill_lengths
from takeoff.cutting.lengths.master import Master, Prices
from takeoff.cutting.lengths.task import Bar, Task

_SAVING = 1e-7
"""A bar or chain that saves less than this, in common steps, is not worth adding."""


_BARS_A_ROUND = 64
"""Bars added in one round of pricing."""


@dataclass(slots=True)
class Work:
    """Work still allowed, in lengths of pieces priced: a measure that is the same on every machine."""

    left: int

    def spend(self, lengths: int) -> bool:
        """Take a round of pricing so many lengths, and say whether that was still allowed."""
        self.left -= lengths
        return self.left >= 0


@dataclass(frozen=True, slots=True, eq=False)
class Relaxed:
    """The problem without whole numbers: cost and numbers of the columns found, and what no plan goes below."""

    cost: float
    numbers: NDArray[np.float64]
    bound: float


def solve_relaxed(master: Master, work: Work, *, least: float = 0.0, to_the_end: bool = False) -> Relaxed:
    """Add bars and chains until none lowers the cost, and return the last solution with the best bound.

    `least` is a bound known beforehand, in common steps.

    The bound is that of Farley: prices divided by the most that a length on sale could earn for its cost are
    prices no pattern can beat, whatever the solver's tolerances. Where costs go in steps the work ends as soon as
    bound and cost round up to the same step, unless it is to go to the end.

    Source: A. A. Farley, A note on bounding a class of linear programming problems, Operations Research 38 (1990)
    (from memory).
    """
    task = master.task
    bound = max(least, task.bound_by_length())
    while True:
        cost, numbers, prices = master.solve()
        if not to_the_end and _settled(task, bound, cost):
            break
        filling = price_bars(master, prices, None if task.joined else task.demand)
        worth = _worth_of_lengths(master, prices, filling)
        chain_prices, chains = task.network.cheapest_chains(worth)
        bound = max(bound, _safe_bound(task, filling, worth, chain_prices))
        if (not to_the_end and _settled(task, bound, cost)) or not work.spend(len(master.lengths)):
            break
        cheaper = [
            chain
            for chain, price, known in zip(chains, chain_prices, prices.joined, strict=True)
            if chain is not None and price < known - _SAVING
        ]
        if not master.add([*cheaper_bars(master, filling), *_bars_for(master, cheaper, filling), *cheaper]):
            break
    return Relaxed(cost=cost, numbers=numbers, bound=bound)


def _settled(task: Task, bound: float, cost: float) -> bool:
    """Whether bound and cost round up to the same step, so that no more can be told about the bound."""
    return task.stepped and task.round_up(bound) >= task.round_up(cost)


def price_bars(master: Master, prices: Prices, limits: dict[int, int] | None) -> Filling:
    """Return the most valuable fillings with pieces of the lengths known.

    Without joined parts no bar needs more of a length than is wanted, `limits`, which makes the bound sharper. With
    them pieces can be wanted for chains not thought of yet, so there is no limit.
    """
    task = master.task
    sizes = tuple(length + task.kerf for length in master.lengths)
    allowed = None if limits is None else tuple(limits.get(length, 0) for length in master.lengths)
    return fill_lengths(sizes, prices.lengths, allowed, task.capacity)


def cheaper_bars(master: Master, filling: Filling) -> list[Bar]:
    """Return bars whose pieces are worth more than they cost: for every length on sale the best, and others.

    The others are the best bars with some piece that is in none of those before, from the length on sale that earns
    most for its cost. More bars at once need fewer rounds.
    """
    task = master.task
    earns = [
        (float(filling.value[length + task.kerf]) - cost, length + task.kerf, cost)
        for length, cost in zip(task.lengths, task.costs, strict=True)
    ]
    found = [_bar(master, filling, capacity) for saving, capacity, _ in earns if saving > _SAVING]
    if not found:
        return found
    _, capacity, cost = max(earns, key=lambda one: one[0] / one[2])
    used = {length for bar in found for length in bar}
    for worth, piece in filling.best_with_each(capacity):
        length = master.lengths[piece]
        if worth <= cost + _SAVING or len(found) >= _BARS_A_ROUND:
            break
        if length not in used:
            found.append(_bar(master, filling, capacity - length - task.kerf, length))
            used.update(found[-1])
    return found


def _bar(master: Master, filling: Filling, capacity: int, *more: int) -> Bar:
    """Return the bar that fills a capacity best, with further pieces if there are."""
    pieces = [master.lengths[piece] for piece in filling.pieces(capacity)]
    return tuple(sorted([*pieces, *more], reverse=True))


def _worth_of_lengths(master: Master, prices: Prices, filling: Filling) -> NDArray[np.float64]:
    """Return a price for a piece of every length, from 0 to the longest [mm].

    A piece of a length not known yet is worth what could be cut from it: at that price it is in no bar worth
    more than the bar without it.
    """
    task = master.task
    worth = filling.value[task.kerf :].copy()
    if not task.joined:
        worth[master.lengths] = prices.lengths
    return worth


def _safe_bound(
    task: Task, filling: Filling, worth: NDArray[np.float64], chain_prices: NDArray[np.float64]
) -> float:
    """Return what all that is wanted is worth, at prices scaled so that no bar is worth more than it costs."""
    caps = np.array(task.lengths) + task.kerf
    over = max(1.0, float(np.max(filling.value[caps] / np.array(task.costs))))
    wanted = sum(float(worth[length]) * number for length, number in task.demand.items())
    joined = sum(float(price) * part.count for price, part in zip(chain_prices, task.joined, strict=True))
    return (wanted + joined) / over


def _bars_for(master: Master, chains: list[Chain], filling: Filling) -> list[Bar]:
    """Return for every piece not known yet the bar that earns most for its cost around it."""
    task = master.task
    new = sorted({length for chain in chains for length in chain.lengths if not master.knows(length)})
    found = []
    for length in new:
        rooms = [(stock - length, cost) for stock, cost in zip(task.lengths, task.costs, strict=True)]
        fits = [(float(filling.value[room]) / cost, room) for room, cost in rooms if room >= 0]
        found.append(_bar(master, filling, max(fits)[1], length))
    return found
