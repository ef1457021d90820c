"""The master problem over the bars and chains found so far: least cost for which every piece is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from takeoff.cutting.lengths.draft import pieces_of
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.solver import SolverError, warm_solver
from takeoff.cutting.lengths.task import Bar, Task

_ALL_JOINTS = 0.05
"""What all joints together may weigh, in common steps, when chains are chosen."""


@dataclass(frozen=True, slots=True, eq=False)
class Prices:
    """What the last solution makes a piece of each length, and each joined part, worth."""

    lengths: NDArray[np.float64]
    joined: NDArray[np.float64]


class Master:
    """A linear programme that grows: rows for lengths of pieces and joined parts, columns for bars and chains.

    A row for a length says: pieces cut, less pieces that go into chains, are at least the whole ones wanted. A row
    for a joined part says: chains are at least the parts wanted.
    """

    def __init__(self, task: Task) -> None:
        """Begin with a bar for each whole piece; chains are added before the first solution."""
        self.task = task
        self.lengths: list[int] = []
        self.columns: list[Bar | Chain] = []
        self._rows: dict[int, int] = {}
        self._known: set[Bar | Chain] = set()
        self._entered: list[tuple[NDArray[np.int32], NDArray[np.float64]]] = []
        self._solver = warm_solver()
        for part in task.joined:
            self._add_row(part.count)
        for length, number in task.demand.items():
            self._add_length(length, number)

    def knows(self, length: int) -> bool:
        """Say whether there is a row for pieces of a length."""
        return length in self._rows

    def add(self, columns: Iterable[Bar | Chain]) -> int:
        """Add bars and chains that are not there yet, and return how many those were."""
        before = len(self.columns)
        for column in columns:
            if column in self._known:
                continue
            for length in pieces_of(column):
                if length not in self._rows:
                    self._add_length(length, 0)
            self._known.add(column)
            self.columns.append(column)
            places, numbers = self._entries(column)
            self._entered.append((places, numbers))
            cost = 0.0 if isinstance(column, Chain) else self.task.cost_of(column)
            self._solver.addCol(cost, 0.0, highspy.kHighsInf, len(places), places, numbers)
        return len(self.columns) - before

    def charge_joints(self) -> None:
        """Let each joint cost so little that all together never weigh a step.

        So that of plans of equal cost one with few joints is taken; the costs reported leave it out.
        """
        most = sum(part.count * part.most_pieces for part in self.task.joined)
        for place, column in enumerate(self.columns):
            if isinstance(column, Chain):
                joints = len(column.places) - 2
                self._solver.changeColCost(place, joints * _ALL_JOINTS / max(most, 500))

    def solve(self) -> tuple[float, NDArray[np.float64], Prices]:
        """Return least cost, the number of each bar and chain, and the prices that go with them."""
        self._solver.run()
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise SolverError(str(self._solver.getModelStatus()))
        solution = self._solver.getSolution()
        duals = np.maximum(np.array(solution.row_dual), 0.0)
        joined = len(self.task.joined)
        numbers = np.array(solution.col_value)
        prices = Prices(lengths=duals[joined:], joined=duals[:joined])
        return float(self._solver.getObjectiveValue()), numbers, prices

    def want(self, pieces: Counter[int], joined: list[int]) -> None:
        """Change what is wanted to the pieces and joined parts still to be had."""
        wanted = [*joined, *(pieces[length] for length in self.lengths)]
        for row, number in enumerate(wanted):
            self._solver.changeRowBounds(row, float(number), highspy.kHighsInf)

    def allow_within(self, pieces: Counter[int]) -> None:
        """Allow only bars that hold nothing beyond the pieces still to be had. For tasks without joined parts."""
        left = np.array([pieces[length] for length in self.lengths])
        held = np.zeros((len(self.columns), len(left)))
        for place, (rows, numbers) in enumerate(self._entered):
            held[place, rows] = numbers
        upper = np.where(np.all(held <= left, axis=1), highspy.kHighsInf, 0.0)
        places = np.arange(len(upper), dtype=np.int32)
        self._solver.changeColsBounds(len(places), places, np.zeros(len(places)), upper)

    def allow_all(self) -> None:
        """Allow every bar and chain again."""
        places = np.arange(len(self.columns), dtype=np.int32)
        upper = np.full(len(places), highspy.kHighsInf)
        self._solver.changeColsBounds(len(places), places, np.zeros(len(places)), upper)

    def _add_row(self, number: int) -> int:
        """Add a row that asks for a number and return its place."""
        self._solver.addRow(float(number), highspy.kHighsInf, 0, np.empty(0, np.int32), np.empty(0))
        return int(self._solver.getNumRow()) - 1

    def _add_length(self, length: int, number: int) -> None:
        """Add the row for pieces of a length, and the bar that holds one."""
        self._rows[length] = self._add_row(number)
        self.lengths.append(length)
        self.add([(length,)])

    def _entries(self, column: Bar | Chain) -> tuple[NDArray[np.int32], NDArray[np.float64]]:
        """Return rows and numbers of one column."""
        sign = -1.0 if isinstance(column, Chain) else 1.0
        entries: dict[int, float] = {}
        if isinstance(column, Chain):
            entries[column.joined] = 1.0
        for length in pieces_of(column):
            row = self._rows[length]
            entries[row] = entries.get(row, 0.0) + sign
        return np.array(list(entries), np.int32), np.array(list(entries.values()))
