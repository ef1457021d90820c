"""The search for a plan near its bound: chains, then bars, from simple means to costly ones."""

from __future__ import annotations

from dataclasses import dataclass

from takeoff.cutting.lengths.column_generation import Work, solve_relaxed
from takeoff.cutting.lengths.diving import choose_chains, dive
from takeoff.cutting.lengths.draft import Draft, draft_of, pieces_at_most, pieces_wanted
from takeoff.cutting.lengths.enumeration import all_full_bars
from takeoff.cutting.lengths.first_fit import first_fit
from takeoff.cutting.lengths.fullest import fill_bars
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.master import Master
from takeoff.cutting.lengths.task import Bar, Task
from takeoff.cutting.lengths.whole_numbers import choose_whole_numbers

_NEARLY_WHOLE = (0.8, 0.6, 0.95)
"""What is taken as a whole bar in the first dive and those tried after it."""

_MOST_BARS = 1000
"""If there are no more ways to cut than this, all of them are listed."""

_MOST_CHAINS = 300
"""If there are no more ways to make up the joined parts than this, all of them are listed."""

_NODES_OF_ALL = 100
_NODES_OF_SOME = 20
"""Nodes of the search for whole numbers among all ways to cut, and among those found."""

_CLOSE = 1.001
_MOST_FOUND = 1200
"""The ways found are searched only if there are no more than this, and the plan is a thousandth above its bound."""


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """The best draft found, and what no plan goes below, in common steps."""

    draft: Draft
    bound: float

    @property
    def settled(self) -> bool:
        """Whether no better draft can be found."""
        return self.draft.cost <= self.bound + 1e-6


def search_plan(task: Task, known: Draft, work: Work) -> Found:
    """Return the best draft, beginning with one known.

    With joined parts the bound comes from chains and bars together. Then the chains are chosen, and their pieces
    planned like whole ones. Raises SolverError.
    """
    if not task.joined:
        return _plan_pieces(task, known, work, 0.0)
    master = Master(task)
    master.add([*known.bars, *known.chains])
    bound = task.round_up(solve_relaxed(master, work).bound)
    chains = choose_chains(master)
    pieces = task.for_pieces(pieces_wanted(task, chains))
    planned = _plan_pieces(pieces, first_fit(pieces), work, bound).draft
    draft = draft_of(task, planned.bars, chains)
    found = _better(Found(draft=known, bound=bound), draft)
    if found.draft.cost <= bound * _CLOSE:
        return found
    return _search_chains(task, master, found)


def _search_chains(task: Task, master: Master, found: Found) -> Found:
    """Return the best draft from every bar and chain there is, or from those found and chains of few pieces."""
    every = _list_all(task, spare=0)
    if every is not None:
        choice = choose_whole_numbers(task, every, found.draft, _NODES_OF_ALL)
        if choice.proven:
            return Found(draft=choice.draft, bound=choice.draft.cost)
        return _better(found, choice.draft)
    master.add(_list_all(task, spare=1) or ())
    return _search_found(task, master, found)


def _list_all(task: Task, *, spare: int) -> list[Bar | Chain] | None:
    """Return every chain with `spare` pieces less than allowed, and every bar they may need; None if too many."""
    chains = task.network.all_chains(_MOST_CHAINS, spare=spare)
    if chains is None:
        return None
    bars = all_full_bars(task.for_pieces(pieces_at_most(task, chains)), _MOST_BARS)
    return None if bars is None else [*chains, *bars]


def _plan_pieces(task: Task, known: Draft, work: Work, least: float) -> Found:
    """Return the best draft for whole pieces; `least` is a bound known beforehand."""
    found = _better(
        Found(draft=known, bound=max(least, task.round_up(task.bound_by_length()))), fill_bars(task)
    )
    if found.settled:
        return found
    master = Master(task)
    master.add([*known.bars, *found.draft.bars])
    bound = task.round_up(solve_relaxed(master, work).bound)
    found = Found(draft=found.draft, bound=max(found.bound, bound))
    for nearly in _NEARLY_WHOLE:
        if found.settled:
            return found
        found = _better(found, dive(master, work, nearly))
    if found.settled:
        return found
    bars = all_full_bars(task, _MOST_BARS)
    if bars is not None:
        choice = choose_whole_numbers(task, bars, found.draft, _NODES_OF_ALL)
        if choice.proven:
            return Found(draft=choice.draft, bound=choice.draft.cost)
        return _better(found, choice.draft)
    return _search_found(task, master, found)


def _search_found(task: Task, master: Master, found: Found) -> Found:
    """Return the best draft from the bars and chains found so far, if that is worth a search."""
    if len(master.columns) > _MOST_FOUND or found.draft.cost <= found.bound * _CLOSE:
        return found
    return _better(found, choose_whole_numbers(task, master.columns, found.draft, _NODES_OF_SOME).draft)


def _better(found: Found, draft: Draft) -> Found:
    """Return what was found, with another draft if it is better."""
    return Found(draft=draft if draft.beats(found.draft) else found.draft, bound=found.bound)
