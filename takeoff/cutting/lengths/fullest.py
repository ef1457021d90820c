"""Bar after bar as full as can be: the longest piece left, and what fills the rest of its length best."""

from __future__ import annotations

from collections import Counter

from takeoff.cutting.lengths.draft import Draft, draft_of
from takeoff.cutting.lengths.task import Bar, Task


def fill_bars(task: Task) -> Draft:
    """Return a draft for whole pieces: each bar holds the longest piece left and the best filling of its rest.

    Of all lengths on sale the one is taken that loses least for what it counts for, of equal ones the longest; of
    equal fillings that with the longest pieces, so that short ones are left for the last bars. Where pieces are
    many or short this alone often meets the bound.

    Source: the subset-sum heuristic for one-dimensional cutting, common in the literature; from memory.
    """
    left = Counter(task.demand)
    bars: Counter[Bar] = Counter()
    dearest = min(cost / length for cost, length in zip(task.costs, task.lengths, strict=True))
    while left:
        longest = max(left)
        sums = _reachable(task, left - Counter([longest]))
        best: tuple[float, int, int] | None = None
        for place in range(len(task.lengths) - 1, -1, -1):
            room = task.lengths[place] - longest
            if room < 0:
                continue
            filled = (sums[-1] & ((1 << room + 1) - 1)).bit_length() - 1
            lost = task.costs[place] - (longest + filled) * dearest
            if best is None or lost < best[0] - 1e-9:
                best = (lost, place, filled)
        if best is None:
            raise ValueError(f"no length on sale holds a piece of {longest} mm")
        bar = (longest, *_pieces(task, left - Counter([longest]), sums, best[2]))
        # alike as long as there are pieces for it
        times = min(left[length] // number for length, number in Counter(bar).items())
        bars[bar] += times
        left -= Counter({length: number * times for length, number in Counter(bar).items()})
    return draft_of(task, bars, Counter())


def _order(pieces: Counter[int]) -> list[int]:
    """Return pieces one by one, shortest first."""
    return sorted(pieces.elements())


def _reachable(task: Task, pieces: Counter[int]) -> list[int]:
    """Return the sums that pieces with their kerf can make, as bits, after none, the first, the first two ... pieces.

    Sums beyond the longest length on sale are left out.
    """
    mask = (1 << task.lengths[-1] + 1) - 1
    sums = [1]
    for piece in _order(pieces):
        sums.append((sums[-1] | sums[-1] << piece + task.kerf) & mask)
    return sums


def _pieces(task: Task, pieces: Counter[int], sums: list[int], total: int) -> list[int]:
    """Return pieces that with their kerf make a sum, the longest that can be, longest first."""
    found = []
    order = _order(pieces)
    for number in range(len(order) - 1, -1, -1):
        size = order[number] + task.kerf
        if size <= total and sums[number] >> total - size & 1:
            found.append(order[number])
            total -= size
    return found
