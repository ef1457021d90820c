"""Answers that are kept, so that equal questions are worked out once, whether here or in another process."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

Question = TypeVar("Question", bound=Hashable)
Answer = TypeVar("Answer")


class Remembered(Generic[Question, Answer]):
    """A function of one question that keeps its last answers, as many as `most`.

    >>> squares = Remembered(lambda number: number * number, most=100)
    >>> squares.keep(3, 10)
    >>> squares(2), squares(3), squares.knows(2), squares.knows(4)
    (4, 10, True, False)
    """

    def __init__(self, work_out: Callable[[Question], Answer], most: int) -> None:
        """Begin with no answer kept."""
        self._work_out = work_out
        self._most = most
        self._kept: dict[Question, Answer] = {}

    def __call__(self, question: Question) -> Answer:
        """Return the answer kept, or work it out and keep it."""
        if question not in self._kept:
            self.keep(question, self._work_out(question))
        return self._kept[question]

    def knows(self, question: Question) -> bool:
        """Whether there is an answer to a question."""
        return question in self._kept

    def keep(self, question: Question, answer: Answer) -> None:
        """Keep an answer found elsewhere; the oldest one is given up where there are too many."""
        while len(self._kept) >= self._most:
            del self._kept[next(iter(self._kept))]
        self._kept[question] = answer

    def cache_clear(self) -> None:
        """Forget every answer."""
        self._kept.clear()
