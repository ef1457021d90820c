"""The cutting list: every piece once, every pattern cut from what it names."""

from __future__ import annotations

import csv
import io
import itertools
import re
from collections import Counter, defaultdict
from dataclasses import replace
from typing import Any

import pytest

from takeoff.compare.evaluate import Result
from takeoff.documents.cutting_list_csv import COLUMNS, cutting_list_csv, cutting_list_table
from takeoff.documents.order_list_csv import order_list_table
from takeoff.documents.piece_marks import faces_of, laid_mark, sheet_patterns
from takeoff.model.job import Job

Row = dict[str, Any]


def records(result: Result) -> list[Row]:
    table = cutting_list_table([result]).astype(object)
    return table.where(table.notna(), None).to_dict("records")


@pytest.fixture(scope="module")
def rows(base: Result) -> list[Row]:
    return records(base)


def by_plan(rows: list[Row]) -> dict[int, list[Row]]:
    found: dict[int, list[Row]] = defaultdict(list)
    for row in rows:
        found[row["plan"]].append(row)
    return found


def patterns(rows: list[Row]) -> list[list[Row]]:
    return [list(group) for _, group in itertools.groupby(rows, lambda row: (row["plan"], row["pattern"]))]


def begins(row: Row) -> bool:
    """Whether a row is a whole piece, or the first part of a joined one."""
    return not row["part"] or row["part"].startswith("1 of ")


def marks(row: Row) -> list[str]:
    """Return one mark for each of the lengths cut alike."""
    found: list[str] = []
    for text in re.split(r", | (?!of )(?<!of )", row["marks"]):
        several = re.fullmatch(r"(\d+) of (\S+)", text)
        found += [several[2]] * int(several[1]) if several else [text]
    return found


def test_columns_are_as_described(base):
    assert cutting_list_csv([base]).splitlines()[0].split(",") == list(COLUMNS)


def test_every_piece_of_the_house_is_listed_once(base, rows):
    quantities = {quantity.id: quantity for quantity in base.measured.quantities}
    own = by_plan(rows)
    for plan in base.plans:
        if plan.sheets is not None:
            pieces = len(plan.sheets.layout)
        elif plan.lengths:
            pieces = sum(piece.count for id in plan.items_of for piece in quantities[id].pieces)
        else:
            assert plan.number not in own
            continue
        assert sum(row["alike"] for row in own[plan.number] if begins(row)) == pieces, plan.name


def test_every_stick_of_the_house_has_its_mark_in_the_list_once(base, rows):
    framing = {plan.number for plan in base.plans if plan.framing}
    listed = Counter(mark for row in rows if row["plan"] in framing and begins(row) for mark in marks(row))
    assert listed == Counter(member.mark for member in base.measured.members)
    assert len(listed) > 300


def test_parts_of_a_joined_stick_make_it_up(base, rows):
    parts: dict[str, list[tuple[str, float]]] = defaultdict(list)
    for row in rows:
        if row["part"] and row["sold_by"] == "length" and ".FR." in row["item"]:
            for mark in marks(row):
                parts[mark].append((row["part"], row["length"]))
    lengths = {member.mark: member.length for member in base.measured.members}
    assert parts
    for mark, them in parts.items():
        assert sorted(part for part, _ in them) == [f"{n + 1} of {len(them)}" for n in range(len(them))]
        assert sum(length for _, length in them) == pytest.approx(lengths[mark], abs=0.001 * len(them)), mark


def test_a_row_has_a_mark_for_each_cut_alike(rows):
    assert all(len(marks(row)) == row["alike"] for row in rows)


def test_every_pattern_fits_its_length_with_its_saw_cuts(job, rows):
    kerfs = {name: stock[0].kerf for name, stock in job.library.stock.items()}
    checked = 0
    for pattern in patterns([row for row in rows if row["stock_width"] is None]):
        first = pattern[0]
        (kerf,) = {kerf for name, kerf in kerfs.items() if first["material"].startswith(name)}
        pieces = sum(row["length"] for row in pattern)
        # the last piece may end at the end of the length, without a cut
        assert pieces + (len(pattern) - 1) * kerf <= first["stock_length"] + 1e-9, first
        left = first["stock_length"] - pieces - len(pattern) * kerf
        assert first["offcut"] == pytest.approx(max(left, 0), abs=1e-6), first
        assert [row["place"] for row in pattern] == list(range(1, len(pattern) + 1))
        checked += 1
    assert checked > 300


def test_lengths_and_sheets_cut_are_those_that_are_bought(job, base, rows):
    cut: Counter[tuple[Any, ...]] = Counter()
    for pattern in patterns(rows):
        first = pattern[0]
        if first["sold_by"] == "random lengths":
            cut[first["plan"], None, None] += first["alike"] * first["stock_length"]
        else:
            cut[first["plan"], first["stock_length"], first["stock_width"]] += first["alike"]
    bought: Counter[tuple[Any, ...]] = Counter()
    table = order_list_table(job, [base]).astype(object)
    for row in table.where(table.notna(), None).to_dict("records"):
        if row["plan"] in {plan for plan, _, _ in cut}:
            bought[row["plan"], row["length"], row["width"]] += row["count"]
    assert set(cut) == set(bought)
    assert all(cut[key] == pytest.approx(bought[key]) for key in cut)


def test_pieces_of_a_sheet_lie_in_it_and_not_on_each_other(rows):
    checked = 0
    for pattern in patterns([row for row in rows if row["stock_width"] is not None]):
        for row in pattern:
            assert -1e-6 <= row["x"] <= row["stock_length"] - row["length"] + 1e-6
            assert -1e-6 <= row["y"] <= row["stock_width"] - row["width"] + 1e-6
        for one, other in itertools.combinations(pattern, 2):
            along = min(one["x"] + one["length"], other["x"] + other["length"]) - max(one["x"], other["x"])
            across = min(one["y"] + one["width"], other["y"] + other["width"]) - max(one["y"], other["y"])
            assert min(along, across) <= 1e-6, (one, other)
            checked += 1
    assert checked > 10


def test_every_sheet_and_every_piece_of_sheet_has_a_mark_of_its_own(base, rows):
    own = by_plan(rows)
    for plan in base.plans:
        if plan.sheets is None:
            continue
        pieces = Counter(mark for row in own[plan.number] for mark in marks(row))
        assert pieces == Counter(laid_mark(piece) for piece in plan.sheets.layout)
        assert set(pieces.values()) == {1}
        sheets = [mark for pattern in patterns(own[plan.number]) for mark in pattern[0]["sheets"].split()]
        assert sorted(sheets) == sorted(f"S{n + 1}" for n in range(plan.sheets.count))


def test_a_piece_of_sheet_names_the_face_it_is_laid_on(base, rows):
    quantities = {quantity.id: quantity for quantity in base.measured.quantities}
    plan = next(plan for plan in base.plans if plan.name == "Plasterboard 12.5")
    faces = faces_of(plan, quantities)
    assert len({face.item for face in faces}) > 1
    for row in by_plan(rows)[plan.number]:
        (number,) = {int(mark.split(".")[0].removeprefix("F")) for mark in marks(row)}
        face = faces[number - 1]
        assert (row["item"], row["face"]) == (face.item, face.note)
        surface = next(s for s in quantities[row["item"]].surfaces if s.note == row["face"])
        assert row["length"] <= max(surface.face.width, surface.face.top_left, surface.face.top_right) + 0.001


def test_sheets_of_a_pattern_are_cut_alike(base):
    alike = 0
    for plan in base.plans:
        if plan.sheets is None:
            continue
        for pattern in sheet_patterns(plan.sheets):
            alike += len(pattern.numbers) > 1
            for place, number in enumerate(pattern.numbers):
                sheet = plan.sheets.sheets[number - 1]
                assert sheet.size == pattern.sheet.size
                for cut, laid in zip(sheet.pieces, pattern.pieces, strict=True):
                    assert plan.sheets.layout[cut.piece] == laid[place]
    assert alike > 3


def test_profiled_sheets_are_listed_by_length_with_their_count(base, rows):
    """Heron Bank has 17 roof sheets of 8.483 m (guide, page measuring), made to the next 10 mm."""
    (row,) = (row for row in rows if row["item"].startswith("RF.slope.profiled-steel-roof-sheet"))
    assert (row["alike"], row["length"], row["stock_length"]) == (
        17,
        pytest.approx(8.49),
        pytest.approx(8.49),
    )
    assert row["marks"] == "17 of P01"


def test_pieces_that_nothing_on_sale_serves_are_listed_too(short_stock):
    _, result = short_stock
    special = [row for row in records(result) if row["sold_by"] == "special order"]
    (plan,) = (plan for plan in result.plans if plan.too_long)
    assert sorted(mark for row in special for mark in marks(row)) == sorted(p.mark for p in plan.too_long)
    assert all(row["length"] == row["stock_length"] > 4.2 for row in special)
    numbers = [pattern[0]["pattern"] for pattern in patterns(by_plan(records(result))[plan.number])]
    assert numbers == list(range(1, len(numbers) + 1))


def test_a_name_that_begins_like_a_formula_is_quoted_off(base):
    text = cutting_list_csv([replace(base, option=replace(base.option, name="-1"))])
    assert {row["option"] for row in csv.DictReader(io.StringIO(text))} == {"'-1"}


def test_options_stand_one_below_the_other(base, job: Job):
    other = replace(base, option=replace(base.option, name="Other"))
    names = [row["option"] for row in csv.DictReader(io.StringIO(cutting_list_csv([base, other])))]
    assert names == [base.option.name] * (len(names) // 2) + ["Other"] * (len(names) // 2)
