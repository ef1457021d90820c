"""Documents made in other processes: the same, whoever makes them, and made here where no process can."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from takeoff.documents import side_by_side
from takeoff.documents.side_by_side import SideBySide


def doubled(state: int, number: int) -> tuple[int, int]:
    return state * number, os.getpid()


def slow(state: int, mark: Path) -> tuple[int, int]:
    mark.write_text("begun")
    time.sleep(0.5)
    return 0, os.getpid()


def broken(state: int) -> tuple[int, int]:
    raise ValueError("no such figure")


def deadly(state: int, here: int) -> tuple[int, int]:
    if os.getpid() != here:
        os._exit(1)
    return state, os.getpid()


def made(beside: SideBySide[int, tuple[int, int]]) -> dict[str, tuple[int, int]]:
    return dict(beside.results())


def test_without_processes_all_is_made_here():
    with SideBySide[int, tuple[int, int]](0, 3) as beside:
        for number in (1, 2):
            beside.begin(str(number), doubled, number)
        assert made(beside) == {"1": (3, os.getpid()), "2": (6, os.getpid())}


def test_a_process_makes_it_out_of_what_it_was_given_at_its_start():
    with SideBySide[int, tuple[int, int]](1, 3) as beside:
        beside.begin("one", doubled, 5)
        figure, process = made(beside)["one"]
    assert figure == 15
    assert process != os.getpid()


def test_what_no_process_has_begun_is_made_here(tmp_path):
    """The one process is busy with the first: the others are made here, the last first."""
    with SideBySide[int, tuple[int, int]](1, 3) as beside:
        beside.begin("slow", slow, tmp_path / "mark")
        beside.begin("next", doubled, 6)
        beside.begin("last", doubled, 7)
        found = list(beside.results())
    assert found[:2] == [("last", (21, os.getpid())), ("next", (18, os.getpid()))]
    assert found[2][0] == "slow"
    assert found[2][1][1] != os.getpid()


def test_tasks_beyond_the_processes_are_all_made():
    with SideBySide[int, tuple[int, int]](2, 1) as beside:
        for number in range(12):
            beside.begin(str(number), doubled, number)
        assert {name: figure for name, (figure, _) in made(beside).items()} == {str(n): n for n in range(12)}


@pytest.mark.parametrize("processes", [0, 1])
def test_an_error_is_raised_where_the_results_are_asked_for(processes):
    with SideBySide[int, tuple[int, int]](processes, 1) as beside:
        beside.begin("bad", broken)
        with pytest.raises(ValueError, match="no such figure"):
            made(beside)


def test_what_a_process_died_over_is_made_here():
    with SideBySide[int, tuple[int, int]](1, 9) as beside:
        beside.begin("one", deadly, os.getpid())
        beside.begin("two", doubled, 2)
        found = made(beside)
    assert found["one"] == (9, os.getpid())
    assert found["two"][0] == 18


def test_no_process_to_be_had_is_no_reason_to_fail(monkeypatch):
    def refused(*arguments, **settings):
        raise OSError("no more processes")

    monkeypatch.setattr(side_by_side, "ProcessPoolExecutor", refused)
    with SideBySide[int, tuple[int, int]](2, 4) as beside:
        beside.begin("one", doubled, 2)
        assert made(beside) == {"one": (8, os.getpid())}


def test_what_waits_is_given_up_when_nobody_asks_for_it(tmp_path):
    marks = [tmp_path / str(number) for number in range(4)]
    with SideBySide[int, tuple[int, int]](1, 1) as beside:
        for mark in marks:
            beside.begin(mark.name, slow, mark)
    assert not marks[-1].exists()
