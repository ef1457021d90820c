"""The task made plain: equal parts gathered, only lengths worth buying, costs in common steps."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, replace

import numpy as np

from takeoff.cutting.lengths.bounds import common_step, round_up
from takeoff.cutting.lengths.joining import JoinedPart, Network, has_a_choice, join_part
from takeoff.cutting.lengths.length_plan import Part, StockLength

Bar = tuple[int, ...]
"""Lengths of the pieces cut from one length on sale [mm], longest first."""


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """What is to be cut, from what.

    `lengths` are the lengths on sale worth buying, shortest first, `places` where they stand in the list given,
    `costs` what they count for in units of `unit`. If `stepped`, all costs are whole in that unit. `demand` is the
    number of whole pieces by length; `whole` and `joined_from` name the parts behind pieces and joined parts.
    """

    kerf: int
    lengths: tuple[int, ...]
    places: tuple[int, ...]
    costs: tuple[float, ...]
    unit: float
    stepped: bool
    demand: dict[int, int]
    joined: tuple[JoinedPart, ...]
    network: Network
    whole: dict[int, tuple[int, ...]]
    joined_from: tuple[tuple[int, ...], ...]
    too_long: tuple[int, ...]

    @property
    def capacity(self) -> int:
        """Longest length on sale and one kerf: what pieces with a kerf each may add up to [mm]."""
        return self.lengths[-1] + self.kerf

    def stock_for(self, bar: Bar) -> int:
        """Return the place of the cheapest length from which a bar can be cut."""
        return bisect_left(self.lengths, sum(bar) + (len(bar) - 1) * self.kerf)

    def cost_of(self, bar: Bar) -> float:
        """Return what the length for a bar counts for."""
        return self.costs[self.stock_for(bar)]

    def round_up(self, bound: float) -> float:
        """Round a bound up to what whole lengths can add up to, where costs go in steps."""
        return round_up(bound, tuple(map(int, self.costs))) if self.stepped else bound

    def for_pieces(self, pieces: dict[int, int]) -> Task:
        """Return the task of cutting so many pieces of each length from the same lengths on sale."""
        demand = {length: pieces[length] for length in sorted(pieces)}
        return replace(self, demand=demand, joined=(), network=Network((), self.lengths[-1]))

    def bound_by_length(self) -> float:
        """Return the bound that follows from length alone: every piece at the least cost of a running mm."""
        cheapest = min(
            cost / (length + self.kerf) for cost, length in zip(self.costs, self.lengths, strict=True)
        )
        prices = np.arange(self.kerf, self.capacity + 1, dtype=np.float64) * cheapest
        chains, _ = self.network.cheapest_chains(prices)
        joined = sum(float(price) * part.count for price, part in zip(chains, self.joined, strict=True))
        return joined + sum(float(prices[length]) * number for length, number in self.demand.items())


def state_task(parts: tuple[Part, ...], stock: tuple[StockLength, ...], kerf: int) -> Task:
    """Gather equal parts, leave out lengths that a longer one undercuts, and put costs into common steps.

    Raises ValueError for lengths or costs that are not above nothing, or numbers or a kerf below nothing.
    """
    if kerf < 0 or any(part.length <= 0 or part.count < 0 for part in parts):
        raise ValueError("parts must have a length, and their number and the kerf can't be below nothing")
    if not stock or any(sale.length <= 0 or sale.cost <= 0 for sale in stock):
        raise ValueError("there must be lengths on sale, each with a length and a cost above nothing")
    places = _worth_buying(stock)
    lengths = tuple(stock[place].length for place in places)
    costs = tuple(stock[place].cost for place in places)
    step = common_step(costs)
    unit = step or max(costs)
    scaled = tuple(round(cost / unit) if step else cost / unit for cost in costs)

    whole: dict[int, list[int]] = {}
    groups: dict[tuple[int, tuple[int, ...]], list[int]] = {}
    for place, part in enumerate(parts):
        if part.count and not part.joints:
            whole.setdefault(part.length, []).append(place)
        elif part.count:
            groups.setdefault((part.length, part.joints), []).append(place)
    too_long = [place for length, places in whole.items() if length > lengths[-1] for place in places]
    joined, joined_from = [], []
    for (length, joints), members in sorted(groups.items()):
        count = sum(parts[place].count for place in members)
        made = join_part(length, joints, count, lengths[-1])
        if made is None:
            too_long.extend(members)
        elif has_a_choice(made, lengths[-1]):
            joined.append(made)
            joined_from.append(tuple(members))
        else:
            whole.setdefault(length, []).extend(members)
    served = {length: tuple(sorted(places)) for length, places in whole.items() if length <= lengths[-1]}
    return Task(
        kerf=kerf,
        lengths=lengths,
        places=places,
        costs=scaled,
        unit=unit,
        stepped=step is not None,
        demand={length: sum(parts[place].count for place in served[length]) for length in sorted(served)},
        joined=tuple(joined),
        network=Network(tuple(joined), lengths[-1]),
        whole=served,
        joined_from=tuple(joined_from),
        too_long=tuple(sorted(too_long)),
    )


def _worth_buying(stock: tuple[StockLength, ...]) -> tuple[int, ...]:
    """Return the places of lengths that no other one undercuts, shortest first; costs rise along them."""
    kept: list[int] = []
    order = sorted(range(len(stock)), key=lambda place: (-stock[place].length, stock[place].cost, place))
    for place in order:
        if not kept or stock[place].cost < stock[kept[-1]].cost:
            kept.append(place)
    return tuple(reversed(kept))
