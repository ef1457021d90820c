"""The cutting plan for whole lengths: what to buy and how to cut it, with a bound that no plan can go below."""

from __future__ import annotations

import math
from dataclasses import dataclass

from takeoff.cutting.lengths.cut_list import list_cuts
from takeoff.cutting.lengths.draft import Draft
from takeoff.cutting.lengths.first_fit import every_first_fit
from takeoff.cutting.lengths.length_plan import LengthPlan, Part, StockLength
from takeoff.cutting.lengths.task import Task, state_task
from takeoff.cutting.remembered import Remembered

WORK_LIMIT = 300_000
"""Lengths priced before column generation is broken off: several times what a house needs."""


@dataclass(frozen=True, slots=True)
class LengthQuestion:
    """What a plan of lengths is asked for: see `plan_lengths`. Lengths in mm."""

    parts: tuple[Part, ...]
    stock: tuple[StockLength, ...]
    kerf: int = 0
    work_limit: int = WORK_LIMIT

    @property
    def effort(self) -> int:
        """About how much work it is: parts times places for joints. Plans of 10,000 take about 0.1 s."""
        joints = sum(len(part.joints) for part in self.parts)
        return sum(part.count for part in self.parts) * (1 + joints)

    @property
    def known(self) -> bool:
        """Whether the answer is kept."""
        return _plan.knows(self)

    def answer(self) -> LengthPlan:
        """Return the plan."""
        return _plan(self)

    def keep(self, plan: LengthPlan) -> None:
        """Keep a plan found elsewhere."""
        _plan.keep(self, plan)


def plan_lengths(
    parts: tuple[Part, ...], stock: tuple[StockLength, ...], *, kerf: int = 0, work_limit: int = WORK_LIMIT
) -> LengthPlan:
    """Return a plan that buys lengths of least cost for all parts, and a bound no plan can go below.

    Parts are cut from lengths on sale with `kerf` [mm] lost between pieces, none after one that ends flush. Parts
    with joints may be made up of pieces that meet at some of them, by these rules of the plan, which the bound takes
    for granted: a piece is no shorter than `LEAST_PIECE` (900 mm) if the part can be made so, and there is at most
    one piece more than the fewest the part can be made of. Of plans of equal cost one with few joints is preferred;
    a joint outside the part is no joint.

    The plan is found by column generation, then rounding, then search for whole numbers, and is `proven` only where
    cost and bound meet. The bound is that of the linear programme, rounded up to what whole lengths can add up to
    where costs have a common step: whole lengths if there is one, whole steps that can be bought if several.
    Limits are in `work_limit`, lengths priced in all rounds, and in nodes of the search, not in seconds, so that
    every machine returns the same plan. When the work is used up, rounding goes on with what was found. With no
    work allowed, or if the solver fails, the plan is that of first-fit decreasing, and the bound goes by length.
    Equal questions are answered from memory.

    Raises ValueError for lengths or costs that are not above nothing, or numbers or a kerf below nothing.

    >>> plan = plan_lengths((Part(2330, 4), Part(2000, 2)), (StockLength(4800, 4800), StockLength(4200, 4200)), kerf=4)
    >>> plan.cost, plan.bound, plan.proven
    (13800.0, 13800.0, True)

    Source: P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
    Research 9 (1961) and 11 (1963), from memory.
    """
    return _plan(LengthQuestion(parts, stock, kerf, work_limit))


def _solve(question: LengthQuestion) -> LengthPlan:
    """Return the plan for one question."""
    parts, stock = question.parts, question.stock
    task = state_task(parts, stock, question.kerf)
    if not task.demand and not task.joined:
        return LengthPlan(
            patterns=(), cost=0.0, bound=0.0, proven=True, method="nothing to cut", too_long=task.too_long
        )
    drafts = every_first_fit(task)
    draft = min(drafts, key=lambda one: one.cost)
    bound = task.bound_by_length()
    searched = _search(task, drafts, question.work_limit)
    if searched is not None:
        draft, bound = searched
    patterns = list_cuts(task, parts, draft)
    cost = math.fsum(stock[pattern.stock].cost * pattern.count for pattern in patterns)
    least = task.round_up(bound) * task.unit
    proven = cost - least <= 1e-6 * task.unit
    return LengthPlan(
        patterns=patterns,
        cost=cost,
        bound=cost if proven else least,
        proven=proven,
        method="first fit" if searched is None else "column generation",
        too_long=task.too_long,
    )


_plan = Remembered(_solve, most=4096)


def _search(task: Task, known: list[Draft], work_limit: int) -> tuple[Draft, float] | None:
    """Return draft and bound by column generation; None if there was no work allowed or the solver failed."""
    if work_limit <= 0:
        return None
    # the solver takes a tenth of a second to import
    from takeoff.cutting.lengths.column_generation import Work
    from takeoff.cutting.lengths.search import search_plan
    from takeoff.cutting.lengths.solver import SolverError

    try:
        found = search_plan(task, known, Work(work_limit))
    except SolverError:
        return None
    return found.draft, found.bound
