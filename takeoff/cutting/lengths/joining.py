"""Parts made up of several pieces: which pieces may be joined, and the cheapest way for given prices."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

LEAST_PIECE = 900
"""Shortest piece [mm] of a part made up of several, where it can be made so: common practice, no source."""

_NEVER = np.inf


@dataclass(frozen=True, slots=True)
class JoinedPart:
    """Parts that may be made up of pieces meeting at `places` (0, the joints, the length) [mm].

    No piece is shorter than `least` unless it is the whole part, and there are at most `most_pieces`.
    """

    places: tuple[int, ...]
    count: int
    least: int
    most_pieces: int


@dataclass(frozen=True, slots=True)
class Chain:
    """One way to make up a joined part: the places at which its pieces begin and end [mm]."""

    joined: int
    places: tuple[int, ...]

    @property
    def lengths(self) -> tuple[int, ...]:
        """Lengths of the pieces, in order [mm]."""
        return tuple(b - a for a, b in pairwise(self.places))


def join_part(length: int, joints: tuple[int, ...], count: int, longest: int) -> JoinedPart | None:
    """Return how a part may be made up from pieces of at most `longest` [mm]; None if it can't be.

    The rules of the plan: no piece shorter than `LEAST_PIECE` if the part can be made so, and at most one piece
    more than the fewest it can be made of, so that a part that fits one length has one joint at most.
    """
    places = (0, *sorted({joint for joint in joints if 0 < joint < length}), length)
    for least in (LEAST_PIECE, 1):
        fewest = _fewest_pieces(places, least, longest)
        if fewest is not None:
            return JoinedPart(places=places, count=count, least=least, most_pieces=fewest + 1)
    return None


def _fewest_pieces(places: tuple[int, ...], least: int, longest: int) -> int | None:
    """Return the fewest pieces between `least` and `longest` [mm] that reach from the first place to the last."""
    if places[-1] <= longest:
        return 1
    fewest = {0: 0}
    for end in places[1:]:
        before = [number for start, number in fewest.items() if least <= end - start <= longest]
        if before:
            fewest[end] = min(before) + 1
    return fewest.get(places[-1])


def has_a_choice(part: JoinedPart, longest: int) -> bool:
    """Say whether a part can be made in another way than as one piece."""
    length = part.places[-1]
    if length > longest:
        return True
    return any(part.least <= joint <= length - part.least for joint in part.places[1:-1])


class Network:
    """The pieces all joined parts may have, as arcs between their places."""

    def __init__(self, parts: tuple[JoinedPart, ...], longest: int) -> None:
        """Set the arcs out; where no piece may go from one place to the next, its length is 0."""
        self.parts = parts
        width = max((len(part.places) for part in parts), default=1)
        self._spans = np.zeros((len(parts), width, width), dtype=np.intp)
        self._ends = np.array([len(part.places) - 1 for part in parts], dtype=np.intp)
        for row, part in enumerate(parts):
            places = np.array(part.places)
            spans = places[None, :] - places[:, None]
            legal = (spans >= part.least) & (spans <= longest)
            legal[0, -1] = part.places[-1] <= longest
            self._spans[row, : len(places), : len(places)] = np.where(legal, spans, 0)

    def cheapest_chains(self, prices: NDArray[np.float64]) -> tuple[NDArray[np.float64], list[Chain | None]]:
        """Return price and pieces of the cheapest chain of every part.

        `prices[l]` is the price of a piece of l mm. Of equal chains the one with fewer pieces is taken. A part that
        can't be made has an infinite price and no chain.
        """
        rows = np.arange(len(self.parts))
        priced = prices.copy()
        priced[0] = _NEVER
        arcs = priced[self._spans]
        so_far = np.full(arcs.shape[:2], _NEVER)
        so_far[:, 0] = 0.0
        best = np.full(len(self.parts), _NEVER)
        pieces = np.zeros(len(self.parts), dtype=np.intp)
        before: list[NDArray[np.intp]] = []
        most = np.array([part.most_pieces for part in self.parts], dtype=np.intp)
        for number in range(1, int(most.max(initial=0)) + 1):
            reached = so_far[:, :, None] + arcs
            before.append(reached.argmin(axis=1))
            so_far = reached.min(axis=1)
            ends = so_far[rows, self._ends]
            better = (ends < best - 1e-12) & (number <= most)
            best[better] = ends[better]
            pieces[better] = number
        return best, [self._chain(row, int(pieces[row]), before) for row in range(len(self.parts))]

    def all_chains(self, most: int, *, spare: int) -> list[Chain] | None:
        """Return every way to make up every part, with `spare` pieces less than allowed; None if more than `most`."""
        found: list[Chain] = []
        for row, part in enumerate(self.parts):
            begun: list[tuple[int, ...]] = [(0,)]
            while begun:
                places = begun.pop()
                for place in np.flatnonzero(self._spans[row, places[-1]]).tolist():
                    if place == self._ends[row]:
                        found.append(Chain(row, tuple(part.places[one] for one in (*places, place))))
                    elif len(places) < part.most_pieces - spare:
                        begun.append((*places, place))
                if len(found) + len(begun) > most:
                    return None
        return found

    def _chain(self, row: int, pieces: int, before: list[NDArray[np.intp]]) -> Chain | None:
        """Walk back from the end of a part through so many pieces."""
        if not pieces:
            return None
        place = int(self._ends[row])
        places = [place]
        for number in range(pieces - 1, -1, -1):
            place = int(before[number][row, place])
            places.append(place)
        known = self.parts[row].places
        return Chain(joined=int(row), places=tuple(known[place] for place in reversed(places)))
