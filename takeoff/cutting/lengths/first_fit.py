"""The simple rule: longest piece first, into the first bar that has room."""

from __future__ import annotations

from collections import Counter

import numpy as np

from takeoff.cutting.lengths.draft import Draft, draft_of, pieces_wanted
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.task import Bar, Task


def first_fit(task: Task) -> Draft:
    """Return the best draft of first-fit decreasing, tried with every length on sale as the one begun with."""
    return min(every_first_fit(task), key=lambda draft: draft.cost)


def every_first_fit(task: Task) -> list[Draft]:
    """Return the drafts of first-fit decreasing, one begun with each length on sale.

    Joined parts are made of as few pieces as can be. Bars begun are at the end brought down to the cheapest length
    that will do. Source: common practice on site, no source.
    """
    chains = chains_of_few_pieces(task)
    pieces = sorted(pieces_wanted(task, chains).elements(), reverse=True)
    return [draft_of(task, fit_pieces(task, pieces, usual), chains) for usual in range(len(task.lengths))]


def chains_of_few_pieces(task: Task) -> Counter[Chain]:
    """Return every joined part made of as few pieces as can be."""
    _, chains = task.network.cheapest_chains(np.ones(task.lengths[-1] + 1))
    return Counter(
        {chain: part.count for chain, part in zip(chains, task.joined, strict=True) if chain is not None}
    )


def fit_pieces(task: Task, pieces: list[int], usual: int) -> Counter[Bar]:
    """Return bars for pieces, longest first, beginning lengths of the `usual` place, or longer ones if need be."""
    # nothing fits the room past the last bar, which stands there until a bar is begun
    rooms = np.zeros(len(pieces) + 1, dtype=np.int64)
    bars: list[list[int]] = []
    for piece in pieces:
        size = piece + task.kerf
        fits = rooms[: len(bars) + 1] >= size
        place = int(fits.argmax())
        if not fits[place]:
            place = len(bars)
            bars.append([])
            rooms[place] = task.lengths[max(usual, task.stock_for((piece,)))] + task.kerf
        bars[place].append(piece)
        rooms[place] -= size
    return Counter(tuple(bar) for bar in bars)
