"""Whatever somebody types comes through: formula signs, long names, emoji, other scripts, thousands of lines."""

from __future__ import annotations

import shutil
from dataclasses import replace

import openpyxl
import pytest

from takeoff.compare.evaluate import evaluate
from takeoff.documents.schedule import schedule_workbook
from takeoff.measure.quantity import Dimension, net_of
from takeoff.model.bill import Query
from takeoff.workbook.reading import read_job

FORMULA_SIGNS = ["=1+1", "+61 2 5550 0000", "-5 % agreed", "@site", '=HYPERLINK("http://example.org","here")']
LONG = "A name of three hundred characters " * 8 + "that ends here, after all of them"
EMOJI = "Glass \U0001f3e0 wool \U0001f9f1 batts"
RIGHT_TO_LEFT = "\u0635\u0648\u0641 \u0632\u062c\u0627\u062c\u064a \u0644\u0644\u062c\u062f\u0631\u0627\u0646"


@pytest.fixture(scope="module")
def typed(demo_folder, tmp_path_factory):
    """Return the studio with such texts typed into its own workbook as names of allowances, queries and the project."""
    folder = tmp_path_factory.mktemp("typed")
    for name in ("dune_studio.xlsx", "factors.xlsx"):
        shutil.copy(demo_folder / name, folder / name)
    book = openpyxl.load_workbook(folder / "dune_studio.xlsx")
    allowances = book["Allowances"]
    rows = [row for row in allowances.iter_rows() if row[0].value in ("Stove and flue", "Bench and shelves")]
    for text, row in zip((LONG, RIGHT_TO_LEFT), rows, strict=True):
        row[0].value = text
    last = max(row[0].row for row in rows)
    for offset, text in enumerate([*FORMULA_SIGNS, EMOJI], start=1):
        for source in rows[0]:
            cell = allowances.cell(
                allowances.max_row + 1 if source.column == 1 else allowances.max_row, source.column
            )
            cell.value = source.value
        allowances.cell(allowances.max_row, 1).value = text
        allowances.cell(allowances.max_row, 1).data_type = "s"
        assert last + offset
    queries = book["Queries"]
    start = next(row[0].row for row in queries.iter_rows() if row[0].value == "Reference") + 2
    for number, text in enumerate([*FORMULA_SIGNS, LONG, EMOJI, RIGHT_TO_LEFT]):
        for column, value in enumerate(
            (f"Q{number}", text, "A. Rush", "2026-09-01", text, "B. Reed", "2026-09-02"), 1
        ):
            cell = queries.cell(start + number, column)
            cell.value = value
            if column in (2, 5):
                cell.data_type = "s"
    book.save(folder / "dune_studio.xlsx")
    job = read_job(folder / "dune_studio.xlsx")
    result = evaluate(job, job.base)
    return job, result, schedule_workbook(job, result)


def test_they_are_read_as_text(typed):
    names = [allowance.name for allowance in typed[0].allowances]
    assert {*FORMULA_SIGNS, LONG.strip(), EMOJI, RIGHT_TO_LEFT} <= set(names)
    assert len(LONG.strip()) >= 300


def test_they_stand_in_the_schedule_as_text(typed, opened):
    book = opened(typed[2])
    for title, text in (("Allowances", 2), ("Queries", 1), ("Queries", 4)):
        found = [row[text].value for row in book[title].iter_rows(min_row=5) if row[text].value]
        assert {*FORMULA_SIGNS, EMOJI, RIGHT_TO_LEFT} <= set(found)
        assert LONG.strip() in [str(value).strip() for value in found]
    for row in book["Allowances"].iter_rows(min_row=5):
        assert row[2].data_type in ("s", "n", "inlineStr")


def test_everything_still_recalculates(typed, engine_of, opened, columns):
    stored = opened(typed[2], stored=True)
    value = engine_of(typed[2]).values()
    amounts = columns(typed[2], "Allowances")["Amount"]
    checked = 0
    for row in opened(typed[2])["Allowances"].iter_rows(min_row=5):
        cell = f"{amounts}{row[0].row}"
        if isinstance(row[0].value, int | float):
            assert value("Allowances", cell) == pytest.approx(stored["Allowances"][cell].value)
            checked += 1
    assert checked >= 9
    assert all(value("Checks", f"G{row}") == "satisfied" for row in range(5, 27))


def test_ids_of_such_names_are_short_and_differ(typed):
    ids = [line.quantity.id for line in typed[1].lines]
    assert len(set(ids)) == len(ids)
    assert max(map(len, ids)) < 255


def test_five_thousand_lines(demo_folder, opened, columns, row_of):
    job = read_job(demo_folder / "dune_studio.xlsx")
    result = evaluate(job, job.base, planned=False)
    queries = tuple(
        Query(reference=f"Q{n}", question=f"question {n}", asked_by="A", asked_on="2026-09-01")
        for n in range(5000)
    )
    dimensions = tuple(Dimension(f"line {n}", 1, 0.01 * (n % 7 + 1), 2.0) for n in range(5000))
    first = result.lines[0]
    quantity = replace(
        first.quantity, dimensions=dimensions, net=net_of(dimensions), required=net_of(dimensions)
    )
    lines = (replace(first, ordered=replace(first.ordered, quantity=quantity)), *result.lines[1:])
    data = schedule_workbook(replace(job, queries=queries), replace(result, lines=lines))
    book, stored = opened(data), opened(data, stored=True)
    assert sum(1 for row in book["Queries"].iter_rows(min_row=5) if row[0].value) == 5000
    letters = columns(data, "Schedule")
    row = row_of(data, "Schedule", letters["Id"], quantity.id)
    # 5000 = 714 x 7 + 2 lines: 714 x (0.01 + ... + 0.07) x 2 + (0.01 + 0.02) x 2
    assert stored["Schedule"][f"{letters['Measured']}{row}"].value == pytest.approx(714 * 0.28 * 2 + 0.06)
    assert (
        sum(1 for row in book["Dimensions"].iter_rows(min_row=5) if str(row[10].value).startswith("line "))
        == 5000
    )
