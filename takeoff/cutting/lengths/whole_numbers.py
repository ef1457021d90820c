"""The best whole numbers of bars and chains from a given list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

import highspy
import numpy as np

from takeoff.cutting.lengths.draft import Draft, draft_of, holds, pieces_of, pieces_wanted
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.solver import searching_solver
from takeoff.cutting.lengths.task import Bar, Task


@dataclass(frozen=True, slots=True, eq=False)
class Choice:
    """The best draft found from a list of bars and chains; `proven` if the search was finished."""

    draft: Draft
    proven: bool


def choose_whole_numbers(task: Task, columns: Iterable[Bar | Chain], known: Draft, nodes: int) -> Choice:
    """Return the best draft from the bars and chains listed, or the one known if none better is found within `nodes`.

    The search is not started from the draft known: version 1.16 of the solver takes such a start for better than it
    is when presolve has set part of the cost aside, and then ends too early.
    """
    listed = list(dict.fromkeys([*columns, *known.bars, *known.chains]))
    solver = searching_solver(nodes)
    # where costs are whole numbers, less than one step between bound and cost is no gap
    solver.setOptionValue("mip_abs_gap", 0.99 if task.stepped else 1e-9)
    solver.setOptionValue("mip_rel_gap", 1e-9)
    _state_model(solver, task, listed)
    solver.run()
    proven = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    if solver.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Choice(draft=known, proven=False)
    bars: Counter[Bar] = Counter()
    chains: Counter[Chain] = Counter()
    for column, value in zip(listed, solver.getSolution().col_value, strict=True):
        if isinstance(column, Chain):
            chains[column] += round(value)
        else:
            bars[column] += round(value)
    if not holds(bars, pieces_wanted(task, +chains)):
        return Choice(draft=known, proven=False)
    found = draft_of(task, bars, +chains)
    return Choice(draft=found if found.beats(known) else known, proven=proven)


def _state_model(solver: highspy.Highs, task: Task, columns: list[Bar | Chain]) -> None:
    """Put the rows for joined parts and pieces, and a whole-number column for each bar and chain."""
    lengths = dict.fromkeys(length for column in columns for length in pieces_of(column))
    rows = {length: row for row, length in enumerate(lengths, start=len(task.joined))}
    for part in task.joined:
        solver.addRow(float(part.count), float(part.count), 0, np.empty(0, np.int32), np.empty(0))
    for length in lengths:
        wanted = float(task.demand.get(length, 0))
        solver.addRow(wanted, highspy.kHighsInf, 0, np.empty(0, np.int32), np.empty(0))
    for column in columns:
        entries = {rows[length]: float(number) for length, number in Counter(pieces_of(column)).items()}
        cost = 0.0
        if isinstance(column, Chain):
            entries = {column.joined: 1.0} | {row: -number for row, number in entries.items()}
        else:
            cost = task.cost_of(column)
        places, numbers = np.array(list(entries), np.int32), np.array(list(entries.values()))
        solver.addCol(cost, 0.0, highspy.kHighsInf, len(places), places, numbers)
    every = np.arange(len(columns), dtype=np.int32)
    solver.changeColsIntegrality(len(columns), every, np.full(len(columns), highspy.HighsVarType.kInteger))
