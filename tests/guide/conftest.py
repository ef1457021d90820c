"""What tests of the guide share: the tables of its pages, its sums, and some options of the demo."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from takeoff.compare.evaluate import Result, evaluate
from takeoff.guide import page_text
from takeoff.model.job import Job

Table = list[list[str]]


def _tables(text: str) -> list[Table]:
    """Return the tables of a page: rows of cells, the heading first, its rule left out."""
    blocks = re.findall(r"(?:^\|.*\n)+", text, re.MULTILINE)
    rows = [[[cell.strip() for cell in line[1:-1].split("|")] for line in b.splitlines()] for b in blocks]
    return [[table[0], *table[2:]] for table in rows]


def _table_headed(page: str, *titles: str) -> Table:
    """Return the rows of the one table of a page whose heading begins with these titles."""
    (found,) = (t for t in _tables(page_text(page)) if tuple(t[0][: len(titles)]) == titles)
    return found[1:]


def _amount(text: str) -> float:
    """Return the first number of a cell, or what its sum comes to: what is after the last equals sign."""
    (number, *_) = re.findall(r"[-+]?[\d,]+(?:\.\d+)?", text.rsplit("=", 1)[-1])
    return float(number.replace(",", ""))


def _holds(sum_text: str, result: str) -> bool:
    """Return whether a sum in a cell comes to the number printed for it, to its last place or so."""
    plain = sum_text.replace(",", "").replace(" x ", " * ").replace("^", "**")
    assert re.fullmatch(r"[-+*/(). \d]+", plain), sum_text
    printed = re.findall(r"[-+]?[\d,]+(?:\.\d+)?", result)[0].replace(",", "")
    last_place = 10.0 ** -len(printed.partition(".")[2])
    # the numbers that a sum is made of are rounded as well
    return bool(abs(eval(plain, {"__builtins__": {}}) - float(printed)) <= 0.6 * last_place)


@pytest.fixture(scope="session")
def tables() -> Callable[[str], list[Table]]:
    return _tables


@pytest.fixture(scope="session")
def table_headed() -> Callable[..., Table]:
    return _table_headed


@pytest.fixture(scope="session")
def amount() -> Callable[[str], float]:
    return _amount


@pytest.fixture(scope="session")
def holds() -> Callable[[str, str], bool]:
    return _holds


@pytest.fixture(scope="session")
def base(job: Job) -> Result:
    return evaluate(job, job.base)


@pytest.fixture(scope="session")
def saving(job: Job) -> Result:
    return evaluate(job, job.option("Material-saving framing"))


@pytest.fixture(scope="session")
def all_timber(job: Job) -> Result:
    return evaluate(job, job.option("All timber"))
