"""Documents made in other processes while this one goes on."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from types import TracebackType
from typing import Any, Generic, TypeVar

from takeoff.compare.parallel import begin_process

State = TypeVar("State")
Made = TypeVar("Made")


@dataclass(slots=True, eq=False)
class _Task(Generic[Made]):
    """One document to be made, and its maker's answer once a process was given it."""

    name: str
    work: Callable[..., Made]
    arguments: tuple[Any, ...]
    future: Future[Made] | None = field(default=None)


class SideBySide(Generic[State, Made]):
    """Makes documents out of `state`, which the processes hold from their start.

    The makers are functions of a module that take the state first. With no process allowed, or none to be had, each is
    made here when the results are asked for. A process is given its next task when it has done the one before, so that
    what no process has begun by then is made here.
    """

    def __init__(self, processes: int, state: State) -> None:
        """Start nothing yet: processes are started with the first task."""
        self._processes = processes
        self._state = state
        self._pool: ProcessPoolExecutor | None = None
        self._begun: list[_Task[Made]] = []
        self._waiting: deque[_Task[Made]] = deque()

    def __enter__(self) -> SideBySide[State, Made]:
        """Give itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the processes; what is not begun yet is given up."""
        if self._pool is not None:
            # what waits can't be given to processes that are ending
            self._pool.shutdown(cancel_futures=True)

    def begin(self, name: str, work: Callable[..., Made], *arguments: Any) -> None:
        """Give a process a task, or let it wait for one that is free."""
        task = _Task(name, work, arguments)
        self._begun.append(task)
        self._waiting.append(task)
        if sum(1 for each in self._begun if each.future and not each.future.done()) < self._processes:
            self._give_next()

    def results(self) -> Iterator[tuple[str, Made]]:
        """Yield names and results as they come, after making here what no process has begun."""
        while self._waiting:
            try:
                task = self._waiting.pop()
            except IndexError:  # a process was quicker
                break
            self._begun.remove(task)
            yield task.name, task.work(self._state, *task.arguments)
        for task in self._begun:
            yield task.name, self._answer(task)
        self._begun.clear()

    def _give_next(self, done: Future[Made] | None = None) -> None:
        """Give the task that has waited longest to a process."""
        try:
            if self._pool is None:
                self._pool = ProcessPoolExecutor(self._processes, initializer=_hold, initargs=(self._state,))
            task = self._waiting.popleft()
        except (IndexError, OSError):
            return
        try:
            task.future = self._pool.submit(_make_held, task.work, task.arguments)
        except (OSError, RuntimeError):  # no process can be started, or all are ending
            return
        task.future.add_done_callback(self._give_next)

    def _answer(self, task: _Task[Made]) -> Made:
        """Return what a process has made; where it has died, or could not be started, it is made here."""
        if task.future is not None:
            try:
                return task.future.result()
            except BrokenProcessPool:
                pass
        return task.work(self._state, *task.arguments)


_held: list[Any] = []


def _hold(state: Any) -> None:
    """Set a process up with what documents are made from."""
    begin_process()
    _held[:] = [state]


def _make_held(work: Callable[..., Made], arguments: tuple[Any, ...]) -> Made:
    """Make a document in a process that holds what it is made from."""
    return work(_held[0], *arguments)
