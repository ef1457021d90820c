"""A plan in the making: bars and chains, and what can be taken off them again."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.task import Bar, Task


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """Bars and chains with their numbers; `cost` in common steps."""

    bars: Counter[Bar]
    chains: Counter[Chain]
    cost: float

    @property
    def joints(self) -> int:
        """Number of joints in all chains."""
        return sum((len(chain.places) - 2) * number for chain, number in self.chains.items())

    def beats(self, other: Draft) -> bool:
        """Say whether this draft costs less, or the same with fewer joints."""
        if abs(self.cost - other.cost) > 1e-9 * other.cost:
            return self.cost < other.cost
        return self.joints < other.joints


def pieces_of(column: Bar | Chain) -> tuple[int, ...]:
    """Return the lengths of the pieces of a bar or a chain [mm]."""
    return column.lengths if isinstance(column, Chain) else column


def pieces_wanted(task: Task, chains: Counter[Chain]) -> Counter[int]:
    """Return how many pieces of each length whole parts and chains need."""
    wanted = Counter(task.demand)
    for chain, number in chains.items():
        for length in chain.lengths:
            wanted[length] += number
    return wanted


def pieces_at_most(task: Task, chains: list[Chain]) -> Counter[int]:
    """Return how many pieces of each length can be wanted if joined parts are made up by some of the chains."""
    most: dict[tuple[int, int], int] = {}
    for chain in chains:
        for length, number in Counter(chain.lengths).items():
            most[chain.joined, length] = max(number, most.get((chain.joined, length), 0))
    pieces = Counter(task.demand)
    for (joined, length), number in most.items():
        pieces[length] += number * task.joined[joined].count
    return pieces


def pieces_held(bars: Counter[Bar]) -> Counter[int]:
    """Return how many pieces of each length bars give."""
    held: Counter[int] = Counter()
    for bar, number in bars.items():
        for length in bar:
            held[length] += number
    return held


def holds(bars: Counter[Bar], pieces: Counter[int]) -> bool:
    """Say whether bars give all the pieces wanted."""
    return pieces <= pieces_held(bars)


def draft_of(task: Task, bars: Counter[Bar], chains: Counter[Chain]) -> Draft:
    """Return bars and chains as a draft, without pieces that nobody wants.

    A piece too many is taken from the bar that comes down to a cheaper length by it, if there is one.
    """
    left = Counter({bar: number for bar, number in bars.items() if number > 0})
    surplus = pieces_held(left)
    surplus.subtract(pieces_wanted(task, chains))
    for length in sorted(surplus, reverse=True):
        for _ in range(surplus[length]):
            holding = [bar for bar in left if length in bar]
            bar = max(holding, key=lambda one: (_saving(task, one, length), -len(one), one))
            left[bar] -= 1
            left[_without(bar, length)] += 1
            left = +left
            left.pop((), None)
    cost = sum(task.cost_of(bar) * number for bar, number in left.items())
    return Draft(bars=left, chains=chains, cost=cost)


def _without(bar: Bar, length: int) -> Bar:
    """Return a bar less one piece of a length."""
    place = bar.index(length)
    return bar[:place] + bar[place + 1 :]


def _saving(task: Task, bar: Bar, length: int) -> float:
    """Return what a bar without one piece costs less."""
    rest = _without(bar, length)
    return task.cost_of(bar) - (task.cost_of(rest) if rest else 0.0)
