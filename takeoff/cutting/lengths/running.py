"""Lays running lengths end to end, joined where they may be: boards in courses, trims, flashings, gutters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from takeoff.cutting.lengths.length_plan import Cut, LengthPlan, Part, Pattern, StockLength

# how many mixtures of lengths are tried, each for one joint more
_MIXTURES = 6


@dataclass(frozen=True, slots=True)
class _Rules:
    """How lengths are laid [mm]: saw kerf, overlap at joints, shortest piece at a joint."""

    kerf: int
    end_lap: int
    least: int
    anywhere: bool


@dataclass(slots=True)
class _Bar:
    """A length in use: what is left of it and what was cut from it."""

    rest: int
    cuts: list[Cut] = field(default_factory=list)

    def cut(self, piece: Cut, kerf: int) -> None:
        """Take a piece off the rest; a piece that ends flush takes no kerf."""
        self.rest = max(self.rest - piece.length - kerf, 0)
        self.cuts.append(piece)


def lay_running(
    parts: Sequence[Part],
    stock: Sequence[StockLength],
    *,
    kerf: int = 0,
    end_lap: int = 0,
    least: int = 0,
    anywhere: bool = False,
) -> LengthPlan:
    """Lay parts one after the other; what is left of a length begins the next part.

    The practice of the site: a length is used up to the last place where it may be joined, and its rest is
    used again where it is not shorter than `least`. Every length on sale is tried as the one to lay with, and so are
    the mixtures that add up to a little more than is covered; each length bought is then the cheapest that holds
    what is cut from it, and the cheapest try is taken.

    Args:
        parts: what is to be covered; joined at their own places, or anywhere [mm].
        stock: lengths on sale [mm].
        kerf: lost at each saw cut [mm].
        end_lap: by which pieces overlap at a joint, as of flashings and gutters [mm].
        least: shortest piece laid at a joint [mm].
        anywhere: parts may be joined anywhere along them.

    Returns a plan whose bound is the least that lengths on sale count for which add up to what is covered, without
    kerf, laps or offcuts.

    Source: common practice, no source.
    """
    # a piece no longer than its lap would cover nothing
    rules = _Rules(kerf, end_lap, max(least, end_lap + 1), anywhere)
    covered = sum(part.length * part.count for part in parts)
    mixtures = (_cheapest_cover(covered + number * (end_lap + kerf), stock) for number in range(_MIXTURES))
    ways = [(item,) for item in range(len(stock))] + list(dict.fromkeys(mixtures))
    tries = [_lay(parts, stock, way, rules) for way in ways]
    best = min(
        tries, key=lambda plan: (-_served(parts, plan), plan.cost, sum(p.count for p in plan.patterns))
    )
    if not _served(parts, best):
        return LengthPlan(
            patterns=(), cost=0.0, bound=0.0, proven=True, method="nothing to cut", too_long=best.too_long
        )
    return best


def _served(parts: Sequence[Part], plan: LengthPlan) -> int:
    """Return the length of the parts that a plan serves [mm]."""
    return sum(part.length * part.count for i, part in enumerate(parts) if i not in plan.too_long)


def _lay(
    parts: Sequence[Part], stock: Sequence[StockLength], way: tuple[int, ...], rules: _Rules
) -> LengthPlan:
    """Lay all parts, longest first, with lengths on sale in a given order, of which the last is taken on and on."""
    bars: list[_Bar] = []
    too_long: list[int] = []
    for index in sorted(range(len(parts)), key=lambda i: -parts[i].length):
        for _ in range(parts[index].count):
            if not _lay_part(index, parts[index], stock, way, rules, bars):
                too_long.append(index)
                break
    patterns = _bought(bars, stock, rules.kerf)
    cost = math.fsum(stock[p.stock].cost * p.count for p in patterns)
    served = sum(part.length * part.count for i, part in enumerate(parts) if i not in too_long)
    bound = _least_worth(served, stock)
    return LengthPlan(
        patterns=patterns,
        cost=cost,
        bound=bound,
        proven=cost <= bound + 1e-6,
        method="first fit",
        too_long=tuple(too_long),
        lap=rules.end_lap,
    )


def _lay_part(
    index: int,
    part: Part,
    stock: Sequence[StockLength],
    way: tuple[int, ...],
    rules: _Rules,
    bars: list[_Bar],
) -> bool:
    """Lay one part; False, and nothing cut, where no length on sale can serve it."""
    longest = max(item.length for item in stock)
    here, begun, cuts = 0, len(bars), []
    rests = [(bar, bar.rest, len(bar.cuts)) for bar in bars]
    while here < part.length:
        lap = rules.end_lap if here else 0
        need = part.length - here + lap
        whole = min((bar for bar in bars if bar.rest >= need), key=lambda bar: bar.rest, default=None)
        if whole is not None:
            cuts.append((whole, Cut(index, here - lap, part.length)))
        else:
            new = stock[way[min(len(bars), len(way) - 1)]].length
            cut = _piece(part, index, here, lap, new, rules, bars) or _piece(
                part, index, here, lap, longest, rules, bars
            )
            if cut is None:
                for bar, rest, number in rests:
                    bar.rest, bar.cuts = rest, bar.cuts[:number]
                del bars[begun:]
                return False
            cuts.append(cut)
        bar, piece = cuts[-1]
        bar.cut(piece, rules.kerf)
        here = piece.end
    return True


def _piece(
    part: Part, index: int, here: int, lap: int, new: int, rules: _Rules, bars: list[_Bar]
) -> tuple[_Bar, Cut] | None:
    """Return the next piece of a part and the bar it is cut from: the longest rest that serves, else a new one.

    A rest is laid only where the part can be joined at its end; None where a new one does not serve either.
    """
    for bar in sorted((bar for bar in bars if bar.rest >= rules.least), key=lambda bar: -bar.rest):
        end = _last_joint(part, here, here + bar.rest - lap, rules)
        if end is not None:
            return bar, Cut(index, here - lap, end)
    reach = here + new - lap
    joint = part.length if reach >= part.length else _last_joint(part, here, reach, rules)
    if joint is None:
        return None
    bars.append(_Bar(new))
    return bars[-1], Cut(index, here - lap, joint)


def _last_joint(part: Part, here: int, reach: int, rules: _Rules) -> int | None:
    """Return the last place up to `reach` where a part may be joined, no piece shorter than the least."""
    low, high = here + rules.least, min(reach, part.length - rules.least)
    if rules.anywhere:
        return high if high >= low else None
    return max((place for place in part.joints if low <= place <= high), default=None)


def _bought(bars: Sequence[_Bar], stock: Sequence[StockLength], kerf: int) -> tuple[Pattern, ...]:
    """Return the bars as patterns, each of the cheapest length on sale that holds its cuts."""
    counts: dict[tuple[int, tuple[Cut, ...]], int] = {}
    for bar in bars:
        used = sum(cut.length for cut in bar.cuts) + kerf * (len(bar.cuts) - 1)
        fitting = [i for i in range(len(stock)) if stock[i].length >= used]
        cheapest = min(fitting, key=lambda i: (stock[i].cost, stock[i].length))
        key = (cheapest, tuple(bar.cuts))
        counts[key] = counts.get(key, 0) + 1
    return tuple(Pattern(item, cuts, count) for (item, cuts), count in counts.items())


def _least_worth(length: int, stock: Sequence[StockLength]) -> float:
    """Return what any lengths on sale that add up to a length count for at least [the unit of the costs]."""
    return math.fsum(stock[item].cost for item in _cheapest_cover(length, stock))


def _cheapest_cover(length: int, stock: Sequence[StockLength]) -> tuple[int, ...]:
    """Return the lengths on sale that add up to a length at least cost, longest first, as places in the list.

    The least cost of 0, 1, 2 ... steps of what the lengths on sale have in common.
    """
    step = math.gcd(*(item.length for item in stock))
    steps = math.ceil(length / step)
    least, taken = [0.0] * (steps + 1), [0] * (steps + 1)
    for here in range(1, steps + 1):
        costs = [least[max(here - item.length // step, 0)] + item.cost for item in stock]
        taken[here] = min(range(len(stock)), key=lambda item: (costs[item], -stock[item].length))
        least[here] = costs[taken[here]]
    cover, here = [], steps
    while here > 0:
        cover.append(taken[here])
        here -= stock[taken[here]].length // step
    return tuple(sorted(cover, key=lambda item: -stock[item].length))
