"""Cutting plans worked out side by side in processes of their own, as many as there are processors.

Plans take most of the time of an evaluation, and plans of different materials know nothing of each other. Only
questions and answers travel between the processes: whole results would be ten times as large.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import os
import signal
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

from takeoff.cutting.lengths.length_plan import LengthPlan
from takeoff.cutting.lengths.plan import LengthQuestion
from takeoff.cutting.order import PlanQuestion
from takeoff.cutting.sheets.plan import SheetPlan, SheetQuestion

PROCESSES = "TAKEOFF_PROCESSES"
"""Name of the environment variable that says how many processes may be used."""

_MOST = 8
"""More processes than this wait for one another."""

_LEAST_EFFORT = 1_500
"""A plan that takes less is worked out sooner than it is sent for."""


def processes_allowed() -> int:
    """Return how many processes may be used: what the environment variable says, else one for each processor."""
    stated = os.environ.get(PROCESSES, "").strip()
    if stated.isdigit() and int(stated) > 0:
        return int(stated)
    if hasattr(os, "sched_getaffinity"):
        return min(len(os.sched_getaffinity(0)), _MOST)
    return min(os.cpu_count() or 1, _MOST)


class PlanWorkers:
    """Processes that answer questions for plans. With one process allowed none is started."""

    def __init__(self, processes: int) -> None:
        """Begin without any: they are started with the first question worth sending."""
        self._processes = processes
        self._pool: ProcessPoolExecutor | None = None
        self._asked: dict[PlanQuestion, Future[LengthPlan | SheetPlan]] = {}

    def start(self) -> None:
        """Start the processes now rather than with the first question, so that they are ready by then."""
        if self._processes > 1 and self._pool is None:
            # a process that can't be started, or has died, is no reason to fail: plans are then worked out here
            with contextlib.suppress(OSError, BrokenProcessPool):
                self._pool = ProcessPoolExecutor(self._processes, initializer=_begin_plans)
                for _ in range(self._processes):
                    self._pool.submit(_nothing)

    def ask(self, questions: Iterable[PlanQuestion]) -> None:
        """Begin to work out the questions not answered yet, those that take longest first."""
        new = {q for q in questions if q.effort >= _LEAST_EFFORT and not q.known and q not in self._asked}
        if self._processes < 2 or not new:
            return
        self.start()
        if self._pool is None:
            return
        with contextlib.suppress(OSError, BrokenProcessPool):
            for question in sorted(new, key=lambda one: -one.effort):
                self._asked[question] = self._pool.submit(_answer, question)

    def wait_for(self, questions: Iterable[PlanQuestion]) -> None:
        """Wait for the answers to questions asked before and keep them.

        What failed is left to be worked out here, so that its error is raised where it is told in full.
        """
        for question in questions:
            future = self._asked.pop(question, None)
            if future is None:
                continue
            with contextlib.suppress(Exception):
                match question, future.result():
                    case LengthQuestion() as of_lengths, LengthPlan() as lengths:
                        of_lengths.keep(lengths)
                    case SheetQuestion() as of_sheets, SheetPlan() as sheets:
                        of_sheets.keep(sheets)

    def close(self) -> None:
        """End the processes; what is not begun yet is given up."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)
            self._pool = None


@contextlib.contextmanager
def plan_workers(processes: int) -> Iterator[PlanWorkers]:
    """Give processes for plans, ended afterwards."""
    workers = PlanWorkers(processes)
    try:
        yield workers
    finally:
        workers.close()


def begin_process() -> None:
    """Set a new process up: it lives too short to tidy up, and an interrupt is for its parent to deal with."""
    gc.disable()
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _begin_plans() -> None:
    """Set a process for plans up, with the solver that it will need."""
    begin_process()
    importlib.import_module("takeoff.cutting.lengths.search")


def _nothing() -> None:
    """Keep a process busy for no time: it is started by that, where processes are started one by one."""


def _answer(question: PlanQuestion) -> LengthPlan | SheetPlan:
    """Return the plan for one question."""
    return question.answer()
