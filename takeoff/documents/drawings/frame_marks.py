"""Piece marks on framing drawings: without the mark of their wall, in runs, and set where there is room for them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from takeoff.documents.drawings.letters import text_width
from takeoff.documents.drawings.places import Patch
from takeoff.documents.drawings.svg import (
    CAP_HEIGHT,
    DETAIL,
    INK,
    WHITE,
    Point,
    Segment,
    along,
    element,
    lettering,
    path,
)

MARK_TYPE = 1.7
MARK_CAP = CAP_HEIGHT * MARK_TYPE
# Below the baseline, as far as a letter may reach [mm].
MARK_DROP = 0.22 * MARK_TYPE
# From one upright mark to the next in a row [mm].
MARK_PITCH = 1.6
_CELL = 10.0
_RUN = re.compile(r"([A-Z]+)(\d+)")


def own_mark(mark: str) -> str:
    """Return a piece mark without that of its wall, roof or floor.

    >>> own_mark("LO-S03")
    'S03'
    """
    return mark.rpartition("-")[2]


def follows(mark: str, other: str) -> bool:
    """Whether the second mark is the next of its kind after the first."""
    one, two = _RUN.fullmatch(mark), _RUN.fullmatch(other)
    return bool(one and two and one[1] == two[1] and int(two[2]) == int(one[2]) + 1)


def in_runs(marks: Sequence[str]) -> str:
    """Return marks in one text, those that follow one another as a run.

    >>> in_runs(["S03", "S04", "S05", "JS01"])
    'S03-S05, JS01'
    """
    runs: list[list[str]] = []
    for mark in marks:
        if runs and follows(runs[-1][-1], mark):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


@cache
def mark_room(text: str) -> float:
    """Return the length of a mark [mm]."""
    return text_width(text, MARK_TYPE)


@dataclass(frozen=True, slots=True)
class RowMark:
    """A mark that belongs to a place along a row [mm]; more than one where marks stand together."""

    at: float
    marks: tuple[str, ...]

    @property
    def text(self) -> str:
        """What is written."""
        return in_runs(self.marks)


def in_a_row(row: Sequence[RowMark], left: float, right: float) -> list[tuple[RowMark, float]]:
    """Return marks of a row with the places they are written at, in order and clear of each other [mm].

    Each stands as near its own place as its neighbours allow, all between `left` and `right`; where they
    are too many, nearest neighbours are written together.
    """
    marks = sorted(row, key=lambda mark: mark.at)
    while len(marks) > 1 and (len(marks) - 1) * MARK_PITCH > right - left:
        marks = _two_together(marks)
    # With the pitch taken off, marks in order only have to stay in order: neighbours that would cross share
    # the mean of their places.
    pools: list[tuple[float, int]] = []
    for index, mark in enumerate(marks):
        mean, number = mark.at - index * MARK_PITCH, 1
        while pools and pools[-1][0] > mean:
            before, count = pools.pop()
            mean, number = (before * count + mean * number) / (count + number), count + number
        pools.append((mean, number))
    last = right - (len(marks) - 1) * MARK_PITCH
    places = [min(max(mean, left), max(last, left)) for mean, number in pools for _ in range(number)]
    return [(mark, place + i * MARK_PITCH) for i, (mark, place) in enumerate(zip(marks, places, strict=True))]


def _two_together(marks: list[RowMark]) -> list[RowMark]:
    """Return a row with the two marks in one that are nearest, rather those of a run."""

    def cost(index: int) -> tuple[bool, float]:
        one, other = marks[index], marks[index + 1]
        return not follows(one.marks[-1], other.marks[0]), other.at - one.at

    index = min(range(len(marks) - 1), key=cost)
    one, other = marks[index], marks[index + 1]
    joined = RowMark((one.at + other.at) / 2, (*one.marks, *other.marks))
    return [*marks[:index], joined, *marks[index + 2 :]]


def level_patch(text: str, at: Point) -> Patch:
    """Return the paper that a level mark takes, its baseline centred at a point [mm]."""
    x, y = at
    half = mark_room(text) / 2
    return Patch(x - half, y - MARK_CAP, x + half, y + MARK_DROP)


def upright_patch(text: str, at: Point) -> Patch:
    """Return the paper that an upright mark takes, from its foot up, centred on x [mm]."""
    x, y = at
    return Patch(x - MARK_CAP / 2, y - mark_room(text), x + MARK_CAP / 2 + MARK_DROP, y)


class Lettered:
    """The marks of one drawing, the paper that they and sticks take, and what is left to be told in words."""

    def __init__(self) -> None:
        """Start with an empty sheet."""
        self.untold: list[str] = []
        self.lowest = -1e9
        self._texts: list[str] = []
        self._halos: list[str] = []
        self._leaders: list[Segment] = []
        self._cells: dict[int, list[Patch]] = {}

    def take(self, patch: Patch) -> None:
        """Keep lettering off a rectangle."""
        for cell in _cells(patch):
            self._cells.setdefault(cell, []).append(patch)

    def free(self, patch: Patch) -> bool:
        """Whether nothing stands in a rectangle."""
        return not any(patch.overlaps(other) for cell in _cells(patch) for other in self._cells.get(cell, ()))

    def level(self, text: str, at: Point, *, halo: bool = False) -> None:
        """Write a mark with its baseline centred at a point, on white where lines run under it."""
        patch = level_patch(text, at)
        self.take(patch)
        self.lowest = max(self.lowest, patch.bottom)
        if halo:
            self._halos.append(
                element(
                    "rect",
                    x=patch.left - 0.3,
                    y=patch.top - 0.2,
                    width=patch.wide + 0.6,
                    height=MARK_CAP + 0.4,
                    fill=WHITE,
                )
            )
        self._texts.append(lettering(text, at, size=MARK_TYPE, anchor="middle"))

    def upright(self, text: str, at: Point) -> None:
        """Write a mark to be read from the right, centred on x, from its foot up."""
        patch = upright_patch(text, at)
        self.take(patch)
        self.lowest = max(self.lowest, patch.bottom)
        self._texts.append(lettering(text, at, size=MARK_TYPE, upright=True, centred=True))

    def leader(self, start: Point, end: Point) -> None:
        """Draw a fine line from a stick to its mark."""
        self._leaders.append((*start, *end))

    def put(self, text: str, places: Iterable[tuple[Point, bool]], *, clear: float = 0.12) -> bool:
        """Write a mark at the first free one of places (a point, and whether upright); say whether one was free."""
        for at, upright in places:
            patch = upright_patch(text, at) if upright else level_patch(text, at)
            if self.free(patch.grown(clear)):
                if upright:
                    self.upright(text, at)
                else:
                    self.level(text, at)
                return True
        return False

    def put_near(self, text: str, at: Point, *, within: Patch, reach: float = 16.0) -> None:
        """Write a mark as near a stick as can be, with a leader; keep it for the words where no place is free."""
        x, y = at
        for dx, dy in _places_near(reach):
            for upright in (False, True):
                place = (x + dx, y + dy)
                patch = upright_patch(text, place) if upright else level_patch(text, place)
                inside = (
                    within.left <= patch.left
                    and patch.right <= within.right
                    and within.top <= patch.top
                    and patch.bottom <= within.bottom
                )
                if inside and self.free(patch.grown(0.3)):
                    (self.upright if upright else self.level)(text, place)
                    end = (
                        min(max(x, patch.left - 0.2), patch.right + 0.2),
                        min(max(y, patch.top - 0.2), patch.bottom),
                    )
                    self.leader(at, end)
                    return
        self.untold.append(text)

    def elements(self) -> list[str]:
        """Return what is written, leaders under it."""
        fine = [path(along(self._leaders), width=DETAIL * 0.7, stroke=INK)] if self._leaders else []
        return [*self._halos, *fine, *self._texts]


@cache
def _places_near(reach: float) -> tuple[Point, ...]:
    """Return the places to try for a mark about its stick, the nearest first [mm]."""
    step = 0.6
    count = int(reach / step)
    offsets = (
        (i * step, j * step) for i in range(-count, count + 1) for j in range(-count // 2, count // 2 + 1)
    )
    return tuple(sorted(offsets, key=lambda o: (round(o[0] ** 2 + o[1] ** 2, 6), o)))


def _cells(patch: Patch) -> range:
    """Return the columns of paper that a rectangle reaches."""
    return range(int(patch.left // _CELL), int(patch.right // _CELL) + 1)
