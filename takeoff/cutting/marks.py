"""Gives every cut of a plan the mark of the piece it is for, and says which part of a joined piece it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from takeoff.cutting.lengths.length_plan import Cut, LengthPlan, Part


@dataclass(frozen=True, slots=True)
class Wanted:
    """Equal parts that are wanted, and for each of them its mark and the id of its item."""

    part: Part
    owners: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class MarkedCut:
    """One cut: length of the piece [mm], its mark, its item, which part it is, as in "1 of 2"."""

    length: int
    mark: str
    item: str
    part: str


def mark_cuts(plan: LengthPlan, wanted: Sequence[Wanted]) -> list[tuple[int, list[MarkedCut]]]:
    """Return every length bought, one by one: which on sale, and what is cut from it with its mark.

    Cuts of equal parts are dealt to their marks in order. Pieces of joined parts are put together end to
    start, less the lap of the plan, so that each mark gets pieces that make it up.
    """
    bars: list[tuple[int, Sequence[Cut]]] = []
    for pattern in plan.patterns:
        bars += [(pattern.stock, pattern.cuts)] * pattern.count
    named = _named(bars, wanted, plan.lap)
    return [
        (stock, [named[index, place] for place in range(len(cuts))])
        for index, (stock, cuts) in enumerate(bars)
    ]


def _named(
    bars: Sequence[tuple[int, Sequence[Cut]]], wanted: Sequence[Wanted], lap: int
) -> dict[tuple[int, int], MarkedCut]:
    """Return the marked cut of every place in every bar."""
    places: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for index, (_, cuts) in enumerate(bars):
        for place, cut in enumerate(cuts):
            places[cut.part].append((index, place))
    named: dict[tuple[int, int], MarkedCut] = {}
    for part, where in places.items():
        cuts = [bars[index][1][place] for index, place in where]
        chains = _chains(cuts, wanted[part].part.length, lap)
        for (mark, item), chain in zip(wanted[part].owners, chains, strict=True):
            for number, link in enumerate(chain, start=1):
                index, place = where[link]
                which = f"{number} of {len(chain)}" if len(chain) > 1 else ""
                named[index, place] = MarkedCut(bars[index][1][place].length, mark, item, which)
    return named


def _chains(cuts: Sequence[Cut], length: int, lap: int) -> list[list[int]]:
    """Return cuts put together into whole parts, as places in the list: each begins where another ends."""
    begins: dict[int, list[int]] = defaultdict(list)
    for number, cut in enumerate(cuts):
        begins[cut.start].append(number)
    chains = []
    for first in begins.pop(0, []):
        chain = [first]
        while cuts[chain[-1]].end < length:
            chain.append(begins[cuts[chain[-1]].end - lap].pop(0))
        chains.append(chain)
    return chains
