"""From bars and chains to patterns: which piece of which part each bar gives."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from itertools import pairwise

from takeoff.cutting.lengths.draft import Draft
from takeoff.cutting.lengths.length_plan import Cut, Part, Pattern
from takeoff.cutting.lengths.task import Bar, Task


def list_cuts(task: Task, parts: tuple[Part, ...], draft: Draft) -> tuple[Pattern, ...]:
    """Return the patterns of a draft: bars with equal cuts of the same length are one pattern."""
    bars = sorted(draft.bars.elements(), key=lambda bar: (-sum(bar), bar))
    every = sorted(draft.chains.elements(), key=lambda chain: (chain.joined, chain.places))
    chains = [list(chain.places) for chain in every]
    owners = [chain.joined for chain in every]
    bars = _leave_out_joints(bars, chains)
    cuts = _cuts_by_length(task, parts, chains, owners)
    patterns: Counter[tuple[int, tuple[Cut, ...]]] = Counter()
    for bar in bars:
        pieces = tuple(cuts[length].popleft() for length in bar)
        patterns[task.places[task.stock_for(bar)], pieces] += 1
    return tuple(
        Pattern(stock=stock, cuts=pieces, count=count) for (stock, pieces), count in patterns.items()
    )


def _leave_out_joints(bars: list[Bar], chains: list[list[int]]) -> list[Bar]:
    """Cut neighbouring pieces of a part in one where a bar holds both: `chains` lose the joint between them.

    A bar has room for it: two pieces in one save a kerf. The chains stay within the rules, for they only get
    shorter.
    """
    merged = list(bars)
    for chain in chains:
        place = 1
        while place < len(chain) - 1:
            pair = Counter((chain[place] - chain[place - 1], chain[place + 1] - chain[place]))
            where = next((index for index, bar in enumerate(merged) if pair <= Counter(bar)), None)
            if where is None:
                place += 1
                continue
            rest = Counter(merged[where]) - pair
            rest[chain[place + 1] - chain[place - 1]] += 1
            merged[where] = tuple(sorted(rest.elements(), reverse=True))
            del chain[place]
            place = 1
    return merged


def _cuts_by_length(
    task: Task, parts: tuple[Part, ...], chains: list[list[int]], owners: list[int]
) -> dict[int, deque[Cut]]:
    """Return all cuts by their length, in the order of the parts."""
    cuts: defaultdict[int, list[Cut]] = defaultdict(list)
    for length, places in task.whole.items():
        for place in places:
            cuts[length].extend([Cut(part=place, start=0, end=length)] * parts[place].count)
    members = [
        deque(place for place in places for _ in range(parts[place].count)) for places in task.joined_from
    ]
    for chain, owner in zip(chains, owners, strict=True):
        part = members[owner].popleft()
        for start, end in pairwise(chain):
            cuts[end - start].append(Cut(part=part, start=start, end=end))
    return {
        length: deque(sorted(those, key=lambda cut: (cut.part, cut.start))) for length, those in cuts.items()
    }
