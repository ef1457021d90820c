"""The search for a plan near its bound: chains, then bars, from simple means to costly ones."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from takeoff.cutting.lengths.column_generation import Work, solve_relaxed
from takeoff.cutting.lengths.diving import choose_chains, dive
from takeoff.cutting.lengths.draft import Draft, draft_of, pieces_at_most, pieces_wanted
from takeoff.cutting.lengths.enumeration import all_full_bars
from takeoff.cutting.lengths.first_fit import every_first_fit
from takeoff.cutting.lengths.fullest import fill_bars
from takeoff.cutting.lengths.joining import Chain
from takeoff.cutting.lengths.master import Master
from takeoff.cutting.lengths.task import Bar, Task
from takeoff.cutting.lengths.whole_numbers import choose_whole_numbers

_NEARLY_WHOLE = (0.8, 0.6, 0.95)
"""What is taken as a whole chain or bar in the first dive and those tried after it."""

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


def search_plan(task: Task, known: Sequence[Draft], work: Work) -> Found:
    """Return the best draft, beginning with some known, all with the same chains of as few pieces as can be.

    With joined parts the bound comes from chains and bars together. Then the chains are chosen, and their pieces
    planned like whole ones. Raises SolverError.
    """
    if not task.joined:
        return _plan_pieces(task, known, work, 0.0)
    chains = known[0].chains
    filled = fill_bars(task.for_pieces(pieces_wanted(task, chains))).bars
    drafts = [*known, draft_of(task, filled, chains)]
    found = Found(draft=_least(drafts), bound=task.round_up(task.bound_by_length()))
    if found.settled:
        return found
    master = Master(task)
    master.add([*_bars_of(drafts), *chains])
    bound = task.round_up(solve_relaxed(master, work).bound)
    found = Found(draft=found.draft, bound=max(found.bound, bound))
    for turn, nearly in enumerate(_NEARLY_WHOLE):
        if turn == 1:
            _want_all(master)
            solve_relaxed(master, work, to_the_end=True)
        chains = choose_chains(master, nearly)
        pieces = task.for_pieces(pieces_wanted(task, chains))
        planned = _plan_pieces(pieces, every_first_fit(pieces), work, found.bound, _within(pieces, master))
        found = _better(found, draft_of(task, planned.draft.bars, chains))
        if found.settled:
            return found
    if found.draft.cost <= found.bound * _CLOSE:
        return found
    return _search_chains(task, master, found)


def _want_all(master: Master) -> None:
    """Ask for every piece and joined part again, after some were taken as had."""
    master.want(Counter(master.task.demand), [part.count for part in master.task.joined])
    master.allow_all()


def _least(drafts: Iterable[Draft]) -> Draft:
    """Return the draft that costs least, the first of equal ones."""
    return min(drafts, key=lambda draft: draft.cost)


def _bars_of(drafts: Iterable[Draft]) -> list[Bar]:
    """Return the bars of several drafts, each once: the more a relaxed problem begins with, the fewer rounds."""
    return list(dict.fromkeys(bar for draft in drafts for bar in draft.bars))


def _within(task: Task, master: Master) -> list[Bar]:
    """Return the bars found for another task that hold nothing beyond the pieces of this one."""
    bars = (column for column in master.columns if not isinstance(column, Chain))
    return [
        bar
        for bar in bars
        if all(number <= task.demand.get(length, 0) for length, number in Counter(bar).items())
    ]


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


def _plan_pieces(
    task: Task, known: Sequence[Draft], work: Work, least: float, bars: Iterable[Bar] = ()
) -> Found:
    """Return the best draft for whole pieces; `least` is a bound known beforehand, `bars` are worth trying."""
    drafts = [*known, fill_bars(task)]
    found = Found(draft=_least(drafts), bound=max(least, task.round_up(task.bound_by_length())))
    if found.settled:
        return found
    master = Master(task)
    master.add([*_bars_of(drafts), *bars])
    bound = task.round_up(solve_relaxed(master, work, least=found.bound).bound)
    found = Found(draft=found.draft, bound=max(found.bound, bound))
    for turn, nearly in enumerate(_NEARLY_WHOLE):
        if found.settled:
            return found
        if turn == 1:
            _want_all(master)
            solve_relaxed(master, work, to_the_end=True)
        found = _better(found, dive(master, work, nearly))
    if found.settled:
        return found
    every = all_full_bars(task, _MOST_BARS)
    if every is not None:
        choice = choose_whole_numbers(task, every, found.draft, _NODES_OF_ALL)
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
